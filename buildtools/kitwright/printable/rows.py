"""Which guides share a row, and how large each row is drawn: all groupings are tried.

Guides are known by their number here, scales are whole per cent. A row has one scale. A guide
has a least scale, under which not everything on it can be read; how far a scale is above the
least of its guide is the guide's ease, in per cent: 100 at its least. Kept is the grouping whose
worst guide has the most ease. What is asked of a row only grows with its scale, so that the
most ease for which there is room is found by halving.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations

MOST_IN_ROW = 3
"""Guides in one row."""
MOST_TRIED = 8
"""Up to so many guides every grouping is tried, 2,780 of them for eight; of more, only those that keep their order."""
CALM = ((True, 2), (True, MOST_IN_ROW), (False, 2), (False, MOST_IN_ROW))
"""Groupings from calm to busy: whether guides keep their order, as who reads page 1 looks for them, and how many share a row at most."""
NEARLY = 95
"""A calmer grouping is taken where its worst guide has this share of the most ease, per cent."""
EASIEST = 400
"""As much ease as is ever asked for."""
LARGEST = 60
"""No guide is drawn larger, per cent, if it can be read so: larger tells no more."""


@dataclass(frozen=True, slots=True)
class GuideRow:
    """Guides side by side."""

    guides: tuple[int, ...]
    percent: int
    """The scale of all."""


@dataclass(frozen=True)
class Guides:
    """What is asked about the guides of one page."""

    least: Sequence[int]
    """The least scale of each."""
    widest: Callable[[tuple[int, ...]], int]
    """The largest scale at which these have room side by side; 0 where they never have."""
    height: Callable[[GuideRow], float]
    """What a row takes, points."""
    between: float
    """Clear space between two rows, points."""

    def least_of(self, guides: Sequence[int]) -> int:
        """The least scale of a row: that of the guide which needs most."""
        return max(self.least[i] for i in guides)

    def ease(self, row: GuideRow) -> int:
        """That of its worst guide."""
        return 100 * row.percent // self.least_of(row.guides)

    def at_ease(self, group: tuple[int, ...], ease: int) -> GuideRow | None:
        """The row with every guide at this ease, or as large as is ever drawn; None where it is too wide so."""
        least = self.least_of(group)
        percent = min(-(-least * ease // 100), max(LARGEST, least))
        return GuideRow(group, percent) if percent <= self.widest(group) else None

    def taken(self, rows: Sequence[GuideRow]) -> float:
        """What rows take one under another, points."""
        return sum(self.height(row) for row in rows) + self.between * (len(rows) - 1)


def arranged(guides: Guides, room: float, ease: int = 100) -> list[GuideRow] | None:
    """The best rows in this room, drawn as large as it allows.

    Args:
        guides: what is known of them.
        room: height for all rows, points.
        ease: the least that every guide must have.

    Returns:
        None where there is no room at that ease.
    """
    found = [
        best
        for in_order, most in CALM
        if (in_order or len(guides.least) <= MOST_TRIED) and (best := _best(guides, room, ease, in_order, most)) is not None
    ]
    if not found:
        return None
    wanted = NEARLY * max(each for each, _ in found)
    return grown(guides, next(rows for each, rows in found if 100 * each >= wanted), room)


def _best(guides: Guides, room: float, ease: int, in_order: bool, most: int) -> tuple[int, list[GuideRow]] | None:
    """The most ease for which there is room, and the lowest rows at that ease."""
    low, rows = ease, _lowest(guides, ease, room, in_order, most)
    if rows is None:
        return None
    high = EASIEST + 1
    while high - low > 1:
        middle = (low + high) // 2
        found = _lowest(guides, middle, room, in_order, most)
        if found is None:
            high = middle
        else:
            low, rows = middle, found
    return low, rows


def _lowest(guides: Guides, ease: int, room: float, in_order: bool, most: int) -> list[GuideRow] | None:
    """The grouping that takes least height with every guide at this ease; None where that is too much."""

    @cache
    def lowest(left: tuple[int, ...]) -> tuple[float, tuple[GuideRow, ...]] | None:
        if not left:
            return 0.0, ()
        best = None
        for group in _groups(left, in_order, most):
            row = guides.at_ease(group, ease)
            if row is None:
                continue
            rest = lowest(tuple(i for i in left if i not in group))
            if rest is None:
                continue
            height = guides.height(row) + (guides.between if rest[1] else 0) + rest[0]
            if height <= room and (best is None or height < best[0]):
                best = height, (row, *rest[1])
        return best

    found = lowest(tuple(range(len(guides.least))))
    return [*found[1]] if found else None


def _groups(left: tuple[int, ...], in_order: bool, most: int) -> Iterator[tuple[int, ...]]:
    """Rows that the first of these may stand in."""
    first, rest = left[0], left[1:]
    for more in range(min(most, len(left))):
        for others in [rest[:more]] if in_order else combinations(rest, more):
            yield first, *others


def grown(guides: Guides, rows: Sequence[GuideRow], room: float) -> list[GuideRow]:
    """The same rows, larger by a per cent as long as there is room: the one with the least ease first."""
    found, open_ = list(rows), {*range(len(rows))}
    while open_:
        i = min(open_, key=lambda i: (guides.ease(found[i]), i))
        larger = replace(found[i], percent=found[i].percent + 1)
        wide = min(guides.widest(larger.guides), LARGEST)
        if larger.percent <= wide and guides.taken([*found[:i], larger, *found[i + 1 :]]) <= room:
            found[i] = larger
        else:
            open_.remove(i)
    return found
