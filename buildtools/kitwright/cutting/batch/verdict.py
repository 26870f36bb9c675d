"""What is proved of a plan, level by level, in words for a maker."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from kitwright.cutting.batch.builds import Layout
from kitwright.cutting.batch.exhaust import leftovers
from kitwright.cutting.batch.paper import Counts, Paper
from kitwright.cutting.batch.prices import told
from kitwright.cutting.batch.proof import Proof
from kitwright.cutting.batch.search import Found, Search
from kitwright.telling.words import label_text, listed, sheets_text, spelled
from kitwright.units import fraction_text, rounded


def proofs(search: Search, needs: Counts, found: Found, bound: int) -> tuple[Proof, ...]:
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


def sheets_why(search: Search, needs: Counts, bound: int) -> tuple[str, bool]:
    """Why no fewer half sheets than `bound` do, and whether that can be checked at the desk."""
    paper = search.paper
    if bound <= 1:
        return "There is nothing less than half a sheet.", False
    fewer = bound - 1
    prices = search.pricing.reason(needs, fewer)
    if prices is None:
        if paper.area_of(needs) * 2 > fewer * paper.area:
            return (
                f"The pieces cover {_square(paper, paper.area_of(needs))}, and {_units_text(fewer)} "
                f"{'have' if fewer > 2 else 'has'} {_square(paper, paper.area * fewer, 2)}."
            ), True
        return f"Every set of pieces that a sheet can yield was looked at: {_units_text(fewer)} can’t give the batch.", False
    half = f", and half a sheet no more than {prices.half}" if fewer % 2 else ""
    priced = [k for k, p in enumerate(prices.each) if p]
    if len(priced) == 1 and prices.each[priced[0]] == 1 and prices.limits is None:
        label = paper.labels[priced[0]]
        half = f", half a sheet {prices.half or 'none'}" if fewer % 2 else ""
        most = fewer // 2 * prices.whole + fewer % 2 * prices.half
        return (
            f"A sheet yields at most {prices.whole} {label_text(label, prices.whole)}{half}: "
            f"{_units_text(fewer)} can’t give more than {most} of the {needs[priced[0]]}."
        ), True
    return (
        f"Count {listed(list(told(paper.labels, prices.each)))}: the batch comes to {prices.worth(needs)}, and no sheet "
        f"can give more than {prices.whole}{half}, so {_units_text(fewer)} can’t do it."
    ), False


def only_sheets(search: Search, needs: Counts, sheets: Fraction, bound: int) -> tuple[Proof, ...]:
    """The one entry for a plan in plain strips that was not looked at any further."""
    return (_sheets(search, needs, int(2 * sheets), bound),)


def _sheets(search: Search, needs: Counts, units: int, bound: int) -> Proof:
    proved = bound >= units
    why, plain = sheets_why(search, needs, bound)
    if not proved:
        why = f"No plan takes fewer than {_units_text(bound)}. {why}"
    return Proof("sheets", proved, (Fraction(units, 2),), (Fraction(bound, 2),), why, proved and plain)


def _alike(search: Search, needs: Counts, found: Found) -> Proof:
    n = len(found.parts)
    if n == 1:
        why = "All sheets are cut alike." if found.units > 2 else "There is one sheet to cut."
        return Proof("alike", True, (Fraction(1),), (Fraction(1),), why)
    least = search.least_alike(needs, found.units, n)
    if least == 1:
        why = "It is not proved that so few sheets can’t all be cut alike."
    elif n == 2:
        why = "No single way of cutting a sheet gives the batch from so few sheets."
    elif n == least:
        why = f"Of all that a sheet can yield, no {spelled(n - 1)} ways of cutting together give the batch from so few sheets."
    else:
        why = f"At least {spelled(least)} ways of cutting a sheet are needed."
    return Proof("alike", n == least, (Fraction(n),), (Fraction(least),), why)


def _order(search: Search, found: Found, each: Counts, rests: tuple[int, int] | None) -> Proof:
    value = found.rank[1:5]
    if len(found.parts) > 1:
        return _best("order", value, (0, 0, 0, 0), "Several layouts were chosen together, among those tried.")
    layout = found.parts[0].layout
    least = (0, *_least_order(search.paper, layout, each, rests))
    if value == least:
        return _best(
            "order", value, least, "Natural, and no way of cutting these pieces takes fewer ruler marks, fewer cuts or fewer turns."
        )
    why = (
        "No better one among the natural orders tried."
        if not value[0]
        else "No natural order was found that takes so few sheets, cut alike."
    )
    return _best("order", value, least, why)


def _least_order(paper: Paper, layout: Layout, each: Counts, rests: tuple[int, int] | None) -> tuple[int, int, int]:
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


def _slack(search: Search, found: Found, each: Counts) -> Proof:
    tight = found.rank[5]
    if not tight:
        return _best("slack", (0,), (0,), "No sheet is needed to its last sixteenth of an inch.")
    least = _least_tight(search, each) if len(found.parts) == 1 else 0
    why = (
        "A sheet a sixteenth of an inch short can’t yield these pieces, however it is cut: measure it before you cut."
        if tight == least
        else "The sheet is needed to its last sixteenth of an inch: measure it before you cut. No layout without was found."
    )
    return _best("slack", (tight,), (least,), why)


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


def _leftover(search: Search, found: Found, rests: tuple[int, int] | None) -> Proof:
    paper = search.paper
    value = -found.rank[6]
    most = sum(paper.area - paper.area_of(part.layout.counts) for part in found.parts)
    if value == most:
        why = "All that is left of a sheet is in one piece." if most else "Nothing is left over."
    elif rests and value == rests[1]:
        most, why = value, "However these pieces are cut, no larger single piece of a sheet is left."
    else:
        most = rests[1] if rests else most
        why = "The largest single leftover among layouts that are as good otherwise."
    return Proof("leftover", value == most, (paper.square_inches(value),), (paper.square_inches(most),), why)


def _best(level, value, bound, why: str) -> Proof:
    return Proof(level, tuple(value) <= tuple(bound), tuple(map(Fraction, value)), tuple(map(Fraction, bound)), why)


def _units_text(units: int) -> str:
    return sheets_text(Fraction(units, 2))


def _square(paper: Paper, area: int, parts: int = 1) -> str:
    """Square inches in words: exact where a short fraction is, else to the hundredth."""
    value = paper.square_inches(area) / parts
    if value.denominator in (1, 2, 4, 8, 16):
        return f"{fraction_text(value)} sq in"
    return f"≈{float(rounded(value, Fraction(1, 100))):.2f} sq in"
