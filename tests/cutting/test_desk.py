"""Steps at the desk: followed on simulated paper they give the leaves of the tree, and nothing else."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from cutting_trees import STEP, trees
from hypothesis import assume, given
from hypothesis import strategies as st
from kitwright.cutting import tree
from kitwright.cutting.desk import desk_steps, orders, settings
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Leaf, Split, moved
from kitwright.geometry import Rect
from kitwright.units import ZERO, Length, Size, parse_size

HOLD = Length(Fraction(5, 8))
ORDERS = st.sampled_from(["together", "one by one"])
HOLDS = st.integers(1, 40).map(lambda n: STEP * n)


def layout_of(node) -> Layout:
    return Layout("Test", ("p",), node, "author", 0)


@st.composite
def layouts(draw):
    node = draw(trees())
    assume(isinstance(node, Split))
    return layout_of(node)


def row(axis, off, *parts):
    """A sheet cut once into parts given as (thickness in sixteenths, label); 3 inches the other way."""
    at, found = ZERO, []
    for n, label in parts:
        rect = Rect(at, ZERO, STEP * n, Length(3)) if axis == "x" else Rect(ZERO, at, Length(3), STEP * n)
        found.append(Leaf(rect, label))
        at += STEP * n
    whole = Rect(ZERO, ZERO, at, Length(3)) if axis == "x" else Rect(ZERO, ZERO, Length(3), at)
    return layout_of(Split(whole, axis, tuple(found), off))


# --- followed by hand ---------------------------------------------------------------------------


@given(layouts(), ORDERS)
def test_the_strokes_cut_the_paper_into_the_leaves(layout, order):
    """Each stroke is made on paper that is really there, from the edge that is named, at the mark that is named."""
    there = [layout.tree.rect]
    for step in desk_steps(layout, HOLD, order):
        for cut in step.cuts:
            there.remove(cut.part)
            p, m = cut.part, cut.measure
            across = p.width if step.side in ("left", "right") else p.height
            assert cut.off == step.side and m == step.measure and ZERO < m < across
            if step.side == "left":
                off, kept = Rect(p.x, p.y, m, p.height), Rect(p.x + m, p.y, p.width - m, p.height)
            elif step.side == "right":
                off, kept = Rect(p.right - m, p.y, m, p.height), Rect(p.x, p.y, p.width - m, p.height)
            elif step.side == "top":
                off, kept = Rect(p.x, p.y, p.width, m), Rect(p.x, p.y + m, p.width, p.height - m)
            else:
                off, kept = Rect(p.x, p.bottom - m, p.width, m), Rect(p.x, p.y, p.width, p.height - m)
            there += [off, kept]
    assert Counter(there) == Counter(leaf.rect for leaf in tree.leaves(layout.tree))


@given(layouts(), ORDERS)
def test_what_a_step_says_is_enough_to_follow_it(layout, order):
    """The bench knows sizes and counts alone, as a reader does: it ends with the right pieces and leftovers."""
    loose, pieces, rests = Counter({layout.tree.rect.size: 1}), Counter(), Counter()
    in_hand: tuple[Size, int] | None = None
    for step in desk_steps(layout, HOLD, order):
        if step.carried:
            assert in_hand == (step.hand.size, step.things)
        else:
            if in_hand:
                loose[in_hand[0]] += in_hand[1]
            assert loose[step.hand.size] >= step.things, "there are so many to take"
            loose[step.hand.size] -= step.things
        along = step.hand.height if step.axis == "x" else step.hand.width
        across = step.hand.width if step.axis == "x" else step.hand.height
        slice_ = Size(step.measure, along) if step.axis == "x" else Size(along, step.measure)
        assert sum(fall.n for fall in step.falls) == step.strokes * step.things == len(step.cuts)
        for fall in step.falls:
            assert fall.size == slice_ and (fall.what == "piece") == (fall.label is not None)
            (pieces if fall.label else rests if fall.what == "leftover" else loose)[
                (fall.label, fall.size) if fall.label else fall.size
            ] += fall.n
        left = across - step.measure * step.strokes
        kept = Size(left, along) if step.axis == "x" else Size(along, left)
        in_hand = None if step.rest else (kept, step.things)
        if step.rest:
            assert step.rest.size == kept and step.rest.n == step.things
            (pieces if step.rest.label else rests)[(step.rest.label, kept) if step.rest.label else kept] += step.things
    assert in_hand is None and not +loose, "nothing stays unfinished"
    assert pieces == Counter((leaf.label, leaf.rect.size) for leaf in tree.pieces(layout.tree))
    assert rests == Counter(r.size for r in tree.leftovers(layout.tree))


@given(layouts())
def test_strokes_are_numbered_as_on_the_guide(layout):
    steps = desk_steps(layout, HOLD)
    assert [cut for step in steps for cut in step.cuts] == layout.cuts
    assert [cut.number for cut in layout.cuts] == list(range(1, len(layout.cuts) + 1))
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))


@given(layouts())
def test_the_other_order_makes_the_same_strokes(layout):
    both = [
        Counter(replace(cut, number=0) for step in desk_steps(layout, HOLD, order) for cut in step.cuts)
        for order in ("together", "one by one")
    ]
    assert both[0] == both[1] and set(both[0].values()) == {1}


@given(layouts(), HOLDS, ORDERS)
def test_the_first_step_takes_the_sheet_and_only_the_first(layout, hold, order):
    first, *later = desk_steps(layout, hold, order)
    assert first.what == "sheet" and first.things == 1 and not first.carried and first.hand == layout.tree.rect
    assert all(step.carried for step in later if step.what == "sheet")


# --- alike things, and one thing at a time -----------------------------------------------------------


def at_home(node):
    return moved(node, -node.rect.x, -node.rect.y)


def splits(node):
    if isinstance(node, Split):
        yield node
        for part in node.parts:
            yield from splits(part)


@given(layouts())
def test_alike_things_that_lie_there_are_taken_up_together(layout):
    """Whatever takes the same strokes and already lies on the bench comes under the blade in the same step."""

    def strokes(thing):
        parts = tree.taken(thing)
        marks = tuple(p.rect.width if thing.axis == "x" else p.rect.height for p in parts)
        return thing.rect.size, thing.off, marks, parts[-1].label if isinstance(parts[-1], Leaf) else "cut on"

    known = {s.rect: s for s in splits(layout.tree)}
    there = {layout.tree.rect}
    for step in desk_steps(layout, HOLD):
        if step.carried:
            continue
        whole = known[step.hand]
        alike = [r for r in there if strokes(known[r]) == strokes(whole)]
        taken = [r for r in there if any(r.contains(cut.part) for cut in step.cuts)]
        assert sorted(alike, key=lambda r: (r.x, r.y)) == sorted(taken, key=lambda r: (r.x, r.y)) and len(taken) == step.things
        for r in taken:
            there.remove(r)
            there |= {part.rect for part in known[r].parts if isinstance(part, Split)}


@given(layouts())
def test_one_by_one_finishes_what_it_began(layout):
    """Once a thing of the sheet's first cuts is begun, none of another kind is begun before it is done."""

    def kind(cut):
        return next((at_home(part) for part in layout.tree.parts if part.rect.contains(cut.part)), None)

    kinds = [kind(cut) for step in desk_steps(layout, HOLD, "one by one") for cut in step.cuts]
    order = [k for i, k in enumerate(kinds) if k is not None and k != kinds[i - 1]]
    assert len(order) == len(set(map(repr, order)))


@given(layouts(), HOLDS)
def test_the_orders_offered_set_the_ruler_least_often(layout, hold):
    def changes(steps):
        marks = [cut.measure for step in steps for cut in step.cuts]
        return sum(a != b for a, b in zip([None, *marks], marks))

    offered = orders(layout, hold)
    every = {order: desk_steps(layout, hold, order) for order in ("together", "one by one")}
    least = min(changes(steps) for steps in every.values())
    assert offered and all(steps == every[order] and settings(steps) == changes(steps) == least for order, steps in offered.items())
    if changes(every["together"]) == least:
        assert next(iter(offered)) == "together", "the natural one first"


def test_half_by_half_is_offered_where_it_costs_nothing():
    """Two halves, each at the same two marks in turn: finishing one sets the ruler as often only if the marks are one."""
    half = parse_size("6 x 12")
    one = Split(Rect.of(half), "y", tuple(Leaf(Rect(ZERO, Length(2 * i), Length(6), Length(2)), "A") for i in range(6)), "top")
    other = Split(Rect.of(half), "y", tuple(Leaf(Rect(ZERO, Length(2 * i), Length(6), Length(2)), "B") for i in range(6)), "top")
    sheet = layout_of(Split(Rect.of(parse_size("12 x 12")), "x", (one, moved(other, Length(6), ZERO)), "left"))
    same = orders(sheet, HOLD)
    assert list(same) == ["together"], "each half is one step, so both orders are the same steps"
    deep = Split(
        Rect.of(half),
        "y",
        tuple(
            Split(
                Rect(ZERO, Length(3 * i), Length(6), Length(3)),
                "x",
                tuple(Leaf(Rect(Length(2 * j), Length(3 * i), Length(2), Length(3)), "A") for j in range(3)),
                "left",
            )
            for i in range(4)
        ),
        "top",
    )
    plain = moved(
        Split(Rect.of(half), "y", tuple(Leaf(Rect(ZERO, Length(3 * i), Length(6), Length(3)), "B") for i in range(4)), "top"),
        Length(6),
        ZERO,
    )
    mixed = orders(layout_of(Split(Rect.of(parse_size("12 x 12")), "x", (deep, plain), "left")), HOLD)
    assert [settings(s) for s in mixed.values()] == [3] and list(mixed) == ["together"], "6, 3, 2: the other order would set 3 twice"


# --- narrow pieces ---------------------------------------------------------------------------------


@given(layouts(), HOLDS, ORDERS)
def test_tape_is_called_for_exactly_when_what_stays_in_hand_is_too_narrow_and_wanted(layout, hold, order):
    for step in desk_steps(layout, hold, order):
        last = step.cuts[step.strokes - 1]
        held = last.part.width if step.axis == "x" else last.part.height
        wanted = step.rest is None or step.rest.label is not None
        if wanted:
            assert step.tape == (held - last.measure < hold)


@given(layouts(), HOLDS, ORDERS)
def test_too_narrow_is_said_exactly_when_neither_side_of_a_stroke_can_be_held(layout, hold, order):
    """Also beside a leftover: what falls off is then as hard to hold as what stays."""
    for step in desk_steps(layout, hold, order):
        neither = [
            cut for cut in step.cuts if max(cut.measure, (cut.part.width if step.axis == "x" else cut.part.height) - cut.measure) < hold
        ]
        assert step.too_narrow == bool(neither)


@pytest.mark.parametrize(
    "parts, tape, narrow",
    [
        (((16, "A"), (10, "B")), False, False),
        (((16, "A"), (9, "B")), True, False),
        (((9, "A"), (9, "B")), True, True),
        (((9, "A"), (9, "A")), True, True),
        (((16, "A"), (2, None)), False, False),
        (((9, "A"), (10, None)), False, False),
    ],
    ids=["just wide enough", "a sixteenth less", "both sides", "two alike", "narrow leftover", "narrow piece, wide leftover"],
)
@pytest.mark.parametrize("axis, off", [("x", "left"), ("x", "right"), ("y", "top"), ("y", "bottom")])
def test_narrow_pieces_one_by_one(parts, tape, narrow, axis, off):
    parts = parts if off in ("left", "top") else parts[::-1]
    (step,) = desk_steps(row(axis, off, *parts), HOLD)
    assert (step.tape, step.too_narrow) == (tape, narrow)


@pytest.mark.parametrize("axis, off", [("x", "left"), ("y", "top")])
def test_a_narrow_piece_beside_a_narrow_leftover_can_be_held_on_neither_side(axis, off):
    (step,) = desk_steps(row(axis, off, (8, "A"), (4, None)), HOLD)
    assert step.too_narrow, "half an inch and a quarter, and the trimmer holds no less than five eighths"


# --- the ruler ------------------------------------------------------------------------------------------


@given(layouts(), st.sampled_from(["left", "right"]), ORDERS)
def test_a_step_turns_the_paper_exactly_when_another_edge_goes_to_the_ruler(layout, side, order):
    steps = desk_steps(layout, HOLD, order, side)
    assert [s.turned for s in steps] == [s.side != before for s, before in zip(steps, (side, *(s.side for s in steps)))]


@pytest.mark.parametrize(
    "ruler, off, turned", [("left", "left", False), ("right", "left", True), ("right", "right", False), ("left", "right", True)]
)
def test_the_first_edge_is_where_the_ruler_lies(ruler, off, turned):
    assert desk_steps(row("x", off, (32, "A"), (32, "B"), (32, "C")), HOLD, ruler_side=ruler)[0].turned is turned


def test_what_parts_are_called():
    """A half is a half; else tall slices are columns and wide ones strips; anything else is a part."""

    def two(rect, axis, first):
        if axis == "x":
            a, b = Rect(rect.x, rect.y, first, rect.height), Rect(rect.x + first, rect.y, rect.width - first, rect.height)
        else:
            a, b = Rect(rect.x, rect.y, rect.width, first), Rect(rect.x, rect.y + first, rect.width, rect.height - first)
        return a, b

    def called(size, axis, first):
        a, b = two(Rect.of(parse_size(size)), axis, Length(first))
        inner = two(a, "y" if axis == "x" else "x", Length(1))
        cut = Split(a, "y" if axis == "x" else "x", tuple(Leaf(r, "A") for r in inner), "top" if axis == "x" else "left")
        return (
            desk_steps(layout_of(Split(Rect.of(parse_size(size)), axis, (cut, Leaf(b)), "left" if axis == "x" else "top")), HOLD)[0]
            .falls[0]
            .what
        )

    assert called("12 x 12", "x", 6) == "half" and called("12 x 12", "y", 6) == "half"
    assert called("12 x 12", "x", 4) == "column" and called("12 x 12", "y", 4) == "strip"
    assert called("12 x 3", "x", 5) == "part" and called("3 x 12", "y", 5) == "part"
