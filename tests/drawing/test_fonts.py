"""Type: exact widths, fractions as the font sets them, subsets that hold what they should."""

import io
from fractions import Fraction

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.webfonts import FACES
from kitwright.drawing import fonts
from kitwright.drawing.fonts import Font
from kitwright.drawing.pdf import register
from PIL import Image, ImageDraw, ImageFont

ALL = (*FACES, Font("sans", "bold"))


@pytest.mark.parametrize("font", ALL, ids=lambda f: f.name)
def test_fraction_figures_are_those_of_the_fonts_own_feature(font):
    """What private code points draw is what the OpenType `frac` feature draws (HarfBuzz, by way of Pillow)."""
    shaped = ImageFont.truetype(str(font.path), 64, layout_engine=ImageFont.Layout.RAQM)
    ours = ImageFont.truetype(io.BytesIO(fonts.pen_file(font)), 64, layout_engine=ImageFont.Layout.RAQM)
    for number in ("15⁄16", "3⁄16", "31⁄32", "7⁄10"):
        pictures = []
        for face, text, features in ((shaped, number, ["frac", "-kern"]), (ours, fonts.glyph_text(number), ["-kern"])):
            picture = Image.new("L", (260, 90))
            ImageDraw.Draw(picture).text((8, 70), text, fill=255, font=face, anchor="ls", features=features)
            pictures.append(picture.tobytes())
        assert pictures[0] == pictures[1], number
        unshaped = ImageFont.truetype(str(font.path), 64, layout_engine=ImageFont.Layout.BASIC)
        plain = Image.new("L", (260, 90))
        ImageDraw.Draw(plain).text((8, 70), number, fill=255, font=unshaped, anchor="ls")
        assert plain.tobytes() != pictures[0]


@given(st.text(alphabet="ABCdefg 0123456789½¼¾⅛⅜⅝⅞×≈−–“”.,", max_size=30), st.integers(8, 48))
def test_widths_are_those_of_reportlab(text, size):
    from reportlab.pdfbase.pdfmetrics import stringWidth

    assert float(fonts.width(text, size)) == pytest.approx(stringWidth(text, register(Font()), size), abs=0.02 * len(text) + 0.001)


def test_width_is_exact_and_grows_with_size():
    assert fonts.width("3 15⁄16", 20) == 2 * fonts.width("3 15⁄16", 10)
    assert isinstance(fonts.width("A", 9), Fraction)


def test_only_fractions_become_fractions():
    assert [(r.text, r.fraction) for r in fonts.runs("3 15⁄16 × 5⅛ in")] == [("3 ", False), ("15⁄16", True), (" × 5⅛ in", False)]
    assert fonts.glyph_text("31/16") == "31/16"


@given(st.lists(st.text(alphabet="abcdefgh", min_size=1, max_size=9), min_size=1, max_size=12), st.integers(20, 200))
def test_wrapping_keeps_the_words_and_the_room(words, room):
    lines = fonts.wrap(" ".join(words), 9, room)
    assert " ".join(lines).split() == words
    assert all(fonts.width(line, 9) <= room or " " not in line for line in lines)


def test_a_subset_holds_its_characters_and_the_fraction_figures():
    face = TTFont(io.BytesIO(fonts.subset_file(Font("sans", "bold"), frozenset(map(ord, "3 15⁄16 in")))))
    assert set(map(ord, "3 15⁄16 in")) == set(face.getBestCmap())
    assert "frac" in {record.FeatureTag for record in face["GSUB"].table.FeatureList.FeatureRecord}
    figures = 2 * len("1356")  # each of the digits once above and once below the bar
    assert len(face.getGlyphOrder()) >= len(face.getBestCmap()) + figures
    assert face.flavor == "woff"


def test_the_fonts_have_every_character_that_pictures_use():
    for font in ALL:
        assert fonts.missing("ABC abc 0123456789 ½¼¾⅛⅜⅝⅞⅓⅔ ⁄×≈−–—·“”’ %", font) == ""
    assert fonts.missing("a💧a💧") == "💧"
