"""Colours against WCAG 2.2, and stand-ins for paper told apart in grey."""

import itertools

import pytest
from kitwright.colours import hex_text
from kitwright.drawing.palette import Ink, css_variables, rgb
from kitwright.drawing.styles import FILLS, LINES, TEXTS
from kitwright.kit.looks import COLOURS, PAPERS
from kitwright.schemes import DARK, LIGHT


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(a: str, b: str) -> float:
    """Contrast ratio as WCAG 2.2 defines it."""
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_of_black_on_white_is_21():
    # WCAG 2.2, definition of contrast ratio: from 1 to 21.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["paper", "surface"])
@pytest.mark.parametrize("text", ["ink", "soft", "accent", "second"])
def test_text_is_readable(scheme, ground, text):
    # WCAG 2.2, 1.4.3: 4.5 to 1 for text.
    assert contrast(scheme[text], scheme[ground]) >= 4.5


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["accent", "second"])
def test_text_on_buttons_and_tags_is_readable(scheme, ground):
    assert contrast(scheme["on-accent"], scheme[ground]) >= 4.5


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["paper", "surface"])
def test_thin_lines_show(scheme, ground):
    # WCAG 2.2, 1.4.11: 3 to 1 for what is needed to understand a graphic.
    assert contrast(scheme["line"], scheme[ground]) >= 3


def test_every_line_that_carries_meaning_shows_on_picture_paper_and_white():
    for role, line in LINES.items():
        if role.endswith("-ground") or role == "print-light":
            continue  # pale on purpose: under a line, and on dark paper
        assert contrast(LIGHT[line.colour], LIGHT["paper"]) >= 3, role
        assert contrast(LIGHT[line.colour], "#FFFFFF") >= 3, role


def test_every_text_role_is_readable_where_it_stands():
    for role, colour in TEXTS.items():
        ground = {"tag": LIGHT["accent"], "sentiment-light": PAPERS["clay"]}.get(role, LIGHT["paper"])
        assert contrast(LIGHT.get(colour) or PAPERS.get(colour, colour), ground) >= 4.5, role
    assert contrast(LIGHT[TEXTS["tag"]], LIGHT[FILLS["number"].name]) >= 4.5, "numbers of cuts and moves"


def test_greetings_are_readable_on_every_paper():
    from kitwright.drawing.looks import DrawnLook

    for name, colour in PAPERS.items():
        words = PAPERS["white"] if DrawnLook("plain", (name,)).dark else LIGHT["ink"]
        assert contrast(words, colour) >= 3, name  # greetings are large text


def test_paper_colours_step_in_lightness():
    # CIE 1976 lightness from relative luminance, ISO/CIE 11664-4.
    lightness = sorted(116 * luminance(c) ** (1 / 3) - 16 for c in PAPERS.values())
    assert len(COLOURS) == 9 and tuple(PAPERS) == COLOURS
    assert min(b - a for a, b in itertools.pairwise(lightness)) >= 5


def test_a_weak_ink_mixes_with_the_paper():
    assert rgb(Ink("night", 0)) == rgb("paper")
    assert hex_text(rgb(Ink("night"))) == PAPERS["night"].lower()


def test_css_variables_name_each_colour_once():
    lines = css_variables(DARK).splitlines()
    assert len(lines) == len(DARK) and "--kw-paper: #141B24;" in lines
