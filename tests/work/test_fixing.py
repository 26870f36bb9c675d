"""A shaker, a pocket with its tag and a belly band worked out: sheets, adhesive, foam, thickness and steps, by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from fixedkits import GATE, SHAKE, laid_out
from kitwright.card.enclosed import foam_of, stocks_of
from kitwright.card.pile import FOAM, pile_of, whole
from kitwright.check import fixing
from kitwright.cutfiles.parts import parts
from kitwright.errors import UserError
from kitwright.release.changes import changes
from kitwright.release.history import copy_now
from kitwright.release.kept import read_results, results_text, worked_again
from kitwright.release.state import state_of
from kitwright.telling.changes import words
from kitwright.telling.steps import steps_of
from kitwright.telling.supplies import supply_lines
from kitwright.units import MM, Length, parse_length, parse_size
from kitwright.work.measured import measured
from kitwright.work.supplies import adhesive_of, supplies
from kitwright.work.worked import needs_of, on_card
from kitwright.work.working import work
from making import changed, line_of, make_kit, make_worked

BAND = ("card:\n", "  B: {paper: tide, band: {height: 1-1/2}}\ncard:\n")


@pytest.fixture(scope="module")
def shaken(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("shaken"), changed(SHAKE, BAND))


def test_what_lies_where(shaken):
    """Lowest first: film behind its frame, the tag behind its pocket."""
    lying = {placed.label: placed.rect for placed in shaken.face.stack}
    assert list(lying) == ["base", "P", "Film", "F", "T", "K"]
    # The window of F is 2½ × 2, the film ¼ more on each side, in the middle of F.
    assert lying["Film"].size == parse_size("3 x 2-1/2") and lying["Film"].centre == lying["F"].centre
    # T stands on the glue, ¼ above K's lower edge: ½ shows above K.
    assert lying["K"].bottom - lying["T"].bottom == parse_length("1/4")
    assert lying["K"].y - lying["T"].y == parse_length("1/2")


def test_film_and_band_are_cut_like_everything(shaken):
    assert shaken.counts("Film") == {"clear": 4} and shaken.counts("B") == {"tide": 4}
    assert shaken.cut("clear").made["Film"] >= 4 and shaken.cut("tide").made["B"] >= 4
    counted = on_card(shaken)
    assert {label: counted[label, paper] for label, paper in counted} == dict.fromkeys(["P", "Film", "F", "T", "K", "B"], 4)


def test_the_band_by_hand(shaken):
    # Under the frame lie base 0.012, P 0.008, foam ⅛, film 0.005, F 0.012, and the back 0.012: 0.174.
    # 2 × (5 + 0.174) + 4 × 0.008 + ½ = 10.88, up to the next eighth.
    (band,) = shaken.enclosed.bands
    assert band.band.thick == Length(Fraction(174, 1000)) and band.band.exact == Length(Fraction(1088, 100))
    assert shaken.sizes["B"] == band.cut == parse_size("11 x 1-1/2")
    assert band.band.scores == tuple(parse_length(at) for at in ("2-13/16", "3", "8", "8-3/16"))


def test_thickness_and_mass_in_the_post(shaken, tmp_path):
    plain = laid_out(tmp_path, SHAKE).enclosed.parcel
    # Three layers of the band, 0.008 each, lie where it laps.
    assert shaken.enclosed.parcel.thickness.low - plain.thickness.low == Fraction(24, 1000) / MM
    assert shaken.enclosed.parcel.mass.low > plain.mass.low and plain.lumpy


def test_adhesive_and_foam_by_hand(shaken):
    found = supplies(shaken)
    # A card: P all round 2 × (4¾ + 6¾), film all round 2 × (3 + 2½), K 4½ + 2 × 2½, B's end 1½; T and F take none.
    assert found.adhesive == Length(4 * (23 + 11 + Fraction(19, 2) + Fraction(3, 2)))
    # Foam ¼ wide round the window: 2 × (2½ + 2 + 4 × ⅛) + 4 × ¼ = 11 in a card.
    assert found.foam == 4 * Fraction(11, 4)
    told = {line.title: line.whole for line in supply_lines(shaken, found)}
    assert "three edges of a pocket" in told["Adhesive"] and "all round a shaker’s window" in told["Foam"]
    assert told["Clear film"] == "half a sheet, Letter"


def test_steps_say_what_is_glued_where(shaken):
    (last,) = [step for step in steps_of(shaken) if step.stage == "finish"]
    film, foam, frame, pocket, tag, band = last.lines
    assert film == "Stick Film (3 × 2½ in) behind the window of F, ¼ in past it all round."
    assert "two strips of 3 in and two of 2½ in" in foam and "⅛ in from it" in foam
    assert frame.startswith("F (White cardstock): ¼ in from the top edge") and "beads" in frame
    assert "bottom, left and right, ¼ in wide: the top stays open" in pocket
    assert tag == "Slip T into K once the glue is dry: ½ in of it shows to pull it out by."
    assert band.startswith("Score B at 2 13⁄16 in, 3 in, 8 in and 8 3⁄16 in from one end") and "slides off" in band


def test_what_follows_is_no_part_of_what_was_typed(shaken):
    """The state, from which the code is made, says what was typed: no film, no length of a band."""
    pieces = dict(state_of(shaken)["kit"]["pieces"])
    assert list(pieces) == ["P", "F", "K", "T", "B"] and pieces["B"]["size"] == ["size", "0", "0"]


def test_a_changed_kit_has_what_follows_from_it_now(shaken):
    spec = shaken.kit.spec
    frame = spec.pieces["F"].model_copy(update={"size": parse_size("4 x 4")})
    card = spec.card.model_copy(update={"foam": parse_length("1/4")})
    again = measured(replace(shaken.kit, spec=spec.model_copy(update={"pieces": spec.pieces | {"F": frame}, "card": card})))
    assert again.spec.pieces["Film"].size == parse_size("3 x 3") and list(again.films.values()) == ["Film"]
    # ⅛ thicker on both edges: 10.88 + ¼.
    assert again.spec.pieces["B"].size == parse_size("11-1/4 x 1-1/2")
    assert measured(again).spec == again.spec


SECOND = "    - {piece: G, bottom: 1/4, shaker: {film: clear, inside: beads, inside thickness: 1/16}}\n"


@pytest.mark.parametrize("size, labels", [("4 x 3-1/2", {"Film": 8}), ("3 x 3", {"Film": 4, "Fi2": 4})], ids=["alike", "of two sizes"])
def test_shakers_alike_share_their_film(tmp_path, size, labels):
    text = changed(SHAKE, ("card:\n", f"  G: {{size: {size}, paper: white, shape: {{window: {{border: 3/4}}}}}}\ncard:\n"))
    text = changed(text, ("    - {piece: K, bottom: 1/4}\n    - {piece: T, in: K}\n", SECOND)).replace(", holds: T", "")
    text = "\n".join(line for line in text.splitlines() if not line.startswith(("  K:", "  T:"))) + "\n"
    worked = laid_out(tmp_path, text)
    pieces, films = worked.kit.spec.pieces, set(worked.kit.films.values())
    assert {label: pieces[label].share["clear"] * worked.kit.spec.cards for label in films} == labels
    assert [placed.label for placed in worked.face.stack if placed.hold and placed.hold.behind] == list(worked.kit.films.values())
    assert list(fixing.find(worked)) == []


def test_a_hidden_edge_takes_one_run(tmp_path):
    """V is 3 × 1, S lies over its lower edge and ½ in more; that edge is glued, 3 in a card, and nothing else of it."""
    text = changed(
        SHAKE,
        ("card:\n", "  V: {size: 3 x 1, paper: white}\n  S: {size: 3-1/2 x 1, paper: white}\ncard:\n"),
        ("    - {piece: K,", "    - {piece: V, top: 3/8, fixing: hidden edge}\n    - {piece: S, top: 7/8}\n    - {piece: K,"),
    )
    worked, plain = laid_out(tmp_path, text), laid_out(tmp_path / "plain", SHAKE)
    # S is under 1½ the short way: one run along its middle.
    assert supplies(worked).adhesive - supplies(plain).adhesive == parse_length("3") * 4 + parse_length("3-1/2") * 4
    assert any("along its bottom edge only" in line for step in steps_of(worked) for line in step.lines)


def test_what_a_revision_kept_stands(shaken):
    """Read back from its results, the kit has film and band as they were published, whatever would follow now."""
    typed = replace(shaken.kit, spec=shaken.kit.typed, typed=None, films={})
    card = typed.spec.card.model_copy(update={"foam": parse_length("1/4")})
    later = replace(typed, spec=typed.spec.model_copy(update={"card": card}))
    found = worked_again(later, read_results(results_text(shaken)))
    assert found.sizes == shaken.sizes and found.face.stack == shaken.face.stack
    assert found.enclosed.bands == shaken.enclosed.bands and work(later) is found


def test_a_cutter_scores_the_band(shaken):
    """Four lines across the strip, where the steps say."""
    part = parts(shaken)["B"]
    assert [(start[0], start[1], end[1]) for start, end in part.folds] == [
        (parse_length(at), Length(0), parse_length("1-1/2")) for at in ("2-13/16", "3", "8", "8-3/16")
    ]


def test_one_band_round_the_whole_batch(tmp_path):
    """Four cards of 0.174 in on one another: 2 × (5 + 0.696) + 4 × 0.008 + ½ = 11.924; one strip in all, and none in the post."""
    worked = laid_out(tmp_path, changed(SHAKE, (BAND[0], BAND[1].replace("1-1/2", "1-1/2, stack: 4"))))
    assert worked.sizes["B"] == parse_size("12 x 1-1/2") and needs_of(worked.kit)["tide"]["B"] == on_card(worked)["B", "tide"] == 1
    assert worked.enclosed.parcel.thickness == laid_out(tmp_path / "plain", SHAKE).enclosed.parcel.thickness
    assert list(fixing.find(worked)) == []


CHANGES = [
    (("glue: 1/4, ", "glue: 3/16, "), ("write in", "K is fixed otherwise: see the new steps")),
    (("from window: 1/8", "from window: 3/16"), ("write in", "something on the front is fixed otherwise: see the new steps")),
    (("lap: 1/4", "lap: 3/8"), ("recut", "Film is 3¼ × 2¾ in, not 3 × 2½ in: ¼ in wider and ¼ in taller")),
    (("holds: T}", "holds: T, thumb notch: 3/4}"), ("recut", "K has another outline: see the new drawing")),
]


@pytest.mark.parametrize("pair, told", CHANGES, ids=["glue", "foam", "film", "thumb notch"])
def test_a_correction_tells_what_is_held_otherwise(tmp_path, pair, told):
    was, now = make_worked(tmp_path / "was", SHAKE), make_worked(tmp_path / "now", changed(SHAKE, pair))
    assert told in [(one.grade, words(one)) for one in changes(copy_now(was), copy_now(now)).told]


def in_two_designs() -> str:
    """SHAKE as one design of two: the other has P alone on its cards, and a band."""
    head, body = SHAKE.split("card:\n", 1)
    shaken = "".join(f"    {line}\n" for line in ("cards: 4", "card:", *body.splitlines()))
    plain = "    cards: 2\n    card: {base: {size: 10 x 7, paper: white}, fold: side, envelope: US A7 envelope}\n    front: {border: 1/8, rows: [P]}\n"
    band = "  B: {paper: tide, band: {height: 1-1/2, design: Plain}}\n"
    return f"{head.replace('cards: 4', 'cards: 6')}{band}designs:\n  Shaken:\n{shaken}  Plain:\n{plain}"


def test_each_of_two_designs_has_what_holds_it(tmp_path, shaken):
    worked = make_worked(tmp_path, in_two_designs())
    assert worked.counts("Film") == {"clear": 4} and worked.counts("B") == {"tide": 2}
    of_shaken, of_plain = worked.designs
    assert of_shaken.enclosed.bands == () and list(fixing.find(of_shaken)) == list(fixing.find(of_plain)) == []
    # Round two layers of white and one of tide: 2 × (5 + 0.032) + 4 × 0.008 + ½ = 10.596.
    assert of_plain.enclosed.bands[0].cut == parse_size("10-5/8 x 1-1/2")
    # Four cards as above without their band; two with P and theirs.
    found = supplies(worked)
    assert found.adhesive == Length(4 * (23 + 11 + Fraction(19, 2)) + 2 * (23 + Fraction(3, 2)))
    assert found.foam == supplies(shaken).foam


@pytest.fixture(scope="module")
def gate(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("gate"), GATE)


def test_a_plate_across_doors_is_glued_to_one(gate):
    (plate,) = [placed for placed in gate.face.stack if placed.label == "S"]
    # Half of it, 1¼ × 2½, lies on the left door.
    assert plate.hold.panel == "left door" and plate.hold.glued.size == parse_size("1-1/4 x 2-1/2")
    assert list(fixing.find(gate)) == []


def test_what_lies_on_every_face_is_counted(gate):
    # A card: P and Q all round, 14¼ each; S along its glued half, 2½; N all round, 18½; K 3½ + 2 × 3; T lies loose.
    assert supplies(gate).adhesive == Length(4 * (2 * Fraction(57, 4) + Fraction(5, 2) + Fraction(37, 2) + Fraction(19, 2)))
    (inside,) = gate.face.sides
    assert [placed.label for placed in inside.stack] == ["base", "N", "T", "K"]
    assert on_card(gate) == dict.fromkeys(zip("PQSNTK", ("roses", "roses", "white", "white", "white", "roses")), 4)


DOORS = [
    (("S, fixed to: left door", "S"), "doors-shut", "the left door and the right door", "fixed to: left door"),
    (("S, fixed to: left door", "S, left: 0, fixed to: right door"), None, "", ""),
    (("S, fixed to: left door", "T, left: 0, fixed to: right door, turned: yes"), None, "", ""),
    (("size: 2-1/2 x 2-1/2", "size: 1 x 1"), None, "", ""),
    (("S, fixed to: left door", "S, left: 3/16, fixed to: right door"), None, "", ""),
    (("S, fixed to: left door", "S, right: 1/8, top: 1, raised: yes"), "doors-shut", "the left door and the right door", "fixed to"),
]


@pytest.mark.parametrize("pair, code, problem, remedy", DOORS)
def test_doors_that_something_shuts(tmp_path, pair, code, problem, remedy):
    found = list(fixing.find(laid_out(tmp_path, changed(GATE, pair))))
    assert [one.code for one in found] == ([f"fixing.{code}"] if code else [])
    assert all(problem in one.problem and remedy in one.remedy for one in found)


PANELS = [
    ("S, fixed to: left door", "S, fixed to: middle door", "no door of this card"),
    ("{piece: K, bottom: 1/4}", "{piece: K, bottom: 1/4, fixed to: left door}", "lies on one panel alone"),
]


@pytest.mark.parametrize("old, new, problem", PANELS)
def test_a_panel_that_is_not_there(tmp_path, old, new, problem):
    text = changed(GATE, (old, new))
    with pytest.raises(UserError) as caught:
        make_kit(tmp_path, text)
    assert caught.value.code == "fixing.no-such-panel" and problem in caught.value.problem
    assert caught.value.place.line == line_of(text, new)


def test_fixed_to_a_door_that_it_does_not_lie_on(tmp_path):
    text = changed(GATE, ("size: 2-1/2 x 2-1/2", "size: 1 x 1"), ("S, fixed to: left door", "S, left: 1/2, fixed to: right door"))
    (one,) = fixing.find(laid_out(tmp_path, text))
    assert one.code == "fixing.not-on-the-panel" and "does not lie on it" in one.problem


def test_the_closed_card_layer_by_layer(shaken):
    """Foam lies under the film, once: 0.012 + 0.012 + 0.008 + ⅛ + 0.005 + 0.012 = 0.174 in."""
    kit = shaken.kit
    plies = pile_of(shaken.base, shaken.face, None, stocks_of(kit), foam_of(kit))
    assert [ply.label for ply in plies] == ["base", "base", "P", FOAM, "Film", "F"]
    assert whole(plies).low == whole(plies).high == Fraction(174, 1000) / MM


def test_a_full_layer_may_be_held_by_an_edge_that_another_hides(tmp_path):
    """M covers all of V but a strip at its top and bottom: neither of its sides is hidden whole. As large as V, it hides all four."""
    layers = ("  fold: side\n", "  fold: side\n  layers: [{piece: V, fixing: hidden edge}, {piece: M, meant: uneven}]\n")

    def laid(size: str, root: str):
        pieces = ("card:\n", f"  V: {{size: 4-3/4 x 6-3/4, paper: white}}\n  M: {{size: {size}, paper: white}}\ncard:\n")
        return laid_out(tmp_path / root, changed(SHAKE, layers, pieces, ("4-3/4 x 6-3/4, for: floor", "4 x 6, for: floor")))

    short, full = laid("4-3/4 x 6-1/2", "short"), laid("4-3/4 x 6-3/4", "full")
    assert [one.code for one in fixing.find(short)] == ["fixing.no-edge-hidden"] and list(fixing.find(full)) == []
    v = full.face.layers[1]
    assert adhesive_of(v, full.face.stack) == parse_length("6-3/4")
    (line,) = [line for step in steps_of(full) for line in step.lines if line.startswith("Fix V")]
    assert line.endswith("Glue it along its left edge only, which another piece hides.")


def test_a_piece_in_a_row_says_how_it_is_held(tmp_path):
    """P in its row is held by the edge that F hides, or stands on foam; what is no piece is held by nothing."""
    small = (("4-3/4 x 6-3/4, for: floor", "3 x 3, for: floor"), ("  border: 1/8\n", ""))
    held = laid_out(tmp_path / "held", changed(SHAKE, *small, ("rows: [P]", "rows: [{piece: P, fixing: hidden edge}]")))
    p = next(placed for placed in held.face.pieces if placed.label == "P")
    # F is ½ in wider than P on each side, and its window 2½ wide: ¼ in of each of P's sides lies under its frame.
    assert list(fixing.find(held)) == [] and adhesive_of(p, held.face.stack) == parse_length("3")
    raised = laid_out(tmp_path / "raised", changed(SHAKE, *small, ("rows: [P]", "rows: [{piece: P, fixing: foam}]")))
    (on_foam,) = raised.face.pieces
    assert on_foam.raised and on_foam.hold is None and adhesive_of(on_foam, raised.face.stack) == Length(0)
    with pytest.raises(UserError) as caught:
        make_kit(tmp_path / "band", changed(SHAKE, ("rows: [P]", "rows: [P, {band: 1/2, fixing: foam}]")))
    assert caught.value.code == "spec.fixing-of-no-piece"
