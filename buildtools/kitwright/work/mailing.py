"""What the post makes of a kit's card, in words for its page and its printable."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from kitwright.card.post import OUNCE, Letters, Parcel, Range, Verdict, letters_for, play, step_of, verdicts
from kitwright.sources import told
from kitwright.telling.words import article, led, listed
from kitwright.units import MM, ZERO, length_text, rounded, size_text
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class Mailing:
    """A card in its sealed envelope, and what the limits for letters say of it."""

    parcel: Parcel
    """The heaviest and the thickest of the batch's looks."""
    letters: Letters
    """The limits that it is held against."""
    verdicts: tuple[Verdict, ...]
    """Every limit that it meets, or may not meet."""
    lines: tuple[tuple[str, str], ...]
    """The box in words: what a line is about, and what it says."""

    @property
    def within(self) -> bool | None:
        """Whether it goes as a letter at all; None where that depends on what is not known exactly."""
        said = [v.within for v in self.verdicts if not v.dearer]
        return False if False in said else None if None in said else True


def mailing(worked: Worked) -> Mailing | None:
    """How the card travels; None for a kit without an envelope."""
    whole, letters = worked.enclosed.parcel, letters_for(worked.kit.spec.unit)
    if whole is None:
        return None
    found = verdicts(whole, letters)
    return Mailing(whole, letters, found, tuple(_lines(worked, whole, letters, found)))


# --- in words ------------------------------------------------------------------------------


def overall_text(worked: Worked, unit: str) -> str:
    """How large the closed card is with what overhangs it, `111 × 148 mm with S overhanging`; empty where nothing does."""
    lying = worked.enclosed
    return (
        f"{size_text(lying.size, unit)} with {listed(list(dict.fromkeys(r.name for r in lying.reaches)))} overhanging"
        if lying.overhangs
        else ""
    )


def _lines(worked: Worked, card: Parcel, letters: Letters, found: tuple[Verdict, ...]) -> Iterator[tuple[str, str]]:
    yield "Envelope", _fit(worked, card)
    yield "Thickness", f"{thickness_text(card.thickness, worked.kit.spec.unit)} at the thickest place, sealed{_guessed(worked)}."
    yield (
        "Weight",
        f"{mass_text(card.mass)} with its envelope{', without decoration' if card.decorated else ''}{_step(card.mass, letters)}.",
    )
    said = [v.words for v in found]
    if said:
        yield "Mind", f"{led('; '.join(said))}."
    over = any(v.within is False and not v.dearer for v in found)
    yield (
        "Letter",
        (
            f"{'Not' if over else 'Within'} the limits of {letters.name}{', as far as is known' if not over and any(v.within is None and not v.dearer for v in found) else ''}. "
            "Your post office decides."
        ),
    )
    yield "Source", f"{told(letters.rules)}. Limits and prices change."


def _fit(worked: Worked, card: Parcel) -> str:
    kit, unit = worked.kit, worked.kit.spec.unit
    envelope, room = kit.spec.card.envelope, worked.enclosed.room
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
    lying = [p for face in worked.faces for p in face.stack] + [worked.enclosed.inside] * (worked.enclosed.inside is not None)
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
        return f": in {letters.post}’s first price step, to {limits[0]}"
    if low == high:
        return f": in {letters.post}’s {names[low - 1]} price step, over {limits[low - 2]}"
    return f": it may pass {letters.post}’s price step at {limits[low - 1]}, so weigh one"
