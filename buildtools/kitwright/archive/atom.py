"""What is new, for the site's feed, and the whole archive as data for other tools.

Ids never change, whatever is corrected or wherever the site moves; times are those of the
moments and releases themselves.
"""

from __future__ import annotations

import datetime as dt
import json
import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.kit.project import page_of
from kitwright.release.calendar import aware, moment
from kitwright.release.errata import errata
from kitwright.release.people import Person, Shown, samples_of
from kitwright.release.public import published_at
from kitwright.release.record import Revision, revision_at
from kitwright.release.revisions import frozen
from kitwright.telling.changes import sentence, words
from kitwright.telling.errata import asked_lines
from kitwright.telling.words import listed, number
from kitwright.work.worked import Worked
from kitwright.work.working import said, work


@dataclass(frozen=True)
class Entry:
    """One entry of the feed."""

    id: str
    """An IRI that stays the same for ever (RFC 4287, section 4.2.6)."""
    kind: Literal["reveal", "samples", "erratum"]
    kit: str
    title: str
    words: str
    """A sentence or two of plain text."""
    published: dt.datetime
    """In UTC."""
    path: str
    """The page, from the top of the site."""


def shown_samples(kit: Kit, club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> list[tuple[Shown, dt.datetime]]:
    """Samples that may be shown at an instant, with the instant from which on; none before the kit is public."""
    public = published_at(kit, club)
    if public is None:
        return []
    found = []
    for shown in samples_of(kit, people):
        due = moment(kit, club, shown.moment)
        at = max(due.at, public)
        if at <= aware(as_of):
            found.append((shown, at))
    return found


def entries(kits: Iterable[Kit | PastKit], club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> list[Entry]:
    """Reveals, samples and errata that are public at an instant, newest first."""
    found: list[Entry] = []
    for kit in kits:
        at = published_at(kit, club)
        if at is None or at > aware(as_of):
            continue
        if isinstance(kit, PastKit):
            found.append(Entry(entry_id("reveal", kit.id), "reveal", kit.id, kit.spec.title, kit.spec.summary or "", at, page_of(kit.id)))
            continue
        read = said(frozen(kit, _shown_revision(kit, as_of)))
        title = read.spec.title
        found.append(Entry(entry_id("reveal", kit.id), "reveal", kit.id, title, read.spec.summary, at, page_of(kit.id)))
        together: dict[tuple[str, dt.datetime], list[Shown]] = {}
        for shown, since in shown_samples(kit, club, people, as_of):
            together.setdefault((shown.moment, since), []).append(shown)
        for (name, since), samples in together.items():
            who = listed(list(dict.fromkeys(s.person.name for s in samples)))
            found.append(
                Entry(
                    entry_id(f"samples/{name}", kit.id),
                    "samples",
                    kit.id,
                    f"{title}: samples",
                    f"{number(len(samples), 'card', 'cards')} to look at, by {who}.",
                    since,
                    f"{page_of(kit.id)}#samples",
                )
            )
        for erratum in errata(kit, club, people, as_of):
            words = " ".join([*map(sentence, erratum.changes.told), *asked_lines(erratum)])
            found.append(
                Entry(
                    erratum.id,
                    "erratum",
                    kit.id,
                    f"{title}: a correction, revision {erratum.revision.number}",
                    words,
                    erratum.public,
                    f"errata.html#{erratum.anchor}",
                )
            )
    return sorted(found, key=lambda e: (e.published, e.kit, e.id), reverse=True)


def entry_id(kind: str, kit: str) -> str:
    """The id of a reveal or of samples."""
    return f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_URL, f'kitwright:{kind}/{kit}')}"


def feed_id(club: Club) -> str:
    """The id of the whole feed."""
    return f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_URL, f'kitwright:feed/{club.name}')}"


# --- kits.json ------------------------------------------------------------------------------------


def kits_data(kits: Iterable[Kit | PastKit], club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> dict[str, Any]:
    """The public archive as plain data, oldest kit first; lengths are exact, in inches, as text."""
    public = [(kit, at) for kit in kits if (at := published_at(kit, club)) is not None and at <= aware(as_of)]
    return {
        "club": {"name": club.name, "address": club.address, "time zone": club.time_zone, "terms": " ".join(club.terms.split())},
        "kits": [_kit_data(kit, at, club, people, as_of) for kit, at in sorted(public, key=lambda p: (p[0].reveal, p[0].id))],
    }


def kits_text(data: dict[str, Any]) -> str:
    """The same as JSON text, the same bytes every time."""
    return json.dumps(data, ensure_ascii=False, indent=1, sort_keys=True) + "\n"


def _shown_revision(kit: Kit, as_of: dt.datetime) -> Revision:
    """The revision that a public kit shows."""
    revision = revision_at(kit, as_of)
    assert revision is not None, "what is public was released"
    return revision


def _kit_data(kit: Kit | PastKit, published: dt.datetime, club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> dict[str, Any]:
    common = {
        "id": kit.id,
        "page": page_of(kit.id),
        "title": kit.spec.title,
        "summary": kit.spec.summary,
        "tags": list(kit.spec.tags),
        "cards": kit.spec.cards,
        "published": stamp_text(published),
    }
    if isinstance(kit, PastKit):
        return common | {"computed": False, "facts": dict(kit.spec.facts)}
    revision = _shown_revision(kit, as_of)
    worked = work(frozen(kit, revision))
    spec = worked.kit.spec
    common |= {"title": spec.title, "summary": " ".join(spec.summary.split()), "tags": list(spec.tags), "cards": spec.cards}
    return (
        common
        | _computed(worked)
        | {
            "computed": True,
            "revision": revision.number,
            "code": revision.code,
            "released": stamp_text(revision.at),
            "printables": _files(kit, revision),
            "errata": [
                {
                    "revision": e.revision.number,
                    "published": stamp_text(e.public),
                    "grade": e.grade,
                    "changes": [words(c) for c in e.changes.told],
                    "page": f"errata.html#{e.anchor}",
                }
                for e in errata(kit, club, people, as_of)
            ],
        }
    )


def _computed(worked: Worked) -> dict[str, Any]:
    base, envelope = worked.base, worked.kit.spec.card.envelope
    return {
        "unit": worked.kit.spec.unit,
        "fold": base.fold,
        "card": [str(base.finished.width.inches), str(base.finished.height.inches)],
        "envelope": envelope.name or None if envelope else None,
        "papers": [
            {
                "name": worked.kit.papers[p.paper].name,
                "kind": worked.kit.papers[p.paper].kind,
                "sheet": [str(p.demand.sheet.width.inches), str(p.demand.sheet.height.inches)],
                "sheets": str(p.sheets),
            }
            for p in worked.plans
        ],
        "pieces": {
            label: {"size": [str(size.width.inches), str(size.height.inches)], "count": sum(worked.counts(label).values())}
            for label, size in worked.sizes.items()
        },
    }


def _files(kit: Kit, revision: Revision) -> list[dict[str, str]]:
    return [{"file": f"kits/{kit.id}/{name}", "sha256": checksum} for name, checksum in revision.record.printables.items()]


def stamp_text(at: dt.datetime) -> str:
    """An instant as RFC 3339 wants it, in UTC."""
    return f"{at.astimezone(dt.UTC):%Y-%m-%dT%H:%M:%SZ}"
