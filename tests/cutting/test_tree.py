"""The cut tree: random trees, a simulated desk that replays the strokes, and faults put in on purpose."""

from collections import Counter
from dataclasses import replace

import pytest
from cutting_trees import STEP, trees
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting import tree
from kitwright.cutting.tree import Fault, Leaf, Split
from kitwright.geometry import Rect
from kitwright.units import ZERO, Length, Size, total


def desk(node, strokes):
    """Lay the sheet on a desk and make every stroke in turn, knowing rectangles and measures only."""
    lying = [node.rect]
    for cut in strokes:
        lying.remove(cut.part)
        p, m = cut.part, cut.measure
        assert ZERO < m < (p.width if cut.axis == "x" else p.height)
        if cut.off == "left":
            halves = Rect(p.x, p.y, m, p.height), Rect(p.x + m, p.y, p.width - m, p.height)
        elif cut.off == "right":
            halves = Rect(p.right - m, p.y, m, p.height), Rect(p.x, p.y, p.width - m, p.height)
        elif cut.off == "top":
            halves = Rect(p.x, p.y, p.width, m), Rect(p.x, p.y + m, p.width, p.height - m)
        else:
            halves = Rect(p.x, p.bottom - m, p.width, m), Rect(p.x, p.y, p.width, p.height - m)
        lying += halves
    return lying


@given(trees())
def test_the_strokes_replayed_on_a_desk_give_exactly_the_leaves(node):
    leaves = Counter(leaf.rect for leaf in tree.leaves(node))
    assert Counter(desk(node, tree.cuts(node))) == leaves
    for together in (True, False):
        strokes = [cut for one in tree.passes(node, together) for cut in one.cuts]
        assert [cut.number for cut in strokes] == list(range(1, len(strokes) + 1))
        assert Counter(desk(node, strokes)) == leaves


@given(trees(), st.booleans())
def test_a_pass_keeps_the_ruler_where_it_stands(node, together):
    for one in tree.passes(node, together):
        assert len({cut.measure for cut in one.cuts}) == 1
        assert len(one.cuts) == len(one.falling)
        first, each = one.things[0], len(one.falling) // len(one.things)
        assert {(t.rect.size, t.off) for t in one.things} == {(first.rect.size, first.off)}
        if not together:
            assert all(tree.moved(t, first.rect.x - t.rect.x, first.rect.y - t.rect.y) == first for t in one.things)
        assert one.falling == tuple(p for t in one.things for p in tree.taken(t)[one.start : one.start + each])
        assert len({p.rect.size for p in one.falling}) == 1


def test_things_cut_alike_are_cut_together():
    """Three columns alike: the ruler stands at three marks only, for 3, 9 and 18 strokes."""

    def column(x):
        strips, y = [], ZERO
        for label, height, count in (("A", Length(2), 3), ("B", Length(1), 6)):
            for _ in range(count):
                strips.append(Leaf(Rect(x, y, Length(3), height), label))
                y += height
        return Split(Rect(x, ZERO, Length(3), Length(14)), "y", (*strips, Leaf(Rect(x, y, Length(3), Length(2)))), "top")

    sheet = Rect(ZERO, ZERO, Length(10), Length(14))
    rest = Leaf(Rect(Length(9), ZERO, Length(1), Length(14)))
    node = Split(sheet, "x", (*(column(Length(3 * i)) for i in range(3)), rest), "left")
    assert [(one.cuts[0].measure.inches, len(one.cuts)) for one in tree.passes(node)] == [(3, 3), (2, 9), (1, 18)]
    assert [len(one.cuts) for one in tree.passes(node, together=False)] == [3, 9, 18]


def test_columns_of_one_size_are_sliced_together_though_only_some_slices_are_cut_again():
    """One column of four A, one whose four slices become eight B: the ruler is set once for both."""

    def column(x, cut):
        rects = [Rect(x, Length(2 * i), Length(4), Length(2)) for i in range(4)]
        return Split(Rect(x, ZERO, Length(4), Length(8)), "y", tuple(cut(r) for r in rects), "top")

    def halved(r):
        return Split(
            r, "x", (Leaf(Rect(r.x, r.y, Length(2), r.height), "B"), Leaf(Rect(r.x + Length(2), r.y, Length(2), r.height), "B")), "left"
        )

    node = Split(Rect(ZERO, ZERO, Length(8), Length(8)), "x", (column(ZERO, lambda r: Leaf(r, "A")), column(Length(4), halved)), "left")
    assert [(one.cuts[0].measure.inches, len(one.things), len(one.cuts)) for one in tree.passes(node)] == [
        (4, 1, 1),
        (2, 1, 3),
        (2, 1, 3),
        (2, 4, 4),
    ], "what stays in hand differs: a piece of one, a slice to cut on of the other"
    spare = Split(
        Rect(ZERO, ZERO, Length(8), Length(9)),
        "x",
        tuple(
            Split(Rect(c.rect.x, ZERO, Length(4), Length(9)), "y", (*c.parts, Leaf(Rect(c.rect.x, Length(8), Length(4), Length(1)))), "top")
            for c in node.parts
        ),
        "left",
    )
    assert [(one.cuts[0].measure.inches, len(one.things), len(one.cuts)) for one in tree.passes(spare)] == [(4, 1, 1), (2, 2, 8), (2, 4, 4)]
    assert [len(one.things) for one in tree.passes(spare, together=False)] == [1, 1, 1, 4]


@given(trees())
def test_strokes_are_numbered_and_one_fewer_than_the_parts(node):
    strokes, leaves = tree.cuts(node), list(tree.leaves(node))
    assert [c.number for c in strokes] == list(range(1, len(leaves)))
    for cut in strokes:
        (x1, y1), (x2, y2) = cut.line
        assert (x1 == x2 == cut.at) if cut.axis == "x" else (y1 == y2 == cut.at)
        assert cut.part.x <= x1 <= x2 <= cut.part.right and cut.part.y <= y1 <= y2 <= cut.part.bottom


@given(trees())
def test_areas_add_up_and_nothing_overlaps(node):
    leaves = [leaf.rect for leaf in tree.leaves(node)]
    assert sum(r.area for r in leaves) == node.rect.area
    assert all(node.rect.contains(r) for r in leaves)
    assert not any(a.overlaps(b) for i, a in enumerate(leaves) for b in leaves[i + 1 :])
    assert len(tree.pieces(node)) + len(tree.leftovers(node)) == len(leaves)
    assert sum(tree.yields(node).values()) == len(tree.pieces(node)) and list(tree.yields(node)) == sorted(tree.yields(node))
    rests = tree.leftovers(node)
    assert all(a.area >= b.area for a, b in zip(rests, rests[1:]))


def sizes_in(node):
    return {leaf.label: leaf.rect.size for leaf in tree.pieces(node)}


@given(trees())
def test_the_checker_finds_nothing_in_a_sound_tree_and_every_odd_size(node):
    wanted = sizes_in(node)
    odd = [leaf for leaf in tree.pieces(node) if leaf.rect.size != wanted[leaf.label]]
    found = tree.faults(node, node.rect.size, wanted)
    assert len(found) == len(odd)
    assert {fault.what for fault in found} <= {"size"}


def some_leaf(node, act):
    """The tree with its first leaf changed."""
    if isinstance(node, Leaf):
        return act(node)
    return replace(node, parts=(some_leaf(node.parts[0], act), *node.parts[1:]))


@given(trees().filter(lambda t: isinstance(t, Split)), st.sampled_from(["move", "grow", "drop", "one", "off", "swap"]))
def test_the_checker_catches_what_is_broken(node, how):
    if how == "move":
        bad = some_leaf(node, lambda leaf: replace(leaf, rect=leaf.rect.moved(STEP, ZERO)))
    elif how == "grow":
        bad = some_leaf(node, lambda leaf: replace(leaf, rect=Rect(leaf.rect.x, leaf.rect.y, leaf.rect.width + STEP, leaf.rect.height)))
    elif how == "drop":
        bad = replace(node, parts=node.parts[:-1])
    elif how == "one":
        bad = Split(node.rect, node.axis, (Leaf(node.rect),), node.off)
    elif how == "off":
        bad = replace(node, off="top" if node.axis == "x" else "left")
    else:
        bad = replace(node, parts=tuple(reversed(node.parts)))
    sizes = dict(sizes_in(bad).items())
    assert [f for f in tree.faults(bad, node.rect.size, sizes) if f.what != "size"]


def _grid(axis):
    """Two rows of two on 4 × 4, or two columns of two; each part is a split of its own."""
    two, four = Length(2), Length(4)

    def at(x, y, w, h):
        return Rect(Length(x), Length(y), w, h)

    if axis == "y":
        rows = [Split(at(0, y, four, two), "x", (Leaf(at(0, y, two, two), "A"), Leaf(at(2, y, two, two), "A"))) for y in (0, 2)]
        return Split(at(0, 0, four, four), "y", tuple(rows), "top")
    columns = [Split(at(x, 0, two, four), "y", (Leaf(at(x, 0, two, two), "A"), Leaf(at(x, 2, two, two), "A")), "top") for x in (0, 2)]
    return Split(at(0, 0, four, four), "x", tuple(columns), "left")


@pytest.mark.parametrize("axis", ["x", "y"])
@pytest.mark.parametrize("which", [0, 1])
@pytest.mark.parametrize(
    "slip", [(1, 0, 0, 0), (0, 1, 0, 0), (-1, 0, 0, 0), (0, -1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1), (0, 0, -1, 0), (0, 0, 0, -1)]
)
def test_the_checker_sees_a_row_or_column_that_is_off_in_any_one_measure(axis, which, slip):
    """Every clause by itself: place and measure, along and across; the leaf is odd in size and place only where it says so."""
    node, size = _grid(axis), Size(Length(4), Length(4))
    wanted = {"A": Size(Length(2), Length(2))}
    assert tree.faults(node, size, wanted) == []
    x, y, w, h = (Length(n) for n in slip)
    old = node.parts[which].rect
    # A leftover in the place of a row: nothing below it can give the slip away.
    bad = replace(
        node,
        parts=tuple(
            Leaf(Rect(old.x + x, old.y + y, old.width + w, old.height + h)) if i == which else part for i, part in enumerate(node.parts)
        ),
    )
    along = slip[0] or slip[2] if axis == "x" else slip[1] or slip[3]
    found = tree.faults(bad, size, wanted)
    assert found and {fault.what for fault in found} <= {"edge", "room"}
    if not along:
        assert "edge" in {fault.what for fault in found}, "off across the cuts: only the clause on the part itself can tell"


def test_the_checker_names_strangers_turned_pieces_and_wrong_sheets():
    leaf = Leaf(Rect.of(Size(Length(2), Length(1))), "A", turned=True)
    wanted = {"A": Size(Length(1), Length(2))}
    assert tree.faults(leaf, leaf.rect.size, wanted) == []
    assert tree.faults(leaf, leaf.rect.size, wanted, frozenset("A")) == [Fault("turned", leaf)]
    assert tree.faults(leaf, leaf.rect.size, {}) == [Fault("label", leaf)]
    assert tree.faults(leaf, Size(Length(3), Length(1)), wanted) == [Fault("start", leaf)]
    nothing = Leaf(Rect.of(Size(ZERO, Length(1))))
    assert tree.faults(nothing, nothing.rect.size, {}) == [Fault("area", nothing)]


@given(trees())
def test_slack_is_what_the_pieces_do_not_need(node):
    slack = tree.slack(node)
    need = Size(node.rect.width - slack.width, node.rect.height - slack.height)
    assert ZERO <= slack.width <= node.rect.width and ZERO <= slack.height <= node.rect.height
    if not tree.leftovers(node):
        assert slack == Size(ZERO, ZERO)
    for leaf in tree.pieces(node):
        assert leaf.rect.size.fits(need)


@given(trees(), st.integers(-50, 50), st.integers(-50, 50))
def test_a_moved_tree_is_the_same_tree(node, dx, dy):
    there = tree.moved(node, STEP * dx, STEP * dy)
    assert tree.moved(there, STEP * -dx, STEP * -dy) == node
    assert [c.measure for c in tree.cuts(there)] == [c.measure for c in tree.cuts(node)]


def test_cuts_at_one_measure_come_together_and_measures_are_what_falls_off():
    sheet = Rect.of(Size(Length(6), Length(4)))

    def column(x):
        return Split(
            Rect(Length(x), ZERO, Length(2), Length(4)),
            "y",  # noqa: E731
            (Leaf(Rect(Length(x), ZERO, Length(2), Length(3)), "A"), Leaf(Rect(Length(x), Length(3), Length(2), Length(1)))),
            "bottom",
        )

    node = Split(sheet, "x", (column(0), column(2), column(4)), "right")
    strokes = tree.cuts(node)
    assert [(c.axis, c.off, c.at.inches, c.measure.inches) for c in strokes] == [
        ("x", "right", 4, 2),
        ("x", "right", 2, 2),
        ("y", "bottom", 3, 1),
        ("y", "bottom", 3, 1),
        ("y", "bottom", 3, 1),
    ]
    assert total([c.measure for c in strokes[:2]]) == Length(4)


@pytest.mark.parametrize("depth", [200])
def test_a_long_row_of_strokes_is_no_trouble(depth):
    parts = tuple(Leaf(Rect(STEP * i, ZERO, STEP, STEP), "A") for i in range(depth))
    node = Split(Rect(ZERO, ZERO, STEP * depth, STEP), "x", parts)
    assert len(tree.cuts(node)) == depth - 1 and tree.yields(node) == {"A": depth}
