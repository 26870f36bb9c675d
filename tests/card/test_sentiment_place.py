"""Where words stand: in the middle, to a side, in a corner, each with its distance from the edges."""

import pytest
from kitwright.errors import UserError
from kitwright.otherwise.arrangements.changing import sentiment_placed
from kitwright.telling.steps import steps_of
from kitwright.units import Length, parse_length
from making import BATCH, changed, make_kit, make_worked


def placed(place: str, inset: str = "") -> str:
    more = f"\n  inset: {inset}" if inset else ""
    return changed(BATCH, ("  on: band\n", f"  on: M\n  place: {place}{more}\n"), ("  size: 2-1/2 x 3/4\n", "  size: 2 x 1/2\n"))


@pytest.mark.parametrize(
    "place, left, top",
    [
        ("centre", "1-1/8", "2-1/2"),
        ("left", "1/4", "2-1/2"),
        ("right", "2", "2-1/2"),
        ("top", "1-1/8", "1/4"),
        ("bottom", "1-1/8", "4-3/4"),
        ("top left", "1/4", "1/4"),
        ("bottom right", "2", "4-3/4"),
        ("left bottom", "1/4", "4-3/4"),
    ],
)
def test_a_place_goes_both_ways(tmp_path, place, left, top):
    """On the mat of 4 × 5¼, that lies ⅛ inside the card of 4¼ × 5½: from the card's corner, ⅛ in unless said."""
    rect = make_worked(tmp_path, placed(place)).face.sentiment.rect
    assert (rect.x, rect.y) == (parse_length(left), parse_length(top))


def test_an_inset_is_kept_from_both_sides_of_a_corner(tmp_path):
    rect = make_worked(tmp_path, placed("bottom left", "1/2")).face.sentiment.rect
    assert rect.x == Length(5) / 8 and rect.bottom == Length(43) / 8 - Length(1) / 2


def test_steps_say_the_corner_and_another_arrangement_keeps_the_height(tmp_path):
    worked = make_worked(tmp_path, placed("bottom left"))
    assert any("towards the bottom left of M" in line for step in steps_of(worked) for line in step.lines)
    assert sentiment_placed(worked.kit, "right").sentiment.place == "bottom right"
    assert sentiment_placed(worked.kit, "centre").sentiment.place == "bottom"


def test_no_two_words_of_one_kind(tmp_path):
    with pytest.raises(UserError) as caught:
        make_kit(tmp_path, placed("left right"))
    assert [one.code for one in caught.value.each] == ["spec.no-choice"]
