"""Every number that is not ours, in words, with where it comes from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from kitwright.card import band, pocket, shaker
from kitwright.card import post as letter
from kitwright.card.liner import USUAL_GUM, USUAL_LESS
from kitwright.card.notches import USUAL_MARGIN
from kitwright.card.post import LETTERS, OUNCE, Letters
from kitwright.check import base, borders, envelope, folds, sheets
from kitwright.folding.kinds.kind import STEP, Asked
from kitwright.materials import BULK, MATERIALS, Material, Range
from kitwright.papers import BASIS, ENVELOPES, ISO_216, ISO_269, POUND, REAM, SHEETS, SOURCES, NamedSize
from kitwright.proposing.beforehand import SHEETS as SHEETS_GIVEN
from kitwright.proposing.makeable import LEAST, LEAST_BAND
from kitwright.proposing.usual import CARDS
from kitwright.sources import NOTED, PRACTICE, Known, Source
from kitwright.telling import post
from kitwright.telling.materials import kind_text
from kitwright.telling.proposed_kit import WEIGHTS
from kitwright.telling.steps import HEAVY
from kitwright.telling.words import led, listed
from kitwright.units import MM, Length, Size, both_text, figure, length_text, rounded, size_both, size_text

Group = tuple[str, Sequence[Known]]


def all_known() -> tuple[Group, ...]:
    """Every number from outside that a kit is worked out with, group by group."""
    return (
        ("Sheets", (*map(_named, SHEETS), *map(_sold, MATERIALS.values()))),
        ("Envelopes", (*map(_named, ENVELOPES), Known("Least room in an envelope", both_text(envelope.LEAST_ROOM), PRACTICE))),
        ("Weights", (*_weights(), Known("Heavy stock, scored on the outside of its fold", f"from {HEAVY} g/m²", PRACTICE))),
        ("Thickness and weight where a kit does not say", _guesses()),
        ("What a kit is checked against", _held_against()),
        ("Layouts that are proposed", _proposed()),
        ("The post", tuple(each for letters in LETTERS for each in known_limits(letters))),
    )


def _sold(material: Material) -> Known:
    """What a material is sold as."""
    return Known(led(kind_text(material.kind)), listed([name for name, _ in material.sold]), PRACTICE)


def _named(named: NamedSize) -> Known:
    return Known(named.name, size_both(named.size, "mm" if named.source in (ISO_216, ISO_269) else "in"), SOURCES[named.source])


def _weights() -> tuple[Known, ...]:
    """What pounds of paper mean."""
    basis = tuple(
        Known(
            f"Basis sheet of {kind}", f"{REAM} sheets of {figure(Length(width))} × {figure(Length(height))} in weigh the pounds", PRACTICE
        )
        for kind, (width, height) in BASIS.items()
    )
    return (*basis, Known("A pound", f"{float(POUND)} g, exactly", Source("international yard and pound agreement of 1959", NOTED)))


def _guesses() -> tuple[Known, ...]:
    """What is taken for a figure that a kit does not give."""

    def span(known: Range, unit: str) -> str:
        return f"{float(known.low):g} to {float(known.high):g} {unit}"

    return (
        Known("Bulk of paper and card", span(BULK, "cm³ to the gram"), PRACTICE),
        *(
            Known(f"Bulk of {kind_text(each.kind)}", span(each.bulk, "cm³ to the gram"), PRACTICE)
            for each in MATERIALS.values()
            if each.bulk != BULK
        ),
        *(Known(f"Weight of {kind_text(each.kind)}", span(each.weighs, "g/m²"), PRACTICE) for each in MATERIALS.values() if each.weighs),
        Known("Weight of an envelope’s paper", span(letter.ENVELOPE, "g/m²"), PRACTICE),
        *(Known(f"Thickness of {kind_text(each.kind)}", span(each.thick, "mm"), PRACTICE) for each in MATERIALS.values() if each.thick),
        Known("Thickness of foam that raises a layer", span(letter.FOAM, "mm"), PRACTICE),
        Known("Paper in an envelope", f"{float(letter.ENVELOPE_PAPER):g} times its front", PRACTICE),
    )


def _held_against() -> tuple[Known, ...]:
    """What a kit is checked against."""
    thick = base.LEAST_THICK
    millimetres = rounded(thick.millimetres, Fraction(1, 100))
    return (
        Known(
            "Lightest paper for a card base",
            f"{base.LEAST_WEIGHT} g/m², or {float(thick.inches):g} in ({float(millimetres):g} mm) thick",
            PRACTICE,
        ),
        Known("Room from which an envelope is another card’s", both_text(base.LOOSE), PRACTICE),
        Known("Narrowest place that is left free on purpose", both_text(borders.FREE), PRACTICE),
        Known("Paper that a punch or a die needs beyond a piece", _either(USUAL_MARGIN), PRACTICE),
        *_fixed(),
        *_folded(),
        Known("How much narrower a liner is than its envelope", _either(USUAL_LESS), PRACTICE),
        Known("Gummed edge of an envelope’s flap", _either(USUAL_GUM), PRACTICE),
        Known("What some pads sold as 12 in measure", f"{float(sheets.SOLD_AS_A_FOOT.millimetres / 10):g} cm", PRACTICE),
    )


def _proposed() -> tuple[Known, ...]:
    """What layouts are looked for by where a maker says nothing."""
    strip = {unit: Size(least.narrow, least.long) for unit, least in LEAST.items()}
    least: tuple[tuple[str, Mapping[str, Length]], ...] = (
        ("Smallest tile", {str(unit): least.tile for unit, least in LEAST.items()}),
        ("Narrowest panel", {str(unit): least.panel for unit, least in LEAST.items()}),
        ("How far two sizes of one layout keep apart", {str(unit): least.apart for unit, least in LEAST.items()}),
        ("Lowest band for a greeting", {str(unit): band for unit, band in LEAST_BAND.items()}),
    )
    usual: dict[str, list[str]] = {}
    for unit, cards in CARDS.items():
        for front, goes_in in cards:
            usual.setdefault(goes_in.name, []).append(size_text(front, unit))
    sold = (listed([sheet.size(unit).name for sheet in SHEETS_GIVEN], "or") for unit in ("in", "mm"))
    return (
        *(Known(f"Usual front for {envelope}", " or ".join(fronts), PRACTICE) for envelope, fronts in usual.items()),
        Known("Narrowest strip", f"{size_text(strip['in'])} or {size_text(strip['mm'], 'mm')}", PRACTICE),
        *(Known(what, _either(each), PRACTICE) for what, each in least),
        Known("Sheets that patterned paper is sold in, and half a page", "; ".join(sold), PRACTICE),
        Known("Cardstock of a base", " or ".join(WEIGHTS.values()), PRACTICE),
    )


def _either(usual: Mapping[str, Length]) -> str:
    """What is usual in inches, and what in millimetres."""
    return f"{figure(usual['in'])} in or {figure(usual['mm'], 'mm')} mm"


def _folded() -> tuple[Known, ...]:
    """What folds take where a kit does not say, and what they are checked against."""
    inches, metric = Asked(), Asked(metric=True)
    usual = (
        ("Mark that score lines are put on", {"in": inches.mark, "mm": metric.mark}),
        ("How much shorter a panel is that lies rolled in", {"in": inches.room, "mm": metric.room}),
        ("What shows beside a stepped front", STEP),
        ("Gap up to which doors look as if they met", folds.MOST_APART),
        ("Least room from a panel rolled in to the fold round it", folds.ROLLED_IN),
        ("How far what hardly bends keeps from a fold that closes over it", folds.STIFF_CLEAR),
        ("The same of what stands on foam", folds.FOAM_CLEAR),
    )
    return (
        *(Known(what, _either(each), PRACTICE) for what, each in usual),
        Known("Thickness within a fold from which it takes two score lines", both_text(folds.ONE_SCORE), PRACTICE),
    )


def _fixed() -> tuple[Known, ...]:
    """How pieces are fixed where a kit does not say."""
    usual = (
        ("Glued strip along the edges of a pocket", pocket.USUAL_GLUE),
        ("Air on each side of what goes into a pocket", pocket.CLEARANCE),
        ("What has to show of a tag to pull it by", pocket.LEAST_SHOWN),
        ("Strip of foam round a shaker’s window", shaker.USUAL_FOAM),
        ("From a shaker’s window to its foam", shaker.USUAL_SET_BACK),
        ("Film past a shaker’s window on each side", shaker.USUAL_LAP),
        ("Overlap of a belly band", band.USUAL_OVERLAP),
    )
    return tuple(Known(what, _either(each), PRACTICE) for what, each in usual)


def known_limits(letters: Letters) -> tuple[Known, ...]:
    """A letter's limits."""
    inches = letters.ratio is not None
    unit = "in" if inches else "mm"

    def thick(millimetres: Fraction) -> str:
        return f"{float(millimetres * MM if inches else millimetres):g} {unit}"

    what = led(post.LETTER[letters.kind])
    found = [
        Known(f"{what}: size", f"{size_text(letters.least, unit)} to {size_text(letters.most, unit)}", letters.rules),
        Known(
            f"{what}: thickness",
            f"{thick(letters.thinnest.low)} to {thick(letters.thinnest.high)}"
            if letters.thinnest.low
            else f"up to {thick(letters.thinnest.high)}",
            letters.rules,
        ),
        Known(
            f"{what}: weight", f"up to {float(letters.heaviest / OUNCE):g} oz" if inches else f"up to {letters.heaviest} g", letters.rules
        ),
    ]
    if letters.ratio:
        found.append(
            Known(
                f"{what}: length ÷ height",
                f"outside {float(letters.ratio[0]):g} to {float(letters.ratio[1]):g} it costs more",
                letters.rules,
            )
        )
    if letters.flimsy:
        found.append(
            Known(
                f"{what}: thin and large",
                f"higher than {length_text(letters.flimsy[1], unit)} or longer than {length_text(letters.flimsy[2], unit)}, and under {thick(letters.flimsy[0])} thick, it costs more",
                letters.rules,
            )
        )
    if letters.steps and letters.prices:
        found.append(
            Known(f"{what}: price steps", f"at {listed([f'{float(step / OUNCE):g}' for step in letters.steps])} oz", letters.prices)
        )
    return tuple(found)
