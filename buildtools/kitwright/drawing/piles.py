"""What lies on the bench once all is cut: a pile of every label, all at one scale, with how many there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitwright.card.base import Point as TruePoint
from kitwright.drawing import fonts
from kitwright.drawing.dimensions import figure_height, scale_text
from kitwright.drawing.fonts import Font
from kitwright.drawing.labels import alone, find_place
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.placing import Board, edges
from kitwright.drawing.scene import Box, Contour, Draft, Frame, Number, Scene
from kitwright.exact import Exact
from kitwright.telling.drawn import piles_alt
from kitwright.units import ZERO, Size

EDGE = Exact(6)
PEEP = Exact(5, 2)
"""How far each further paper peeps out behind the first, points."""
MOST_PEEPS = 3
APART, BELOW = Exact(12), Exact(15)
"""Clear space between piles, and room under each for its count; points."""
FOOT = Exact(15)
SMALL = Exact(17, 2)
STEPS = [Exact(n, 100) for n in range(50, 3, -1)]


@dataclass(frozen=True, slots=True)
class Pile:
    """Pieces alike."""

    label: str
    size: Size
    looks: tuple[DrawnLook, ...]
    """Of its papers, the one on top first."""
    n: int
    ring: tuple[TruePoint, ...] = ()
    """Its corners where it is no rectangle, its top left corner at the origin."""


@dataclass(frozen=True, slots=True)
class _Set:
    """A pile in its place."""

    pile: Pile
    left: Fraction
    top: Fraction


def piles_picture(piles: Sequence[Pile], *, width: Number, height: Number) -> Scene:
    """The piles in rows, as large as fits.

    Args:
        piles: in order.
        width, height: of the picture at most, points.
    """
    width, height = Exact(width), Exact(height)
    for scale in STEPS:
        places, bottom = _places(piles, scale, width - 2 * EDGE)
        if places and bottom + FOOT + 2 * EDGE <= height:
            break
    draft = Draft()
    for one in places:
        _draw(draft, one, scale)
    draft.text(scale_text(scale), EDGE, EDGE + bottom + 3 + figure_height(SMALL), SMALL, "note")
    wide = max((EDGE + one.left + _wide(one.pile, scale) for one in places), default=EDGE) + EDGE
    alt = piles_alt((pile.label, pile.n) for pile in piles)
    return draft.scene(max(wide, draft.texts[-1].box.right + EDGE), EDGE + bottom + FOOT + EDGE, "Piles", alt, scale)


def _peeps(pile: Pile) -> int:
    return min(max(len(pile.looks) - 1, 1 if pile.n > 1 else 0), MOST_PEEPS)


def _wide(pile: Pile, scale: Fraction) -> Fraction:
    return max(pile.size.width.inches * 72 * scale + _peeps(pile) * PEEP, fonts.width(_count(pile), SMALL, _BOLD))


def _high(pile: Pile, scale: Fraction) -> Fraction:
    return pile.size.height.inches * 72 * scale + _peeps(pile) * PEEP


def _count(pile: Pile) -> str:
    return f"{pile.label} × {pile.n}"


_BOLD = Font("sans", "semibold")


def _places(piles: Sequence[Pile], scale: Fraction, room: Fraction) -> tuple[list[_Set], Fraction]:
    """Where each stands from the corner of the picture's inside, the piles of a row on one line, and the height of all; none where one is too wide."""
    rows: list[list[Pile]] = [[]]
    used = Exact(0)
    for pile in piles:
        wide = _wide(pile, scale)
        if wide > room:
            return [], Exact(0)
        if rows[-1] and used + APART + wide > room:
            rows.append([])
            used = Exact(0)
        used += wide + (APART if rows[-1] else 0)
        rows[-1].append(pile)
    found: list[_Set] = []
    top = Exact(0)
    for row in rows:
        tall, left = max(_high(pile, scale) for pile in row), Exact(0)
        for pile in row:
            found.append(_Set(pile, left, top + tall - _high(pile, scale)))
            left += _wide(pile, scale) + APART
        top += tall + BELOW
    return found, top


def _draw(draft: Draft, one: _Set, scale: Fraction) -> None:
    pile, peeps = one.pile, _peeps(one.pile)
    left, top = EDGE + one.left, EDGE + one.top
    ring = _ring(pile, scale)
    looks = (*pile.looks, *[pile.looks[-1]] * MOST_PEEPS)
    for i in range(peeps, -1, -1):
        x, y = left + i * PEEP, top + i * PEEP
        contour = tuple((x + a, y + b) for a, b in ring)
        draft.polygon(contour, None, "white")
        draft.shapes.append(lay(looks[i], contour, (x, y), scale))
        draft.polygon(contour, "edge")
    room = Box(left, top, left + pile.size.width.inches * 72 * scale, top + pile.size.height.inches * 72 * scale)
    contour = tuple((left + a, top + b) for a, b in ring)
    board = Board(lines=[*edges(contour)] if pile.ring else [])
    calm = pile.looks[0].calm
    for block in (alone(pile.label, size) for size in (14, 11, 9)):
        middle = find_place(board, block, room, clear=Exact(3, 2) if calm else Exact(3))
        if middle is not None:
            block.draw(draft, middle, None if calm else room)
            break
    low = top + _high(pile, scale) + 3 + figure_height(SMALL)
    draft.text(_count(pile), left, low, SMALL, "figure", weight="semibold")


def _ring(pile: Pile, scale: Fraction) -> Contour:
    frame = Frame(Exact(0), Exact(0), scale)
    corners = pile.ring or ((ZERO, ZERO), (pile.size.width, ZERO), (pile.size.width, pile.size.height), (ZERO, pile.size.height))
    return tuple(frame.point(*corner) for corner in corners)
