"""Lengths: exact, in every spelling, and never a float."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright import units
from kitwright.errors import MeasureError
from kitwright.units import (
    HALF_MM,
    SIXTEENTH,
    ZERO,
    Length,
    Size,
    both_text,
    fraction_text,
    inch_text,
    length_text,
    mm_text,
    on_grid,
    parse_length,
    parse_size,
    seen_both,
    seen_text,
    size_text,
    total,
)

sixteenths = st.integers(1, 400 * 16).map(lambda n: Length(Fraction(n, 16)))
half_mm = st.integers(1, 10_000).map(lambda n: Length.mm(Fraction(n, 2)))
any_length = st.fractions(Fraction(1, 1000), 400, max_denominator=5000).map(Length)


@pytest.mark.parametrize(
    "text",
    [
        "3-1/4",
        "3 1/4",
        "3–1/4",
        "3‑1/4",
        "3¼",
        "3 ¼",
        "3.25",
        "3.25 in",
        "3¼ in",
        '3-1/4"',
        "3 1/4″",
        "13/4",
        "82.55 mm",
        "8.255 cm",
        "8.255cm",
        "3-1/4 inches",
        "3 - 1/4",
        "  3.25  ",
        "3 1⁄4",
        "3.25 IN",
        "3.250",
        "3 2/8",
        "3-1/4 in.",
        "3-1/4“",
        "3 1/4”",
        "3¼''",
        "3 ¼’’",
        "3¹⁄₄ in",
        "3 ¹/₄",
    ],
)
def test_every_spelling_of_three_and_a_quarter(text):
    assert parse_length(text) == Length(Fraction(13, 4))


@pytest.mark.parametrize(
    "glyph, value",
    [("½", "1/2"), ("¼", "1/4"), ("¾", "3/4"), ("⅛", "1/8"), ("⅜", "3/8"), ("⅝", "5/8"), ("⅞", "7/8"), ("⅓", "1/3"), ("⅔", "2/3")],
)
def test_every_fraction_that_has_a_character(glyph, value):
    assert parse_length(glyph) == Length(Fraction(value))
    assert parse_length(f"12{glyph}") == Length(12 + Fraction(value))


def test_a_bare_number_is_in_the_kits_own_unit():
    assert parse_length("82", "mm") == Length.mm(82) == parse_length("8.2", "cm") == parse_length("82 mm")
    assert parse_length("2 in", "mm") == Length(2)


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "x",
        "in",
        "3-",
        "-",
        "3 1/4 1/4",
        "1/0",
        "3-1/0",
        "0",
        "0.0",
        "0/4",
        "0 mm",
        "-1",
        "-3-1/4",
        "−2",
        "- 2 mm",
        "-¼",
        "3 feet",
        "3 m",
        "3 px",
        "1e3",
        "nan",
        "inf",
        "0x10",
        "3,25",
        "1_000",
        "3-4/4",
        "3 9/8",
        "401",
        "40000 mm",
        "9" * 200,
        "1/" + "9" * 200,
        "٣x",
        "3\n4",
        "3 1/4 x",
        "½½",
        "..5",
        "3.2.5",
        "1//2",
        "three",
        "!!float 3",
        "3;4",
        "\0",
        "3\0",
    ],
)
def test_bad_lengths_are_refused_with_a_remedy(text):
    with pytest.raises(MeasureError) as caught:
        parse_length(text)
    assert caught.value.problem and caught.value.remedy
    assert len(str(caught.value)) < 400


def test_a_length_typed_too_finely_is_refused():
    """The reader's own promise: no ruler shows a billionth."""
    with pytest.raises(MeasureError):
        parse_length("1/999999999")


@given(st.text(max_size=60))
def test_any_text_is_a_length_or_a_measure_error(text):
    try:
        length = parse_length(text)
    except MeasureError as error:
        assert error.remedy
    else:
        assert ZERO < length <= Length(units.LONGEST) and isinstance(length.inches, Fraction)


@given(st.text(alphabet='0123456789 -/.x×¼½inmc"by', max_size=24), st.sampled_from(["in", "mm"]))
def test_any_text_is_a_size_or_a_measure_error(text, unit):
    try:
        size = parse_size(text, unit)
    except MeasureError as error:
        assert error.remedy
    else:
        assert size.area > 0


def test_a_zero_only_where_it_makes_sense():
    assert parse_length("0", allow_zero=True) == ZERO
    with pytest.raises(MeasureError):
        parse_length("-0.1", allow_zero=True)


@given(sixteenths, st.booleans())
def test_inches_on_the_grid_come_back(length, plain):
    text = inch_text(length, plain=plain)
    assert units.ABOUT not in text and parse_length(text) == length


@given(half_mm)
def test_millimetres_on_the_grid_come_back(length):
    text = mm_text(length)
    assert units.ABOUT not in text and parse_length(text, "mm") == length


@given(any_length)
def test_rounded_figures_are_marked_and_no_others(length):
    inch, mm = inch_text(length), mm_text(length)
    assert (units.ABOUT in inch) == bool(length.inches % SIXTEENTH) == (not on_grid(length))
    assert (units.ABOUT in mm) == bool(length.inches % HALF_MM) == (not on_grid(length, "mm"))
    shown_inch = parse_length(inch.removeprefix(units.ABOUT), allow_zero=True)
    shown_mm = parse_length(mm.removeprefix(units.ABOUT), "mm", allow_zero=True)
    assert abs(shown_inch - length) <= Length(SIXTEENTH / 2)
    assert abs(shown_mm - length) <= Length(HALF_MM / 2)


@given(any_length, any_length, st.integers(1, 40))
def test_arithmetic_is_that_of_rationals(a, b, n):
    assert (a + b).inches == a.inches + b.inches and (a - b) + b == a
    assert a * n / n == a and n * a == total([a] * n)
    assert a / b == a.inches / b.inches and isinstance(a / b, Fraction)
    assert b * (a // b) + a % b == a and ZERO <= a % b < b
    assert (a < b) == (a.inches < b.inches) and -(minus := -a) == a == abs(minus)


@pytest.mark.parametrize("bad", [0.1, 1.0, float("nan")])
def test_floats_never_enter(bad):
    for make in (Length, Length.mm):
        with pytest.raises(TypeError):
            make(bad)
    for act in (
        lambda: Length(1) * bad,
        lambda: Length(1) / bad,
        lambda: bad * Length(1),
        lambda: Length(1) + bad,
        lambda: Length(1) < bad,
        lambda: Length(1) + 1,
    ):
        with pytest.raises(TypeError):
            act()


@given(sixteenths, sixteenths, st.sampled_from(["x", " x ", " × ", "X", " by "]))
def test_sizes_come_back(width, height, times):
    text = f"{inch_text(width, plain=True)}{times}{inch_text(height, plain=True)}"
    assert parse_size(text) == Size(width, height)
    assert parse_size(size_text(Size(width, height))) == Size(width, height)


@pytest.mark.parametrize(
    "text", ["105 x 148 mm", "105 mm x 148 mm", "105 × 148 mm", "10.5 x 14.8 cm", "105mm by 148mm", "10.5 cm x 148 mm"]
)
def test_a_unit_after_the_second_length_holds_for_both(text):
    assert parse_size(text) == Size(Length.mm(105), Length.mm(148))


@pytest.mark.parametrize("unit", ["in", "inch", "inches", '"', "″"])
def test_so_it_does_however_inches_are_spelt(unit):
    assert parse_size(f"3 x 4 {unit}", "mm") == Size(Length(3), Length(4))


@pytest.mark.parametrize("text", ["", "3", "3 x", "x 3", "3 x 4 x 5", "3 x -4", "0 x 4", "3 * 4", "3 x four", "A x B", "3 x 1/0"])
def test_bad_sizes_are_refused_with_a_remedy(text):
    with pytest.raises(MeasureError) as caught:
        parse_size(text)
    assert caught.value.remedy


def test_how_lengths_are_written():
    assert length_text(Length(Fraction(13, 4))) == "3¼ in"
    assert length_text(Length(Fraction(63, 16))) == "3 15⁄16 in"
    assert length_text(Length(Fraction(63, 16)), plain=True) == "3 15/16 in"
    assert length_text(Length(Fraction(1, 3))) == "≈5⁄16 in"
    assert both_text(Length(Fraction(13, 4))) == "3¼ in (≈82.5 mm)"
    assert both_text(Length.mm(Fraction(165, 2)), "mm") == "82.5 mm (≈3¼ in)"
    assert fraction_text(Fraction(-7, 8)) == "−⅞" and fraction_text(Fraction(0)) == "0"
    assert size_text(Size(Length.mm(105), Length.mm(148)), "mm") == "105 × 148 mm"


@given(any_length, any_length, any_length, any_length)
def test_fitting_is_within_both_ways(a, b, c, d):
    small, large = Size(a, b), Size(c, d)
    assert small.fits(large) == (a <= c and b <= d)
    assert small.turned.turned == small and small.turned.area == small.area


def test_a_difference_is_told_in_the_unit_in_which_it_is_seen():
    hair, speck = Length(Fraction(5, 254)), Length(Fraction(1, 254))
    assert (seen_text(hair), seen_both(hair)) == ("0.5 mm", "0.5 mm")
    assert seen_both(hair, "mm") == "0.5 mm"
    assert seen_text(speck) == seen_both(speck) == seen_text(speck, "mm") == "under 0.5 mm"
    eighth = Length(Fraction(1, 8))
    assert (seen_text(eighth), seen_both(eighth)) == ("⅛ in", "⅛ in (≈3 mm)")
