"""Folding against a separate small model of paper (`reflected.py`), and against orders that are known."""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations

import reflected
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.folding import Blocked, Closed, Direction, Misplaced, Score, Scored, closed
from kitwright.units import ZERO, Length


def inches(value: str | int) -> Length:
    return Length(Fraction(value))


def base(length: str | int, *scores: tuple[str | int, Direction], panels: str = "", lies="inside up", front="p0", back="") -> Scored:
    names = tuple(panels.split()) or tuple(f"p{i}" for i in range(len(scores) + 1))
    found = tuple(Score(inches(at), direction) for at, direction in scores)
    return Scored(inches(length), lies, "down", found, names, front, back or names[-1])


def shut(scored: Scored) -> Closed:
    found = closed(scored)
    assert isinstance(found, Closed)
    return found


def stacks(found: Closed) -> list[list[str]]:
    return [[found.base.panels[p] for p in cell.panels] for cell in found.cells]


@st.composite
def strips(draw):
    """A strip with one to four score lines, some at equal distances, each folding either way."""
    length = draw(st.integers(4, 14))
    places = draw(st.lists(st.integers(1, 2 * length - 1), min_size=1, max_size=4, unique=True))
    return Fraction(length), [(Fraction(at, 2), draw(st.booleans())) for at in sorted(places)]


@given(strips(), st.data())
@tried(60, deadline=None)
def test_any_list_of_scores_folds_as_paper_does(strip, data):
    length, creases = strip
    order = data.draw(st.permutations(range(len(creases))))
    found = closed(base(length, *((creases[i][0], "forward" if creases[i][1] else "back") for i in order)))
    if isinstance(found, Blocked):
        return
    walked = reflected.walked(length, creases)
    start = min(min(ends) for ends in walked)
    extent = max(max(ends) for ends in walked) - start
    assert found.length.inches == extent
    # The same places, seen from one side or from the other.
    lying = [(panel.start.inches, panel.end.inches) for panel in found.lying]
    plain = [(min(ends) - start, max(ends) - start) for ends in walked]
    over = [(extent - b, extent - a) for a, b in plain]
    assert lying == (over if found.lying[0].turned else plain)
    above = frozenset((q, p) for p, q in found.above) if found.lying[0].turned else found.above
    assert above in reflected.orders(length, creases)


@given(strips())
@tried(25, deadline=None)
def test_up_to_three_scores_reach_every_way_of_closing_in_some_order(strip):
    length, creases = strip[0], strip[1][:3]
    reached = set()
    for order in permutations(range(len(creases))):
        found = closed(base(length, *((creases[i][0], "forward" if creases[i][1] else "back") for i in order)))
        if isinstance(found, Closed):
            reached.add(frozenset((q, p) for p, q in found.above) if found.lying[0].turned else found.above)
    assert reached == reflected.orders(length, creases)


@given(strips())
@tried(25, deadline=None)
def test_every_stretch_is_covered_once_by_each_of_its_panels(strip):
    length, creases = strip
    found = closed(base(length, *((at, "forward" if towards else "back") for at, towards in creases)))
    if isinstance(found, Closed):
        # All of the paper is somewhere in the closed card: lengths are kept.
        assert sum((cell.end - cell.start).inches * len(cell.panels) for cell in found.cells) == length
        assert found.cells[0].start == ZERO


def test_order_decides_whether_a_flap_lies_on_top_or_is_tucked_in():
    # A sheet in three: the right third folded first lies under the left one, and the other way round.
    scores: tuple[tuple[int, Direction], tuple[int, Direction]] = ((8, "forward"), (4, "forward"))
    names = "front back flap"
    assert stacks(shut(base(12, *scores, panels=names, front="front", back="back"))) == [["back", "flap", "front"]]
    assert stacks(shut(base(12, *scores[::-1], panels=names, front="front", back="back"))) == [["back", "front", "flap"]]


def test_the_half_z_folds_with_paper_beneath_it():
    # 8½ scored at 4¼ back and 6⅜ forward: the flap folds forward while the back lies under it, in either order.
    for scores in ((("17/4", "back"), ("51/8", "forward")), (("51/8", "forward"), ("17/4", "back"))):
        found = shut(base("17/2", *scores, panels="back front flap", lies="outside up", front="front", back="back"))
        assert found.length == inches("17/4")
        assert stacks(found) == [["back", "front", "flap"], ["back"]]
        assert [(p, side) for _, _, p, side in found.seen()] == [("flap", "inside"), ("back", "inside")]


def test_a_roll_of_four_is_rolled_from_its_end():
    found = shut(
        base("125/8", ("95/8", "forward"), (8, "forward"), (4, "forward"), panels="front back third end", front="front", back="back")
    )
    assert found.length == inches(4)
    # The end lies in two folds, and the third panel, an eighth in itself, in the outermost.
    assert [(shut_in.panel, shut_in.score, shut_in.room) for shut_in in found.enclosures] == [
        ("end", 1, inches("1/8")),
        ("third", 2, inches("1/8")),
        ("end", 2, inches("1/8")),
    ]


def test_what_is_in_the_way_is_told_with_how_far_it_reaches():
    # The front laid over first reaches an eighth past the score line of the flap.
    found = closed(base(12, ("33/8", "forward"), ("65/8", "forward"), panels="front back flap", front="front", back="back"))
    assert found == Blocked(1, "front", inches("1/8"), (inches("33/8"),))


def test_score_lines_that_part_nothing():
    assert base(8, (0, "back"), (4, "back"), (4, "forward"), (8, "back"), (9, "back")).misplaced() == (
        Misplaced(0, None),
        Misplaced(2, 1),
        Misplaced(3, None),
        Misplaced(4, None),
    )
    assert base(8, (2, "back"), (6, "back")).misplaced() == ()
