"""Arrangements against the world: a published sequence, a formula, and permutation groups of a library.

Sources: strings of length n over k letters, up to reversal: (kⁿ + k^⌈n/2⌉) / 2, Burnside's
lemma; for k = 2 OEIS A005418, n = 1, 2 …: 1, 2, 3, 6, 10, 20, 36, 72, 136 with its term for
n = 0 first. sympy's permutation groups, as a reference library.
"""

import itertools
from math import factorial

import pytest
from arrange.benches import PAPERS, stack
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.otherwise.arrangements.counting import listing
from kitwright.otherwise.arrangements.find import LISTED
from kitwright.otherwise.arrangements.slots import places_of
from kitwright.otherwise.arrangements.turning import different, motions_of
from making import make_worked
from sympy.combinatorics import Permutation, PermutationGroup

A005418 = (1, 2, 3, 6, 10, 20, 36, 72, 136)
"""From its term for strings of no letters on."""
ANY = "arrangements: {papers: any}\n"


def of_strings(tmp_path, n: int, k: int):
    """Places and motions of a stack of n strips, each from any of k papers."""
    papers = [PAPERS[i % k] for i in range(n)] if n >= k else list(PAPERS[:n])
    worked = make_worked(tmp_path, stack(papers, extra=ANY))
    places = places_of(worked)
    return worked, places, motions_of(worked, places)


@pytest.mark.parametrize("n", range(2, 9))
def test_two_papers_give_the_published_sequence(tmp_path, n):
    _, places, motions = of_strings(tmp_path, n, 2)
    assert different(places, places.hands[0], motions) == A005418[n]


@pytest.mark.parametrize("n, k", [(3, 2), (3, 3), (4, 3), (5, 3), (4, 4), (5, 4), (5, 5), (6, 2)])
def test_any_number_of_papers_gives_the_formula(tmp_path, n, k):
    worked, places, motions = of_strings(tmp_path, n, k)
    assert different(places, places.hands[0], motions) == (k**n + k ** (-(-n // 2))) // 2
    counts = arrangements_of(worked).counts
    assert counts.counted == counts.listed == k**n <= LISTED
    assert counts.different == counts.grouped


@pytest.mark.parametrize(
    "papers",
    [
        ["river", "river", "meadow", "dusk"],
        ["river", "meadow", "dusk", "frost"],
        ["river", "meadow", "river", "dusk", "dusk"],
        ["river", "river", "meadow"],
        ["river"] * 4,
    ],
)
def test_one_handful_against_permutations_of_the_pieces(tmp_path, papers):
    """Every order of the pieces, equal ones the same, up to reversal."""
    counts = arrangements_of(make_worked(tmp_path, stack(papers))).counts
    orders = set(itertools.permutations(papers))
    assert counts.counted == counts.listed == len(orders)
    assert counts.different == counts.grouped == len({min(o, o[::-1]) for o in orders})
    expected = factorial(len(papers))
    for paper in set(papers):
        expected //= factorial(papers.count(paper))
    assert len(orders) == expected


@pytest.mark.parametrize(
    "papers", [["river", "river", "meadow", "dusk"], ["river", "meadow", "dusk", "frost"], ["river", "river", "meadow", "meadow", "dusk"]]
)
def test_the_motions_are_a_permutation_group_whose_orbits_agree(tmp_path, papers):
    """sympy: the group acts on the list of arrangements; its orbits are the different cards."""
    worked = make_worked(tmp_path, stack(papers))
    places = places_of(worked)
    motions = motions_of(worked, places)
    every = list(listing([slot.fills for slot in places.slots], places.hands[0]))
    acting = [Permutation([every.index(motion.moves(f)) for f in every]) for motion in motions.all]
    group = PermutationGroup(acting)
    assert group.order() == len(motions.all) == 2
    orbits = group.orbits()
    alone = len(every) - sum(len(o) for o in orbits)
    assert len(orbits) + alone == different(places, places.hands[0], motions)
    fixed = sum(len(every) - len(g.support()) for g in group.elements)
    assert fixed == group.order() * different(places, places.hands[0], motions), "Burnside's lemma"
