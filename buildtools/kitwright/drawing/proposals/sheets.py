"""A sheet in small: its cuts, a label on each piece, what is left over hatched; no ruler and no numbers, which a guide has."""

from __future__ import annotations

from collections.abc import Iterable

from kitwright.cutting.tree import Leaf, Node, cuts, leaves, slants
from kitwright.drawing.labels import LabelBlock, alone
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.piecelabels import alike, halves
from kitwright.drawing.placing import hatched
from kitwright.drawing.scene import LEAST_TEXT, Box, Draft, Frame, Number
from kitwright.exact import Exact
from kitwright.geometry import Rect

_TINT = Exact(2, 5)
"""How strong the pattern is under lines and labels."""
_SIZES = (13, 11, 9)
"""Of labels, points, the largest that fits first; below them the least."""
ON_SCREEN, IN_PRINT = Exact(17, 2), LEAST_TEXT
"""The least: eleven pixels on a phone, and what any print has."""
_ROUND = Exact(3, 2)
"""Points from a label to the edges of its piece."""


def small_sheet(draft: Draft, node: Node, frame: Frame, look: DrawnLook, least: Number = ON_SCREEN) -> frozenset[str]:
    """Draw a sheet as it is cut. Where pieces are too small for a label each, those side by side have one: `6 × B`.

    Args:
        draft: the picture.
        node: the cuts.
        frame: where the sheet lies on it, and its scale.
        look: its paper.
        least: the smallest type of a label, points.

    Returns:
        Labels that find no room on their pieces.
    """
    box = frame.box(node.rect)
    draft.shapes.append(lay(look, box.corners, (box.left, box.top), frame.scale, strength=_TINT))
    waste = [frame.box(leaf.rect) for leaf in leaves(node) if leaf.label is None]
    for room in waste:
        draft.box(room, None, "white")
    draft.lines("waste", [line for room in waste for line in hatched(room, step=5)])
    lines = [cut.line for cut in cuts(node)] + [slant.line for slant in slants(node)]
    draft.lines("cut", [(frame.point(*start), frame.point(*end)) for start, end in lines])
    draft.box(box, "sheet")
    missing = set()
    for label, group in alike(node):
        rooms = [part for leaf in group for part in (halves(frame.box(leaf.rect), leaf) if leaf.diagonal else (frame.box(leaf.rect),))]
        block = _fitting((alone(label, size, upward=upward) for size in (*_SIZES, least) for upward in (False, True)), rooms[0])
        if block:
            for room in rooms:
                block.draw(draft, room.centre, None if look.calm else room)
        elif [some for some in _blocks(group) if not _as_one(draft, label, *some, frame, least)]:
            missing.add(label)
    return frozenset(missing)


def _blocks(group: Iterable[Leaf]) -> list[tuple[Rect, int]]:
    """Pieces that are alike and lie side by side, as the largest rectangles that come of joining them; and how many each holds."""
    found: list[tuple[Rect, int]] = []
    for leaf in group:
        block = leaf.rect, leaf.gives
        while (other := next((other for other in found if _side_by_side(other[0], block[0])), None)) is not None:
            found.remove(other)
            block = _joined(other[0], block[0]), other[1] + block[1]
        found.append(block)
    return found


def _side_by_side(one: Rect, other: Rect) -> bool:
    """Whether they share a whole side."""
    across = (one.y, one.height) == (other.y, other.height) and (one.right == other.x or other.right == one.x)
    return across or ((one.x, one.width) == (other.x, other.width) and (one.bottom == other.y or other.bottom == one.y))


def _joined(one: Rect, other: Rect) -> Rect:
    x, y = min(one.x, other.x), min(one.y, other.y)
    return Rect(x, y, max(one.right, other.right) - x, max(one.bottom, other.bottom) - y)


def _as_one(draft: Draft, label: str, rect: Rect, n: int, frame: Frame, least: Number) -> bool:
    """One label for pieces side by side, which hides a part of the cuts between them; whether there is room for one."""
    text, room = f"{n} × {label}" if n > 1 else label, frame.box(rect)
    sizes = (*_SIZES[1:], least)
    block = _fitting((alone(text, size, upward=upward) for upward in (False, True) for size in sizes), room)
    if block:
        block.draw(draft, room.centre, room)
    return block is not None


def _fitting(blocks: Iterable[LabelBlock], room: Box) -> LabelBlock | None:
    return next((block for block in blocks if room.grown(-_ROUND).holds(block.box(room.centre))), None)
