"""Look a worked kit over, before anybody cuts paper."""

from __future__ import annotations

from kitwright.check import arranged, base, counts, decoration, envelope, figures, front, named, pieces, prose, sheets
from kitwright.findings import LEVELS, Finding
from kitwright.worked import Worked

KINDS = (pieces, named, sheets, counts, base, front, decoration, envelope, prose, figures)
"""Each looks for one kind of slip."""


def check(worked: Worked) -> list[Finding]:
    """Every finding of a kit, errors first, then in the order of the file."""
    found = [*worked.troubles, *(one for kind in KINDS for one in kind.find(worked))]
    if not errors(found):
        # Arrangements are found from a card that is sound.
        found += arranged.find(worked)
    unique = list(dict.fromkeys(found))
    return sorted(unique, key=lambda f: (LEVELS.index(f.level), str(f.place.file), f.place.line or 0))


def errors(findings: list[Finding]) -> list[Finding]:
    """Those that stop a build."""
    return [f for f in findings if f.level == "error"]
