"""Templates of the workbook at true size, measured in the PDF's own drawing operators (pdfplumber), and the words that explain them."""

from __future__ import annotations

import io
from fractions import Fraction

import pdfplumber
import pypdfium2
import pytest
from kitwright.printable import workbook_pdf

MM = 72 / 25.4
CLOSE = 0.05 * MM
"""Points: what a drawn size may be off, 0.05 mm."""

SHAPES = """\
  T: {size: 2 x 3, for: tag, paper: white, shape: {tag: {end: top, snip: 1/2, hole: 1/4}}}
  W: {size: 3 x 2, for: frame, paper: white, shape: {window: {border: 1/2}}}
  R: {size: 1-1/2 x 1-1/2, for: corner, paper: white, shape: {rounded: 1/4}}
"""
NOTCH = "    notch: {made with: shaped punch, shaped punch: {width: 1-1/2, depth: 1/2, trim: 1/8}, keeps: bottoms}\n"


@pytest.fixture(scope="module", params=["letter", "a4"])
def shaped(request, make_kit, kit_texts):
    """A kit with a strip that is punched, and three other shapes."""
    text = kit_texts["2027-05-three-coves"]
    text = text.replace(
        "  S: {size: 3 x 15/16, for: sentiment strip, paper: white, notch: {ends: right}}\n",
        "  S:\n    size: 3 x 15/16\n    for: sentiment strip\n    paper: white\n" + NOTCH + SHAPES,
    )
    worked = make_kit("2027-05-three-coves", text)
    return worked, workbook_pdf(worked, request.param)


def pages_with_templates(data: bytes):
    texts = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(io.BytesIO(data))]
    return [(page, text) for page, text in zip(pdfplumber.open(io.BytesIO(data)).pages, texts) if "Templates" in text]


def drawn(pages) -> list[tuple[float, float]]:
    """Width and height of everything drawn as an edge."""
    found = []
    for page, _ in pages:
        found += [
            (o["width"], o["height"]) for o in (*page.rects, *page.curves, *page.lines) if o["stroke"] and abs(o["linewidth"] - 0.75) < 0.01
        ]
    return found


def near(size: tuple[float, float], width: Fraction, height: Fraction) -> bool:
    return abs(size[0] - float(width) * 72) <= CLOSE and abs(size[1] - float(height) * 72) <= CLOSE


def test_every_template_is_true(shaped):
    found = drawn(pages_with_templates(shaped[1]))
    wanted = {
        "the strip": (3, Fraction(15, 16)),
        "the tag": (2, 3),
        "its hole": (Fraction(1, 4), Fraction(1, 4)),
        "the frame": (3, 2),
        "its window": (2, 1),
        "the rounded piece": (Fraction(3, 2), Fraction(3, 2)),
    }
    for what, (width, height) in wanted.items():
        assert any(near(size, Fraction(width), Fraction(height)) for size in found), f"{what} is not drawn at its size"


def test_a_scale_bar_stands_on_every_page_that_carries_a_template(shaped):
    pages = pages_with_templates(shaped[1])
    assert pages
    for page, text in pages:
        assert "2 in above and 50 mm below before you cut" in " ".join(text.split())
        bars = [o["width"] for o in page.lines if o["height"] == 0 and abs(o["linewidth"] - 0.8) < 0.01]
        assert any(width == pytest.approx(144, abs=CLOSE) for width in bars)


def test_a_notch_is_drawn_as_its_tool_makes_it(shaped):
    # Geometry: a V that is ½ in deep at 1½ in is 5/16 in deep in a strip of 15/16 in; by scissors half the strip, 15/32 in.
    cuts = [
        o
        for page, _ in pages_with_templates(shaped[1])
        for o in (*page.curves, *page.lines, *page.rects)
        if abs(o["linewidth"] - 1.1) < 0.01
    ]
    deep = [o["width"] for o in cuts if o["height"] == pytest.approx(float(Fraction(15, 16)) * 72, abs=CLOSE)]
    assert any(width == pytest.approx(72 * 15 / 32, abs=CLOSE) for width in deep)


def test_every_way_is_explained_with_its_own_length(shaped):
    text = " ".join(" ".join(text.split()) for _, text in pages_with_templates(shaped[1]))
    assert "With a shaped punch, as this kit does" in text
    assert "With scissors and a centre mark" in text and "With the corner of a square punch" in text
    assert "With a shaped punch, as this kit does, 1½ in wide, ½ in deep, ⅛ in trim" in text
    assert "With another shaped punch, cut S 2⅜ in, plus depth + trim at each end." in text
    # Trim ⅛ in, and what the V is shallower in a lower strip, 3/16 in, at each of both ends: 3 + 2 × 5/16.
    assert "Cut the strip 3⅝ × 15/16 in." in text


def test_a_notched_end_says_where_the_greeting_goes(workbook_of):
    pages = pages_with_templates(workbook_of("2027-05-three-coves"))
    dotted = [(o["width"], o["height"]) for page, _ in pages for o in page.rects if abs(o["linewidth"] - 0.6) < 0.01]
    assert any(near(size, Fraction(2), Fraction(1, 2)) for size in dotted)


def test_a_kit_without_shapes_has_no_templates(workbook_of):
    assert not pages_with_templates(workbook_of("2027-07-night-ferry", "a4"))
