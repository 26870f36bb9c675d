"""Labels, sizes and counts."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kitwright.card.shapes import misshapes
from kitwright.findings import Finding
from kitwright.kit.looks import COLOURS, LOOKS
from kitwright.kit.names import BASE
from kitwright.telling.words import number
from kitwright.units import HALF_MM, SIXTEENTH, Length, figure, length_text, on_grid, rounded, size_text
from kitwright.work.worked import Worked, needs_of, on_card


def find(worked: Worked) -> Iterator[Finding]:
    """What is wrong with the pieces: their counts, sizes, shapes and papers."""
    # Where the looks don't make the batch, every count is off for that one reason.
    yield from list(_looks(worked)) or _counts(worked)
    yield from _off_grid(worked)
    yield from _shapes(worked)
    yield from _one_size_two_labels(worked)
    yield from _papers(worked)
    yield from _photos(worked)


def _counts(worked: Worked) -> Iterator[Finding]:
    """Counts per label and paper must equal what lies on the cards, times the cards."""
    kit, lying = worked.kit, on_card(worked)
    asked = {(label, paper): n for paper, labels in needs_of(kit).items() for label, n in labels.items() if label != BASE}
    cards = kit.spec.cards
    for (label, paper), n in asked.items():
        place = kit.place("pieces", label, "per card", *(() if kit.spec.pieces[label].paper else (paper,)))
        name = kit.papers[paper].name
        if n.denominator != 1:
            yield Finding(
                "error",
                place,
                f"{label} from {name}: {n / cards} on each of {cards} cards is no whole number of pieces",
                "change the number on each card or the number of cards",
            )
        elif n != lying.get((label, paper), 0):
            on = lying.get((label, paper), 0)
            yield Finding(
                "error",
                place,
                f"{label} from {name}: {n} asked for, but {number(on, 'lies', 'lie')} on the {cards} cards",
                f"make “per card” {Fraction(on, cards)}, or change what lies on the front"
                if on
                else f"no {label} from {name} lies on the card: place it, or take this line out",
            )
    for (label, paper), n in lying.items():
        if (label, paper) not in asked:
            yield Finding(
                "error",
                kit.place("front"),
                f"{n} {label} from {kit.papers[paper].name} lie on the cards, but {label} is not cut from that paper",
                f"use {' or '.join(kit.spec.pieces[label].share)} there, or add the paper under {label}",
            )


def _looks(worked: Worked) -> Iterator[Finding]:
    looks = worked.kit.spec.front.looks
    if looks and (have := sum(look.cards for look in looks)) != worked.kit.spec.cards:
        yield Finding(
            "error",
            worked.kit.place("front", "looks"),
            f"the looks make {have} cards, the batch has {worked.kit.spec.cards}",
            "make the numbers of cards add up",
        )


def _off_grid(worked: Worked) -> Iterator[Finding]:
    kit = worked.kit
    unit, step = kit.spec.unit, "sixteenths" if kit.spec.unit == "in" else "half millimetres"
    for label, size in worked.sizes.items():
        off = [side for side in (size.width, size.height) if not on_grid(side, unit)]
        if off:
            place = kit.place("card", "base", "size") if label == BASE else kit.place("pieces", label, "size")
            yield Finding(
                "warning",
                place,
                f"{label}: {length_text(off[0], unit)} is not on a ruler marked in {step}",
                f"use {figure(_nearest(off[0], unit), unit, plain=True)} {unit}",
            )
    spec = kit.spec
    for words, length, path in (
        ("the score", spec.card.score, ("card", "score")),
        ("the border", spec.front.border, ("front", "border")),
        ("the gap", spec.front.gap, ("front", "gap")),
    ):
        if length is not None and not on_grid(length, unit):
            yield Finding(
                "warning",
                kit.place(*path),
                f"{words}, {length_text(length, unit)}, is not on a ruler marked in {step}",
                f"use {figure(_nearest(length, unit), unit, plain=True)} {unit}",
            )
    for layout in worked.layouts:
        off = [m for m in layout.measures if not on_grid(m, unit)]
        if layout.source == "author" and off:
            yield Finding(
                "warning",
                kit.place("guides", layout.guide, "cuts"),
                f"{layout.name}: {length_text(off[0], unit)} is not on a ruler marked in {step}",
                f"cut at {figure(_nearest(off[0], unit), unit, plain=True)} {unit}",
            )


def _nearest(length: Length, unit: str) -> Length:
    step = SIXTEENTH if unit == "in" else HALF_MM
    return Length(rounded(length.inches, step))


def _shapes(worked: Worked) -> Iterator[Finding]:
    """Notches and shapes that can be cut, with the tools named."""
    for label, piece in worked.kit.spec.pieces.items():
        for wrong in misshapes(piece, worked.kit.spec.unit):
            yield Finding(
                "error", worked.kit.place("pieces", label, *wrong.path), wrong.code, label=label, unit=worked.kit.spec.unit, **wrong.values
            )


def _one_size_two_labels(worked: Worked) -> Iterator[Finding]:
    seen: dict[frozenset, str] = {}
    for label, piece in worked.kit.spec.pieces.items():
        key = frozenset(((piece.size.width, piece.size.height), piece.notch, piece.shape))
        if key in seen:
            yield Finding(
                "hint",
                worked.kit.place("pieces", label),
                f"{label} is the same size as {seen[key]}: {size_text(piece.size, worked.kit.spec.unit)}",
                "nothing to do where labels run on across a guide; otherwise one label will do",
            )
        seen.setdefault(key, label)


def _papers(worked: Worked) -> Iterator[Finding]:
    """Looks are drawn in patterns and colours known here."""
    kit = worked.kit
    for key, paper in kit.papers.items():
        for side in ("front", "back"):
            face = paper.face(side)
            if face is None:
                continue
            place = kit.place("papers", key, side)
            if face.look not in LOOKS:
                yield Finding(
                    "error",
                    place,
                    f"there is no look called {face.look}" + (f": {face.look} is a colour" if face.look in COLOURS else ""),
                    f"use one of: {', '.join(LOOKS)}",
                )
            for colour in face.colours:
                if colour not in COLOURS:
                    yield Finding(
                        "error",
                        place,
                        f"there is no colour called {colour}" + (f": {colour} is a look" if colour in LOOKS else ""),
                        f"use one of: {', '.join(COLOURS)}",
                    )


def _photos(worked: Worked) -> Iterator[Finding]:
    for i, photo in enumerate(worked.kit.spec.photos):
        if not photo.alt:
            yield Finding(
                "warning",
                worked.kit.place("photos", i),
                f"{photo.file} has no text for those who can't see it",
                "add a line  alt: …  that says what the picture shows",
            )
