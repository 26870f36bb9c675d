"""Followers' questions answered in words: leftovers, and how far a sheet may fall short."""

import pytest
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Leaf
from kitwright.geometry import Rect
from kitwright.telling.questions import use_text
from kitwright.telling.slack import short_text, slack_text
from kitwright.units import ZERO, Length, Size, parse_size
from kitwright.work.leftovers import Inside, More, Use

SHEET = parse_size("6 x 6")


@pytest.mark.parametrize(
    "good_for, said",
    [
        (More(((1, ("A", "B")), (12, ("mat",))), half=False), "one more A or B or twelve more mats"),
        (More(((13, ("C",)),), half=True), "half a sheet, still whole: 13 more C"),
        (Inside("panel", parse_size("3-3/4 x 5"), 1), "a panel of 3¾ × 5 in for the inside of the card"),
        (Inside("trim", parse_size("4 x 1/2"), 2), "trim of 4 × ½ in for the inside of two cards"),
        (Inside("patch", parse_size("2 x 2"), 1), "a patch of 2 × 2 in for the inside of the card"),
        ("tests", "scrap for test prints"),
        ("nothing", "too narrow to keep"),
    ],
)
def test_what_a_leftover_is_good_for_in_words(good_for, said):
    layout = Layout("River", ("river",), Leaf(Rect.of(SHEET)), "auto")
    assert use_text(Use(layout, SHEET, good_for), "in") == said


def test_slack_in_words():
    some, nothing = Size(ZERO, Length(1)), Size(ZERO, ZERO)
    assert slack_text(some, "in") == "none across, 1 in along"
    assert short_text(some, "mm") == "nothing across, ≈25.5 mm along"
    assert short_text(nothing, "in") == "nothing: measure the sheet before you cut"
