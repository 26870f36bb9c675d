"""Whether words can be read where they are printed: WCAG 2.2, 1.4.3, measured by a library of its own arithmetic."""

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.face import Sentiment
from kitwright.card.legible import best, needed, tucked_away, under
from kitwright.colours import contrast, hex_text, parts
from kitwright.drawing.front import greeting
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.scene import Draft, Frame
from kitwright.geometry import Rect
from kitwright.schemes import BODY, LIGHT
from kitwright.units import ZERO, Length
from making import BATCH, changed, look_over, make_worked, told_by_values

COLOURS = st.tuples(*[st.integers(0, 255)] * 3).map(hex_text)


def ratio(one: str, other: str) -> float:
    """WCAG 2.2, “relative luminance” and “contrast ratio”, in floats."""

    def light(colour: str) -> float:
        channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    low, high = sorted((light(one), light(other)))
    return (high + 0.05) / (low + 0.05)


@given(COLOURS)
def test_black_or_white_is_read_on_any_one_colour(colour):
    """The square root of 21 is 4.58: on every colour one of both reaches what small text needs."""
    assert float(best([colour])) == pytest.approx(max(ratio("#000000", colour), ratio("#ffffff", colour)), abs=1e-6)
    assert best([colour]) >= F(9, 2)


@given(COLOURS)
def test_a_greeting_is_drawn_so_that_it_is_read_on_any_colour(colour):
    """3 : 1, WCAG 2.2, 1.4.3 for large text; in our ink, and in the lightest that a club may have (10 : 1 on white)."""
    look = DrawnLook("plain", (colour,))
    lightest = 1.05 / float(BODY) - 0.05
    ground = ratio(colour, "#000000") * 0.05
    inks = {True: 1.05 / ground, False: ground / (lightest + 0.05)}
    assert (ratio(colour, "#000000") if look.middling else inks[look.dark]) >= 2.99


@given(COLOURS)
def test_a_label_stands_only_where_every_ink_is_read(colour):
    """4.5 : 1, WCAG 2.2, 1.4.3: in ours, and in the lightest that a club may have."""
    if DrawnLook("plain", (colour,)).calm:
        assert contrast(parts(LIGHT["ink"]), parts(colour)) >= 7
        assert ratio(colour, "#000000") * 0.05 / (1.05 / float(BODY)) >= 4.5


@pytest.mark.parametrize("high, least", [(F(1, 4), F(3)), (F(31, 128), F(9, 2))])
def test_large_text_begins_at_18_points(high, least):
    """18 points are a quarter of an inch (WCAG 2.2, “large scale”; 72 points to the inch)."""
    assert needed(Sentiment("hello", Rect(ZERO, ZERO, Length(3), Length(high)), "M")) == least


def stamped(colours: str, size: str = "2-1/2 x 3/4") -> str:
    return changed(
        BATCH,
        ("    name: Cream cardstock", f"    name: Cream cardstock\n    front: {{{colours}}}"),
        ("  size: 2-1/2 x 3/4", f"  size: {size}"),
    )


@pytest.mark.parametrize(
    "colours, size, warned",
    [
        ("look: stripes, colours: [white, night]", "2-1/2 x 3/4", True),
        ('look: stripes, colours: ["#ffffff", "#000000"]', "2-1/2 x 3/4", True),
        ("look: stripes, colours: [linen, butter]", "2-1/2 x 3/4", False),
        ('colours: "#757575"', "2-1/2 x 3/16", False),
        ("look: dots, colours: [sky, clay]", "2-1/2 x 3/4", False),
        ("look: dots, colours: [sky, clay]", "2-1/2 x 3/16", True),
        ("look: plain, colours: [white, night]", "2-1/2 x 3/4", False),
    ],
)
def test_words_on_a_pattern_of_light_and_dark_are_told(tmp_path, colours, size, warned):
    found = [one for one in look_over(tmp_path, stamped(colours, size)) if one.code == "legible.words"]
    assert bool(found) == warned
    for one in found:
        assert one.level == "warning" and told_by_values(one, "thank you") and "print it on a plain strip" in one.remedy


TAG = changed(
    BATCH,
    ("  M:\n", "  K: {size: 3-1/2 x 1-3/4, paper: cream, pocket: {open: top, holds: T}}\n  T: {size: 2-3/4 x 2-1/4, paper: white}\n  M:\n"),
    ("sentiment:\n", "  over:\n    - {piece: K, on: M, bottom: 1/8}\n    - {piece: T, in: K}\nsentiment:\n"),
    ("  on: band", "  on: T"),
    ("  size: 2-1/2 x 3/4", "  size: 2 x 1/2"),
)


def test_words_on_a_tag_stand_on_the_tag_and_a_pocket_may_hide_them(tmp_path):
    worked = make_worked(tmp_path, TAG)
    face = worked.face
    assert [placed.label for placed in under(face.sentiment, face.stack)] == ["T"] and tucked_away(face.sentiment, face.stack)
    assert not any(one.code == "front.over-the-sentiment" for one in look_over(tmp_path / "again", TAG))
    draft = Draft()
    assert not greeting(draft, face.sentiment, face, Frame(F(0), F(0), F(1)), {}) and not draft.texts and not draft.shapes
    on_the_pocket = make_worked(tmp_path / "pocket", changed(TAG, ("  on: T", "  on: K"))).face
    assert not tucked_away(on_the_pocket.sentiment, on_the_pocket.stack)
    assert greeting(draft, on_the_pocket.sentiment, on_the_pocket, Frame(F(0), F(0), F(1)), {})
