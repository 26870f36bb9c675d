"""Sizes, weights and sheets against published standards and a reference library."""

from fractions import Fraction

import pytest
from kitwright import schemes
from kitwright.papers import ANSI, BASIS, ISO_216, ISO_269, POUND, envelope_named, grammage, parse_weight, sheet_named
from kitwright.units import Length, Size, parse_length
from reportlab.lib import pagesizes


def mm(width, height) -> Size:
    return Size(Length.mm(width), Length.mm(height))


def test_the_inch():
    """25.4 mm exactly: international yard and pound agreement, 1959; NIST SP 811."""
    assert Length(1).millimetres == Fraction(254, 10)
    assert parse_length("25.4 mm") == parse_length("2.54 cm") == parse_length("1 in") == Length(1)


@pytest.mark.parametrize(
    "name, size",
    [
        ("A3", (297, 420)),
        ("A4", (210, 297)),
        ("A5", (148, 210)),
        ("ISO A6", (105, 148)),
        ("ISO A7", (74, 105)),
        ("ISO B5", (176, 250)),
        ("ISO B6", (125, 176)),
    ],
)
def test_iso_sheets(name, size):
    """ISO 216."""
    named = sheet_named(name)
    assert named.size == mm(*size) and named.source == ISO_216


@pytest.mark.parametrize("larger, smaller", [("A3", "A4"), ("A4", "A5"), ("A5", "ISO A6"), ("ISO A6", "ISO A7"), ("ISO B5", "ISO B6")])
def test_iso_sheets_halve_into_one_another(larger, smaller):
    """ISO 216: the next size is half of this one, rounded down to the millimetre."""
    big, small = sheet_named(larger).size, sheet_named(smaller).size
    assert small == mm(big.height.millimetres // 2, big.width.millimetres)


@pytest.mark.parametrize(
    "name, size",
    [("ISO C5 envelope", (162, 229)), ("ISO C6 envelope", (114, 162)), ("ISO C7 envelope", (81, 114)), ("ISO DL envelope", (110, 220))],
)
def test_iso_envelopes(name, size):
    """ISO 269."""
    named = envelope_named(name)
    assert named.size in (mm(*size), mm(*size).turned) and named.source == ISO_269


@pytest.mark.parametrize("envelope, sheet", [("ISO C5 envelope", "A5"), ("ISO C6 envelope", "ISO A6"), ("ISO C7 envelope", "ISO A7")])
def test_an_iso_envelope_takes_its_sheet_flat(envelope, sheet):
    """ISO 269: C5 for A5, C6 for A6, C7 for A7."""
    size = sheet_named(sheet).size
    assert size.fits(envelope_named(envelope).size.turned) or size.fits(envelope_named(envelope).size)


@pytest.mark.parametrize("name, size", [("Letter", ("17/2", 11)), ("Tabloid", (11, 17))])
def test_ansi_sheets(name, size):
    """ANSI/ASME Y14.1, sizes A and B."""
    named = sheet_named(name)
    assert named.size == Size(*(Length(Fraction(v)) for v in size)) and named.source == ANSI


@pytest.mark.parametrize(
    "name, theirs",
    [
        ("A3", pagesizes.A3),
        ("A4", pagesizes.A4),
        ("A5", pagesizes.A5),
        ("ISO A6", pagesizes.A6),
        ("ISO A7", pagesizes.A7),
        ("ISO B5", pagesizes.B5),
        ("ISO B6", pagesizes.B6),
        ("Letter", pagesizes.LETTER),
        ("Tabloid", pagesizes.TABLOID),
        ("ISO C5 envelope", pagesizes.C5),
        ("ISO C6 envelope", pagesizes.C6),
        ("ISO C7 envelope", pagesizes.C7),
    ],
)
def test_the_same_sheets_in_points(name, theirs):
    """reportlab's own page-size table, as a reference library; 72 points to the inch."""
    size = (envelope_named if "envelope" in name else sheet_named)(name).size
    ours = sorted(float(side.inches * 72) for side in (size.width, size.height))
    assert ours == pytest.approx(sorted(theirs), abs=0.01)


# --- grammage: arithmetic from the definition (basis size × 500 sheets, avoirdupois pound) -------------------


def test_the_pound():
    """453.59237 g: international yard and pound agreement, 1959."""
    assert POUND == Fraction("453.59237")


@pytest.mark.parametrize(
    "kind, basis, per_pound",
    [
        ("cover", ("20", "26"), "2.7041"),
        ("text", ("25", "38"), "1.4801"),
        ("offset", ("25", "38"), "1.4801"),
        ("bond", ("17", "22"), "3.7597"),
        ("index", ("25.5", "30.5"), "1.8079"),
    ],
)
def test_grams_per_square_metre_of_a_pound(kind, basis, per_pound):
    assert BASIS[kind] == tuple(map(Fraction, basis))
    # By hand: pounds in grams, over 500 sheets of the basis size in square metres.
    area = Fraction(basis[0]) * Fraction(basis[1]) * Fraction("0.0254") ** 2
    assert grammage(1, kind) == Fraction("453.59237") / (500 * area)
    # The published figures give four places, some cut off rather than rounded (index is 1.80796).
    assert abs(grammage(1, kind) - Fraction(per_pound)) < Fraction(1, 10_000)


@pytest.mark.parametrize(
    "text, gsm",
    [("65 lb cover", 176), ("80 lb cover", 216), ("100 lb cover", 270), ("110 lb cover", 297), ("20 lb bond", 75), ("24 lb bond", 90)],
)
def test_the_weights_that_makers_buy(text, gsm):
    assert round(parse_weight(text).grammage) == gsm


def test_110_lb_of_cover_is_half_as_heavy_again_as_of_index():
    assert Fraction(14, 10) < grammage(110, "cover") / grammage(110, "index") < Fraction(16, 10)


# --- contrast: WCAG 2.2, 1.4.3 and 1.4.11 ----------------------------------------------------------------------


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_on_pairs_whose_contrast_is_known():
    """WCAG 2.2: 21:1 is the most there is; #767676 on white is the lightest grey that passes 4.5:1 (a widely published pair, from memory)."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") >= 4.5 > contrast("#777777", "#FFFFFF")


@pytest.mark.parametrize("scheme", [schemes.LIGHT, schemes.DARK], ids=["light", "dark"])
@pytest.mark.parametrize(
    "ink, on, least",
    [
        ("ink", "paper", 4.5),
        ("ink", "surface", 4.5),
        ("soft", "paper", 4.5),
        ("soft", "surface", 4.5),
        ("accent", "paper", 4.5),
        ("second", "paper", 4.5),
        ("second", "surface", 4.5),
        ("on-accent", "accent", 4.5),
        ("on-accent", "second", 4.5),
        ("line", "paper", 3),
    ],
)
def test_colours_that_meet(scheme, ink, on, least):
    """WCAG 2.2: 4.5:1 for text (1.4.3), 3:1 for graphics (1.4.11)."""
    assert contrast(scheme[ink], scheme[on]) >= least
