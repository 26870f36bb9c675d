"""Bad input of folds, faces and what lies on them: each is one clear error at its line, with what would be right."""

from __future__ import annotations

import pytest
from click.testing import CliRunner
from fixedkits import SHAKE, laid_out
from foldedkits import GATE, TRI, Z
from kitwright.check import of_the_card
from kitwright.cli import cli
from kitwright.errors import SeveralErrors, UserError
from making import changed, line_of, look_over, make_archive
from several import LYING, SEVERAL

FACES = TRI[TRI.index("faces:") :]
FRONT_ALONE = changed(
    TRI,
    (FACES, "front: {rows: [{piece: A, place: centre}, band]}\n"),
    ("  B: {size: 3-3/8 x 5, for: inside, paper: rose}\n", ""),
    ("  C: {size: 3-1/4 x 5-1/4, for: flap, paper: moss}\n", ""),
)


def own(scores: str, panels: str = "front, back, flap", *more: str) -> tuple[str, str]:
    """A fold of her own in place of the tri-fold, a line for each entry."""
    lines = ["fold:", "lies: inside up", f"scores: [{scores}]", f"panels: [{panels}]", *more]
    return "fold: tri-fold", "\n    ".join(lines)


def named(fold: str, *more: str) -> tuple[str, str]:
    return "fold: tri-fold", "\n  ".join([f"fold: {fold}", *more])


WIDE = [("fold: gate", "fold: gate\n  score: 2-1/4"), ("P: {size: 1-7/8", "P: {size: 2"), ("N: {size: 4 x", "N: {size: 3-3/4 x")]
SLIPS = [
    # what is changed, the line that is told, its code, words of the problem, words of the remedy
    # --- score lines
    (TRI, [own("10-3/4 forward, 3-5/8 forward")], "scores:", "fold.score-outside", "10¾ in lies on the edge", "between 0 and 10¾ in"),
    (TRI, [own("7-1/4 forward, 0 forward")], "scores:", "lengths.zero", "“0” is zero", "above zero"),
    (TRI, [own("12 forward, 3-5/8 forward")], "scores:", "fold.score-outside", "12 in lies outside a base", "between 0 and 10¾ in"),
    (TRI, [own("-1 forward, 3-5/8 forward")], "scores:", "lengths.below-zero", "“-1” is below zero", "above zero"),
    (TRI, [own("3-5/8 forward, 3-5/8 back")], "scores:", "fold.scored-twice", "a second score line lies at 3⅝ in", "keep one"),
    (TRI, [own("92 mm forward, 9.2 cm forward")], "scores:", "fold.scored-twice", "a second score line", "keep one"),
    (TRI, [own("7-1/4, 3-5/8 forward")], "scores:", "fields.no-score-line", "“7-1/4” is no score line", "4-1/4 back or 105 mm forward"),
    (TRI, [own(", ".join(f"{n}/2 forward" for n in range(1, 14)), ", ".join(f"p{n}" for n in range(14)), "front: p0", "back: p1")], "scores:", "spec.too-long", "“scores” is too long", "at most 12"),
    (TRI, [own("", "front")], "scores:", "spec.empty", "“scores” is empty", "fill it in"),
    (TRI, [own("4-1/8 forward, 8-1/8 forward")], "scores:", "fold.blocked", "the front reaches ⅛ in over it", "fold it earlier"),
    (TRI, [named("tri-fold", "score: 3-5/8")], "score:", "spec.score-of-no-fold", "a tri-fold fold has no one score line", "take  score:  out"),
    (FRONT_ALONE, [named("flat", "score: 4")], "score:", "spec.score-of-no-fold", "a flat fold", "take  score:  out"),
    (GATE, [("fold: gate", "fold: gate\n  score: 4-1/4")], "score:", "fold.no-back", "no back between its doors", "usual is 2⅛ in"),
    (TRI, [named("trifold")], "fold:", "spec.no-choice", "“trifold”", "tri-fold"),
    (Z, [("fold: z-fold", "fold: {scores: [99 back, 297 forward], panels: [front, middle, last], back: last}")], "  fold:", "fold.score-outside", "297 mm lies on the edge", "between 0 and 297 mm"),
    (Z, [("fold: z-fold", "fold: {scores: [99 back, 9.9 cm forward], panels: [front, middle, last], back: last}")], "  fold:", "fold.scored-twice", "lies at 99 mm", "keep one"),
    (Z, [("fold: z-fold", "fold: z-fold\n  score: 90")], "score:", "spec.score-of-no-fold", "a z-fold fold has no one score line", "take  score:  out"),
    # --- panels
    (TRI, [own("7-1/4 forward, 3-5/8 forward", "front, back")], "panels:", "spec.panels-and-scores", "2 score lines make 3 panels, and 2 are named", "name 3 panels"),
    (TRI, [own("7-1/4 forward, 3-5/8 forward", "front, back, flap, end")], "panels:", "spec.panels-and-scores", "and 4 are named", "name 3 panels"),
    (TRI, [own("7-1/4 forward, 3-5/8 forward", "front, back, back")], "panels:", "spec.panel-twice", "two panels are called “back”", "a name of its own"),
    (TRI, [own("7-1/4 forward, 3-5/8 forward", "front, back, inside flap")], "panels:", "spec.panel-named-as-a-face", "“inside flap”", "flap"),
    (TRI, [own("7-1/4 forward, 3-5/8 forward", "front, back, flap", "front: cover")], "front: cover", "spec.no-such-panel", "no panel is called “cover”", "front, back or flap"),
    (TRI, [own("7-1/4 forward, 3-5/8 forward", "front, back, flap", "front: back")], "front: back", "spec.one-panel-for-both", "“back” can’t be both", "front:"),
    (TRI, [own("7-1/4 forward, 3-5/8 forward", "front, back, flap", "front: flap")], "front: flap", "fold.hidden", "nothing is seen of the flap", "front: front"),
    (TRI, [own("7-1/4 forward, 3-5/8 forward", "front, back, flap", "back: flap")], "back: flap", "fold.hidden", "does not lie on the flap", "back: back"),
    # --- doors
    (GATE, WIDE, "score:", "folds.doors-overlap", "overlap by ½ in", "score: 2 1/8"),
    (GATE, [("{piece: S, fixed to: left door}", "{piece: S}")], "{piece: S}", "fixing.doors-shut", "S glues the doors shut", "fixed to: left door"),
    (GATE, [("left door}", "flap}")], "fixed to: flap", "fixing.no-such-panel", "“flap”", "left door,  or  right door"),
    # --- faces
    (GATE, [("  inside: {border", "  insides: {border"), ("on: N}", "on: W, place: left}")], "insides:", "faces.unknown", "“insides”", "did you mean “inside”? its fold gives doors, left door"),
    (GATE, [("rows: [N]}\n", "rows: [N]}\n  inside back: {rows: [band]}\n")], "inside back:", "faces.twice", "“inside back” and “inside” are one face", "one of the two names"),
    (GATE, [("faces:\n", "front: {over: [{piece: W}]}\nfaces:\n"), ("      - {piece: W, on: S}\n", "")], "  doors:", "faces.front-twice", "under “doors”", "keep one"),
    (FRONT_ALONE, [named("flat"), ("\nfront:", "\nfaces:\n  inside: {rows: [band]}\nfront:")], "  inside:", "faces.unknown", "“inside”", "its fold gives front, inside front and back"),
    (TRI, [(FACES, "faces:\n")], "faces:", "spec.blank", "“faces” is empty", "inside: {rows: [A]}"),
    (TRI, [(FACES, "faces: {}\n")], "faces:", "spec.empty", "“faces” is empty", "fill it in"),
    (TRI, [("  flap: {over: [{piece: C}]}", "  flap:")], "  flap:", "spec.blank", "“flap” is empty", "rows"),
    (Z, [("  middle:", "  midle:")], "  midle:", "faces.unknown", "“midle”", "did you mean “middle”? its fold gives front, inside front, middle"),
    (Z, [("  middle: {border: 4, rows: [A]}", "  middle: {border: 4, rows: [A], over: [{piece: B, turned: yes}]}"), ("card:\n", "  B: {size: 80 x 60, paper: dawn}\ncard:\n")], "  middle:", "front.turned-one-way", "Dawn is one-way", "upright"),
    (Z, [("  fold: z-fold\n", "  fold: z-fold\n  inside: N\n"), ("card:\n", "  N: {size: 90 x 140, paper: white}\ncard:\n")], "  inside: N", "faces.no-inside", "N is to lie inside", "front, inside front, middle"),
    (GATE, [("rows: [N]}\n", "rows: [N], over: [{piece: W, paper: rose, top: 1}]}\n")], "  inside:", "pieces.not-cut-from", "4 W from Rose lie on the cards", "use white there"),
    # --- what lies on them
    (SHAKE, [("size: 3-3/4 x 2-3/4", "size: 4-1/8 x 2-3/4")], "  T: ", "fixing.tag-too-wide", "T is 4⅛ in wide; K takes 3¾ in", "K ⅜ in wider"),
    (SHAKE, [("  F: {", "  G: {size: 4-1/2 x 2, for: pocket, paper: white, pocket: {holds: H}}\n  H: {size: 4-3/8 x 3, for: tag, paper: white}\n  F: {"), ("front:\n", "faces: {inside: {over: [{piece: G, right: 0}, {piece: H, in: G}]}}\nfront:\n")], "  H: ", "fixing.tag-too-wide", "H is 4⅜ in wide; G takes 3¾ in", "G ⅝ in wider"),
    (TRI, [("  inside: {over: [{piece: B}]}", "  inside: {over: [{piece: B, left: 1/2}]}")], "  inside:", "folds.past-the-fold", "B reaches ¼ in past a fold that closes over the inside, and the card would not close", "move it in"),
    (SEVERAL, [(LYING, LYING.replace("fold: top", "fold: half z across\n      score: 2-1/4"))], "      score: 2-1/4", "spec.score-of-no-fold", "a half z across fold", "take  score:  out"),
    (SEVERAL, [("  Lying:\n    cards: 8\n", "  Lying:\n")], "  Lying:", "spec.missing", "“cards” is missing", "cards: 8"),
]  # fmt: skip


def errors_of(tmp_path, text, look=lambda tmp_path, text: [one for _, one in of_the_card(laid_out(tmp_path, text))]):
    """Every error that is told of a kit: by the reader, or else by the checks."""
    try:
        return [one for one in look(tmp_path, text) if one.level == "error"]
    except SeveralErrors as several:
        return list(several.each)
    except UserError as one:
        return [one]


def told(found, text, needle, code, problem, remedy):
    said = [(one.code, one.place.line, one.problem, one.remedy) for one in found]
    assert [one[:2] for one in said] == [(code, line_of(text, needle))], said
    assert problem in said[0][2] and remedy in said[0][3], said


@pytest.mark.parametrize("text, pairs, needle, code, problem, remedy", SLIPS, ids=[f"{one[3]} {i}" for i, one in enumerate(SLIPS)])
def test_each_is_one_error_at_its_line(tmp_path, text, pairs, needle, code, problem, remedy):
    text = changed(text, *pairs)
    told(errors_of(tmp_path, text), text, needle, code, problem, remedy)


CUT = [
    (
        TRI,
        [named("z-fold"), ("size: 10-3/4 x 5-1/2", "size: 297 mm x 148 mm"), (FACES, "front: {places: [{piece: A}], over: [{piece: B}, {piece: C}]}\n")],
        "size: 297",
        "sheets.piece-too-large",
        "is ≈11⁄16 in larger than the sheet",
        "or use a larger sheet",
    ),
    (SEVERAL, [("  A: {size: 4 x 3, papers", "  A: {size: 4 x 3, shape: {triangle: rising}, papers")], "4 rows of 3: A", "guide.triangle-uncut", "this line stops at its rectangle", "corner to corner: A"),
]  # fmt: skip


@pytest.mark.parametrize("text, pairs, needle, code, problem, remedy", CUT, ids=[one[3] for one in CUT])
def test_what_is_cut_too(tmp_path, text, pairs, needle, code, problem, remedy):
    # A z-fold longer than its sheet, also turned; a triangle to which no line gives a rectangle cut from corner to corner.
    text = changed(text, *pairs)
    told(errors_of(tmp_path, text, look_over), text, needle, code, problem, remedy)


BUNTING = changed(SEVERAL, ("  A: {size: 4 x 3, papers", "  A: {size: 4 x 3, shape: triangle, papers"))


def test_a_cut_through_a_wrong_rectangle_is_told_once(tmp_path):
    """Also where its corners lie further apart than the trimmer cuts: that is so because of the slip."""
    text = changed(BUNTING, ("4 rows of 3: A", "corner to corner: A"))
    found = [one for one in look_over(tmp_path, text) if one.code in ("guide.no-rectangle", "sheets.corners-too-far")]
    assert [(one.code, one.place.line) for one in found] == [("guide.no-rectangle", line_of(text, "corner to corner: A"))], found


def test_a_guide_with_what_lies_on_no_front_says_where_it_would(tmp_path):
    """Nobody types how many where they are counted on the fronts."""
    text = changed(
        SEVERAL,
        ("        - {name: shore above, cards: 4, swap: {moss: shore, shore: moss}}\n", ""),
        ("moss above, cards: 4", "moss above, cards: 8"),
    )
    (one,) = {f.remedy for f in look_over(tmp_path, text) if f.code == "sheets.not-asked-for"}
    assert "lay A shore on a card" in one and "per card" not in one


def test_film_is_told_with_its_frame(tmp_path):
    """A frame too large is one slip: its film is worked out from it."""
    text = changed(SHAKE, ("  F: {size: 4 x 3-1/2", "  F: {size: 4-1/2 x 6-7/8"), ("      top: 1/4\n", "      on: P\n      top: 1/16\n"))
    larger = [
        one.values["label"]
        for one in look_over(tmp_path, changed(text, ("P: {size: 4-3/4 x 6-3/4", "P: {size: 3 x 4")))
        if one.code == "front.larger"
    ]
    assert larger == ["F"]


@pytest.mark.parametrize("pairs, code", [([own("3-5/8 forward, 3-5/8 back")], 2), ([named("gate", "score: 3")], 1)])
def test_by_the_command(tmp_path, pairs, code):
    gate = FRONT_ALONE if code == 1 else TRI
    make_archive(tmp_path, changed(gate, *pairs))
    done = CliRunner().invoke(cli, ["--root", str(tmp_path), "check", "test-kit"])
    assert done.exit_code == code and "kit.yaml:" in done.output and "Traceback" not in done.output, done.output
