"""What a batch takes besides patience: sheets, adhesive, foam, envelopes; what is left; what it costs.

Adhesive and foam follow one plain rule each, which is said beside the figure. Everything
is exact until it is said; then it is rounded up, since nobody buys less than she needs.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from kitwright.card.face import Placed
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import Layout, PaperPlan
from kitwright.cutting.stock import for_cards
from kitwright.kit.names import BASE
from kitwright.telling.words import label_text, listed, sheets_text
from kitwright.units import MM, ZERO, Length, Size, rounded, size_text
from kitwright.work.batches import guided_sheets
from kitwright.work.worked import Worked

NARROW = Length(Fraction(3, 2))
"""Under this much the short way, a piece is held by a run along its middle."""
SMALL = Length(Fraction(5, 8))
"""A raised piece lower than this takes one strip of foam."""
FOAM_STRIP = Length(Fraction(1, 4))
"""How wide the strips of foam are cut."""
ADHESIVE_RULE = "a run along each edge; along the middle only where a piece is under 1½ in (38 mm) the short way"
FOAM_RULE = (
    "strips ¼ in (6 mm) wide along both long edges of a raised piece; one along the middle where it is under ⅝ in (16 mm) the short way"
)


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
    """Money by what it is for; only what has a price."""
    unpriced: tuple[str, ...]
    """What has no price, in words; empty when no prices are given at all."""
    currency: str | None
    lines: tuple[tuple[str, str], ...]
    """The list in words: what, and how much."""
    cost_lines: tuple[tuple[str, str], ...]
    """The cost in words; empty without prices."""

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
    share = Fraction(cards, worked.kit.spec.cards)
    sheets = tuple(_sheets(worked, plan, cards) for plan in worked.plans)
    adhesive, foam = _glued(worked)
    adhesive, foam = adhesive * share, foam * share
    envelopes = cards if worked.kit.spec.card.envelope else 0
    costs, unpriced = _costs(worked, sheets, adhesive, foam, envelopes)
    prices = worked.kit.club.prices
    found = Supplies(cards, sheets, adhesive, foam, envelopes, costs, unpriced, prices.currency if prices else None, (), ())
    return replace(found, lines=tuple(_lines(worked, found)), cost_lines=tuple(_cost_lines(found)))


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
    found = {}
    for label in plan.demand.needs:
        size = plan.demand.sizes[label]
        ways = [size] if label in plan.demand.lies else [size, size.turned]
        if plan.demand.lies.get(label):
            ways = [size.turned]
        n = sum(max((rest.width // way.width) * (rest.height // way.height) for way in ways) * many for rest, many in rests.items())
        if n:
            found[label] = n
    return found


# --- adhesive and foam ------------------------------------------------------------------------


def _glued(worked: Worked) -> tuple[Length, Fraction]:
    """Adhesive and foam for the kit's own batch."""
    length, area = ZERO, Fraction(0)
    for face in worked.faces:
        for placed in face.stack[1:]:
            if placed.raised:
                area += foam_for(placed) * face.cards
            else:
                length += adhesive_for(placed.rect.size) * face.cards
    inside = worked.enclosed.inside
    if inside and inside.raised:
        area += foam_for(inside) * worked.kit.spec.cards
    elif inside:
        length += adhesive_for(inside.rect.size) * worked.kit.spec.cards
    return length, area


def adhesive_for(size: Size) -> Length:
    """The run that holds one flat piece, by `ADHESIVE_RULE`."""
    short, long = sorted((size.width, size.height))
    return long if short < NARROW else (short + long) * 2


def foam_for(placed: Placed) -> Fraction:
    """Square inches of foam that raise one piece, by `FOAM_RULE`."""
    short, long = sorted((placed.rect.width, placed.rect.height))
    return long.inches * FOAM_STRIP.inches * (1 if short < SMALL else 2)


# --- what it costs ----------------------------------------------------------------------------


def _sheet_cost(worked: Worked, paper: str, sheets: Fraction) -> Fraction | None:
    prices = worked.kit.club.prices
    if prices is None:
        return None
    each = prices.papers.get(paper, getattr(prices, worked.kit.papers[paper].kind))
    return None if each is None else each * sheets


def _costs(
    worked: Worked, sheets: tuple[Sheets, ...], adhesive: Length, foam: Fraction, envelopes: int
) -> tuple[dict[str, Fraction], tuple[str, ...]]:
    prices = worked.kit.club.prices
    if prices is None:
        return {}, ()
    asked = [(worked.kit.papers[s.paper].name, s.cost) for s in sheets]
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


# --- in words -----------------------------------------------------------------------------------


def _lines(worked: Worked, found: Supplies) -> Iterator[tuple[str, str]]:
    unit = worked.kit.spec.unit
    for each in found.sheets:
        paper = worked.kit.papers[each.paper]
        yield paper.name, f"{sheets_text(each.sheets)}, {paper.size.name or size_text(paper.size.size, unit)}"
    if found.envelopes:
        envelope = worked.kit.spec.card.envelope
        yield "Envelopes", f"{found.envelopes}, {envelope.name or size_text(envelope.size, unit)}"
    if found.adhesive:
        yield "Adhesive", f"{run_text(found.adhesive, unit)}: {ADHESIVE_RULE}"
    if found.foam:
        yield "Foam", f"{area_text(found.foam, unit)}: {FOAM_RULE}"
    kept: dict[str, list[str]] = {}
    for each in found.sheets:
        if each.saves:
            kept.setdefault(_kept_text(worked, each, found.cards), []).append(worked.kit.papers[each.paper].name)
    if kept:
        told = [f"what is left of {'each of ' if len(papers) > 1 else ''}{listed(papers)} makes {what}" for what, papers in kept.items()]
        yield "Leftovers", f"Keep them for your next batch: {'; '.join(told)}"


def _kept_text(worked: Worked, each: Sheets, cards: int) -> str:
    """What the leftovers of a paper are as good as, against what another batch takes."""
    needs = for_cards(worked.plan(each.paper).demand, cards, worked.kit.spec.cards).needs
    labels = [
        f"{'' if n >= needs[label] else f'{n} of '}the next {f'{needs[label]} ' if needs[label] > 1 else ''}{_many(label, needs[label])}"
        for label, n in each.saves.items()
    ]
    return listed(labels, "or")


def _many(label: str, n: int) -> str:
    return label_text("base" if label == BASE else label, n)


def _cost_lines(found: Supplies) -> Iterator[tuple[str, str]]:
    if found.total is None:
        return
    yield "Cost of the batch", money(found.total, found.currency)
    yield "Cost of a card", money(found.a_card, found.currency)
    if found.unpriced:
        yield "Not counted", listed(list(found.unpriced))


def run_text(run: Length, unit: str) -> str:
    """A length of adhesive, rounded up to the half metre or the foot, the kit's own unit first."""
    metres = Fraction(ceil(run.inches / (1000 * MM) * 2), 2)
    feet = f"{ceil(run.inches / 12)} ft"
    said = f"{float(metres):g} m"
    return f"{said} ({feet})" if unit == "mm" else f"{feet} ({said})"


def area_text(area: Fraction, unit: str) -> str:
    """An area of foam, rounded up to whole square inches or square centimetres, the kit's own unit first."""
    inches, centimetres = f"{ceil(area)} in²", f"{ceil(area / (10 * MM) ** 2)} cm²"
    return f"{centimetres} ({inches})" if unit == "mm" else f"{inches} ({centimetres})"


def money(amount: Fraction, currency: str) -> str:
    """An amount to the hundredth: `$4.20`, `4.20 EUR`."""
    cents = int(rounded(amount, Fraction(1, 100)) * 100)
    text = f"{cents // 100}.{cents % 100:02d}"
    return f"{text} {currency}" if currency.isalpha() else f"{currency}{text}"
