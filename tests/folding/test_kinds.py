"""Folds that have a name, on bases as makers cut them; places and orders are common practice, no source."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.folding import Blocked, Closed, Enclosure, closed
from kitwright.folding.faces import doors_of, faces_of, leading
from kitwright.folding.kinds import kinds, meant, scored
from kitwright.folding.kinds.kind import Asked
from kitwright.units import ZERO, Length, parse_length

USUAL = [
    # fold, length of the base, score lines in folding order, the closed card's length
    ("side", "8-1/2 in", ["4-1/4 in back"], "4-1/4 in"),
    ("side", "210 mm", ["105 mm back"], "105 mm"),
    ("top", "8-1/2 in", ["4-1/4 in back"], "4-1/4 in"),
    ("stepped", "7-1/2 in", ["4-1/4 in back"], "4-1/4 in"),
    ("gate", "8-1/2 in", ["2-1/8 in forward", "6-3/8 in forward"], "4-1/4 in"),
    ("gate", "210 mm", ["52 mm forward", "158 mm forward"], "106 mm"),
    ("tri-fold", "11-7/8 in", ["8 in forward", "4 in forward"], "4 in"),
    ("z-fold", "297 mm", ["99 mm back", "198 mm forward"], "99 mm"),
    ("half z", "8-1/2 in", ["4-1/4 in back", "6-3/8 in forward"], "4-1/4 in"),
    ("half z", "210 mm", ["105 mm back", "158 mm forward"], "105 mm"),
]


def shut(name: str, length: str | Length, **asked) -> Closed:
    metric = isinstance(length, str) and "mm" in length
    found = closed(scored(name, parse_length(length) if isinstance(length, str) else length, Asked(**{"metric": metric} | asked)))
    assert isinstance(found, Closed)
    return found


@pytest.mark.parametrize("name, length, scores, finished", USUAL)
def test_usual_bases(name, length, scores, finished):
    found = shut(name, length)
    assert [(score.at, score.direction) for score in found.base.scores] == [
        (parse_length(at), way) for at, way in (text.rsplit(" ", 1) for text in scores)
    ]
    assert found.length == parse_length(finished)


def test_what_is_seen_closed_and_open():
    assert [(panel, side) for *_, panel, side in shut("gate", "8-1/2 in").seen()] == [("left door", "outside"), ("right door", "outside")]
    stepped = shut("stepped", "7-1/2 in")
    assert [(panel, side) for *_, panel, side in stepped.seen()] == [("front", "outside"), ("back", "inside")]
    assert stepped.seen()[-1][:2] == (parse_length("3-1/4 in"), parse_length("4-1/4 in"))
    # Opened, whatever folds: the state before the first fold, with the back as it lies.
    assert [panel for *_, panel, _ in shut("side", "8-1/2 in").seen(0)] == ["front", "back"]
    assert [panel for *_, panel, _ in shut("tri-fold", "11-7/8 in").seen(0)] == ["front", "back", "flap"]
    # The front undone: the flap still lies over the inside.
    assert [(panel, side) for *_, panel, side in shut("tri-fold", "11-7/8 in").seen(1)] == [
        ("front", "inside"),
        ("back", "inside"),
        ("flap", "outside"),
    ]


def test_a_half_z_leads_by_the_inside_of_its_flap_with_that_of_the_back_beside_it():
    found = shut("half z", "8-1/2 in")
    assert [(panel, side) for *_, panel, side in found.seen()] == [("flap", "inside"), ("back", "inside")]
    assert leading(found) == "inside flap" == next(iter(faces_of(found)))
    # Opened by one fold, what lies before the reader is all of the inside.
    assert [(panel, side) for *_, panel, side in found.seen(0)] == [("flap", "inside"), ("middle", "inside"), ("back", "inside")]
    assert found.enclosures == ()


def test_a_flap_rolled_in_has_room_to_the_fold():
    assert shut("tri-fold", "11-7/8 in").enclosures == (Enclosure(1, "flap", Length(Fraction(1, 8))),)
    assert shut("z-fold", "297 mm").enclosures == ()


def test_doors_of_a_quarter_that_is_on_no_mark_meet_a_hair_short():
    found = shut("gate", "210 mm")
    gap = [cell for cell in found.cells if len(cell.panels) == 1]
    assert [cell.end - cell.start for cell in gap] == [Length.mm(2)]


def test_which_way_up_on_a_top_fold():
    # Laid with its outside up, the back above: the front's top points up the base, the back's and both insides' down it.
    found = shut("top", "8-1/2 in")
    assert found.upright("front", "outside")
    assert not any(found.upright(*face) for face in (("back", "outside"), ("front", "inside"), ("back", "inside")))
    # Turned end over end, the inside has left and right where the front has them.
    assert not found.mirrored("front", "inside")
    # Near the top of the inside of the back: near the score line, on the base as it lies.
    quarter = Length(Fraction(1, 4))
    assert found.on_flat("back", "inside", ZERO, quarter) == (parse_length("4 in"), parse_length("4-1/4 in"))
    assert found.on_closed("back", "inside", ZERO, quarter) == (ZERO, quarter)


def test_score_lines_up_and_down_leave_the_top_where_it_is_and_mirror_what_is_turned():
    found = shut("gate", "8-1/2 in")
    assert all(found.upright(panel, side) for panel in found.base.panels for side in ("outside", "inside"))
    inch = Length(Fraction(1))
    # From the left of the left door as its reader sees it closed; the base lies with its inside up.
    assert found.mirrored("left door", "outside") and not found.mirrored("back", "inside")
    assert found.on_flat("left door", "outside", ZERO, inch) == (parse_length("1-1/8 in"), parse_length("2-1/8 in"))
    assert found.on_closed("left door", "outside", ZERO, inch) == (ZERO, inch)


@given(st.sampled_from(sorted(kinds())), st.integers(48, 240), st.booleans())
@tried(60, deadline=None)
def test_every_kind_closes_on_every_base(name, marks, metric):
    found = closed(scored(name, Length.mm(marks * 2) if metric else Length(Fraction(marks, 16)), Asked(metric=metric)))
    assert not isinstance(found, Blocked) and found.base.misplaced() == ()
    # The front leads: where it lies, it is what is seen, by its outside unless that is folded in.
    seen = {(panel, side) for *_, panel, side in found.seen()}
    assert (found.base.front, "inside" if name.startswith("half z") else "outside") in seen
    assert all((door, "outside") in seen for door in doors_of(found)) and bool(doors_of(found)) == name.startswith("gate")
    # And the card lies on its back.
    assert any(found.base.panels[cell.panels[0]] == found.base.back for cell in found.cells)


@given(st.sampled_from(sorted(kinds())), st.integers(48, 240), st.fractions(0, 1, max_denominator=8))
@tried(40, deadline=None)
def test_faces_keep_their_measures_flat_and_closed(name, marks, share):
    found = closed(scored(name, Length(Fraction(marks, 16)), Asked()))
    assert isinstance(found, Closed)
    for panel, side in itertools.product(found.base.panels, ("outside", "inside")):
        first, last = found.base.span(panel)
        width = last - first
        start, end = found.on_flat(panel, side, ZERO, width * share)
        assert first <= start and end <= last and end - start == width * share
        a, b = found.on_closed(panel, side, ZERO, width * share)
        assert found.panel(panel).start <= a and b <= found.panel(panel).end and b - a == width * share


def test_names_across_are_the_same_folds_turned():
    assert kinds()["top"].panels == ("back", "front")
    assert kinds()["gate across"].panels == ("top door", "back", "bottom door")
    assert doors_of(shut("gate across", "8-1/2 in")) == ("top door", "bottom door")


@pytest.mark.parametrize(
    "text, name",
    [
        ("gate", "gate"),
        ("gate fold", "gate"),
        ("Gate-fold across", "gate across"),
        ("z", "z-fold"),
        ("z fold", "z-fold"),
        ("tri", "tri-fold"),
        ("side fold", "side"),
        ("stepped front", "stepped"),
        ("half z fold", "half z"),
        ("fold", "fold"),
        ("gates", "gates"),
    ],
)
def test_a_fold_is_meant_however_its_name_is_spelt(text, name):
    assert meant(text) == name
