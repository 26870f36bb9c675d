"""Faces, sizes and layers of cards folded by any list of scores, against the separate model of folding paper (`reflected.py`)."""

from __future__ import annotations

from fractions import Fraction

import reflected
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.base import OWN, Base
from kitwright.card.enclosed import closed_card
from kitwright.card.face import Face, Placed
from kitwright.card.post import Stock, thickest
from kitwright.folding import Blocked, Closed, Score, Scored, closed
from kitwright.folding.faces import DOORS, faces_of, leading
from kitwright.geometry import Rect
from kitwright.materials import Range
from kitwright.units import ZERO, Length, Size

SIDES = ("outside", "inside")


@st.composite
def folded(draw, runs=("down",)):
    """Any list of one to four scores that can be folded in its order, with any front and back; and the strip for the other model."""
    long = draw(st.integers(4, 14))
    places = sorted(draw(st.lists(st.integers(1, 2 * long - 1), min_size=1, max_size=4, unique=True)))
    creases = [(Fraction(at, 2), draw(st.booleans())) for at in places]
    scores = tuple(Score(Length(at), "forward" if towards else "back") for at, towards in draw(st.permutations(creases)))
    names = tuple(f"p{i}" for i in range(len(scores) + 1))
    lies, chosen = draw(st.sampled_from(("outside up", "inside up"))), st.sampled_from(names)
    base = Scored(Length(long), lies, draw(st.sampled_from(runs)), scores, names, draw(chosen), draw(chosen))
    return base, closed(base), Fraction(long), creases


def as_it_lay(found: Closed) -> bool:
    """Whether the closed card is seen from where the maker looked at the flat base: its first panel is not turned over then."""
    return not found.lying[0].turned


def layers(found: Closed) -> frozenset[tuple[int, int]]:
    """What lies on what, for the maker as she looked at the flat base."""
    return found.above if as_it_lay(found) else frozenset((q, p) for p, q in found.above)


def is_up(found: Closed, side: str) -> bool:
    return (side == "outside") == (found.base.lies == "outside up")


@given(folded(), st.fractions(0, 1, max_denominator=9))
@tried(40, deadline=None)
def test_a_point_of_every_face_lies_where_reflection_takes_it(strip, share):
    base, found, long, creases = strip
    if isinstance(found, Blocked):
        return
    for name, face in faces_of(found).items():
        for part in face.parts:
            x, panel = part.length.inches * share, base.panels.index(part.panel)
            place = reflected.lies(long, creases, panel, x, is_up(found, part.side))
            expected = place if as_it_lay(found) else found.length.inches - place
            at = Length(x)
            assert {end.inches for end in found.on_closed(part.panel, part.side, at, at)} == {expected}, name


@given(folded())
@tried(40, deadline=None)
def test_creases_and_what_they_lay_on_a_face(strip):
    base, found, _, creases = strip
    if isinstance(found, Blocked):
        return
    known = faces_of(found)
    for i, panel in enumerate(base.panels):
        for side in SIDES:
            face, up = known[panel if side == "outside" else f"inside {panel}"], is_up(found, side)
            # Its neighbours at the left and at the right of the base; a face that lay down is read the other way round.
            beside = {"start" if up else "end": i - 1, "end" if up else "start": i}
            there = {end: creases[at] for end, at in beside.items() if 0 <= at < len(creases)}
            assert set(face.creases) == set(there)
            # What folds towards the maker lays faces on one another that lay up.
            other = {end: base.panels[i - 1 if at < i else i + 1] for end, at in beside.items() if end in there}
            assert dict(face.closes) == {end: other[end] for end, (_, towards) in there.items() if towards == up}


@given(folded(), st.fractions(0, 1, max_denominator=97))
@tried(40, deadline=None)
def test_what_is_seen_from_the_front_and_from_behind(strip, share):
    base, found, long, creases = strip
    if isinstance(found, Blocked):
        return
    at = found.length.inches * share
    if not reflected.covering(long, creases, at) or any(at in (cell.start.inches, cell.end.inches) for cell in found.cells):
        return
    mine = at if as_it_lay(found) else found.length.inches - at
    if any(mine in (p - s, q - s) for p, q in reflected.walked(long, creases) for s in [min(map(min, reflected.walked(long, creases)))]):
        return

    def face(over: bool) -> tuple[str, str]:
        panel, up = reflected.nearest(long, creases, layers(found), mine, over)
        return base.panels[panel], "outside" if is_up(found, "outside") == up else "inside"

    front, behind = (face(True), face(False)) if as_it_lay(found) else (face(False), face(True))
    assert next((panel, side) for start, end, panel, side in found.seen() if start.inches < at < end.inches) == front
    assert {front, behind} <= found.outer
    # As many layers lie there as the other model has panels over that place.
    (here,) = (cell.panels for cell in found.cells if cell.start.inches < at < cell.end.inches)
    assert sorted(here) == reflected.covering(long, creases, mine)


@given(folded())
@tried(40, deadline=None)
def test_the_front_leads_by_its_outside_where_that_is_seen(strip):
    base, found, long, creases = strip
    if isinstance(found, Blocked):
        return
    ends = reflected.walked(long, creases)
    marks = sorted({at - min(map(min, ends)) for pair in ends for at in pair})
    middles = [(a + b) / 2 for a, b in zip(marks, marks[1:])]
    outer = {reflected.nearest(long, creases, layers(found), at, over) for at in middles for over in (True, False)}
    front = base.panels.index(base.front)
    shown = [side for side in SIDES if (front, is_up(found, side)) in outer]
    assert found.leading_side == (shown[0] if shown else None)
    seen = {(panel, side) for *_, panel, side in found.seen()}
    known = faces_of(found)[leading(found)]
    if leading(found) == DOORS:
        assert len(known.parts) > 1 and {(part.panel, part.side) for part in known.parts} <= seen
    elif shown:
        assert [(part.panel, part.side) for part in known.parts] == [(base.front, shown[0])]


@given(folded(("down", "across")), st.integers(2, 9))
@tried(40, deadline=None)
def test_sizes_both_ways_and_the_thickness_of_the_panels_that_lie_there(strip, broad):
    lines, found, long, creases = strip
    if isinstance(found, Blocked):
        return
    across, calliper = lines.runs == "across", Fraction(3, 10)
    cut = Size(Length(broad), Length(long)) if across else Size(Length(long), Length(broad))
    base = Base(cut, OWN, lines.scores[0].at, lines)
    ends = reflected.walked(long, creases)
    extent = max(map(max, ends)) - min(map(min, ends))
    assert (base.finished.height if across else base.finished.width).inches == extent
    assert (base.finished.width if across else base.finished.height) == Length(broad)
    # Every panel as a rectangle keeps its area, and all of them fill the closed card's outline.
    rects = base.closed_panels()
    assert sum(rect.area for rect in rects) == cut.area
    assert max(rect.right for rect in rects) == base.finished.width and max(rect.bottom for rect in rects) == base.finished.height
    layer = Placed(label="base", paper="white", face="front", rect=Rect(ZERO, ZERO, cut.width, cut.height), layer="base")
    face = Face(base.front, OWN, (layer,), layer.rect, (), (), (), (), None, None)
    stocks = {"white": Stock(Range.exact(Fraction(200)), Range.exact(calliper))}
    marks = sorted({at - min(map(min, ends)) for pair in ends for at in pair})
    most = max(len(reflected.covering(long, creases, (a + b) / 2)) for a, b in zip(marks, marks[1:]))
    assert thickest(closed_card(base, face, None), stocks, Range.exact(Fraction(0))) == Range.exact(calliper * most)
