"""How the front adds up, in words."""

from __future__ import annotations

from kitwright.card.face import Sum
from kitwright.telling.shapes import ground_text
from kitwright.telling.words import led
from kitwright.units import figure, length_text
from kitwright.work.worked import Worked


def where_text(line: Sum) -> str:
    """Which edge, and which way it is read: `M, left to right`."""
    return f"{ground_text(line.on)}, {'left to right' if line.direction == 'across' else 'top to bottom'}"


def terms_text(line: Sum, unit: str, units: bool = True) -> str:
    """Its terms from the left or the top: `border ¼ in + A 3¾ in + border ¼ in`; with `units` false, bare figures."""
    return " + ".join(f"{t.name} {(length_text if units else figure)(t.length, unit)}" for t in line.terms)


def face_sums(worked: Worked) -> list[tuple[str, Sum]]:
    """The sums of every face of a card, each with the name of its face; empty for the one that leads, and where the sum names the face itself."""
    return [(led(face.on) if face.on and face.on != line.on else "", line) for face in worked.face.every for line in face.sums]
