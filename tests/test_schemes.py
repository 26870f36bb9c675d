"""A club's colours: measured as WCAG 2.2 says, derived so that they can be read, refused where they can't be."""

import itertools
from pathlib import Path

import pytest
from drawing.test_palette import contrast as measured
from drawing.test_palette import luminance as known
from examples import tried
from hypothesis import example, given
from hypothesis import strategies as st
from kitwright.check.colours import of_club
from kitwright.colours import contrast, families, hex_text, lab, luminance, parts, tone, tones
from kitwright.drawing.looks import DrawnLook
from kitwright.errors import UserError
from kitwright.kit.looks import PAPERS
from kitwright.kit.read import read_club
from kitwright.schemes import DARK, HOUSE, LIGHT, alike, palette_of

CLUB = """\
name: Bench
tagline: Cards
about: For the tests.
time zone: Europe/Lisbon
trimmer: {cut length: 12, finest mark: 1/16, least hold: 1/2}
terms: None.
cautions: Blades are sharp.
"""
PAIRS = [
    *((text, ground, 4.5) for text in ("ink", "soft", "accent", "second") for ground in ("paper", "surface")),
    *(("on-accent", ground, 4.5) for ground in ("accent", "second")),
    *(("line", ground, 3) for ground in ("paper", "surface")),
]
"""WCAG 2.2, 1.4.3 (text) and 1.4.11 (graphics): what is read on what, and its least contrast."""


def typed(**colours: str):
    return palette_of(tuple((role, parts(value)) for role, value in colours.items()))


def assert_readable(palette):
    for scheme in (palette.light, palette.dark):
        for text, ground, least in PAIRS:
            assert measured(scheme[text], scheme[ground]) >= least, (text, ground, scheme)
        assert not alike(parts(scheme["accent"]), parts(scheme["second"])) and not alike(parts(scheme["accent"]), parts(scheme["ink"]))
    for text in ("ink", "soft", "accent", "second"):
        assert measured(palette.light[text], "#FFFFFF") >= 4.5, f"{text} in print"
    assert measured(palette.light["line"], "#FFFFFF") >= 3
    for name, colour in PAPERS.items():
        # A greeting is large text: 3 to 1 (WCAG 2.2, 1.4.3).
        words = PAPERS["white"] if DrawnLook("plain", (name,)).dark else palette.light["ink"]
        assert measured(words, colour) >= 3, f"a greeting on {name}"


# --- measured ---------------------------------------------------------------------------------------


@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_luminance_is_that_of_wcag_and_a_tone_of_its_own_lightness_is_the_colour_itself(colour):
    assert float(luminance(colour)) == pytest.approx(known(hex_text(colour)), abs=1e-9)
    assert tone(colour, lab(colour).light) == colour


def test_contrast_is_exact_where_it_is_known():
    assert contrast((0, 0, 0), (255, 255, 255)) == 21
    # A widely published pair, from memory: the lightest grey that is read on white.
    assert contrast((0x76,) * 3, (255,) * 3) >= 4.5 > contrast((0x77,) * 3, (255,) * 3)


def test_lightness_is_that_of_oklab():
    # Ottosson's article gives white as L = 1, a = b = 0; red #FF0000 is L 0.62796 in CSS Color 4's conversions.
    assert lab((255, 255, 255)).light == pytest.approx(10**8, abs=10) and lab((255, 255, 255)).chroma < 100
    assert lab((255, 0, 0)).light / 10**8 == pytest.approx(0.62796, abs=1e-4)


# Names and values: CSS Color Module Level 4 (W3C), "Named colors": those whose name is one of ours, or ends in one.
NAMED_COLOURS = {
    "white": "#ffffff",
    "black": "#000000",
    "gray": "#808080",
    "red": "#ff0000",
    "orange": "#ffa500",
    "yellow": "#ffff00",
    "green": "#008000",
    "blue": "#0000ff",
    "purple": "#800080",
    "pink": "#ffc0cb",
    "saddle brown": "#8b4513",
    "sky blue": "#87ceeb",
    "dark green": "#006400",
    "hot pink": "#ff69b4",
    "dark orange": "#ff8c00",
    "dim gray": "#696969",
    "royal blue": "#4169e1",
}


def test_a_colour_is_called_as_css_calls_it():
    assert {name: families(parts(value)) for name, value in NAMED_COLOURS.items() if name.split()[-1] not in families(parts(value))} == {}


@tried(30)
@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_every_colour_has_a_name(colour):
    assert 1 <= len(families(colour)) <= 3


def test_tones_run_from_black_to_white_and_keep_their_hue():
    found = tones(parts("#B73C1C"))
    assert max(found[0]) <= 1 and min(found[-1]) >= 254 and parts("#B73C1C") in found
    assert all(a <= b for a, b in itertools.pairwise(lab(c).light for c in found[1:-1:10]))
    own = lab(parts("#B73C1C"))
    for each in map(lab, found[80:160]):
        turned = abs(each.green_red * own.blue_yellow - each.blue_yellow * own.green_red)
        assert turned < each.chroma * own.chroma * 6 // 100, "less than 3.5 degrees of hue"


# --- derived ----------------------------------------------------------------------------------------


def test_a_club_that_typed_none_has_ours():
    assert palette_of(()) is HOUSE and HOUSE.light is LIGHT and HOUSE.dark is DARK


def test_our_own_accent_typed_gives_our_own_palette():
    assert typed(accent=LIGHT["accent"], second=LIGHT["second"]).dark == DARK


@pytest.mark.parametrize(
    "colours",
    [
        {"accent": "#6A1B9A", "second": "#00838F"},
        {"accent": "#C2185B", "second": "#2E7D32", "ink": "#3B2A20", "page": "#FFF7FB"},
        {"accent": "#808080"},
        {"accent": "#186575"},  # as our second, which gives way
        {"second": "#000000"},
        {"ink": "#000000", "page": "#FFFFFF"},
    ],
    ids=lambda c: " ".join(c),
)
def test_what_is_derived_can_be_read_on_screen_in_the_dark_and_in_print(colours):
    palette = typed(**colours)
    assert_readable(palette)
    assert palette is typed(**colours), "the same palette, for every page of the club"


def test_a_colour_that_can_be_read_is_used_as_typed_and_one_nearly_so_a_little_darker():
    assert typed(accent="#6A1B9A").light["accent"] == "#6A1B9A"
    darker = typed(accent="#E4572E").light["accent"]
    assert 4.5 <= measured(darker, LIGHT["surface"]) < 4.8


@tried(12)
@example({"accent": (0, 0, 1), "second": (0, 0, 0)})
@example({"accent": (0, 53, 70), "second": (0, 0, 0), "page": (0, 0, 2)})
@given(st.dictionaries(st.sampled_from(["accent", "second", "ink", "page"]), st.tuples(*[st.integers(0, 255)] * 3), min_size=1))
def test_any_colours_are_readable_or_refused_and_the_colour_that_is_offered_would_do(colours):
    for _ in range(6):
        try:
            assert_readable(palette_of(tuple(colours.items())))
            return
        except UserError as error:
            role, near = error.values["role"], error.values["near"]
            assert role in colours
            if near is None or parts(near) == colours[role]:
                return
            colours = colours | {role: parts(near)}


def test_check_says_which_colour_is_drawn_darker(tmp_path):
    (hint,) = of_club(club(tmp_path, 'colours:\n  second: "#186575"\n  accent: "#E4572E"\n'))
    assert (hint.level, hint.place.line, hint.values["drawn"]) == ("hint", 10, typed(accent="#E4572E").light["accent"])
    assert "#E4572E" in hint.problem and not [*of_club(club(tmp_path, ""))]


@pytest.mark.parametrize(
    "accent, word", [("#B73C1C", "red"), ("#C2185B", "red"), ("#6A1B9A", "coloured"), ("#0B5FA5", "coloured"), ("#555555", "heavy")]
)
def test_a_line_to_cut_is_called_as_it_looks(accent, word):
    assert typed(accent=accent).cut_line == word


# --- refused ----------------------------------------------------------------------------------------


def club(tmp_path: Path, lines: str):
    (tmp_path / "club.yaml").write_text(CLUB + lines, encoding="utf-8")
    return read_club(tmp_path)


@pytest.mark.parametrize(
    "lines, line, said",
    [
        (
            'colours: {accent: "#FFE600"}\n',
            8,
            "on tables and tags of the page (#F4EEE2) its contrast is 1.0 to 1, and WCAG 2.2 asks for 4.5 to 1",
        ),
        ('colours:\n  second: "#186575"\n  accent: "#39FF14"\n', 10, "#167D03 is the nearest of the same hue that would do"),
        ('colours: {accent: "#FFFFFF"}\n', 8, "in print, on white"),
        ('colours: {accent: "#000000"}\n', 8, "looks like the ink"),
        ('colours:\n  accent: "#186575"\n  second: "#176070"\n', 10, "looks like the accent (#186575)"),
        ('colours: {page: "#88AACC"}\n', 8, "under the words (#1B2737) its contrast is 6.2 to 1"),
        ('colours: {ink: "#FFFFFF"}\n', 8, "#3E3E3E is the nearest"),
        ("colours: {accent: teal}\n", 8, "“teal” is not a colour"),
        ("colours:\n  accent: #B73C1C\n", 9, "in quotes"),
        ("colours: {accent: [1]}\n", 8, "a list can't stand here"),
        ('colours: {accents: "#B73C1C"}\n', 8, "accent"),
    ],
    ids=["yellow", "neon", "white", "black", "alike", "dark page", "pale ink", "a word", "a note", "a list", "misspelt"],
)
def test_a_colour_that_will_not_do_is_one_error_at_its_line(tmp_path, lines, line, said):
    with pytest.raises(UserError) as caught:
        club(tmp_path, lines)
    assert len(caught.value.each) == 1 and caught.value.place.line == line
    assert said in str(caught.value)


def test_all_colours_that_will_not_do_are_told_in_one_run(tmp_path):
    with pytest.raises(UserError) as caught:
        club(tmp_path, 'colours:\n  accent: "#FFE600"\n  second: "#39FF14"\n  ink: "#FFFFFF"\n  page: "#FFFFFF"\n')
    assert [error.place.line for error in caught.value.each] == [9, 10, 11]


def test_a_colour_may_be_typed_without_its_sign(tmp_path):
    assert club(tmp_path, "colours: {accent: 6a1b9a}\n").palette is typed(accent="#6A1B9A")
