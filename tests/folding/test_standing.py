"""The card opened so that it stands: every panel as long as it is, hinged to its neighbours, none through another."""

from __future__ import annotations

from fractions import Fraction

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.folding import Blocked, Closed, Score, Scored, Stood, closed, standing
from kitwright.folding.kinds import scored
from kitwright.folding.kinds.kind import Asked
from kitwright.units import Length


def kind(name: str, length: str | int) -> tuple[Closed, tuple[Stood, ...]]:
    found = closed(scored(name, Length(Fraction(length)), Asked()))
    assert isinstance(found, Closed)
    return found, standing(found)


@st.composite
def lists(draw) -> Scored:
    """Any list of up to eight scores, in any order, in either direction, any panel the front and the back."""
    places = draw(st.lists(st.integers(1, 23), min_size=1, max_size=8, unique=True))
    scores = tuple(Score(Length(Fraction(at, 2)), draw(st.sampled_from(["forward", "back"]))) for at in places)
    names = tuple(f"p{i}" for i in range(len(scores) + 1))
    chosen = st.sampled_from(names)
    return Scored(Length(12), draw(st.sampled_from(["outside up", "inside up"])), "down", scores, names, draw(chosen), draw(chosen))


@given(lists())
@tried(60, deadline=None)
def test_panels_keep_their_lengths_and_hang_together(base):
    found = closed(base)
    if isinstance(found, Blocked):
        return
    stood = standing(found)
    assert sorted(s.panel for s in stood) == list(range(len(base.panels)))
    for panel in stood:
        first, last = base.span(base.panels[panel.panel])
        (ax, ay), (bx, by) = panel.start, panel.end
        assert (bx - ax).inches ** 2 + (by - ay).inches ** 2 == (last - first).inches ** 2
        ends = {panel.at(first), panel.at(last)}
        assert ends == {panel.start, panel.end}
    for one, other in zip(stood, stood[1:]):
        assert one.end == other.start and abs(one.panel - other.panel) == 1


@given(lists())
@tried(60, deadline=None)
def test_every_score_is_folded_the_way_it_goes(base):
    found = closed(base)
    if isinstance(found, Blocked):
        return
    stood = standing(found)
    for one, other in zip(stood, stood[1:]):
        score = next(s for s in base.scores if set(base.beside(s)) == {one.panel, other.panel})
        # Seen from above, the next panel turns towards the reader where the face that she has before her is a valley.
        towards = one.way[0] * other.way[1] - one.way[1] * other.way[0] > 0
        assert towards == ((score.direction == "forward") != one.turned)


@pytest.mark.parametrize(
    "name, length, shown",
    [
        ("side", "17/2", ["front inside", "back inside"]),
        ("stepped", "15/2", ["front inside", "back inside"]),
        ("gate", "17/2", ["left door inside", "back inside", "right door inside"]),
        ("tri-fold", "95/8", ["front inside", "back inside", "flap outside"]),
        ("z-fold", "12", ["front outside", "middle outside", "last outside"]),
        ("gate across", "17/2", ["top door inside", "back inside", "bottom door inside"]),
    ],
)
def test_what_the_reader_sees(name, length, shown):
    found, stood = kind(name, length)
    assert [f"{found.base.panels[s.panel]} {s.shown}" for s in stood] == shown


def test_the_back_faces_the_reader_and_a_screen_stands_on_its_folds():
    found, stood = kind("gate", "17/2")
    assert [s.way for s in stood] == [(Fraction(3, 5), Fraction(-4, 5)), (1, 0), (Fraction(3, 5), Fraction(4, 5))]
    _, screen = kind("z-fold", 12)
    assert [s.way[1] for s in screen] == [Fraction(3, 5), Fraction(-3, 5), Fraction(3, 5)]


def test_a_roll_of_many_is_opened_less_so_that_no_panel_goes_through_another():
    eight = tuple(Score(Length(Fraction(12 - n) - Fraction(n, 16)), "forward") for n in range(1, 9))
    found = closed(Scored(Length(12), "inside up", "down", eight, tuple(f"p{i}" for i in range(9)), "p0", "p1"))
    assert isinstance(found, Closed)
    stood = standing(found)
    for i, one in enumerate(stood):
        for other in stood[i + 2 :]:
            assert not _cross(one, other)


def _cross(one: Stood, other: Stood) -> bool:
    """By the orientation of triples of points, in numbers of their own."""

    def way(a, b, c):
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    a, b, c, d = (tuple(x.inches for x in stop) for stop in (one.start, one.end, other.start, other.end))
    return way(a, b, c) * way(a, b, d) < 0 and way(c, d, a) * way(c, d, b) < 0
