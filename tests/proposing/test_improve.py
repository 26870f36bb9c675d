"""Sizes near a kit's own: which may move together, by what cuts they still come out, and what is offered of them."""

from dataclasses import replace
from itertools import product

from demo import worked
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.layout import faces_of
from kitwright.cutting import tree
from kitwright.otherwise.changed import new_findings
from kitwright.proposing.freedom import freedom
from kitwright.proposing.improve import improve, shown
from kitwright.proposing.near.figures import GAINS, figures
from kitwright.proposing.near.moves import moves_of
from kitwright.proposing.near.whole import changed_spec
from kitwright.proposing.recut import least, recut
from kitwright.telling.improving import as_json, improve_text
from kitwright.units import Length, Size
from kitwright.work.traits import leading_plans
from making import BATCH, make_worked

EIGHTH = Length(1) / 8
PAIR = BATCH.replace("    size: 3-3/4 x 7/8\n", "    size: 3-3/4 x 1-1/8\n").replace("6 strips of 7/8", "6 strips of 1-1/8")
"""Both strips nearly alike: an eighth makes them one size."""


def test_moves_are_those_that_keep_every_sum(tmp_path):
    """All of them, and no others: held against the front itself, laid out once for every way to move six sizes by an eighth."""
    text = (
        BATCH.replace("    - A\n    - B\n    - band\n    - B\n", "    - A\n    - [B, B]\n").replace("  layers:\n    - M\n", "")
        .replace("  M:\n    size: 4 x 5-1/4\n    for: mat\n    paper: cream\n", "")
        .replace("size: 3-3/4 x 1-1/4", "size: 4 x 3").replace("size: 3-3/4 x 7/8", "size: 1-15/16 x 2-1/8")
    )  # fmt: skip
    kit = make_worked(tmp_path, text[: text.index("sentiment:")])
    free = freedom(kit)
    assert len(free.now) == 6 and all(line.holds for line in kit.face.sums)
    dials = list(free.now)
    moves, whole = moves_of(free, EIGHTH, 1)
    sound = set()
    for move in product((-1, 0, 1), repeat=6):
        spec = changed_spec(kit, free, {dial: by for dial, by in zip(dials, move) if by}, EIGHTH)
        changed = faces_of(replace(kit.kit, spec=spec))[0]
        if any(move) and all(line.holds for line in changed.sums):
            sound.add(move)
    assert whole and {tuple(map(int, move)) for move in moves} == sound and sound


@tried(15)
@given(st.tuples(*[st.integers(2, 40)] * 4))
def test_a_sheet_cut_again_is_sound_or_too_small(sides):
    kit = worked("2026-02-room-keys")
    sizes = {label: Size(EIGHTH * sides[0], EIGHTH * sides[1]) for label in kit.sizes} | {"T": Size(EIGHTH * sides[2], EIGHTH * sides[3])}
    for plan in kit.plans:
        for run in plan.runs:
            node = run.layout.tree
            again = recut(node, sizes)
            assert (again is not None) == least(node, sizes).fits(node.rect.size)
            if again is not None:
                assert tree.faults(again, node.rect.size, sizes) == []
                assert tree.yields(again) == tree.yields(node)
            assert recut(node, kit.sizes) == node


def test_two_nearly_alike_become_one(tmp_path):
    kit = make_worked(tmp_path, PAIR)
    found = improve(kit)
    assert found.now == figures(kit) and found.whole
    alike = [one for one in found.nearby if "measures" in one.gains]
    assert alike and alike[0].figures.measures == 2
    pieces = alike[0].changed.kit.spec.pieces
    assert pieces["A"].size == pieces["B"].size
    for one in found.nearby:
        _true(kit, found, one)
    told = "\n".join(improve_text(found))
    assert "A and B are of one size then" in told
    assert "2 measures" in told and "instead of" in told and told.count("Better: ") == len(found.nearby)
    assert len(as_json(found)["nearby"]) == len(found.nearby)


def test_what_is_offered_of_the_demo_holds():
    """A pinwheel by position, on a mat: the sails' sums, worked from the changed sizes themselves."""
    kit = worked("2026-11-weathervane")
    found = improve(kit)
    assert found.nearby
    for one in found.nearby:
        _true(kit, found, one)
        pieces, front = one.changed.kit.spec.pieces, one.changed.kit.spec.front
        sail, mat = pieces["A"].size, pieces["M"].size
        assert sail.width + sail.height + front.gap + front.border * 2 == mat.width == mat.height


def _true(kit, found, one):
    """Everything that is said of it, from the changed kit alone."""
    assert new_findings(kit, one.changed) == ()
    assert figures(one.changed) == one.figures
    assert all(line.holds for design in one.changed.designs for face in design.face.every for line in face.sums)
    assert set(one.gains) == {gain for gain in GAINS if found.now.gain(one.figures, gain) > 0} and one.gains
    assert set(one.losses) == {gain for gain in GAINS if found.now.gain(one.figures, gain) < 0}
    assert all(moved.before != moved.after for moved in one.moved)
    for plan in leading_plans(one.changed):
        assert plan.short == {}
        for run in plan.runs:
            assert tree.faults(run.layout.tree, plan.demand.sheet, plan.demand.sizes, frozenset(), plan.demand.halves) == []
    assert all(each.before != each.after for each in shown(kit, one))


def test_nothing_better_is_an_answer():
    found = improve(worked("2026-08-rock-pool"))
    assert found.nearby == () and found.looked > 0
    assert found.kept == {"F": "drawn", "K": "follows", "T": "held", "V": "held", "Film": "held"}
    assert "F keeps its size: its outline is drawn for it." in improve_text(found)
    assert improve_text(found)[-2].startswith("Nothing better nearby")


def test_sizes_that_a_tool_makes_stay():
    """A punch makes one size: no dial moves it."""
    kit = worked("2026-10-windfalls")
    made = {label for label, piece in kit.kit.spec.pieces.items() if piece.made_with}
    free = freedom(kit)
    assert made and not any(dial[1] in made for dial in free.now if dial[0] in ("width", "height"))
    assert free.kept == dict.fromkeys(made, "punch")
