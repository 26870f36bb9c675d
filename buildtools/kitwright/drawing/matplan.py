"""A layout on a cutting mat, small: where the sheet lies, and what is cut from it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kitwright.card.outlines import Outline, Point
from kitwright.drawing.dimensions import figure_height
from kitwright.drawing.fonts import Font
from kitwright.drawing.labels import alone, find_place
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.placing import Board
from kitwright.drawing.scene import Box, Draft, Frame, Number, Scene, points
from kitwright.exact import Exact
from kitwright.geometry import Rect
from kitwright.units import ZERO, Size

EDGE = Exact(6)
FOOT = Exact(16)
"""Room for the mat's size under it, points."""
SIZES = (15, 12, 10, 8)
"""How large a label may be, points."""


@dataclass(frozen=True)
class MatCut:
    """A piece on the mat."""

    label: str
    outline: Outline
    folds: tuple[tuple[Point, Point], ...] = ()


def mat_plan(
    mat: Size, said: str, sheet: Rect, cuts: Sequence[MatCut], look: DrawnLook | None, *, width: Number, height: Number, name: str, alt: str
) -> Scene:
    """The mat as it goes into the cutter, its leading edge at the top.

    Args:
        mat: how large it is.
        said: its size in words, for the line under it.
        sheet: the sheet of paper on it.
        cuts: the pieces, on the mat.
        look: how the paper is drawn, if it has a look.
        width, height: points; the mat is drawn as large as fits.
        name: what to call the picture.
        alt: what it shows, in words.
    """
    wide, high = points(mat.width, Exact(1)), points(mat.height, Exact(1))
    scale = min((Exact(width) - 2 * EDGE) / wide, (Exact(height) - 2 * EDGE - FOOT) / high).limit_denominator(1000)
    draft, frame, board = Draft(), Frame(EDGE, EDGE, scale), Board()
    whole = frame.box(Rect(ZERO, ZERO, mat.width, mat.height))
    draft.box(whole, "frame", "surface", 5)
    draft.box(frame.box(sheet), "hidden", "white")
    for cut in cuts:
        edge, *openings = [tuple(frame.point(*corner) for corner in ring) for ring in cut.outline.rounded_off()]
        if look:
            bounds = frame.box(cut.outline.bounds)
            draft.shapes.append(lay(look, edge, (bounds.left, bounds.top), scale))
        draft.polygon(edge, "edge", None if look else "white")
        for ring in openings:
            draft.polygon(ring, "edge", "white")
        draft.lines("fold", [[frame.point(*a), frame.point(*b)] for a, b in cut.folds])
        _label(draft, board, cut.label, _clear(cut, frame))
    draft.text(said, whole.left, whole.bottom + 5 + figure_height(9), 9, "note")
    right = max(whole.right, draft.texts[-1].box.right)
    return draft.scene(right + EDGE, whole.bottom + FOOT + EDGE, name, alt, scale)


def _clear(cut: MatCut, frame: Frame) -> Box:
    """Where a label may stand: the piece, or for a frame the widest of its sides."""
    around = cut.outline.bounds
    if cut.outline.openings:
        hole = Outline(cut.outline.openings[0]).bounds
        sides = (
            Rect(around.x, around.y, around.width, hole.y - around.y),
            Rect(around.x, hole.bottom, around.width, around.bottom - hole.bottom),
            Rect(around.x, around.y, hole.x - around.x, around.height),
            Rect(hole.right, around.y, around.right - hole.right, around.height),
        )
        around = max(sides, key=lambda side: min(side.width, side.height))
    return frame.box(around)


def _label(draft: Draft, board: Board, label: str, room: Box) -> None:
    """The label, as large as fits; a piece too small for any goes without."""
    for size in SIZES:
        for upward in (False, True):
            block = alone(label, size, font=Font("sans", "bold"), upward=upward)
            at = find_place(board, block, room)
            if at:
                block.draw(draft, at, room)
                return
