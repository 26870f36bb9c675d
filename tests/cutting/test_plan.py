"""Sheets for a batch: whole and half, against brute force."""

from collections import Counter
from fractions import Fraction
from itertools import count

from cutting_trees import trees
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting import tree
from kitwright.cutting.plan import HALF, Demand, Layout, PaperPlan, Run, half_tree, half_yields, made_by, sheets_for, turned_wrongly
from kitwright.cutting.tree import Leaf, Split
from kitwright.geometry import Rect
from kitwright.units import ZERO, Length, Size

needs_lists = st.dictionaries(st.sampled_from(["A", "B", "C", "D"]), st.integers(0, 30), max_size=3)


def halves_by_hand(node):
    """Pieces whole on each side of either middle line, by their corners alone."""
    r, found = node.rect, []
    for low, high in (
        ((r.x, r.y), (r.x + r.width / 2, r.bottom)),
        ((r.x + r.width / 2, r.y), (r.right, r.bottom)),
        ((r.x, r.y), (r.right, r.y + r.height / 2)),
        ((r.x, r.y + r.height / 2), (r.right, r.bottom)),
    ):
        half = Rect(low[0], low[1], high[0] - low[0], high[1] - low[1])
        found.append(Counter(leaf.label for leaf in tree.pieces(node) if half.contains(leaf.rect)))
    return found


def enough(node, sheets, needs):
    """Whether so many sheets give everything, trying each half of a last half sheet."""
    whole, half = divmod(sheets, 1)
    base = Counter({k: n * int(whole) for k, n in tree.yields(node).items()})
    options = halves_by_hand(node) if half else [Counter()]
    return any(all(base[k] + extra[k] >= n for k, n in needs.items()) for extra in options)


@given(trees())
def test_half_a_sheet_gives_the_pieces_that_halving_spares(node):
    assert [Counter(h) for h in half_yields(node)] == halves_by_hand(node)


@given(trees(), needs_lists)
def test_the_fewest_whole_and_half_sheets_by_brute_force(node, needs):
    got = sheets_for(node, needs)
    if any(n and k not in tree.yields(node) for k, n in needs.items()):
        assert got is None
        return
    least = next(Fraction(h, 2) for h in count() if enough(node, Fraction(h, 2), needs))
    assert got == least


@given(trees(), needs_lists, st.integers(0, 12))
def test_what_is_made_is_enough_when_the_sheets_are(node, needs, halves):
    sheets = halves * HALF
    made = made_by(node, sheets, needs)
    assert all(n > 0 for n in made.values()) and list(made) == sorted(made)
    per_sheet = tree.yields(node)
    for label, n in made.items():
        assert per_sheet[label] * int(sheets) <= n <= per_sheet[label] * (int(sheets) + 1)
    if enough(node, sheets, needs):
        assert all(made.get(k, 0) >= n for k, n in needs.items())


@given(trees(), needs_lists, st.integers(0, 6))
def test_a_plan_knows_what_is_spare_and_short(node, needs, halves):
    demand = Demand("p", node.rect.size, needs, {}, {})
    made = made_by(node, halves * HALF, needs)
    plan = PaperPlan(demand, (Run(Layout("p", ("p",), node, "author"), halves * HALF, made),))
    assert plan.sheets == halves * HALF and plan.made == made
    for label in {*needs, *made}:
        assert made.get(label, 0) + plan.short.get(label, 0) - plan.spare.get(label, 0) == needs.get(label, 0)
    assert not set(plan.short) & set(plan.spare)


@given(trees())
def test_a_layout_says_what_its_tree_says(node):
    layout = Layout("p", ("p",), node, "auto")
    assert layout.sheet == node.rect.size and layout.yields == tree.yields(node)
    left = sum((r.area for r in layout.leftovers), Fraction(0))
    assert layout.used == 1 - left / node.rect.area
    assert len(set(layout.measures)) == len(layout.measures) and set(layout.measures) == {c.measure for c in layout.cuts}


def test_pieces_that_lie_wrongly_on_a_one_way_paper():
    one, two = Length(1), Length(2)
    upright = Leaf(Rect(ZERO, ZERO, one, two), "A")
    across = Leaf(Rect(one, ZERO, two, one), "A", turned=True)
    below = Leaf(Rect(one, one, two, one))
    square = Leaf(Rect(one * 3, ZERO, two, two), "S")
    node = Split(Rect(ZERO, ZERO, one * 5, two), "x", (upright, Split(Rect(one, ZERO, two, two), "y", (across, below), "top"), square))
    layout = Layout("p", ("p",), node, "author")
    sizes = {"A": Size(one, two), "S": Size(two, two)}

    def wrong(lies):
        return [leaf.rect for leaf in turned_wrongly(layout, Demand("p", node.rect.size, {}, sizes, lies))]

    assert wrong({}) == []
    assert wrong({"A": False}) == [across.rect]
    assert wrong({"A": True}) == [upright.rect]
    assert wrong({"S": True}) == [], "a square lies as it is told"


@given(trees(), needs_lists)
def test_a_half_sheet_keeps_its_other_half_whole(node, needs):
    half = half_tree(node, needs)
    assert [
        f for f in tree.faults(half, node.rect.size, {leaf.label: leaf.rect.size for leaf in tree.pieces(half)}) if f.what != "size"
    ] == []
    if half != node:
        made = tree.yields(half)
        assert all(made.get(k, 0) >= n for k, n in needs.items()), "what is needed still comes out"
        assert max(r.area for r in tree.leftovers(half)) * 2 >= node.rect.area
        assert {leaf.rect for leaf in tree.pieces(half)} <= {leaf.rect for leaf in tree.pieces(node)}, "nothing is moved"
