"""What a built folder says of itself: for whom, for which moment, with which kits, and every file with its digest."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from kitwright.archive.atom import stamp_text
from kitwright.archive.audience import Audience
from kitwright.archive.gather import Archive
from kitwright.archive.placing import STRAYS, Placing
from kitwright.kit.project import MARKER
from kitwright.telling.site import MARKS

RECORD = ".kitwright.json"
"""The rest, beside it. A site of an earlier kitwright has none."""
FORMAT = 1
LARGEST = 40_000_000
"""Bytes of a record; a larger one is none."""
PREVIEW = 0
"""Stands for the revision of a kit that was never released."""


@dataclass(frozen=True)
class Written:
    """One file of a site."""

    size: int
    sha256: str
    """Empty where it is on its way and may be there half."""


@dataclass(frozen=True)
class Built:
    """What is known of a built folder."""

    audience: Audience | None
    """For whom; None where its mark is none of ours."""
    moment: dt.datetime | None = None
    """The moment that was asked for; None where it was built for the moment of its building."""
    everything: bool = False
    """Whether it is the author's own preview, with all that stands in the files."""
    kits: Mapping[str, int | None] | None = None
    """Its kits: their revisions, `PREVIEW`, or None for a past kit; None where that is not known."""
    files: Mapping[str, Written] | None = None
    """Its files but this record, by path; None where an earlier kitwright made it."""
    at: dt.datetime | None = None
    """When it was built, as its files say."""

    def ahead(self, now: dt.datetime) -> bool:
        """Whether it shows what is still to come."""
        return self.everything or self.moment is not None and self.moment > now


def read(folder: Path) -> Built | None:
    """What a folder says of itself; None where no site of ours stands in it."""
    marker = folder / MARKER
    try:
        words, at = marker.read_bytes()[:1000], dt.datetime.fromtimestamp(marker.stat().st_mtime, dt.UTC)
    except OSError:
        return None
    audience = next((who for who, text in MARKS.items() if text.encode() == words), None)
    try:
        data = (folder / RECORD).read_bytes() if (folder / RECORD).stat().st_size < LARGEST else b""
        said = parsed(data)
    except (OSError, ValueError):
        return Built(audience, at=at)
    return Built(audience, said.moment, said.everything, said.kits, said.files, at)


def parsed(data: bytes) -> Built:
    """A record as it is written; it may come from a host, so nothing in it is taken on trust.

    Raises:
        ValueError: it is no record of ours.
    """
    said = json.loads(data)
    try:
        if said["format"] != FORMAT:
            raise ValueError
        files = {plain(str(name)): Written(int(size), str(digest)) for name, (size, digest) in said["files"].items()}
        kits = {str(kit): None if revision is None else int(revision) for kit, revision in said["kits"].items()}
        moment = dt.datetime.fromisoformat(said["moment"]) if said.get("moment") else None
        return Built(None, moment, bool(said.get("everything")), kits, files)
    except (AttributeError, KeyError, TypeError) as error:
        raise ValueError from error


_PLAIN = re.compile(r"(?!/)(?!.*(?:^|/)\.{0,2}(?:/|$))[^\x00-\x1f\x7f\\]+")


def plain(name: str) -> str:
    """A path below a folder, and nothing else.

    Raises:
        ValueError: it leads elsewhere, or holds what no path of ours does.
    """
    if not _PLAIN.fullmatch(name):
        raise ValueError
    return name


def record_text(
    kits: Mapping[str, int | None], files: Mapping[str, Written], moment: dt.datetime | None = None, everything: bool = False
) -> bytes:
    """The record of a site, the same bytes for the same site."""
    said = {
        "format": FORMAT,
        **({"moment": stamp_text(moment)} if moment else {}),
        **({"everything": True} if everything else {}),
        "kits": dict(kits),
        "files": {name: [one.size, one.sha256] for name, one in sorted(files.items())},
    }
    return (json.dumps(said, separators=(",", ":"), ensure_ascii=False) + "\n").encode()


def record(site: Placing, archive: Archive, kits: Mapping[str, int | None], now: dt.datetime) -> None:
    """Put what a site says of itself into it, when all else is there.

    Args:
        site: the site in the making.
        archive: what it was built from.
        kits: those of the site: their revisions, `PREVIEW`, or None for a past kit.
        now: when it is built; a site of this very moment carries no time, so that the same kits give the same bytes.
    """
    moment = archive.as_of if archive.as_of != now else None
    files = {name: Written(one.size, one.sha256) for name, one in site.files.items()}
    site.put(RECORD, record_text(kits, files, moment, archive.as_of is None))


def files_of(folder: Path) -> dict[str, Written]:
    """Every file of a site as it lies there, but its record and what is its owner's."""
    found = {}
    for file in sorted(folder.rglob("*")):
        name = file.relative_to(folder).as_posix()
        if file.is_file() and name != RECORD and file.name not in STRAYS:
            with file.open("rb") as stream:
                found[name] = Written(file.stat().st_size, hashlib.file_digest(stream, "sha256").hexdigest())
    return found
