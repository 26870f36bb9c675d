"""A sheet in small: its cuts, a label on each piece, what is left over hatched; no ruler and no numbers, which a guide has."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.cutting.tree import Node, cuts, leaves, slants
from kitwright.drawing.labels import LabelBlock, alone
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.piecelabels import alike, halves
from kitwright.drawing.placing import hatched
from kitwright.drawing.scene import Box, Draft, Frame
from kitwright.exact import Exact

_TINT = Exact(2, 5)
"""How strong the pattern is under lines and labels."""
_SIZES = (13, 11, 9, 8)
"""Of labels, points, the largest that fits first."""
_ROUND = Exact(3, 2)
"""Points from a label to the edges of its piece."""


def small_sheet(draft: Draft, node: Node, frame: Frame, look: DrawnLook) -> frozenset[str]:
    """Draw a sheet as it is cut.

    Args:
        draft: the picture.
        node: the cuts.
        frame: where the sheet lies on it, and its scale.
        look: its paper.

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
        block = next((block for block in _blocks(label) if _fits(block, rooms[0])), None)
        if block is None:
            missing.add(label)
            continue
        for room in rooms:
            block.draw(draft, room.centre, None if look.calm else room)
    return frozenset(missing)


def _blocks(label: str) -> Iterator[LabelBlock]:
    return (alone(label, size, upward=upward) for size in _SIZES for upward in (False, True))


def _fits(block: LabelBlock, room: Box) -> bool:
    return room.grown(-_ROUND).holds(block.box(room.centre))
