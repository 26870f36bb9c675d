"""Folds a scored base, score line by score line, and says where every panel comes to lie.

A panel is never bent: a point at `x` of the flat base lies at `shift + x`, or, once its panel is
turned over, at `shift - x`. Folding at `c` turns all that hangs on one side of the score line
over, about `c`. Two things decide whether it can: what turns on its own side of `c` is lifted,
so nothing of the rest may lie on it there; what of it reaches past `c` is lowered, so nothing of
the rest may lie under it there. Both are asked of every pair of panels, not only of those that
cross `c`; which lies on which is known for every pair that shares any length.
"""

from __future__ import annotations

from dataclasses import dataclass

from kitwright.folding.closed import Above, Closed, Lying
from kitwright.folding.scored import Scored
from kitwright.units import Length


@dataclass(frozen=True, slots=True)
class Blocked:
    """A score line that can't be folded when its turn comes, since paper is in the way."""

    score: int
    """Which of the score lines, in folding order."""
    panel: str
    """What is in the way."""
    by: Length
    """How far it reaches over the score line."""
    creases: tuple[Length, ...]
    """Where the score lines that were folded before are, as the base lies."""


def closed(base: Scored) -> Closed | Blocked:
    """Fold every score line of a base, in its order.

    Args:
        base: one without `misplaced` score lines.
    """
    lying = tuple(Lying(*span) for span in base.spans())
    above: Above = frozenset()
    states = [(lying, above)]
    for at, score in enumerate(base.scores):
        hinge, flap = base.beside(score)
        # Which way is up for the flap, once its neighbour was turned over itself.
        lifted = (score.direction == "forward") != lying[hinge].turned
        folded = _folded(lying, above, flap, lying[hinge].at(score.at), lifted)
        if not isinstance(folded, tuple):
            return Blocked(at, base.panels[folded.panel], folded.by, tuple(s.at for s in base.scores[:at]))
        lying, above = folded
        states.append(folded)
    return Closed.of(base, states)


@dataclass(frozen=True, slots=True)
class _InTheWay:
    panel: int
    by: Length


def _folded(lying: tuple[Lying, ...], above: Above, flap: int, c: Length, lifted: bool) -> tuple[tuple[Lying, ...], Above] | _InTheWay:
    """Turn everything from panel `flap` on over, about `c`."""
    rightward = not lying[flap].turned
    """Whether the flap lies right of the score line now."""
    for moving in range(flap, len(lying)):
        for resting in range(flap):
            for right, reach in _shared(lying[moving], lying[resting], c):
                on_its_own_side = right == rightward
                pair = (moving, resting) if on_its_own_side == lifted else (resting, moving)
                if pair not in above:
                    return _InTheWay(resting, reach)
    turned = tuple(panel.over(c) if i >= flap else panel for i, panel in enumerate(lying))
    moved = {(q, p) if p >= flap else (p, q) for p, q in above if (p >= flap) == (q >= flap)}
    for moving in range(flap, len(lying)):
        for resting in range(flap):
            for right, reach in _shared(turned[moving], turned[resting], c):
                # What was lifted comes down on the other side, on everything there; what was lowered comes up from below.
                lies_on = (right != rightward) == lifted
                pair = (moving, resting) if lies_on else (resting, moving)
                if pair[::-1] in moved:
                    return _InTheWay(resting, reach)
                moved.add(pair)
    return turned, frozenset(moved)


def _shared(one: Lying, other: Lying, c: Length) -> list[tuple[bool, Length]]:
    """On which sides of `c`, right or not, two panels share some length, and how far from `c` that reaches."""
    start, end = max(one.start, other.start), min(one.end, other.end)
    sides = []
    if start < min(end, c):
        sides.append((False, c - start))
    if max(start, c) < end:
        sides.append((True, end - c))
    return sides
