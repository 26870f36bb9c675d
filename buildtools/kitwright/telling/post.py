"""What the post makes of a card, and the limits for letters, in words."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, floor

from kitwright.card.post import OUNCE, Letters, Limit, Parcel, Verdict, play, step_of
from kitwright.materials import Range
from kitwright.sources import told
from kitwright.telling.line import Line
from kitwright.telling.words import article, led, listed
from kitwright.units import MM, ZERO, length_text, rounded, size_text
from kitwright.work.post import Mailing
from kitwright.work.worked import Worked

LETTER = {"us": "US letter", "international": "international small letter"}
POST = {"us": "the US post"}
"""Whose price steps those are; elsewhere each country has its own."""
COMPARED: dict[Limit, str] = {"small": "smaller", "large": "larger", "thin": "thinner", "thick": "thicker", "heavy": "heavier"}
"""What is refused: compared with what a letter may be."""
DEARER: dict[Limit, str] = {
    "square": "a square card costs more",
    "nearly square": "a card so nearly square costs more",
    "long": "so long a card costs more",
    "flimsy": "so thin and large a letter costs more",
    "lumpy": "lumps and stiff parts can cost more",
    "stiff": "a stiff letter, with chipboard in it, can cost more or go as a parcel",
}


def a_letter(letters: Letters) -> str:
    """`a US letter`."""
    name = LETTER[letters.kind]
    return f"{article(name)} {name}"


def verdict_text(verdict: Verdict, letters: Letters) -> str:
    """What one limit says, without a capital or a full stop."""
    return DEARER.get(verdict.about) or f"{COMPARED[verdict.about]} than {a_letter(letters)} may be"


def overall_text(worked: Worked, unit: str) -> str:
    """How large the closed card is with what overhangs it, `111 × 148 mm with S overhanging`; empty where nothing does."""
    lying = worked.enclosed
    return (
        f"{size_text(lying.size, unit)} with {listed(list(dict.fromkeys(r.name for r in lying.reaches)))} overhanging"
        if lying.overhangs
        else ""
    )


def post_lines(worked: Worked, found: Mailing | None) -> tuple[Line, ...]:
    """The box on a card's post; empty for a kit without an envelope."""
    return tuple(_lines(worked, found.parcel, found.letters, found.verdicts)) if found else ()


def _lines(worked: Worked, card: Parcel, letters: Letters, found: tuple[Verdict, ...]) -> Iterator[Line]:
    yield Line("envelope", "Envelope", _fit(worked, card))
    yield Line("thickness", "Thickness", f"{thickness_text(card.thickness, worked.unit)} at the thickest place, sealed{_guessed(worked)}.")
    yield Line(
        "weight",
        "Weight",
        f"{mass_text(card.mass)} with its envelope{', without decoration' if card.decorated else ''}{_step(card.mass, letters)}.",
    )
    if found:
        yield Line("mind", "Mind", f"{led('; '.join(verdict_text(v, letters) for v in found))}.")
    over = any(v.within is False and not v.dearer for v in found)
    unsure = ", as far as is known" if not over and any(v.within is None and not v.dearer for v in found) else ""
    yield Line("letter", "Letter", f"{'Not' if over else 'Within'} the limits of {a_letter(letters)}{unsure}. Your post office decides.")
    yield Line("source", "Source", f"{told(letters.rules)}. Limits and prices change.")


def _fit(worked: Worked, card: Parcel) -> str:
    kit, unit = worked.kit, worked.unit
    envelope, room = kit.spec.card.envelope, worked.enclosed.room
    assert envelope is not None and room is not None  # else there is no parcel
    name = envelope.name or f"an envelope of {size_text(envelope.size, unit)}"
    if envelope.name:
        name = f"{article(envelope.name)} {envelope.name}"
    least = min(room.width, room.height)
    if not worked.enclosed.enters:
        return f"Does not fit {name}."
    if play(least, card.thickness) < ZERO:
        return f"Fits {name}, with {length_text(least, unit)} of room. Its thickness may take up all of that, so try one first."
    return f"Fits {name}, with {length_text(least, unit)} of room for its thickness."


def thickness_text(thickness: Range, unit: str) -> str:
    """`about 0.11 in`, or a range `0.09 to 0.13 in`; rounded away from the middle, so that the bounds hold."""
    if unit == "mm":
        return _range_text(thickness, Fraction(1, 10), 1, "mm")
    return _range_text(thickness * MM, Fraction(1, 100), 2, "in")


def calliper_text(thickness: Range, unit: str) -> str:
    """How thick single layers are: a digit more than of a whole card, since they are added up."""
    if unit == "mm":
        return _range_text(thickness, Fraction(1, 100), 2, "mm")
    return _range_text(thickness * MM, Fraction(1, 1000), 3, "in")


def mass_text(mass: Range) -> str:
    """`about 22 g`, or a range."""
    return _range_text(mass, Fraction(1), 0, "g")


def _range_text(value: Range, step: Fraction, digits: int, unit: str) -> str:
    low, high = floor(value.low / step) * step, ceil(value.high / step) * step
    if value.known or high - low <= step:
        return f"about {float(rounded(value.high, step)):.{digits}f} {unit}"
    return f"{float(low):.{digits}f} to {float(high):.{digits}f} {unit}"


def _guessed(worked: Worked) -> str:
    """What stands behind a range, to follow the figure."""
    kit = worked.kit
    inside = worked.enclosed.inside
    lying = [p for face in worked.faces for p in face.stack] + ([inside] if inside else [])
    used = dict.fromkeys(p.paper for p in lying)
    unsaid = ["papers"] if any(kit.papers[key].thickness is None for key in used) else []
    if kit.spec.card.foam is None and any(p.raised for p in lying):
        unsaid.append("foam")
    return f" (a range, since the thickness of {listed(unsaid)} is not given)" if unsaid else ""


def _step(mass: Range, letters: Letters) -> str:
    """The price step of the one country whose limits these are, to follow the weight; nothing where each country has its own."""
    if not letters.steps:
        return ""
    names = ("first", "second", "third", "fourth")
    low, high = step_of(mass, letters)
    limits = [f"{step / OUNCE} oz" for step in letters.steps]
    if high == 1:
        return f": in {POST[letters.kind]}’s first price step, to {limits[0]}"
    if low == high:
        return f": in {POST[letters.kind]}’s {names[low - 1]} price step, over {limits[low - 2]}"
    return f": it may pass {POST[letters.kind]}’s price step at {limits[low - 1]}, so weigh one"
