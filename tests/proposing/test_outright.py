"""The fronts of every sort's classes against face and cuts as one whole-number problem for a solver (`outright`)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from outright import beside_a_panel, compared, framed, listed, rows
from small_questions import small

QUESTIONS = {
    "rows": (rows, small("rows", "4 x 6", "4-1/2 x 5", border="0", slack="0", waste=Fraction(2, 5))),
    "rows beside a panel": (beside_a_panel, small("rows beside a panel", "4-1/2 x 5", "5-1/2 x 4", border="0", band="1")),
    "framed panel": (framed, small("framed panel", "5-1/4 x 4-1/8", "5 x 5", border="0", gap="0")),
}
LISTED = {
    "columns": small("columns", "5-1/8 x 4-1/8", "4-1/2 x 5", border="0"),
    "grid": small("grid", "4-1/8 x 3-5/8", "4 x 3", border="0", gap="0", kinds=2),
    "wound strips": small("wound strips", "4-1/8 x 4-5/8", "4 x 4-1/2", border="0", gap="0"),
    "band across": small("band across", "4-1/8 x 5-1/8", "4 x 4-1/2", border="0"),
    "bunting": small("bunting", "4-5/8 x 4-1/8", "4-1/2 x 4-1/2", border="0", gap="0"),
    "gate doors": small("gate doors", "4-1/8 x 3-1/8", "4 x 3", border="0", gap="0", kinds=2),
}
QUESTIONS |= {sort: (listed(sort), asked) for sort, asked in LISTED.items()}


@pytest.mark.parametrize(("face", "asked"), QUESTIONS.values(), ids=QUESTIONS)
def test_the_fronts_are_what_the_solver_finds(face, asked):
    """For each class and each level of slack the least that is left over: of all layouts of its front that have so much slack, and
    of all that there are."""
    decided = 0
    for mine, theirs in compared(face, asked):
        assert mine == theirs
        decided += mine is not None
    assert decided
