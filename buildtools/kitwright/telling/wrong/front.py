"""What is wrong with the finished front: sums, layers, overhangs, the sentiment."""

from __future__ import annotations

from fractions import Fraction

from kitwright.card.face import Sum
from kitwright.errors import Said
from kitwright.telling.shapes import ground_text
from kitwright.telling.sums import terms_text
from kitwright.units import Length, Size, length_text, size_text

_HAIR = Length(Fraction(1, 32))
"""Less than this rounds to nothing on a ruler."""


def score_past_base(score: Length, base: Size, middle: Length, unit: str) -> Said:
    return (
        f"the score at {length_text(score, unit)} lies past the base of {size_text(base, unit)}",
        f"score at {length_text(middle, unit)} for a card that closes evenly",
    )


def sum_off(line: Sum, unit: str) -> Said:
    off, over = abs(line.reached - line.target), line.reached > line.target
    by, lone = length_text(off, unit) if off >= _HAIR else "a hair", [t.name for t in line.terms if t.name not in ("border", "gap")]
    sides = "left, right" if line.direction == "across" else "top, bottom"
    return (
        f"{ground_text(line.on)}, {line.direction}: {terms_text(line, unit)} = {length_text(line.reached, unit)}, not {length_text(line.target, unit)}",
        f"take away {by}, or say  meant: uneven"
        if over
        else f"add {by}, or say where {lone[0]} sits with  place: …  ({sides} or centre)"
        if len(lone) == 1
        else f"add {by}, or say  meant: uneven",
    )


# --- pieces ---------------------------------------------------------------------------------------


def layer_not_within(label: str, size: Size, on: str, room: Size, unit: str) -> Said:
    return (
        f"{label}, {size_text(size, unit)}, does not lie within {ground_text(on)}, {size_text(room, unit)}",
        "make it smaller, or say  meant: larger",
    )


def larger(label: str, size: Size, on: str, room: Size, unit: str) -> Said:
    return (
        f"{label}, {size_text(size, unit)}, is larger than {ground_text(on)}, {size_text(room, unit)}, which it lies on",
        "make it smaller, or say  meant: larger",
    )


def past_the_edge(label: str, by: Length, side: str, over: bool, unit: str) -> Said:
    return (
        f"{label} reaches {length_text(by, unit)} past the {side} edge of {'the card' if over else 'what it lies on'}",
        "move it in or make it smaller, or say  meant: overhang",
    )


def overlapping(labels: tuple[str, str], on: str) -> Said:
    """`on`: the name of the face; empty for the one that leads."""
    return (
        f"{' and '.join(labels)} lie over each other on {f'“{on}”' if on else 'the front'}",
        "move one of them, or list it under “over” if it belongs on top",
    )


def halves_unlike(label: str, paper: str, upright: int, upside_down: int) -> Said:
    most = max(upright, upside_down)
    return (
        f"{paper} has an up, and each rectangle gives one {label} that stands and one that is upside down: "
        f"the cards show {upright} that stand and {upside_down} upside down, and would take {most} of each",
        f"lay as many {label} upside down as upright, or cut them from a paper without an up",
    )


def turned_one_way(paper: str, label: str) -> Said:
    return f"{paper} is one-way, and {label} would lie turned on the card", "place it upright, or use a paper without an up"


# --- the sentiment and decoration -----------------------------------------------------------------


def sentiment_past(size: Size, on: str, notch: bool, room: Size, unit: str) -> Said:
    return (
        f"the sentiment, {size_text(size, unit)}, meets {'a notch' if notch else 'an edge'} of {ground_text(on)}",
        f"the clear space there is {size_text(room, unit)}: use a smaller stamp or a larger strip",
    )


def sentiment_meets_shape(size: Size, on: str, unit: str) -> Said:
    return (
        f"the sentiment, {size_text(size, unit)}, meets the shaped edge or an opening of {ground_text(on)}",
        "use a smaller stamp or place it elsewhere",
    )


def over_the_sentiment(label: str) -> Said:
    return f"{label} lies over the sentiment", f"move one of the two, or print the sentiment on {label}"


def decoration_past_the_edge(name: str) -> Said:
    return f"{name} reaches past the edge of the card", "move it in, or say  meant: overhang"


def decoration_on_the_sentiment(name: str) -> Said:
    return f"{name} covers the sentiment", "move one of the two"
