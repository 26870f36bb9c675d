"""How a piece is held on the card, where that is more than glue all over or foam under it: as a value that everybody asks.

What lies loose takes nothing; a hidden edge takes a run along it; a pocket, a shaker and its film
take what their own geometry says; a piece across doors is glued where it lies on one of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kitwright.card.pocket import Pocket
from kitwright.card.shaker import Shaker
from kitwright.geometry import Rect
from kitwright.kit.model.text import Edge
from kitwright.units import Length

Way = Literal["hidden edge", "loose", "pocket", "shaker", "film", "one panel"]
"""By one edge that another piece hides; not at all; on three edges; on foam all round a window; behind a frame; on one of the panels below it."""


@dataclass(frozen=True, slots=True)
class Hold:
    """How one piece is held."""

    way: Way
    pocket: Pocket | None = None
    """Where it is one."""
    shaker: Shaker | None = None
    """Where it is the frame of one, or its film."""
    into: str = ""
    """The label of the pocket that it is pushed into, if it is."""
    behind: str = ""
    """The label of the frame that it is stuck behind, if it is."""
    panel: str = ""
    """The panel that it is glued to, where it lies across more."""
    glued: Rect | None = None
    """The part of it that is glued, where that is not all."""


def along(rect: Rect, edge: Edge, wide: Length) -> Rect:
    """The strip of a rectangle along one of its edges."""
    if edge == "top":
        return Rect(rect.x, rect.y, rect.width, wide)
    if edge == "bottom":
        return Rect(rect.x, rect.bottom - wide, rect.width, wide)
    if edge == "left":
        return Rect(rect.x, rect.y, wide, rect.height)
    return Rect(rect.right - wide, rect.y, wide, rect.height)
