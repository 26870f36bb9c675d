"""Which cards of a batch are shown together, and in which order."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from kitwright.card.face import Face

_FANNED = (3, 5)
"""Cards in a fan, so that one lies in the middle; more only where the batch has more looks."""
_MOST = 15
"""Cards that a fan shows at most: of more each would be a sliver."""


def every_card(designs: Sequence[Sequence[Face]]) -> list[Face]:
    """The whole batch, every look as often as the batch has it, in turn; the designs one after another.

    Args:
        designs: the looks of each design.
    """
    return [face for looks in designs for face in _in_turn(looks, list(map(_times, looks)))]


def fans(designs: Sequence[Sequence[Face]]) -> list[list[Face]]:
    """Fair parts of the batch to be fanned, the leading look first and every look among them; none of a single card."""
    looks = [look for group in designs for look in group]
    times = list(map(_times, looks))
    every = sum(times)
    counts = [count for count in _FANNED if len(looks) <= count <= every]
    if not counts:
        odd = len(looks) + (len(looks) + 1) % 2
        counts = [min(max(odd, 2), every, _MOST)]
    if counts == [1]:
        return []
    found = []
    for count in counts:
        # One of each look, the rest as the batch has them.
        rest = [max(0, each - 1) for each in times]
        found.append([*looks, *_in_turn(looks, rest, times)][:count])
    return found


def _times(look: Face) -> int:
    return max(1, look.cards)


def _in_turn(looks: Sequence[Face], times: Sequence[int], fair: Sequence[int] | None = None) -> list[Face]:
    """Each look so many times, spread evenly: next comes what is furthest behind its share."""
    shares, found, given = fair or times, list[Face](), [0] * len(looks)
    while sum(given) < sum(times):
        left = [i for i in range(len(looks)) if given[i] < times[i]]
        i = min(left, key=lambda i: Fraction(2 * given[i] + 1, shares[i]))
        given[i] += 1
        found.append(looks[i])
    return found
