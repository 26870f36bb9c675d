"""What is said to be proved is so: verdicts one step off are caught."""

from fractions import Fraction
from itertools import product

import pytest
from cutting_demands import LETTER
from cutting_small import every_tree, on_paper, small_kits
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.batch.paper import Lattice
from kitwright.cutting.batch.search import Search, Share, Solution
from kitwright.cutting.batch.verdict import only_sheets, proofs
from kitwright.cutting.solver.work import Work
from kitwright.units import parse_size


def search_for(sizes, sheet=LETTER):
    sizes = {label: parse_size(size) for label, size in sizes.items()}
    return Search(Lattice.of(sheet, sizes, {}, sizes), Work())


@pytest.mark.parametrize("short", [0, 1, 2, 3])
def test_sheets_are_proved_only_where_the_bound_is_reached(short):
    """Nine mats, 2½ sheets: a bound half a sheet lower proves nothing."""
    search, needs = search_for({"M": "4 x 5-1/4"}), (9,)
    units, found, bound = search.fewest(needs)
    assert units == bound == 5
    for proof in (only_sheets(search, needs, Fraction(units, 2), bound - short)[0], proofs(search, needs, found, bound - short)[0]):
        assert proof.proved == (short == 0)
        assert proof.value == (Fraction(5, 2),) and proof.bound == (Fraction(5 - short, 2),)


@pytest.mark.parametrize("parts", [2, 3])
def test_more_layouts_than_are_needed_are_not_proved_to_be_needed(parts):
    """Twelve mats from three Letter sheets, all cut alike; and the same, called two layouts, or three."""
    search, needs = search_for({"M": "4 x 5-1/4"}), (12,)
    one = search.single(needs, 6)[0]
    units = [2, 2, 2] if parts == 3 else [4, 2]
    alike = proofs(search, needs, Solution(tuple(Share(one, n) for n in units)), 6)[1]
    assert (alike.proved, alike.value, alike.bound) == (False, (parts,), (1,))
    assert alike.reason == "not-known"


def test_three_layouts_where_two_do_are_not_proved():
    """Nine bases and strips take two layouts on Letter; a third is told to be one too many."""
    search, needs = search_for({"base": "8-1/2 x 5-1/2", "S": "2-3/4 x 3/4"}), (9, 9)
    units, found, bound = search.fewest(needs)
    assert (units, len(found.parts)) == (10, 2)
    assert proofs(search, needs, found, bound)[1].proved
    whole = max(found.parts, key=lambda part: part.units)
    third = Solution((*(part for part in found.parts if part is not whole), Share(whole.layout, 2), Share(whole.layout, whole.units - 2)))
    alike = proofs(search, needs, third, bound)[1]
    assert not alike.proved and alike.value == (3,) and alike.bound == (2,)


@tried(60)
@given(small_kits(), st.integers(2, 6), st.integers(1, 3))
def test_none_alike_means_that_no_tree_can(kit, units, times):
    """Against every cut at every step: of all ways to share a batch out, a tree for none."""
    width, height, kinds, counts = kit
    needs = tuple(n * times + (i == 0) for i, n in enumerate(counts))
    demand = on_paper(width, height, kinds, needs)
    search = Search(Lattice.of(demand.sheet, demand.sizes, demand.lies, demand.needs), Work())
    none = search.none_alike(needs, units)
    if search.single(needs, units):
        assert not none
    if none:
        whole, half = divmod(units, 2)
        for wanted in product(*(range(n + 1) for n in needs)):
            kept = tuple(max(0, n - whole * w) for n, w in zip(needs, wanted))
            if any(kept) and not half or sum(wanted) > 8 or any(k > w for k, w in zip(kept, wanted)):
                continue
            rest = tuple(w - k for w, k in zip(wanted, kept))
            if not half:
                assert every_tree(width, height, kinds, wanted) is None
            else:
                assert not any(
                    every_tree(w, h, kinds, kept) and every_tree(w, h, kinds, rest) for w, h in ((width // 2, height), (width, height // 2))
                )
