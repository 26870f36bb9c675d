"""The public archive as data for other tools: `kits.json`."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Any

from kitwright.archive.atom import stamp_text
from kitwright.archive.offered import printable_name, workbook_name
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.kit.project import page_of
from kitwright.past.kept import OldPrintable
from kitwright.printable.edition import EDITIONS
from kitwright.release.calendar import aware
from kitwright.release.errata import errata
from kitwright.release.people import Person
from kitwright.release.public import published_at
from kitwright.release.record import Revision, revision_at
from kitwright.release.revisions import as_published
from kitwright.telling.changes import words
from kitwright.work.worked import Worked

KITS_FILE = "kits.json"


def kits_data(
    kits: Iterable[Kit | PastKit],
    club: Club,
    people: Mapping[str, Person],
    as_of: dt.datetime,
    old: Mapping[str, OldPrintable] = MappingProxyType({}),
) -> dict[str, Any]:
    """The public archive as plain data, oldest kit first; lengths are exact, in inches, as text. `old`: what is known of past kits' printables."""
    public = [(kit, at) for kit in kits if (at := published_at(kit, club)) is not None and at <= aware(as_of)]
    return of_archive(
        club,
        [
            _kit_data(kit, at, club, people, as_of) | _old_data(old.get(kit.id))
            for kit, at in sorted(public, key=lambda one: (one[0].reveal, one[0].id))
        ],
    )


def of_archive(club: Club, kits: Iterable[Mapping[str, Any]]) -> dict[str, Any]:
    """The whole, from the entries of its kits, oldest first."""
    return {
        "club": {"name": club.name, "address": club.address, "time zone": club.time_zone, "terms": " ".join(club.terms.split())},
        "kits": list(kits),
    }


def _old_data(old: OldPrintable | None) -> dict[str, Any]:
    return {"pages": old.pages, "papers": [[str(size.width.inches), str(size.height.inches)] for size in old.sizes]} if old else {}


def kits_text(data: dict[str, Any]) -> str:
    """The same as JSON text, the same bytes every time."""
    return json.dumps(data, ensure_ascii=False, indent=1, sort_keys=True) + "\n"


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
    revision = revision_at(kit, as_of)
    if revision is None:
        return common
    worked = as_published(kit, revision)
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


def _card(worked: Worked) -> dict[str, Any]:
    base, envelope = worked.base, worked.kit.spec.card.envelope
    return {
        "fold": base.fold,
        "card": [str(base.finished.width.inches), str(base.finished.height.inches)],
        "envelope": envelope.name or None if envelope else None,
    }


def _computed(worked: Worked) -> dict[str, Any]:
    designs = {design.kit.design: {"cards": design.kit.spec.cards} | _card(design) for design in worked.designs if worked.parts}
    return ({"designs": designs} if designs else _card(worked)) | {
        "unit": worked.kit.spec.unit,
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
    printables = {named(kit, edition) for edition in EDITIONS for named in (printable_name, workbook_name)}
    return [{"file": f"kits/{kit.id}/{name}", "sha256": said} for name, said in revision.files.items() if name in printables]
