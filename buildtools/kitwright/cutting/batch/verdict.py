"""What is proved of a plan, level by level."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from kitwright.cutting.batch.builds import Candidate
from kitwright.cutting.batch.exhaust import leftovers
from kitwright.cutting.batch.paper import Counts, Lattice
from kitwright.cutting.batch.proof import Bare, OneLabel, Priced, Proof, ProofLevel, Reason, TooLittle
from kitwright.cutting.batch.search import Search, Solution


def proofs(search: Search, needs: Counts, found: Solution, bound: int) -> tuple[Proof, ...]:
    """One entry for each level.

    Args:
        search: what found the plan.
        needs: pieces by kind.
        found: the plan.
        bound: half sheets that any plan takes at least.
    """
    # Were all sheets cut alike, each would have to yield at least so much.
    each = tuple(-(-n // ceil(Fraction(found.units, 2))) for n in needs)
    rests = leftovers(search.paper, each) if len(found.parts) == 1 else None
    return (
        _sheets(search, needs, found.units, bound),
        _alike(search, needs, found),
        _order(search, found, each, rests),
        _slack(search, found, each),
        _leftover(search, found, rests),
    )


def _ruled_out(search: Search, needs: Counts, bound: int) -> Reason:
    """Why no fewer half sheets than `bound` do."""
    paper = search.paper
    if bound <= 1:
        return "half-a-sheet"
    fewer = bound - 1
    prices = search.pricing.reason(needs, fewer)
    if prices is None:
        if paper.area_of(needs) * 2 > fewer * paper.area:
            return TooLittle(paper.square_inches(paper.area_of(needs)), paper.square_inches(paper.area * fewer) / 2)
        return "every-yield"
    half = prices.half if fewer % 2 else None
    priced = [k for k, p in enumerate(prices.each) if p]
    if len(priced) == 1 and prices.each[priced[0]] == 1 and prices.limits is None:
        (kind,) = priced
        most = fewer // 2 * prices.whole + fewer % 2 * prices.half
        return OneLabel(paper.labels[kind], prices.whole, half, most, needs[kind])
    return Priced(tuple((paper.labels[k], prices.each[k]) for k in priced), prices.worth(needs), prices.whole, half)


def only_sheets(search: Search, needs: Counts, sheets: Fraction, bound: int) -> tuple[Proof, ...]:
    """The one entry for a plan in plain strips that was not looked at any further."""
    return (_sheets(search, needs, int(2 * sheets), bound),)


def _sheets(search: Search, needs: Counts, units: int, bound: int) -> Proof:
    return Proof("sheets", bound >= units, (Fraction(units, 2),), (Fraction(bound, 2),), _ruled_out(search, needs, bound))


def _alike(search: Search, needs: Counts, found: Solution) -> Proof:
    n = len(found.parts)
    if n == 1:
        return Proof("alike", True, (Fraction(1),), (Fraction(1),), "all-alike" if found.units > 2 else "one-sheet")
    least = search.least_alike(needs, found.units, n)
    reason: Bare
    if least == 1:
        reason = "not-known"
    elif n == 2:
        reason = "no-single-way"
    else:
        reason = "no-fewer-ways" if n == least else "some-ways"
    return Proof("alike", n == least, (Fraction(n),), (Fraction(least),), reason)


def _order(search: Search, found: Solution, each: Counts, rests: tuple[int, int] | None) -> Proof:
    value = found.rank[1:5]
    if len(found.parts) > 1:
        return _best("order", value, (0, 0, 0, 0), "chosen-together")
    layout = found.parts[0].layout
    least = (0, *_least_order(search.paper, layout, each, rests))
    if value == least:
        return _best("order", value, least, "none-simpler")
    return _best("order", value, least, "not-natural" if value[0] else "natural")


def _least_order(paper: Lattice, layout: Candidate, each: Counts, rests: tuple[int, int] | None) -> tuple[int, int, int]:
    """Ruler marks, cuts and turns that any layout takes at least, were all sheets cut alike.

    Orders that shave waste off in several strokes at one mark are not natural and left out.
    """
    kinds = [k for k, n in enumerate(layout.counts) if n]
    sides = {paper.width, paper.height}
    ways = {k: paper.ways(k, paper.width, paper.height) for k in kinds}
    both = any(all(a < paper.width and b < paper.height for a, b, _ in some) for some in ways.values())
    # Every cut makes one part more.
    fewest = rests[0] if rests else int(paper.area_of(each) < paper.area)
    cuts = sum(each) + fewest - 1
    if not both:
        return min(1, cuts), cuts, 0
    # One mark alone: every side of every piece is that mark, a sheet's side, or what stays of one.
    thinnest = min(min(k.width, k.height) for k in paper.kinds)
    marks = set()
    for some in ways.values():
        for a, b, _ in some:
            for side in (a, b):
                marks.add(Fraction(side))
                marks |= {Fraction(whole - side, n) for whole in sides if whole > side for n in range(1, whole // thinnest + 2)}
    one = any(
        all(
            any(_made_of(a, mark, paper.width, thinnest) and _made_of(b, mark, paper.height, thinnest) for a, b, _ in some)
            for some in ways.values()
        )
        for mark in marks
    )
    return (1 if one else 2), cuts, 1


def _made_of(side: int, mark: Fraction, whole: int, thinnest: int) -> bool:
    """Whether a side is a mark, or what stays of the whole after some strokes at it; of these only one takes off waste."""
    strokes = (whole - side) / mark
    return side == mark or strokes in (0, 1) or strokes.denominator == 1 and strokes > 0 and mark >= thinnest


def _slack(search: Search, found: Solution, each: Counts) -> Proof:
    tight = found.rank[5]
    if not tight:
        return _best("slack", (0,), (0,), "not-tight")
    least = _least_tight(search, each) if len(found.parts) == 1 else 0
    return _best("slack", (tight,), (least,), "tight-however" if tight == least else "tight-here")


def _least_tight(search: Search, each: Counts) -> int:
    """Directions in which a sheet that yields these pieces is needed to its last sixteenth at least."""
    # Less than a sixteenth to spare is tight: so is a layout that a sheet short by that much can’t hold.
    step = ceil(search.paper.sixteenth)

    def impossible(across: int, down: int) -> bool:
        smaller = search.pricing.sheet.shorter(across, down)
        return smaller is None or smaller.holds(each) is False

    if not impossible(step, step):
        return 0
    return 2 if impossible(step, 0) and impossible(0, step) else 1


def _leftover(search: Search, found: Solution, rests: tuple[int, int] | None) -> Proof:
    paper = search.paper
    value = -found.rank[6]
    most = sum(paper.area - paper.area_of(part.layout.counts) for part in found.parts)
    reason: Bare
    if value == most:
        reason = "one-leftover" if most else "no-leftover"
    elif rests and value == rests[1]:
        most, reason = value, "no-larger"
    else:
        most, reason = rests[1] if rests else most, "largest-found"
    return Proof("leftover", value == most, (paper.square_inches(value),), (paper.square_inches(most),), reason)


def _best(level: ProofLevel, value: tuple[int, ...], bound: tuple[int, ...], reason: Bare) -> Proof:
    return Proof(level, value <= bound, tuple(map(Fraction, value)), tuple(map(Fraction, bound)), reason)
