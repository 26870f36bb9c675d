"""What is left of a sheet, and what it is good for."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kitwright.cutting.plan import Layout, PaperPlan
from kitwright.labels import is_base
from kitwright.units import Length, Size
from kitwright.work.batches import halves_of
from kitwright.work.worked import Worked


@dataclass(frozen=True, slots=True)
class More:
    """Further pieces of this kit, in plain rows and columns."""

    pieces: tuple[tuple[int, tuple[str, ...]], ...]
    """How many, of any one of these labels."""
    half: bool
    """Whether it is half a sheet, still whole."""


@dataclass(frozen=True, slots=True)
class Inside:
    """Something for the inside of cards."""

    what: Literal["panel", "trim", "patch"]
    size: Size
    """Of each."""
    cards: int


@dataclass(frozen=True, slots=True)
class Use:
    """What a leftover is good for."""

    layout: Layout
    size: Size
    """The largest single leftover of the layout."""
    good_for: More | Inside | Literal["tests", "nothing"]
    """`tests`: test prints; `nothing`: it is too narrow to keep."""

    @property
    def pieces(self) -> tuple[str, ...]:
        """Labels of this kit that come out of it."""
        return tuple(label for _, labels in self.good_for.pieces for label in labels) if isinstance(self.good_for, More) else ()


def uses(worked: Worked) -> list[Use]:
    """The largest leftover of each layout and what it could become."""
    return [
        Use(layout, size, _more(worked, layout, size) or _besides(worked, size))
        for layout in worked.layouts
        if layout.leftovers
        for size in [layout.leftovers[0].size]
    ]


def _more(worked: Worked, layout: Layout, size: Size) -> More | None:
    """What plain rows and columns of it give of each label, on every paper of the layout that the label takes."""
    counts: dict[int, list[str]] = {}
    for label in worked.sizes:
        plans = [plan for plan in worked.plans if plan.paper in layout.papers and label in plan.demand.needs]
        n = min((_rows(plan, label, size) for plan in plans), default=0) if not is_base(label) else 0
        if n:
            counts.setdefault(n, []).append(label)
    return More(tuple((n, tuple(labels)) for n, labels in counts.items()), size in halves_of(layout.sheet)) if counts else None


def _rows(plan: PaperPlan, label: str, size: Size) -> int:
    """Pieces that lie in plain rows on a leftover, the better way round that the paper allows."""
    piece, lies = plan.demand.sizes[label], plan.demand.lies.get(label)
    ways = [way for way, turned in ((piece, False), (piece.turned, True)) if lies in (None, turned)]
    return max((size.width // way.width) * (size.height // way.height) for way in ways) * plan.demand.from_each(label)


def _besides(worked: Worked, size: Size) -> Inside | Literal["tests", "nothing"]:
    """What it is good for that the kit does not ask for."""
    card, inset = worked.base.back, _inset(worked.kit.spec.unit)
    room = Size(card.width - inset, card.height - inset)
    if room.fits(size) or room.turned.fits(size):
        return Inside("panel", room, 1)
    long, wide = max(size.width, size.height), min(size.width, size.height)
    if wide < _TRIM:
        return "nothing"
    if long >= room.width:
        each = Size(min(long, room.width), min(wide, room.height))
        return Inside("panel" if wide >= _PANEL else "trim", each, long // room.width)
    return Inside("patch", size, 1) if wide >= _PANEL else "tests"


def _inset(unit: str) -> Length:
    """How much smaller than the card a panel inside is, each way."""
    return Length.mm(12) if unit == "mm" else Length(Fraction(1, 2))


_TRIM = Length(Fraction(1, 4))
"""The narrowest strip worth keeping as trim."""
_PANEL = Length(Fraction(3, 2))
"""From here on a strip is a panel."""
