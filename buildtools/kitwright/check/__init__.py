"""Look a worked kit over, before anybody cuts paper."""

from __future__ import annotations

from kitwright.check import base, counts, decoration, envelope, figures, front, named, pieces, prose, sheets
from kitwright.findings import LEVELS, Finding
from kitwright.otherwise import arranged
from kitwright.work.worked import Worked

CARD = (pieces, named, sheets, counts, base, front, decoration, envelope)
"""Each looks for one kind of slip in what is cut and built."""
KINDS = (*CARD, prose, figures)
"""The same, and in what is told of it."""


def check(worked: Worked) -> list[Finding]:
    """Every finding of a kit, errors first, then in the order of the file."""
    found = [*worked.troubles, *(one for kind in KINDS for one in kind.find(worked))]
    if not errors(found):
        # Arrangements are found from a card that is sound.
        found += arranged.find(worked)
    unique = list(dict.fromkeys(found))
    return sorted(unique, key=lambda f: (LEVELS.index(f.level), str(f.place.file), f.place.line or 0))


def of_the_card(worked: Worked) -> list[tuple[str, Finding]]:
    """What is found in what is cut and built, whatever is told of it, each with the kind of slip that it is."""
    return list(
        dict.fromkeys([*(("work", one) for one in worked.troubles), *((kind.__name__, one) for kind in CARD for one in kind.find(worked))])
    )


def errors(findings: list[Finding]) -> list[Finding]:
    """Those that stop a build."""
    return [f for f in findings if f.level == "error"]
