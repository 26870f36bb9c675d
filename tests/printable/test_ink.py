"""Photocopies stay readable: labels and figures of the guide read back from grey and 1-bit pictures, at all three levels of ink.

Reading is done without the PDF's own text: every character's place on the picture is
compared with the letters, or the figures, of the printed face at that size, and what is
most like it is what was read. Where the text says what stood there, both must agree.
"""

from __future__ import annotations

import io
from functools import cache
from math import ceil

import numpy as np
import pdfplumber
import pypdfium2
import pytest
from kitwright.drawing import fonts
from kitwright.drawing.fonts import Font
from PIL import Image, ImageDraw, ImageFont

DPI = 150
"""What a plain copier resolves."""
ZOOM = DPI / 72
LETTERS, FIGURES = "ABCDEFGHIJKLMNOPQRSTUVWXYZ", "0123456789"
FACES = {font.name: font for font in (Font(), Font("sans", "semibold"), Font("sans", "bold"))}
SUB = 4
"""Places within a pixel at which glyphs are drawn."""


@cache
def glyph(face: str, size: float, char: str, across: int, down: int) -> np.ndarray:
    """A character as a clean printer would put it at this place within a pixel, ink 1."""
    font = ImageFont.truetype(io.BytesIO(fonts.pen_file(FACES[face])), size * ZOOM * SUB)
    side = int(size * ZOOM * 1.4) + 6
    picture = Image.new("L", (side * SUB, side * SUB), 0)
    ImageDraw.Draw(picture).text((2 * SUB + across, (2 + int(size * ZOOM)) * SUB + down), char, 255, font, anchor="ls")
    return np.asarray(picture.resize((side, side), Image.BOX), float) / 255


def likeness(ink: np.ndarray, char: dict, height: float, candidate: str) -> float:
    """How like a candidate the picture is at a character's place, best over a pixel's shift; 0 to 1, whether dark on light or light on dark."""
    x, y, size = char["matrix"][4] * ZOOM, (height - char["matrix"][5]) * ZOOM, round(char["size"], 2)
    whole = glyph(char["fontname"].partition("+")[2], size, candidate, int(x % 1 * SUB), int(y % 1 * SUB))
    wide = ceil((char["x1"] - char["x0"]) * ZOOM) + 4
    rows = slice(int(2 + size * ZOOM * 0.28), int(2 + size * ZOOM * 1.05))
    clean = whole[rows, :wide] - whole[rows, :wide].mean()
    best = 0.0
    for dx in (-1, 0, 1):
        for dy in (-1, 0, 1):
            left, top = int(x) - 2 + dx, int(y) - 2 - int(size * ZOOM) + dy + rows.start
            seen = ink[top : top + clean.shape[0], left : left + clean.shape[1]]
            seen = seen - seen.mean()
            scale = np.sqrt((seen**2).sum() * (clean**2).sum())
            best = max(best, abs((seen * clean).sum()) / scale if scale else 0)
    return best


def read(ink: np.ndarray, char: dict, height: float) -> str:
    """What stands at a character's place, among letters or among figures."""
    among = FIGURES if char["text"] in FIGURES else LETTERS
    return max(among, key=lambda candidate: likeness(ink, char, height, candidate))


def copies(page: pypdfium2.PdfPage) -> dict[str, np.ndarray]:
    """The page as copiers give it back: grey, 1-bit by a threshold, 1-bit by dots."""
    grey = page.render(scale=ZOOM).to_pil().convert("L")
    pictures = {"grey": grey, "black or white": grey.point(lambda v: 255 if v >= 128 else 0), "dotted": grey.convert("1").convert("L")}
    return {name: 1 - np.asarray(picture, float) / 255 for name, picture in pictures.items()}


@pytest.mark.parametrize("level", ["full", "light", "outline"])
def test_a_photocopied_guide_is_read(pdf_of, all_kits, level):
    data = pdf_of("2027-05-three-coves", "letter", level)
    page, drawn = pdfplumber.open(io.BytesIO(data)).pages[1], pypdfium2.PdfDocument(io.BytesIO(data))[1]
    chars = [c for c in page.chars if c["upright"] and c["fontname"].partition("+")[2] in FACES and c["text"] in LETTERS + FIGURES]
    labels = [c for c in chars if c["text"] in all_kits["2027-05-three-coves"].kit.spec.pieces and c["size"] > 10.5]
    figures = [c for c in chars if c["text"] in FIGURES]
    assert len(labels) >= 6 and len(figures) > 60
    for name, ink in copies(drawn).items():
        height = float(page.height)
        for label in labels:
            assert read(ink, label, height) == label["text"], f"{label['text']} at {label['size']} pt, {name}"
        wrong = [c["text"] for c in figures if read(ink, c, height) != c["text"]]
        assert len(wrong) <= 0.02 * len(figures), f"{name}: {len(wrong)} of {len(figures)} figures misread, {wrong}"


def test_the_reader_is_no_yes_sayer(pdf_of):
    """On a page without its text the same places are not read."""
    data = pdf_of("2027-05-three-coves")
    page = pdfplumber.open(io.BytesIO(data)).pages[1]
    noise = np.random.default_rng(4).random((int(792 * ZOOM), int(612 * ZOOM)))
    chars = [c for c in page.chars if c["upright"] and c["fontname"].partition("+")[2] in FACES and c["text"] in FIGURES]
    right = sum(read(noise, c, float(page.height)) == c["text"] for c in chars)
    assert right < len(chars) / 2
