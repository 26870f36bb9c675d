"""What is wrong with the sheets and the guides."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.compared import compared_text
from kitwright.telling.words import listed
from kitwright.work.compared import Measured


def planned_better(papers: tuple[str, ...], yours: Measured, planned: Measured, proved: bool, unit: str) -> Said:
    return (
        f"{listed(list(papers))}: {compared_text(yours, planned, proved, unit)}",
        "your guide stays as it is;  cuts: auto  would take the planner's",
    )
