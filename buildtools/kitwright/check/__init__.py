"""Look a worked kit over, before anybody cuts paper.

What is found are records; the words are in `telling/wrong/`. The arrangements of a kit are other
cards, which are checked here themselves: `otherwise/checked.py` adds what is found in them.
"""

from __future__ import annotations

from kitwright.check import (
    base,
    counts,
    decoration,
    envelope,
    figures,
    fixing,
    folds,
    front,
    legible,
    named,
    pieces,
    prose,
    scans,
    sheets,
    unsaid,
)
from kitwright.findings import Finding
from kitwright.work.worked import Worked

CARD = (pieces, named, scans, sheets, counts, base, front, folds, fixing, decoration, legible, envelope)
"""Each looks for one kind of slip in what is cut and built."""
OF_A_DESIGN = (base, front, folds, fixing, decoration, legible, envelope)
"""Those that look at one card: at that of each design."""
TOLD = (prose, figures, unsaid)
"""The same in what is told of it."""


def of_the_card(worked: Worked) -> list[tuple[str, Finding]]:
    """What is found in what is cut and built, whatever is told of it, each with the kind of slip that it is."""
    return list(worked.once("slips of the card", lambda: _slips(worked)))


def _slips(worked: Worked) -> tuple[tuple[str, Finding], ...]:
    looked_at = [(kind, of) for kind in CARD for of in (worked.designs if kind in OF_A_DESIGN else (worked,))]
    found = [*(("work", one) for one in worked.troubles), *((kind.__name__, one) for kind, of in looked_at for one in kind.find(of))]
    return tuple(dict.fromkeys(found))


def of_the_prose(worked: Worked) -> list[Finding]:
    """What is found in what is told of it."""
    return [one for kind in TOLD for one in kind.find(worked)]


def errors(findings: list[Finding]) -> list[Finding]:
    """Those that stop a build."""
    return [f for f in findings if f.level == "error"]
