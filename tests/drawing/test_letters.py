"""The letters of a picture, held against the whole face, read back by fontTools."""

import base64
import io

import pytest
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont
from kitwright.drawing import fonts, letters
from kitwright.drawing.fonts import Font


def read_back(font: Font, text: str) -> TTFont:
    kind, data = letters.subset_uri(font, text).split(",")
    assert kind == "data:font/woff2;base64"
    return TTFont(io.BytesIO(base64.b64decode(data)))


def drawn(face: TTFont, name: str):
    glyphs = face.getGlyphSet()
    pen = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(pen)
    return pen.value, glyphs[name].width


@pytest.mark.parametrize("font", [Font(), Font("serif", "italic")], ids=lambda font: font.name)
@pytest.mark.parametrize("text", ["3⅛ × 5¼ in", "Grüße Łódź ½ “A”", "3 15⁄16", "—", ""])
def test_every_letter_is_that_of_the_face(font, text):
    whole, small = TTFont(font.path), read_back(font, text)
    by_code = whole.getBestCmap()
    assert set(small.getBestCmap()) == set(map(ord, text))
    for code, name in small.getBestCmap().items():
        assert drawn(small, name) == drawn(whole, by_code[code]), chr(code)
    assert len(base64.b64decode(letters.subset_uri(font, text).split(",")[1])) < 4000


def test_figures_of_fractions_come_with_fractions_alone():
    font = Font("sans", "bold")
    pieces, plain = read_back(font, "15⁄16"), read_back(font, "1516")
    assert "GSUB" in pieces and "GSUB" not in plain
    rules = {record.FeatureTag for record in pieces["GSUB"].table.FeatureList.FeatureRecord}
    assert rules == {"frac"}

    def filled(face):
        return sum(bool(face["glyf"][name].numberOfContours) for name in face.getGlyphOrder())

    # Three digits, each once above and once below the line, and the line.
    assert filled(pieces) - filled(plain) == 2 * 3 + 1
    parts = letters.parts_of(font, frozenset(fonts.LATIN))
    whole = TTFont(io.BytesIO(fonts.pen_file(font)))
    code = ord(fonts.glyph_text("1⁄1")[0])
    made = TTFont(io.BytesIO(letters.picked(parts, frozenset(map(ord, "1⁄6")))))
    above, _ = parts.in_fractions[ord("1")]
    assert drawn(made, made.getGlyphName(above)) == drawn(whole, whole.getBestCmap()[code])


def test_a_letter_that_no_face_has_is_left_out():
    assert set(read_back(Font(), "a💧ａ").getBestCmap()) == {ord("a")}


def test_the_same_letters_give_the_same_bytes():
    letters._parts.cache_clear()
    letters._uri.cache_clear()
    once = letters.subset_uri(Font(), "abc ⅛")
    letters._parts.cache_clear()
    letters._uri.cache_clear()
    assert letters.subset_uri(Font(), "⅛cba ") == once
