"""What is proved of a plan, in a maker's words and in the kit's own unit."""

from __future__ import annotations

from fractions import Fraction

from kitwright.cutting.batch.proof import OneLabel, Priced, Proof, TooLittle
from kitwright.cutting.plan import HALF
from kitwright.telling.words import label_text, listed, sheets_text, spelled
from kitwright.units import ABOUT, fraction_text, rounded

LEVEL_WORDS = {
    "sheets": "fewest sheets",
    "alike": "sheets cut alike",
    "order": "natural order",
    "slack": "slack",
    "leftover": "largest leftover",
}


def proof_lines(proofs: tuple[Proof, ...], unit: str) -> list[str]:
    """What is proved, a line for each level."""
    return [f"{LEVEL_WORDS[p.level]}, {'proved' if p.proved else 'best found'}: {why_text(p, unit)}" for p in proofs]


def why_text(proof: Proof, unit: str) -> str:
    """Why a level is proved, or what is known of it."""
    if proof.level == "sheets":
        (least,) = proof.bound
        return ("" if proof.proved else f"No plan takes fewer than {sheets_text(least)}. ") + _ruled_out(proof, least - HALF, unit)
    if proof.level == "alike":
        return _alike(proof)
    sixteenth = "millimetre and a half" if unit == "mm" else "sixteenth of an inch"
    match proof.reason:
        case "chosen-together":
            return "Several layouts were chosen together, among those tried."
        case "none-simpler":
            return "Natural, and no way of cutting these pieces takes fewer ruler marks, fewer cuts or fewer turns."
        case "natural":
            return "No better one among the natural orders tried."
        case "not-natural":
            return "No natural order was found that takes so few sheets, cut alike."
        case "not-tight":
            return f"No sheet is needed to its last {sixteenth}."
        case "tight-however":
            return f"A sheet a {sixteenth} short can’t yield these pieces, however it is cut: measure it before you cut."
        case "tight-here":
            return f"The sheet is needed to its last {sixteenth}: measure it before you cut. No layout without was found."
        case "no-leftover":
            return "Nothing is left over."
        case "one-leftover":
            return "All that is left of a sheet is in one piece."
        case "no-larger":
            return "However these pieces are cut, no larger single piece of a sheet is left."
        case "largest-found":
            return "The largest single leftover among layouts that are as good otherwise."
    raise AssertionError(proof)


def _ruled_out(proof: Proof, fewer: Fraction, unit: str) -> str:
    """Why so few sheets can't do."""
    sheets = sheets_text(fewer)
    match proof.reason:
        case "half-a-sheet":
            return "There is nothing less than half a sheet."
        case "every-yield":
            return f"Every set of pieces that a sheet can yield was looked at: {sheets} can’t give the batch."
        case TooLittle(pieces, given):
            return f"The pieces cover {area_text(pieces, unit)}, and {sheets} {'have' if fewer > 1 else 'has'} {area_text(given, unit)}."
        case OneLabel(label, whole, half, most, needed):
            besides = "" if half is None else f", half a sheet {half or 'none'}"
            return (
                f"A sheet yields at most {whole} {label_text(label, whole)}{besides}: {sheets} can’t give more than {most} of the {needed}."
            )
        case Priced(prices, batch, whole, half, pairs):
            besides = "" if half is None else f", and half a sheet no more than {half}"
            count = listed([f"{price} for each {f'pair of {label}' if label in pairs else label}" for label, price in prices])
            return f"Count {count}: the batch comes to {batch}, and no sheet can give more than {whole}{besides}, so {sheets} can’t do it."
    raise AssertionError(proof)


def _alike(proof: Proof) -> str:
    (layouts,), (least,) = proof.value, proof.bound
    match proof.reason:
        case "one-sheet":
            return "There is one sheet to cut."
        case "all-alike":
            return "All sheets are cut alike."
        case "not-known":
            return "It is not proved that so few sheets can’t all be cut alike."
        case "no-single-way":
            return "No single way of cutting a sheet gives the batch from so few sheets."
        case "no-fewer-ways":
            fewer = spelled(int(layouts) - 1)
            return f"Of all that a sheet can yield, no {fewer} ways of cutting together give the batch from so few sheets."
        case "some-ways":
            return f"At least {spelled(int(least))} ways of cutting a sheet are needed."
    raise AssertionError(proof)


def area_text(square_inches: Fraction, unit: str) -> str:
    """An area: square inches exact where a short fraction is, else to the hundredth; or the nearest square centimetre."""
    if unit == "mm":
        return f"{ABOUT}{rounded(square_inches * Fraction(254, 100) ** 2)} cm²"
    if square_inches.denominator in (1, 2, 4, 8, 16):
        return f"{fraction_text(square_inches)} sq in"
    return f"{ABOUT}{float(rounded(square_inches, Fraction(1, 100))):.2f} sq in"
