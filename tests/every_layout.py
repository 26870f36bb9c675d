"""Every layout of a small question, listed anew from what its sort is in words, and every way to cut its sheets: nothing clever.

A front is counted in whole steps of the ruler. Each sort lists the pieces of its layouts by trying every whole number for
every free size; what hands make gladly, how much is covered and how many sizes there are is asked afterwards, of the pieces
alone. Whether they come out of a sheet is found by every cut from edge to edge, at every step.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import combinations_with_replacement, product

Piece = tuple[int, int, bool]
"""Width and height as it stands on the card, in steps; whether it is a triangle, half of a square of such a side."""
Layout = tuple[Piece, ...]
Pieces = tuple[tuple[Piece, int], ...]
"""Pieces of a card, each kind once with how many there are; where paper has no up, the longer side of each comes first."""


@dataclass(frozen=True)
class Front:
    """What the pieces of a card lie on, in steps."""

    wide: int
    """Between the borders."""
    high: int
    gap: int
    ground: Fraction
    """Square steps with the borders."""
    inch: int
    """Steps in an inch."""
    band: int = 0
    """The least height of the free band; 0 where there is none."""
    kinds: int = 3
    """Sizes, at most."""
    turns: bool = True

    def steps(self, eighths: int) -> int:
        """So many eighths of an inch, up to the next step."""
        return -(-eighths * self.inch // 8)

    def makes(self, width: int, height: int) -> bool:
        """Whether hands make a piece gladly: strips are at least ½ × 1½ in, tiles 1 × 1."""
        short, long = sorted((width, height))
        return short >= self.steps(4) and long >= self.steps(12) or short >= self.steps(8)


def lines(total: int, pieces: int, sizes: int = 9) -> Iterator[tuple[int, ...]]:
    """Multisets of so many whole numbers, of so many different ones at most, that add up to the total."""
    for one in combinations_with_replacement(range(1, total + 1), pieces):
        if sum(one) == total and len(set(one)) <= sizes:
            yield one


def rows(of: Front) -> Iterator[Layout]:
    """Up to six strips and panels as wide as the front, one below another: they fill it, or leave a band and the gap to it.
    One that fills it alone is no row."""
    for n in range(1, 7):
        for left in range(of.high) if of.band else range(1):
            if of.band and left < of.band + of.gap or not of.band and n == 1:
                continue
            for heights in lines(of.high - left - of.gap * (n - 1), n):
                yield tuple((of.wide, height, False) for height in heights)


def columns(of: Front) -> Iterator[Layout]:
    """Two to six side by side, of one height: the front's, or one that leaves the band and the gap to it."""
    for n in range(2, 7):
        for widths in lines(of.wide - of.gap * (n - 1), n):
            for height in heights_over_a_band(of):
                yield tuple((width, height, False) for width in widths)


def heights_over_a_band(of: Front) -> range:
    return range(1, of.high - of.gap - of.band + 1) if of.band else range(of.high, of.high + 1)


def grid(of: Front) -> Iterator[Layout]:
    """Two to six columns cross two to six rows; up to four of them are of two sizes. They fill the front, or leave the band."""
    for across, down in product(range(2, 7), repeat=2):
        for left in range(of.high) if of.band else range(1):
            if of.band and left < of.band + of.gap:
                continue
            for widths in lines(of.wide - of.gap * (across - 1), across, 2 if across <= 4 else 1):
                for heights in lines(of.high - left - of.gap * (down - 1), down, 2 if down <= 4 else 1):
                    yield tuple((width, height, False) for width, height in product(widths, heights))


def beside_a_panel(of: Front) -> Iterator[Layout]:
    """A panel as high as the front beside two to five rows of one width, or one to five over or under a band, where they are as wide as
    a panel; or a panel as wide as the front over two to five columns of one height, equal where there is a band too."""
    panel = of.steps(12)
    for width in range(panel, of.wide - of.gap):
        rest = of.wide - of.gap - width
        if of.band and rest < panel:
            continue
        for n in range(1 if of.band else 2, 6):
            for left in range(of.high) if of.band else range(1):
                if not of.band or left >= of.band + of.gap:
                    for heights in lines(of.high - left - of.gap * (n - 1), n):
                        yield ((width, of.high, False), *((rest, height, False) for height in heights))
    for height in range(panel, of.high - of.gap):
        for below in range(1, of.high - of.gap - height + 1):
            left = of.high - of.gap - height - below
            if left < of.band + of.gap if of.band else left:
                continue
            for n in range(2, 6):
                for widths in lines(of.wide - of.gap * (n - 1), n, 1 if of.band else 9):
                    yield ((of.wide, height, False), *((width, below, False) for width in widths))


def framed(of: Front) -> Iterator[Layout]:
    """A panel and four strips with butted ends around it, opposite ones alike; the level ones run from edge to edge, or the upright ones.
    Where there is a band, it stands in the panel's stead."""
    for beside, above in product(range(1, of.wide), range(1, of.high)):
        width, height = of.wide - 2 * beside - 2 * of.gap, of.high - 2 * above - 2 * of.gap
        if min(width, height) < of.steps(12) or height < of.band:
            continue
        middle: Layout = () if of.band else ((width, height, False),)
        yield (*middle, *[(of.wide, above, False)] * 2, *[(beside, height, False)] * 2)
        yield (*middle, *[(width, above, False)] * 2, *[(beside, of.high, False)] * 2)


def wound(of: Front) -> Iterator[Layout]:
    """Two level strips and two upright ones, each from one edge to the next strip, and a tile or more in their middle, or a band as
    wide as a panel."""
    for beside, above in product(range(1, of.wide), range(1, of.high)):
        width, height = of.wide - 2 * beside - 2 * of.gap, of.high - 2 * above - 2 * of.gap
        if min(width, height) < of.steps(12 if of.band else 8) or height < of.band:
            continue
        middle: Layout = () if of.band else ((width, height, False),)
        level, upright = (of.wide - beside - of.gap, above, False), (beside, of.high - above - of.gap, False)
        yield (*middle, level, level, upright, upright)


def across(of: Front) -> Iterator[Layout]:
    """One to four columns of two sizes at most that fill the front, and over them a strip as wide as it, of a third of its height at most."""
    if not of.band:
        for n in range(1, 5):
            for widths in lines(of.wide - of.gap * (n - 1), n, 2):
                for strip in range(1, of.high // 3 + 1):
                    yield (*((width, of.high, False) for width in widths), (of.wide, strip, False))


def bunting(of: Front) -> Iterator[Layout]:
    """Three to eight triangles, halves of squares, point down in a row that leaves an inch at most over both ends together; half an inch
    or the band is free below them, then come one to three strips as wide as the front. One way up, it would hang askew.

    The long side of a triangle is √2 legs, and it hangs down by half of that (Pythagoras).
    """
    if not of.turns:
        return
    for flags, leg in product(range(3, 9), range(of.steps(6), of.wide)):
        row = of.wide - of.gap * (flags - 1)
        # Twice the square of the legs is the square of the long side.
        if row < 0 or not max(0, row - of.inch) ** 2 <= 2 * (flags * leg) ** 2 <= row**2:
            continue
        drop = next(n for n in range(leg + 1) if 2 * n**2 >= leg**2)
        free = max(of.band, of.steps(4))
        for n in range(1, 4):
            for heights in fewer(of.high - drop - free - of.gap * (n + 1), n):
                yield (*[(leg, leg, True)] * flags, *((of.wide, height, False) for height in heights))


def fewer(most: int, pieces: int) -> Iterator[tuple[int, ...]]:
    for total in range(most + 1):
        yield from lines(total, pieces)


def doors(of: Front) -> Iterator[Layout]:
    """Up to six rows on a door, of which `of` is the field, or two to six columns, and the same on the other."""
    if not of.band:
        for n in range(1, 7):
            for heights in lines(of.high - of.gap * (n - 1), n):
                yield tuple((of.wide, height, False) for height in heights) * 2
            for widths in lines(of.wide - of.gap * (n - 1), n) if n > 1 else ():
                yield tuple((width, of.high, False) for width in widths) * 2


SORTS: dict[str, Callable[[Front], Iterator[Layout]]] = {
    "rows": rows,
    "columns": columns,
    "grid": grid,
    "rows beside a panel": beside_a_panel,
    "framed panel": framed,
    "wound strips": wound,
    "band across": across,
    "bunting": bunting,
    "gate doors": doors,
}
"""Every sort of layout by the name that it is asked for by."""


# --- what hands make gladly -----------------------------------------------------------------------------


def wanted(of: Front, sort: str) -> set[Pieces]:
    """The layouts of a sort that are proposed at all, as pieces of a card."""
    return {pieces_of(layout, of.turns) for layout in SORTS[sort](of) if len(layout) <= 16 and gladly(of, sort, layout)}


def gladly(of: Front, sort: str, layout: Layout) -> bool:
    """Each piece is one that hands make, sizes are alike or a quarter of an inch apart, there are few enough, and half is covered."""
    apart = of.steps(2)
    plain = {(w, h) for w, h, halved in layout if not halved}
    for w, h in plain:
        if not of.makes(w, h):
            return False
        for a, b in plain:
            for c, d in ((a, b), (b, a)):
                if (w, h) != (c, d) and abs(w - c) < apart and abs(h - d) < apart:
                    return False
    if len({kind(piece, of.turns) for piece in layout}) > of.kinds:
        return False
    seen = layout[:-1] if sort == "band across" else layout  # the strip lies over what it covers
    fields = 2 if sort == "gate doors" else 1
    covered = sum(Fraction(w * h, 2 if halved else 1) for w, h, halved in seen) / fields
    return 2 * covered >= of.ground - of.band * of.wide


def kind(piece: Piece, turns: bool) -> Piece:
    width, height, halved = piece
    return (max(width, height), min(width, height), halved) if turns and not halved else piece


def pieces_of(layout: Layout, turns: bool) -> Pieces:
    return tuple(sorted(Counter(kind(piece, turns) for piece in layout).items()))


# --- every way to cut -----------------------------------------------------------------------------------


def cutter(turns: bool) -> Callable[[int, tuple[tuple[int, int], ...], tuple[int, ...]], int]:
    """The least height of a sheet of some width that gives so many pieces of each size; more than any sheet has where none does.

    Two parts lie one over the other, or side by side, whatever the step at which they are parted and whatever pieces each gives.
    """
    none = 10**6

    @cache
    def least(width: int, sizes: tuple[tuple[int, int], ...], counts: tuple[int, ...]) -> int:
        if not any(counts):
            return 0
        found = none
        if sum(counts) == 1:
            w, h = sizes[counts.index(1)]
            found = min((b for a, b in ({(w, h), (h, w)} if turns else {(w, h)}) if a <= width), default=none)
        for one in product(*(range(n + 1) for n in counts)):
            other = tuple(n - m for n, m in zip(counts, one))
            if any(one) and any(other):
                found = min(found, least(width, sizes, one) + least(width, sizes, other))
                for at in range(1, width // 2 + 1):
                    found = min(found, max(least(at, sizes, one), least(width - at, sizes, other)))
        return min(found, none)

    return least
