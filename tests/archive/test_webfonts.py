"""The type of the site: small, whole, and with stand-ins that move nothing."""

from __future__ import annotations

import io
import re
from fractions import Fraction

import pytest
from fontTools.ttLib import TTFont
from kitwright.archive import webfonts
from kitwright.archive.webfonts import EARLY, FACES, PLAIN, SAMPLE
from kitwright.drawing import fonts
from kitwright.drawing.fonts import LATIN


@pytest.fixture(scope="module")
def faces() -> dict[str, TTFont]:
    return {name: TTFont(io.BytesIO(data)) for name, data in webfonts.files().items()}


def test_each_face_has_all_letters_in_two_files_that_share_none(faces):
    assert list(faces) == webfonts.names() and len(faces) == 2 * len(FACES)
    for n, font in enumerate(FACES):
        one, more = ({*face.getBestCmap()} for face in [*faces.values()][2 * n : 2 * n + 2])
        there = set(LATIN) - set(map(ord, fonts.missing("".join(map(chr, LATIN)), font)))
        assert not one & more and one | more == there
        # Sizes and English ask for the first alone; names in other letters for both.
        assert set(map(ord, f"{SAMPLE}½⅞⁄×≈²“”")) <= one == there & PLAIN and set(map(ord, "éßŁ")) <= more


def test_what_every_page_begins_with_is_small():
    data = webfonts.files()
    assert len(webfonts.early_names()) == len(EARLY) == 4
    assert sum(len(data[name]) for name in webfonts.early_names()) < 40_000
    assert sum(len(data[name]) for name in webfonts.names() if "more" not in name) < 60_000


def test_fractions_are_set_by_the_font_and_letters_are_kerned(faces):
    for name, face in faces.items():
        if "more" not in name:
            tags = {record.FeatureTag for table in ("GSUB", "GPOS") for record in face[table].table.FeatureList.FeatureRecord}
            assert {"frac", "kern"} <= tags and face.flavor == "woff2", name


def test_the_style_sheet_names_every_file_and_every_letter_once():
    css = webfonts.css()
    assert re.findall(r'url\("([^"]+)"\)', css) == webfonts.names()
    ranges = re.findall(r"unicode-range:([^}]+)}", css)
    for text in ranges[:2]:
        told = {point for part in text.split(",") for point in _points(part)}
        assert told in (set(PLAIN), set(LATIN) - PLAIN)


def test_what_a_first_screen_is_set_in_moves_nothing_when_it_is_late():
    """CSS Fonts 4, 11.2: an `optional` face that is not there at once is never put in later; `swap` puts it in whenever it comes."""
    early, css = webfonts.early_names(), webfonts.css()
    assert _shown(css) == {name: "optional" if name in early else "swap" for name in webfonts.names()}
    # Until it is at hand nothing is set in it, so that no page asks for it before it is seen; without scripts all is.
    ours, waiting = (
        re.search(rf"^{re.escape(root)} {{ --kw-sans: (.*); --kw-serif: (.*), serif; }}$", css, re.M)
        for root in (":root", ".kw-js:not(.kw-type)")
    )
    assert ours and waiting
    for all_of, stand_ins, family in zip(ours.groups(), waiting.groups(), ("Source Sans Pro", "Source Serif Pro")):
        assert all_of == f'"{family}", {stand_ins}' and f'"{family}"' not in stand_ins


def _shown(css: str) -> dict[str, str]:
    return {name: display for display, name in re.findall(r'font-display:(\w+);src:url\("([^"]+)"\)', css)}


def _points(part: str) -> range:
    first, _, last = part.removeprefix("U+").partition("-")
    return range(int(first, 16), int(last or first, 16) + 1)


def test_a_stand_in_is_as_wide_as_ours_and_stands_on_the_same_lines():
    """CSS Fonts 5, 4.10 and 4.11: `size-adjust` scales the face, and what is given in per cent goes by the size so scaled."""
    for rule in re.findall(r"@font-face{(font-family:\"[^\"]+ as [^}]+)}", webfonts.css()):
        said = dict(part.split(":", 1) for part in rule.split(";"))
        ours, _, device = said["font-family"].strip('"').partition(" as ")
        weight = "semibold" if said["font-weight"].startswith("600") else "italic" if said["font-style"] == "italic" else "regular"
        [font] = [face for face in FACES if fonts.FAMILIES[face.family] == ours and face.weight == weight]
        size, above, below = (
            Fraction(said[name].removesuffix("%")) / 100 for name in ("size-adjust", "ascent-override", "descent-override")
        )
        known = webfonts._measured()[device][{"regular": "regular", "italic": "italic", "semibold": "bold"}[weight]]
        assert abs(Fraction(known, 1000) * size / fonts.width(SAMPLE, 1, font) - 1) < Fraction(1, 5000)
        with TTFont(font.path, lazy=True) as face:
            rises, hangs = (Fraction(getattr(face["hhea"], name), face["head"].unitsPerEm) for name in ("ascent", "descent"))
        assert abs(above * size - rises) < Fraction(1, 1000) and abs(below * size + hangs) < Fraction(1, 1000)
    assert webfonts.css().count("size-adjust") == 6 * 3
