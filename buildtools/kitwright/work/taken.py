"""Which place of which sheet a piece on the card is cut from, as the guides have it.

The first card takes the first pieces that come off, and each look goes on where the cards of the looks before
it end. A sheet lies with its front up; seen from its back it is turned over sideways.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil

from kitwright.card.face import Face, Placed
from kitwright.cutting.tree import pieces
from kitwright.geometry import Rect
from kitwright.work.worked import Worked

Piece = tuple[str | int, ...]
"""A piece on a card: its paper, the face that shows, its label, and where the spec places it."""


@dataclass(frozen=True, slots=True)
class Taken:
    """The place on its sheet that a piece is cut from."""

    rect: Rect
    """As the sheet lies with the face up that shows."""
    turned: bool
    """Whether the piece lies a quarter turn there from its own width × height."""


def piece_of(placed: Placed) -> Piece:
    """How a piece is found again on the same card drawn otherwise."""
    return placed.paper, placed.face, placed.label, *placed.said


def taken(worked: Worked, face: Face, number: int = 0) -> Mapping[Piece, Taken]:
    """The places that the pieces of a card come from, as far as the guides say.

    Args:
        worked: the kit, or one of its designs.
        face: the card, with all its faces.
        number: which card of the batch it is, counted from 0.
    """
    found: dict[Piece, Taken] = {}
    once = [placed for side in face.every for placed in side.stack]
    for label, paper in dict.fromkeys((placed.label, placed.paper) for placed in once):
        places = _places(worked, paper).get(label, ())
        alike = list(dict.fromkeys(placed for placed in once if (placed.label, placed.paper) == (label, paper)))
        for i, placed in enumerate(alike if places else ()):
            place, sheet = places[(number * len(alike) + i) % len(places)], worked.kit.papers[paper].size.size
            rect = place.rect
            if placed.face == "back":
                place = Taken(Rect(sheet.width - rect.right, rect.y, rect.width, rect.height), place.turned)
            if placed.said:
                found[piece_of(placed)] = place
    return found


def first_cards(worked: Worked) -> tuple[int, ...]:
    """Of each look of the batch, which card of the batch is its first, counted from 0."""
    return tuple(sum(face.cards for face in worked.faces[:i]) for i in range(len(worked.faces)))


def _places(worked: Worked, paper: str) -> Mapping[str, tuple[Taken, ...]]:
    """By label, the places of all pieces that the batch's sheets of a paper give, in the order in which they come off."""
    return worked.once(f"places on {paper}", lambda: _counted(worked, paper))


def _counted(worked: Worked, paper: str) -> Mapping[str, tuple[Taken, ...]]:
    found: dict[str, list[Taken]] = {}
    for plan in worked.plans:
        sheets = [run.layout for run in plan.runs if plan.paper == paper for _ in range(ceil(run.sheets))]
        for layout in sheets:
            for leaf in pieces(layout.tree):
                found.setdefault(leaf.label or "", []).extend([Taken(leaf.rect, leaf.turned)] * leaf.gives)
    return {label: tuple(places) for label, places in found.items()}
