"""What a batch takes besides patience: sheets, adhesive, foam, envelopes; what is left; what it costs.

Adhesive and foam follow one plain rule each (see `adhesive_for` and `foam_for`). Everything is exact.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from kitwright.card.face import Placed
from kitwright.card.fixing import hidden_edges_of
from kitwright.card.liner import liners_of
from kitwright.card.outlines import around
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import Demand, Layout, PaperPlan
from kitwright.cutting.stock import for_cards
from kitwright.papers import NamedSize
from kitwright.units import ZERO, Length, Size, total
from kitwright.work.batches import guided_sheets
from kitwright.work.worked import Worked

NARROW = Length(Fraction(3, 2))
"""Under this much the short way, a piece is held by a run along its middle."""
SMALL = Length(Fraction(5, 8))
"""A raised piece lower than this takes one strip of foam."""
FOAM_STRIP = Length(Fraction(1, 4))
"""How wide the strips of foam are cut."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """What one paper takes."""

    paper: str
    """Its key."""
    sheets: Fraction
    """Whole and half sheets."""
    leftover: Size | None
    """The largest single leftover of its sheets, if any."""
    saves: Mapping[str, int]
    """Pieces of this kit that come out of its leftovers: by label, how many if all were cut into that one."""
    cost: Fraction | None
    """Money, as far as prices are given."""


@dataclass(frozen=True)
class Supplies:
    """The shopping list of a batch."""

    cards: int
    sheets: tuple[Sheets, ...]
    adhesive: Length
    """For the whole batch."""
    foam: Fraction
    """Square inches for the whole batch."""
    envelopes: int
    costs: Mapping[str, Fraction]
    """Money by what it is for (`paper` and its key, `adhesive`, `foam`, `envelopes`); only what has a price."""
    unpriced: tuple[str, ...]
    """What has no price, named alike; empty when no prices are given at all."""
    currency: str | None

    @property
    def total(self) -> Fraction | None:
        """Of what has a price; None without prices."""
        return sum(self.costs.values(), Fraction(0)) if self.costs else None

    @property
    def a_card(self) -> Fraction | None:
        """Of the same, for one card."""
        return self.total / self.cards if self.total is not None else None


def supplies(worked: Worked, cards: int | None = None) -> Supplies:
    """The shopping list of a batch.

    Args:
        worked: the kit.
        cards: how many cards; the kit's own batch when left out.

    Raises:
        ValueError: fewer cards than one.
    """
    cards = worked.kit.spec.cards if cards is None else cards
    if cards < 1:
        raise ValueError(f"a batch has a card at least, not {cards}")
    return worked.once(("supplies", cards), lambda: _supplies(worked, cards))


def _supplies(worked: Worked, cards: int) -> Supplies:
    sheets = tuple(_sheets(worked, plan, cards) for plan in worked.plans)
    found = besides_sheets(worked, cards)
    costs, unpriced = _costs(worked, sheets, found.adhesive, found.foam, found.envelopes)
    prices = worked.kit.club.prices
    return replace(found, sheets=sheets, costs=costs, unpriced=unpriced, currency=prices.currency if prices else None)


def besides_sheets(worked: Worked, cards: int) -> Supplies:
    """The same without any paper, which is dear to ask for many batches: adhesive, foam and envelopes."""
    share = Fraction(cards, worked.kit.spec.cards)
    adhesive, foam = worked.once("glued", lambda: _glued(worked))
    envelopes = sum(n for _, n in envelopes_of(worked, cards))
    return Supplies(cards, (), adhesive * share, foam * share, envelopes, {}, (), None)


def envelopes_of(worked: Worked, cards: int) -> list[tuple[NamedSize, int]]:
    """Envelopes that a batch takes, each kind once with how many; empty for a kit that names none."""
    found: dict[NamedSize, int] = {}
    for design in worked.designs:
        if envelope := design.kit.spec.card.envelope:
            found[envelope] = found.get(envelope, 0) + ceil(Fraction(cards * design.kit.spec.cards, worked.kit.spec.cards))
    return list(found.items())


# --- sheets and what is left of them ---------------------------------------------------------


def _sheets(worked: Worked, plan: PaperPlan, cards: int) -> Sheets:
    rests: Counter[Size] = Counter()
    runs = _runs(worked, plan, cards)
    for layout, sheets in runs:
        for rect in layout.leftovers:
            rests[rect.size] += max(int(sheets), 1)
    whole = sum((sheets for _, sheets in runs), Fraction(0))
    return Sheets(
        plan.paper,
        whole,
        max(rests, key=lambda s: s.area, default=None),
        _saves(worked, plan, rests),
        _sheet_cost(worked, plan.paper, whole),
    )


def _runs(worked: Worked, plan: PaperPlan, cards: int) -> list[tuple[Layout, Fraction]]:
    """How the sheets of one paper are cut for so many cards, as `batches.guided_sheets` counts them."""
    if cards == worked.kit.spec.cards:
        return [(run.layout, run.sheets) for run in plan.runs]
    if len(plan.runs) == 1 and plan.runs[0].layout.source == "author":
        return [(plan.runs[0].layout, guided_sheets(worked, plan, cards))]
    return [(run.layout, run.sheets) for run in plan_paper(for_cards(plan.demand, cards, worked.kit.spec.cards), plan.paper).runs]


def _saves(worked: Worked, plan: PaperPlan, rests: Mapping[Size, int]) -> dict[str, int]:
    """For each label of a paper, how many more come out of the leftovers, cut in plain rows and columns."""
    return {label: n for label in plan.demand.needs if (n := from_leftovers(plan.demand, label, rests))}


def from_leftovers(demand: Demand, label: str, rests: Mapping[Size, int]) -> int:
    """How many of a label come out of so many leftovers of each size, cut in plain rows and columns."""
    size = demand.sizes[label]
    ways = [size] if label in demand.lies else [size, size.turned]
    if demand.lies.get(label):
        ways = [size.turned]
    n = sum(max((rest.width // way.width) * (rest.height // way.height) for way in ways) * many for rest, many in rests.items())
    return n * demand.from_each(label)


# --- adhesive and foam ------------------------------------------------------------------------


def _glued(worked: Worked) -> tuple[Length, Fraction]:
    """Adhesive and foam for the kit's own batch, of all its designs."""
    each = [_held(design) for design in worked.designs]
    length, area = total(length for length, _ in each), sum((area for _, area in each), Fraction(0))
    for label, lined in liners_of(worked.kit).items():
        length += adhesive_for(Size(lined.size.width, lined.covers)) * sum(worked.counts(label).values())
    return length, area


def _held(worked: Worked) -> tuple[Length, Fraction]:
    """What holds the pieces of one design, on all its cards."""
    length, area = ZERO, Fraction(0)
    faces = [side for face in worked.faces for side in face.every]
    held = [(placed, face.stack, face.cards) for face in faces for placed in face.stack[1:]]
    inside = worked.enclosed.inside
    if inside and all(placed.said != inside.said for placed, _, _ in held):
        held.append((inside, (inside,), worked.kit.spec.cards))
    for placed, stack, cards in held:
        length += adhesive_of(placed, stack, worked.kit.spec.unit) * cards
        area += foam_of(placed) * cards
    for band in worked.enclosed.bands:
        # One run across its end: it is fixed to itself alone.
        length += band.height * (sum(worked.kit.spec.pieces[band.label].share.values(), Fraction(0)) * worked.kit.spec.cards)
    return length, area


def adhesive_of(placed: Placed, stack: Sequence[Placed], unit: str = "in") -> Length:
    """The run of adhesive that holds one piece among those it lies with."""
    hold = placed.hold
    if hold is None:
        # Round a slanted piece it is less far than round the rectangle that it is cut from.
        return ZERO if placed.raised else min(adhesive_for(placed.rect.size), around(placed.ring))
    if hold.way == "hidden edge":
        # Where nothing hides an edge, which the checks tell, any run is at most its longer side.
        edge = next(iter(hidden_edges_of(placed, stack, unit)), None)
        upright = placed.rect.width < placed.rect.height if edge is None else edge in ("left", "right")
        return placed.rect.height if upright else placed.rect.width
    if hold.way == "film":
        return (placed.rect.width + placed.rect.height) * 2
    if hold.way == "one panel":
        return ZERO if placed.raised else adhesive_for(_fixed(placed))
    return hold.pocket.run if hold.pocket else ZERO


def foam_of(placed: Placed) -> Fraction:
    """Square inches of foam under one piece."""
    if placed.hold and placed.hold.way == "shaker" and placed.hold.shaker:
        return placed.hold.shaker.foam_area
    return foam_for(placed) if placed.raised else Fraction(0)


def _fixed(placed: Placed) -> Size:
    """What of a piece is glued, or stands on foam: all of it, or what lies on one of several panels."""
    return placed.hold.glued.size if placed.hold and placed.hold.glued else placed.rect.size


def adhesive_for(size: Size) -> Length:
    """The run that holds one flat piece, along each edge; along the middle only of a narrow one."""
    short, long = sorted((size.width, size.height))
    return long if short < NARROW else (short + long) * 2


def foam_for(placed: Placed) -> Fraction:
    """Square inches of foam that raise one piece, strips along both long edges; one along the middle of a small one."""
    fixed = _fixed(placed)
    short, long = sorted((fixed.width, fixed.height))
    return long.inches * FOAM_STRIP.inches * (1 if short < SMALL else 2)


# --- what it costs ----------------------------------------------------------------------------


def _sheet_cost(worked: Worked, paper: str, sheets: Fraction) -> Fraction | None:
    prices = worked.kit.club.prices
    if prices is None:
        return None
    each = prices.sheet(paper, worked.kit.papers[paper].kind)
    return None if each is None else each * sheets


def _costs(
    worked: Worked, sheets: tuple[Sheets, ...], adhesive: Length, foam: Fraction, envelopes: int
) -> tuple[dict[str, Fraction], tuple[str, ...]]:
    prices = worked.kit.club.prices
    if prices is None:
        return {}, ()
    asked: list[tuple[str, Fraction | None]] = [(f"paper {s.paper}", s.cost) for s in sheets]
    if adhesive:
        asked.append(("adhesive", prices.adhesive.cost(adhesive.inches) if prices.adhesive else None))
    if foam:
        asked.append(("foam", prices.foam.cost(foam) if prices.foam else None))
    if envelopes:
        asked.append(("envelopes", prices.envelope * envelopes if prices.envelope is not None else None))
    costs: dict[str, Fraction] = {}
    for what, cost in asked:
        if cost is not None:
            costs[what] = costs.get(what, Fraction(0)) + cost
    return costs, tuple(what for what, cost in asked if cost is None)
