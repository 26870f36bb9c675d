"""Faces of the card that there are not, or that are told of twice."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import listed


def unknown(name: str, near: str | None, known: tuple[str, ...]) -> Said:
    meant = f"did you mean “{near}”? " if near else ""
    return f"this card has no face called “{name}”", f"{meant}its fold gives {listed(known)}"


def no_inside(label: str, known: tuple[str, ...]) -> Said:
    return (
        f"{label} is to lie inside, and no inside lies before the reader of this card",
        f"put it on one of its faces, under  faces:  with {listed(known, 'or')}",
    )


def twice(name: str, other: str) -> Said:
    return f"“{name}” and “{other}” are one face", "say all that stands on it under one of the two names"


def front_twice(name: str) -> Said:
    return f"what leads on the closed card stands under  front:  and under “{name}”", "keep one of the two"


def layers_twice(name: str) -> Said:
    return f"full layers of “{name}” stand there and under  card:", "keep one of the two"


def looks_elsewhere(name: str) -> Said:
    return f"looks stand under “{name}”", "put them under  front:  (or the face that leads): they change the papers of the whole card"
