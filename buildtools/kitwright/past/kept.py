"""What was read from an old printable, kept beside it: builds need no PDF work then, and a site comes out alike on every machine.

A folder `from-pdf/` in the kit's own: two pictures of page 1, the words that search finds, and
which PDF they are from. The words are hers: what she corrects or deletes there stays so, and
`forget` finds names in them. Where the folder is not there, or the PDF is another by now, the
PDF itself is read (`looking.py`).
"""

from __future__ import annotations

import hashlib
import json
import re
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from kitwright.errors import Place, UserError
from kitwright.kit.folder import own_file, read_own
from kitwright.kit.kit import PastKit
from kitwright.kit.picture import NoPicture, bare
from kitwright.kit.read import LARGEST_PDF
from kitwright.past.found import Found
from kitwright.past.tidy import CHARACTERS, tidy
from kitwright.units import Length, Size

FOLDER = "from-pdf"
"""In the kit's folder."""
FACTS, WORDS = "facts.json", "words.txt"
_LARGE, _SMALL = "page-1", "page-1-small"
_ENDINGS = {"JPEG": ".jpg", "PNG": ".png", "WEBP": ".webp"}
FORMAT = 1
MOST = 4_000_000
"""Bytes of one of the files."""
_POINTS = re.compile(r"[0-9]{1,7}(?:/[1-9][0-9]{0,3})?")
POINTS = 72
"""To an inch (ISO 32000-1, 8.3.2.3)."""


@dataclass(frozen=True)
class Leaf:
    """A picture of page 1, as a page of the site shows it."""

    ending: str
    width: int
    """Pixels."""
    height: int
    data: bytes


@dataclass(frozen=True)
class OldPrintable:
    """What the site says of an old printable besides what its author does."""

    pages: int
    sizes: tuple[Size, ...]
    """Of its pages: each size once, in their order."""
    words: str
    """What search finds; a line a line."""
    large: Leaf
    small: Leaf


def checksum(data: bytes) -> str:
    """By which a PDF is known again."""
    return hashlib.sha256(data).hexdigest()


def pdf_of(kit: PastKit) -> bytes:
    """The old printable itself.

    Raises:
        UserError: it is not there, or too large.
    """
    file = pdf_file(kit)
    try:
        return read_own(file, LARGEST_PDF)
    except (OSError, OverflowError):
        place = kit.document.place(("printable",))
        raise UserError("files.unreadable", place=place, name=kit.spec.printable, folder=kit.folder.name) from None


def pdf_file(kit: PastKit) -> Path:
    """Where it lies.

    Raises:
        UserError: it is not there, or too large.
    """
    return own_file(kit.folder, kit.spec.printable, kit.document.place(("printable",)), LARGEST_PDF)


def old_printable(found: Found) -> OldPrintable:
    """What a PDF holds, as the site says it."""
    sizes = tuple(_size(width, height) for width, height in found.sizes)
    return OldPrintable(found.pages, sizes, found.words, _leaf(found.large.data), _leaf(found.small.data))


def _size(width: Fraction, height: Fraction) -> Size:
    return Size(Length(width / POINTS), Length(height / POINTS))


def _leaf(data: bytes) -> Leaf:
    """A picture by its own blocks. It may come from a stranger, so nothing but those is published; it was made small enough, so it is not drawn anew."""
    walked = bare(data)
    return Leaf(_ENDINGS[walked.format], walked.width, walked.height, walked.data)


def files_for(found: Found, pdf: str) -> dict[str, bytes]:
    """What is kept of a PDF: path below the kit's folder → bytes.

    Args:
        found: what was read.
        pdf: its checksum.
    """
    facts = {"format": FORMAT, "pdf": pdf, "pages": found.pages, "sizes": [[str(w), str(h)] for w, h in found.sizes]}
    return {
        f"{FOLDER}/{FACTS}": (json.dumps(facts, indent=1) + "\n").encode(),
        f"{FOLDER}/{WORDS}": (found.words + "\n").encode(),
        f"{FOLDER}/{_LARGE}{found.large.ending}": found.large.data,
        f"{FOLDER}/{_SMALL}{found.small.ending}": found.small.data,
    }


def kept(kit: PastKit, pdf: str) -> OldPrintable | None:
    """What is kept of a kit's PDF; None where nothing is, or not of this one.

    Args:
        kit: a past kit.
        pdf: the checksum of its PDF as it is now.
    """
    try:
        facts = json.loads(_own(kit, FACTS).decode())
        if not isinstance(facts, dict) or (facts.get("format"), facts.get("pdf")) != (FORMAT, pdf):
            return None
        pages, sizes = _counted(facts["pages"]), tuple(_size(_points(w), _points(h)) for w, h in facts["sizes"])
        if not sizes or len(sizes) > pages:
            return None
        return OldPrintable(pages, sizes, _words(kit), _picture(kit, _LARGE), _picture(kit, _SMALL))
    except (UserError, OSError, OverflowError, ValueError, KeyError, TypeError, RecursionError):
        return None


def _own(kit: PastKit, name: str) -> bytes:
    return read_own(own_file(kit.folder, f"{FOLDER}/{name}", Place(kit.folder), MOST), MOST)


def _words(kit: PastKit) -> str:
    """The words as they stand there now; none where the file was deleted."""
    try:
        return tidy(_own(kit, WORDS).decode("utf-8-sig", "replace"))[:CHARACTERS]
    except (UserError, OSError, OverflowError):
        return ""


def _picture(kit: PastKit, name: str) -> Leaf:
    there = [ending for ending in _ENDINGS.values() if (Path(kit.folder) / FOLDER / f"{name}{ending}").exists()]
    if not there:
        raise NoPicture()
    return _leaf(_own(kit, f"{name}{there[0]}"))


def _counted(value: Any) -> int:
    if type(value) is not int or not 1 <= value <= 100_000:
        raise ValueError
    return value


def _points(text: Any) -> Fraction:
    # In the form that is written here and no other: “1e999999999” is a number too.
    if not isinstance(text, str) or not _POINTS.fullmatch(text) or not (points := Fraction(text)):
        raise ValueError
    return points
