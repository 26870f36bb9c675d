"""Finding room, checked against shapely."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from kitwright.drawing.placing import STEP, Board, Tried, crosses, outside, spread
from kitwright.drawing.scene import Box
from shapely.geometry import LineString
from shapely.geometry import box as shapely_box

whole = st.integers(-20, 20)
pairs = st.tuples(whole, whole)


@st.composite
def boxes(draw):
    x, y, w, h = draw(whole), draw(whole), draw(st.integers(1, 20)), draw(st.integers(1, 20))
    return Box(Fraction(x), Fraction(y), Fraction(x + w), Fraction(y + h))


def real(box: Box):
    return shapely_box(float(box.left), float(box.top), float(box.right), float(box.bottom))


@given(boxes(), pairs, pairs)
def test_a_line_crosses_a_box_when_it_has_points_inside(box, start, end):
    if start == end:
        return
    line, area = LineString([start, end]), real(box)
    inside = line.intersection(area).length > 1e-9 and not area.boundary.contains(line.intersection(area))
    assert crosses(box, start, end) == inside


@given(boxes(), boxes(), pairs, pairs)
def test_what_lies_outside_boxes_is_what_shapely_leaves(first, second, start, end):
    if start == end:
        return
    left = LineString([start, end]).difference(real(first).union(real(second)))
    ours = sum(LineString([tuple(map(float, a)), tuple(map(float, b))]).length for a, b in outside(start, end, [first, second]))
    along_edge = LineString([start, end]).intersection(real(first).boundary.union(real(second).boundary)).length
    assert left.length - 1e-6 <= ours <= left.length + along_edge + 1e-6


@given(st.lists(st.tuples(st.integers(0, 100), st.integers(1, 20)), min_size=1, max_size=9))
def test_spread_things_keep_their_order_and_do_not_overlap(things):
    wanted = sorted(Fraction(w) for w, _ in things)
    sizes = [Fraction(s) for _, s in things]
    placed = spread(wanted, sizes)
    for (a, size_a), (b, size_b) in zip(zip(placed, sizes), list(zip(placed, sizes))[1:]):
        assert b - a >= (size_a + size_b) / 2
    if all(b - a >= (x + y) / 2 for a, b, x, y in zip(wanted, wanted[1:], sizes, sizes[1:])):
        assert placed == wanted


def test_spread_stays_between_its_ends_when_there_is_room():
    placed = spread([Fraction(0), Fraction(1), Fraction(99)], [Fraction(10)] * 3, Fraction(0), Fraction(100))
    assert placed[0] >= 5 and placed[-1] <= 95


def test_two_that_want_one_place_share_the_way():
    assert spread([Fraction(10), Fraction(10)], [Fraction(4), Fraction(4)]) == [8, 12]


def test_a_board_knows_what_is_free():
    board = Board()
    board.take(Box(Fraction(0), Fraction(0), Fraction(10), Fraction(10)))
    board.rule((Fraction(20), Fraction(0)), (Fraction(20), Fraction(50)))
    at = lambda x: Box(Fraction(x), Fraction(2), Fraction(x + 4), Fraction(6))  # noqa: E731
    assert not board.free(at(8)) and not board.free(at(18)) and board.free(at(13), 1)


thirds = st.builds(Fraction, st.integers(-60, 60), st.sampled_from((1, 3, 7, 8, 127)))


@given(st.lists(boxes(), max_size=6), boxes(), thirds, thirds, st.integers(-900, 900), st.integers(-900, 900))
def test_a_box_moved_in_whole_numbers_finds_what_it_finds_exactly(taken, box, x, y, across, along):
    start = Box(box.left + x, box.top + y, box.right + x, box.bottom + y)
    board, room = Board(boxes=[Box(b.left / 3, b.top, b.right / 3, b.bottom) for b in taken]), Box(*map(Fraction, (-30, -30, 30, 30)))
    dx, dy = Fraction(across, STEP), Fraction(along, STEP)
    moved = Box(start.left + dx, start.top + dy, start.right + dx, start.bottom + dy)
    free = room.holds(moved) and board.free(moved, Fraction(3, 2))
    assert Tried(board, start, Fraction(3, 2), room).free(across, along) == free
