"""What is wrong with labels, counts, sizes, papers and pictures."""

from __future__ import annotations

from fractions import Fraction

from kitwright.errors import Said
from kitwright.kit.looks import COLOURS, LOOKS
from kitwright.materials import Kind
from kitwright.papers import NamedSize
from kitwright.telling.materials import kind_text
from kitwright.telling.words import number, typed_size
from kitwright.units import Length, Size, length_text, size_text

# --- counts -----------------------------------------------------------------------------------------


def no_whole_number(label: str, paper: str, each: Fraction, cards: int) -> Said:
    return (
        f"{label} from {paper}: {each} on each of {cards} cards is no whole number of pieces",
        "change the number on each card or the number of cards",
    )


def count_off(label: str, paper: str, asked: int, lying: int, cards: int) -> Said:
    return (
        f"{label} from {paper}: {asked} asked for, but {number(lying, 'lies', 'lie')} on the {cards} cards",
        f"make “per card” {Fraction(lying, cards)}, or change what lies on the front"
        if lying
        else f"no {label} from {paper} lies on the card: place it, or take this line out",
    )


def not_cut_from(label: str, lying: int, paper: str, papers: tuple[str, ...]) -> Said:
    return (
        f"{lying} {label} from {paper} lie on the cards, but {label} is not cut from that paper",
        f"use {' or '.join(papers)} there, or add the paper under {label}",
    )


def lies_nowhere(label: str) -> Said:
    return f"{label} lies on no card of this kit", f"lay {label} on a front, or take it out of the pieces"


def looks_make_another_batch(have: int, cards: int) -> Said:
    return f"the looks make {have} cards, the batch has {cards}", "make the numbers of cards add up"


# --- sizes ------------------------------------------------------------------------------------------

_MARKS = {"in": "sixteenths", "mm": "half millimetres"}


def size_off_the_ruler(label: str, length: Length, nearest: Length, unit: str) -> Said:
    return f"{label}: {_off(length, unit)}", f"use {length_text(nearest, unit, plain=True)}"


def measure_off_the_ruler(what: str, length: Length, nearest: Length, unit: str) -> Said:
    return (
        f"the {what}, {length_text(length, unit)}, is not on a ruler marked in {_MARKS[unit]}",
        f"use {length_text(nearest, unit, plain=True)}",
    )


def cut_off_the_ruler(guide: str, length: Length, nearest: Length, unit: str) -> Said:
    return f"{guide}: {_off(length, unit)}", f"cut at {length_text(nearest, unit, plain=True)}"


def _off(length: Length, unit: str) -> str:
    return f"{length_text(length, unit)} is not on a ruler marked in {_MARKS[unit]}"


def one_size_two_labels(label: str, other: str, size: Size, unit: str) -> Said:
    return (
        f"{label} is the same size as {other}: {size_text(size, unit)}",
        "nothing to do where labels run on across a guide; otherwise one label will do",
    )


# --- papers and pictures ----------------------------------------------------------------------------


def no_such_look(look: str) -> Said:
    return f"there is no look called {look}{f': {look} is a colour' if look in COLOURS else ''}", f"use one of: {', '.join(LOOKS)}"


def look_without_up(paper: str, look: str) -> Said:
    return (
        f"{paper} is drawn as {look}, which stand upright, and nothing says which edge of the sheet is its top: pieces may lie turned",
        f"write  up: top  beside  look: {look}  (or left, right, bottom), or choose a look without an up",
    )


def no_such_colour(colour: str) -> Said:
    return (
        f"there is no colour called {colour}{f': {colour} is a look' if colour in LOOKS else ''}",
        f'use one of: {", ".join(COLOURS)}; or any other as "#7a9e7e", in quotes',
    )


def no_grain(paper: str, kind: Kind) -> Said:
    return f"{paper} is {kind_text(kind)}, which has no grain", "take the line  grain  out"


def liner_of_another(label: str, size: Size, other: NamedSize, unit: str) -> Said:
    return (
        f"{label} lines an envelope of {size_text(size, unit)}, and the card goes into {other.name or size_text(other.size, unit)}",
        f"line that one:  envelope: {other.name or typed_size(other.size, unit)}",
    )


def flap_all_gum(label: str, flap: Length, gum: Length, unit: str) -> Said:
    return (
        f"{label} lines a flap of {length_text(flap, unit)}, and {length_text(gum, unit)} of that are left to the gum",
        "write how deep the flap is, from its fold to its tip; or how wide its gum is, if it is narrower:  gum: …",
    )


def photo_without_text(file: str, notes: bool = False) -> Said:
    add = "say between its square brackets what the picture shows" if notes else "add a line  alt: …  that says what the picture shows"
    return f"{file} has no text for those who can't see it", add
