"""Opposite borders, and gaps, that are not equal."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.shapes import ground_text
from kitwright.units import Length, length_text

Margins = tuple[tuple[str, Length], tuple[str, Length]]
"""Two opposite borders, each with its side."""


def uneven(label: str | None, on: str, margins: Margins, unit: str) -> Said:
    what, ground = _named(label, on)
    return f"{what} on {ground}: {_both(margins, unit)}", _middle(margins, unit)


def touching(label: str | None, on: str, margins: Margins, unit: str) -> Said:
    what, ground = _named(label, on)
    touched = next(side for side, margin in margins if not margin)
    return f"{what} touches the {touched} edge of {ground}: {_both(margins, unit)}", _middle(margins, unit)


def _named(label: str | None, on: str) -> tuple[str, str]:
    """A piece and what it lies on; without a label, all pieces that are set by position."""
    return (label, ground_text(on)) if label else ("the pieces", "their layer")


def _both(margins: Margins, unit: str) -> str:
    (one, a), (other, b) = margins
    return f"{length_text(a, unit)} at the {one}, but {length_text(b, unit)} at the {other}"


def _middle(margins: Margins, unit: str) -> str:
    (_, a), (_, b) = margins
    return f"make both {length_text((a + b) / 2, unit)}, or say  meant: uneven"


def not_the_border(label: str, side: str, margin: Length, border: Length, unit: str) -> Said:
    return (
        f"{label} stands {length_text(margin, unit)} from the {side} edge; the border is {length_text(border, unit)}",
        f"make it {length_text(border, unit)}, or say  meant: uneven  for the front",
    )


def not_the_gap(labels: tuple[str, str], apart: Length, gap: Length, unit: str) -> Said:
    return (
        f"{' and '.join(labels)} stand {length_text(apart, unit)} apart; the gap is {length_text(gap, unit)}",
        f"make it {length_text(gap, unit)}, or say  meant: uneven  for the front",
    )


def gaps_differ(way: str, gaps: tuple[Length, ...], unit: str) -> Said:
    return f"gaps in one {way} differ: {', '.join(length_text(gap, unit) for gap in gaps)}", "make them equal, or say  meant: uneven"
