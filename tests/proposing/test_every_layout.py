"""Every sort of layout on small grids, against all its layouts listed anew and every way to cut them: nothing missing, nothing too many."""

from __future__ import annotations

import pytest
from every_layout import SORTS
from kitwright.proposing.families import families
from small_questions import decided, differences, every, small

FINE = {"step": "1/4", "border": "0", "gap": "0"}
SMALL = {
    "rows": small("rows", "4 x 6", "4-1/2 x 4-1/2", **FINE | {"gap": "1/4"}, slack="1/4"),
    "rows, for two cards": small("rows", "3-5/8 x 4-1/4", "2-1/2 x 3-1/2", cards=2, **FINE),
    "columns": small("columns", "3-5/8 x 2-3/4", "5 x 3", **FINE, kinds=2),
    "grid": small("grid", "6-5/8 x 3-7/8", "6 x 6", border="0"),
    "rows beside a panel": small("rows beside a panel", "2-1/2 x 4", "3-1/2 x 3-1/2", **FINE, slack="0"),
    "rows beside a panel, and a band": small("rows beside a panel", "4-5/8 x 2-7/8", "4-1/2 x 4", **FINE | {"gap": "1/4"}, band="1-1/2"),
    "framed panel": small("framed panel", "3-1/2 x 5-1/8", "4-1/2 x 4-1/2", **FINE | {"border": "1/4"}),
    "wound strips": small("wound strips", "3-3/8 x 6-3/8", "4-1/2 x 4-1/2", **FINE, kinds=4),
    "band across": small("band across", "4-5/8 x 5-7/8", "5 x 4-1/2", border="0"),
    "bunting": small("bunting", "3-7/8 x 5-3/8", "5 x 5", **FINE, kinds=2),
    "gate doors": small("gate doors", "3-1/8 x 5", "4 x 4", **FINE | {"gap": "1/4"}),
    "one way up, from two sheets": small("columns", "3-1/4 x 4-3/8", "4 x 4", cards=2, sheets=2, one_way=True, **FINE),
    "on a mat": small("framed panel", "4-3/8 x 3-3/4", "5 x 4-1/2", **FINE | {"mat": "1/4"}),
}


@pytest.mark.parametrize("small", SMALL.values(), ids=SMALL)
def test_nothing_is_missing_and_nothing_too_much(small):
    """Which sets of pieces there are within the ceiling, up to which slack each comes out of its sheets, and which no other betters."""
    mine = every(small)
    assert [*differences(mine, decided(small))] == []
    # Some come out and some don't, so that there was something to decide.
    assert {-1} < {level for _, level in mine.values()}


def test_every_sort_is_tried():
    assert {small.sort for small in SMALL.values()} == set(SORTS) == set(families())
