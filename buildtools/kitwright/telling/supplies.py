"""The shopping list and the cost of a batch, in words; rounded up as it is said, since nobody buys less than she needs."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from kitwright.cutting.stock import for_cards
from kitwright.telling import holding
from kitwright.telling.line import Line
from kitwright.telling.materials import HANDLING, kind_text
from kitwright.telling.words import label_text, led, listed, sheets_text
from kitwright.units import MM, Length, rounded, size_text
from kitwright.work.supplies import Sheets, Supplies, envelopes_of
from kitwright.work.worked import Worked

ADHESIVE_RULE = "a run along each edge; along the middle only where a piece is under {} the short way"
FOAM_RULE = "strips {} wide along both long edges of a raised piece; one along the middle where it is under {} the short way"


def supply_lines(worked: Worked, found: Supplies) -> tuple[Line, ...]:
    """The list: what, and how much."""
    return tuple(_lines(worked, found))


def _lines(worked: Worked, found: Supplies) -> Iterator[Line]:
    unit = worked.unit
    for each in found.sheets:
        paper = worked.kit.papers[each.paper]
        yield Line("paper", paper.name, f"{sheets_text(each.sheets)}, {paper.size.name or size_text(paper.size.size, unit)}")
    envelopes = [f"{n}, {envelope.name or size_text(envelope.size, unit)}" for envelope, n in envelopes_of(worked, found.cards)]
    if envelopes:
        yield Line("envelopes", "Envelopes", "; ".join(envelopes))
    if found.adhesive:
        yield Line(
            "adhesive",
            "Adhesive",
            run_text(found.adhesive, unit),
            _rule(ADHESIVE_RULE.format(_both("1½", "38", unit)), holding.adhesive_rule(worked)),
        )
    if found.foam:
        yield Line(
            "foam",
            "Foam",
            area_text(found.foam, unit),
            _rule(FOAM_RULE.format(_both("¼", "6", unit), _both("⅝", "16", unit)), holding.foam_rule(worked)),
        )
    if shaken := holding.to_shake(worked, found.cards):
        yield Line("shaken", "To shake", led(listed(shaken)), "loose, and thinner than the foam")
    for kind in dict.fromkeys(worked.kit.papers[each.paper].kind for each in found.sheets):
        if needs := HANDLING[kind].needs:
            yield Line(f"for {kind}", f"For {kind_text(kind)}", led(needs))
    kept: dict[str, list[str]] = {}
    for each in found.sheets:
        if each.saves:
            kept.setdefault(_kept_text(worked, each, found.cards), []).append(worked.kit.papers[each.paper].name)
    if kept:
        told = [f"what is left of {'each of ' if len(papers) > 1 else ''}{listed(papers)} makes {what}" for what, papers in kept.items()]
        yield Line("leftovers", "Leftovers", "Keep them for your next batch", "; ".join(told))


def _both(inches: str, millimetres: str, unit: str) -> str:
    """A measure of a rule of thumb, the maker's own unit first."""
    return f"{millimetres} mm ({inches} in)" if unit == "mm" else f"{inches} in ({millimetres} mm)"


def _rule(usual: str, more: str) -> str:
    return f"{usual}; {more}" if more else usual


def _kept_text(worked: Worked, each: Sheets, cards: int) -> str:
    """What the leftovers of a paper are as good as, against what another batch takes."""
    needs = for_cards(worked.cut(each.paper).demand, cards, worked.kit.spec.cards).needs
    labels = [
        f"{'' if n >= needs[label] else f'{n} of '}the next {f'{needs[label]} ' if needs[label] > 1 else ''}{_many(label, needs[label])}"
        for label, n in each.saves.items()
    ]
    return listed(labels, "or")


def _many(label: str, n: int) -> str:
    return label_text(label, n)


def cost_lines(worked: Worked, found: Supplies) -> tuple[Line, ...]:
    """What the batch costs; empty without prices."""
    if found.total is None or found.a_card is None or found.currency is None:
        return ()
    lines = [
        Line("batch", "Cost of the batch", money(found.total, found.currency)),
        Line("card", "Cost of a card", money(found.a_card, found.currency)),
    ]
    if found.unpriced:
        names = {f"paper {key}": paper.name for key, paper in worked.kit.papers.items()}
        lines.append(Line("not counted", "Not counted", listed([names.get(what, what) for what in found.unpriced])))
    return tuple(lines)


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
