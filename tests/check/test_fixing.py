"""How pieces are held: each slip is one clear error at its line, with what would be right; and a tag that passes goes in."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from examples import tried
from fixedkits import SHAKE, laid_out
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.layout import base_of, faces_of
from kitwright.check import fixing
from kitwright.errors import UserError
from kitwright.units import Length, Size, parse_length
from kitwright.work.worked import Worked
from making import changed, line_of, look_over, make_kit

SLIPS = [
    # what is changed, the line that is told, its level and code, words of the problem, words of the remedy
    (("size: 3-3/4 x 2-3/4", "size: 4-1/8 x 2-3/4"), "  T: ", "error", "tag-too-wide", "T is 4⅛ in wide; K takes 3¾ in", "K ⅜ in wider"),
    (("size: 3-3/4 x 2-3/4", "size: 3-7/8 x 2-3/4"), "  T: ", "warning", "tag-too-wide", "inside it is 4 in wide", "make T 3¾ in wide"),
    (
        ("size: 3-3/4 x 2-3/4", "size: 3-3/4 x 2-1/2"),
        "  T: ",
        "error",
        "nothing-to-pull",
        "only ¼ in of T shows above K",
        "make it 2¾ in long",
    ),
    (("size: 3-3/4 x 2-3/4", "size: 3-3/4 x 2"), "  T: ", "error", "nothing-to-pull", "nothing of T shows", "thumb notch: 3/4"),
    (("holds: T}", "holds: T, thumb notch: 4}"), "  K: ", "error", "thumb-too-wide", "4 in across", "smaller"),
    (("glue: 1/4", "glue: 2-1/4"), "  K: ", "error", "pocket-all-glue", "leaves no room", "narrower than 2¼ in"),
    (("    - {piece: T, in: K}\n", ""), "  K: ", "error", "pocket-empty", "nothing lies in the pocket K", "{piece: T, in: K}"),
    (("holds: T}", "holds: F}"), "{piece: T, in: K}", "error", "pocket-of-another", "said to hold F, and T lies in it", "holds: T"),
    (("{piece: K, bottom: 1/4}", "{piece: K, bottom: 1/4, raised: yes}"), "{piece: K,", "error", "pocket-otherwise", "“foam”", "leave"),
    (("border: 3/4", "border: 5/16"), "shaker:", "error", "frame-too-narrow", "5⁄16 in wide", "⅜ in wide or more"),
    (("from window: 1/8", "from window: 0"), "shaker:", "error", "foam-in-the-window", "window’s edge", "from window: 1/8"),
    (("lap: 1/4", "lap: 1/8"), "shaker:", "error", "film-lap", "does not reach the foam", "more than ⅛ in"),
    (("kind: film", "kind: cardstock"), "shaker:", "error", "film-not-clear", "Clear film, which nobody sees through", "kind: film"),
    (("lap: 1/4", "lap: 7/8"), "shaker:", "error", "film-lap", "sticks out behind F", "write ¾ in or less"),
    (("inside thickness: 1/16", "inside thickness: 1/8"), "shaker:", "error", "inside-too-thick", "beads, ⅛ in thick", "thicker foam"),
    (("  foam: 1/8\n", ""), "shaker:", "warning", "inside-too-thick", "foam that may be as thin as", "foam: 1/8"),
    (("window: {border: 3/4}", "oval: yes, window: {size: 2-1/2 x 2}"), "shaker:", "error", "foam-past-the-frame", "sticks out", "window"),
    (("{piece: K, bottom: 1/4}", "{piece: K, bottom: 1/4, fixing: loose}"), "{piece: K,", "error", "pocket-otherwise", "“loose”", "leave"),
    (
        ("{piece: T, in: K}", "{piece: T, in: K}\n    - {piece: S, top: 1/8, fixing: loose}"),
        "{piece: S,",
        "error",
        "nothing-holds",
        "falls out",
        "in: K",
    ),
    (
        ("{piece: T, in: K}", "{piece: T, in: K}\n    - {piece: S, top: 1/8, fixing: hidden edge}"),
        "{piece: S,",
        "error",
        "no-edge-hidden",
        "edge of S",
        "lay",
    ),
]
WITH_S = ("card:\n", "  S: {size: 3 x 1/2, for: strip, paper: white}\ncard:\n")


def found_in(tmp_path, *pairs):
    text = changed(SHAKE, WITH_S, *pairs)
    return text, list(fixing.find(laid_out(tmp_path, text)))


@pytest.mark.parametrize("pair, needle, level, code, problem, remedy", SLIPS, ids=[f"{one[3]} {i}" for i, one in enumerate(SLIPS)])
def test_each_slip_at_its_line(tmp_path, pair, needle, level, code, problem, remedy):
    text, found = found_in(tmp_path, pair)
    one = next(one for one in found if one.code == f"fixing.{code}")
    assert one.level == level and one.place.line == line_of(text, needle)
    said = " ".join((one.problem, one.remedy))
    assert problem in one.problem and remedy in one.remedy, said
    assert [
        other for other in found if other.level == "error" and other != one and (other.place, other.code) == (one.place, one.code)
    ] == []


def test_a_good_one_is_silent(tmp_path):
    assert [str(one) for one in look_over(tmp_path, SHAKE) if one.code != "named.colour-unsaid"] == []


def test_a_thumb_notch_lets_a_short_tag_out(tmp_path):
    # Pushed home T ends ¼ in below the open edge; a notch ¾ in across reaches ⅜ in down.
    _, found = found_in(tmp_path, ("size: 3-3/4 x 2-3/4", "size: 3-3/4 x 2"), ("holds: T}", "holds: T, thumb notch: 3/4}"))
    assert found == []


def test_a_tag_past_the_card_is_told_as_everything_is(tmp_path):
    text = changed(SHAKE, ("size: 3-3/4 x 2-3/4", "size: 3-3/4 x 6-5/8"))
    codes = {one.code: one for one in look_over(tmp_path, text)}
    one = codes["front.past-the-edge"]
    assert one.values["label"] == "T" and one.values["side"] == "top" and one.place.line == line_of(text, "{piece: T, in: K}")


NAMES = [
    (("in: K}", "in: X}"), "{piece: T,", "names.unknown"),
    (("in: K}", "in: P}"), "{piece: T,", "fixing.no-pocket"),
    (("    - {piece: K, bottom: 1/4}\n", "    - {piece: K, bottom: 1/4}\n    - P\n"), "    - P", "spec.bare-entry"),
    (
        ("    - {piece: K, bottom: 1/4}\n    - {piece: T, in: K}\n", "    - {piece: T, in: K}\n    - {piece: K, bottom: 1/4}\n"),
        "{piece: T,",
        "fixing.pocket-not-there-yet",
    ),
    (("holds: T", "holds: X"), "  K: ", "names.unknown"),
    (("film: clear", "film: glass"), "shaker:", "names.unknown"),
    (("film: clear", "film: clear, label: P"), "shaker:", "fixing.film-label-taken"),
    ((", shape: {window: {border: 3/4}}", ""), "shaker:", "fixing.frame-without-window"),
    (("  over:\n    - piece: F\n", "  places:\n    - piece: F\n"), "- piece: F", "fixing.only-over"),
    (("in: K}", "in: K, top: 1/4}"), "{piece: T,", "spec.in-and-elsewhere"),
    (("in: K}", "in: K, raised: yes}"), "{piece: T,", "spec.in-and-elsewhere"),
    (("piece: K, bottom: 1/4", "piece: K, raised: yes, fixing: loose"), "{piece: K,", "spec.raised-otherwise"),
    (("      top: 1/4\n", "      fixing: loose\n"), "- piece: F", "spec.shaker-otherwise"),
    (("for: tag,", "band: {height: 1},"), "  T: ", "spec.size-that-follows"),
]


@pytest.mark.parametrize("pair, needle, code", NAMES, ids=[one[2] for one in NAMES])
def test_what_names_nothing_or_contradicts_itself(tmp_path, pair, needle, code):
    text = changed(SHAKE, pair)
    with pytest.raises(UserError) as caught:
        make_kit(tmp_path, text)
    errors = getattr(caught.value, "errors", None) or [caught.value]
    assert [(one.code, one.place.line) for one in errors] == [(code, line_of(text, needle))]


@pytest.mark.parametrize("what", ["band: {height: 1}", "liner: {envelope: US A7 envelope, flap: 2-1/2}"])
@pytest.mark.parametrize(
    "pair",
    [("rows: [P]\n", "rows: [P, X]\n"), ("    - {piece: T, in: K}\n", "    - {piece: T, in: K}\n    - {piece: X}\n"), ("foam: 1/8\n", "foam: 1/8\n  layers: [X]\n")],
)  # fmt: skip
def test_what_goes_round_the_card_or_into_its_envelope_lies_on_no_face(tmp_path, what, pair):
    text = changed(SHAKE, ("card:\n", f"  X: {{paper: tide, {what}}}\ncard:\n"), pair)
    with pytest.raises(UserError) as caught:
        make_kit(tmp_path, text)
    errors = getattr(caught.value, "errors", None) or [caught.value]
    assert [(one.code, one.place.line) for one in errors] == [
        ("fixing.not-on-the-card", line_of(text, pair[1].strip().rsplit("\n", 1)[-1]))
    ]


def test_values_in_millimetres_are_usual(tmp_path):
    text = changed(
        SHAKE,
        ("title:", "unit: mm\ntitle:"),
        (", lap: 1/4, foam: 1/4, from window: 1/8", ""),
        ("inside thickness: 1/16", "inside thickness: 1"),
    )
    for inches, millimetres in (
        ("4-3/4 x 6-3/4", "121 x 171"),
        ("4 x 3-1/2", "100 x 90"),
        ("border: 3/4", "border: 18"),
        ("4-1/2 x 2-1/2", "114 x 64"),
    ):
        text = changed(text, (inches, millimetres))
    text = changed(
        text, ("3-3/4 x 2-3/4", "96 x 70"), ("glue: 1/4, ", ""), ("snip: 1/4, hole: 1/8", "snip: 6, hole: 3"), ("10 x 7", "254 x 178")
    )
    text = changed(
        text, ("foam: 1/8", "foam: 3"), ("border: 1/8", "border: 3"), ("top: 1/4", "top: 6"), ("bottom: 1/4", "bottom: 6")
    ).replace("0.0", "0.2")
    text = text.replace("12 x 12", "12 in x 12 in")
    worked = laid_out(tmp_path, text)
    assert list(fixing.find(worked)) == []
    held = {placed.label: placed.hold for placed in worked.face.stack if placed.hold}
    assert held["F"].shaker.foam == held["F"].shaker.lap == held["K"].pocket.glue == parse_length("6 mm")
    assert held["F"].shaker.set_back == parse_length("3 mm")


EIGHTHS = st.integers(1, 36).map(lambda n: Length(Fraction(n, 8)))


@pytest.fixture(scope="module")
def plain(tmp_path_factory):
    return make_kit(tmp_path_factory.mktemp("plain"), changed(SHAKE, (", shape: {tag: {end: top, snip: 1/4, hole: 1/8}}", "")))


@tried(25)
@given(EIGHTHS, EIGHTHS, EIGHTHS, EIGHTHS, st.sampled_from([Length(Fraction(n, 8)) for n in range(1, 5)]))
def test_a_tag_that_passes_goes_in_and_comes_out(plain, wide, high, across, along, glue):
    pieces = dict(plain.spec.pieces)
    pocket = pieces["K"].pocket.model_copy(update={"glue": glue})
    pieces["K"] = pieces["K"].model_copy(update={"size": Size(wide, high), "pocket": pocket})
    pieces["T"] = pieces["T"].model_copy(update={"size": Size(across, along)})
    kit = replace(plain, spec=plain.spec.model_copy(update={"pieces": pieces}))
    worked = Worked(kit, base_of(kit), faces_of(kit), (), (), ())
    tag, pocket = (next(placed.rect for placed in worked.face.stack if placed.label == label) for label in "TK")
    free = (tag.x - pocket.x, pocket.right - tag.right)
    fits = free[0] == free[1] >= glue + parse_length("1/8") and tag.bottom == pocket.bottom - glue
    assert (not list(fixing.find(worked))) == (fits and pocket.y - tag.y >= parse_length("1/2") and pocket.height > glue)


def test_what_shows_in_the_window_is_not_covered(tmp_path):
    """Words and a motif on the floor under a shaker's window are seen; beside the window the frame hides them."""
    lines = "sentiment: {text: hello, size: 2 x 1/2, on: front, place: top, inset: 1}\n"
    lines += "decorations:\n  - {name: a sun, size: 1 x 1, on: P, top: 1-1/4}\n"
    codes = {one.code for one in look_over(tmp_path, SHAKE + lines)}
    assert not codes & {"front.over-the-sentiment", "decoration.under-foam"}
    aside = changed(SHAKE + lines, ("inset: 1}", "inset: 1/2}"), ("top: 1-1/4", "top: 2-1/2"))
    assert {one.code for one in look_over(tmp_path / "aside", aside)} >= {"front.over-the-sentiment", "decoration.under-foam"}


BANDS = [
    ("band: {height: 7-1/4}", "band-too-wide", "7¼ in wide", "less than 7 in"),
    ("band: {height: 1, stack: 8}", "band-of-more-cards", "8 cards", "write 4 or less"),
]


@pytest.mark.parametrize("band, code, problem, remedy", BANDS, ids=[one[1] for one in BANDS])
def test_bands_that_can_not_be(tmp_path, band, code, problem, remedy):
    text = changed(SHAKE, ("card:\n", f"  B: {{paper: tide, {band}}}\ncard:\n"))
    (one,) = fixing.find(laid_out(tmp_path, text))
    assert one.code == f"fixing.{code}" and one.place.line == line_of(text, "  B: ")
    assert problem in one.problem and remedy in one.remedy


def test_a_loose_piece_is_held_by_a_band(tmp_path):
    pairs = (
        (WITH_S[0], WITH_S[1].replace("card:\n", "  B: {paper: tide, band: {height: 1}}\ncard:\n")),
        ("{piece: T, in: K}", "{piece: T, in: K}\n    - {piece: S, top: 1/8, fixing: loose}"),
    )
    assert list(fixing.find(laid_out(tmp_path, changed(SHAKE, *pairs)))) == []
