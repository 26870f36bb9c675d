"""From what the spec says of holding a piece to the geometry of it, where it lies on the card."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from kitwright.card import pocket as usual_pocket
from kitwright.card import shaker as usual_shaker
from kitwright.card.base import Point
from kitwright.card.face import Placed
from kitwright.card.hold import Hold, along
from kitwright.card.outlines import within
from kitwright.card.pocket import Pocket
from kitwright.card.shaker import Shaker
from kitwright.card.shapes import TURNED, window_on_card
from kitwright.geometry import Rect
from kitwright.kit.model import Laid, Piece, ShakerSpec
from kitwright.kit.model.fixing import Fixing
from kitwright.kit.model.text import Edge


def pocket_at(piece: Piece, rect: Rect, turned: bool, unit: str) -> Pocket | None:
    """The pocket that a piece is where it lies; None where it is none.

    Args:
        piece: as the spec has it.
        rect: the rectangle around it on the card.
        turned: whether it lies a quarter turn, to the right, from its own width × height.
        unit: the kit's, in which a width that is not said is usual.
    """
    said = piece.pocket
    if said is None:
        return None
    return Pocket(rect, TURNED[said.open] if turned else said.open, said.glue or usual_pocket.USUAL_GLUE[unit])


def shaker_at(said: ShakerSpec, piece: Piece, rect: Rect, turned: bool, unit: str) -> Shaker | None:
    """The shaker that a frame is where it lies; None where it has no window."""
    window = window_on_card(piece, rect, turned)
    if window is None:
        return None
    return Shaker(
        frame=rect,
        window=window,
        set_back=usual_shaker.USUAL_SET_BACK[unit] if said.from_window is None else said.from_window,
        foam=said.foam or usual_shaker.USUAL_FOAM[unit],
        lap=said.lap or usual_shaker.USUAL_LAP[unit],
    )


def plain_hold(held: Fixing | None) -> Hold | None:
    """How something is held that is no pocket and no shaker; None where it is glued all over, or stands on foam."""
    if held == "loose":
        return Hold("loose")
    return Hold("hidden edge") if held == "hidden edge" else None


def hold_of(laid: Laid, piece: Piece, rect: Rect, unit: str, panels: Mapping[str, Rect], below: Sequence[Placed] = ()) -> Hold | None:
    """How something set down by position is held; None where it is glued all over, or stands on foam.

    Args:
        laid: as the spec sets it down.
        piece: what it is.
        rect: where it lies on its face.
        unit: the kit's, in which a width that is not said is usual.
        panels: where the panels of that face are.
        below: what was laid there before it.
    """
    hold = _hold_of(laid, piece, rect, unit)
    panel = _panel_of(laid, rect, panels, below)
    if not panel or (hold and hold.way == "loose"):
        return hold
    return replace(hold or Hold("one panel"), panel=panel.panel, glued=panel.glued)


def _panel_of(laid: Laid, rect: Rect, panels: Mapping[str, Rect], below: Sequence[Placed]) -> Hold | None:
    """To which of several panels a piece is glued, and where: the one that it is said to be fixed to, or by what carries it alone."""
    if len(across(rect, panels)) < 2:
        return None
    if laid.fixed_to and (glued := shared(rect, panels.get(laid.fixed_to))):
        return Hold("one panel", panel=laid.fixed_to, glued=glued)
    carries = next((other for other in reversed(below) if other.rect.contains(rect) and other.hold and other.hold.panel), None)
    return Hold("one panel", panel=carries.hold.panel, glued=rect) if carries and carries.hold else None


def across(rect: Rect, panels: Mapping[str, Rect]) -> tuple[str, ...]:
    """The panels on some of which a rectangle lies."""
    return tuple(name for name, panel in panels.items() if rect.overlaps(panel))


def shared(rect: Rect, panel: Rect | None) -> Rect | None:
    """The part of a rectangle that lies on a panel, if any does."""
    if panel is None or not rect.overlaps(panel):
        return None
    x, y = max(rect.x, panel.x), max(rect.y, panel.y)
    return Rect(x, y, min(rect.right, panel.right) - x, min(rect.bottom, panel.bottom) - y)


def _hold_of(laid: Laid, piece: Piece, rect: Rect, unit: str) -> Hold | None:
    if laid.within:
        return Hold("loose", into=laid.within)
    if laid.shaker and (shaker := shaker_at(laid.shaker, piece, rect, laid.turned, unit)):
        return Hold("shaker", shaker=shaker)
    if hold := plain_hold(laid.held):
        return hold
    pocket = pocket_at(piece, rect, laid.turned, unit)
    return Hold("pocket", pocket=pocket) if pocket else None


def hidden_edges_of(placed: Placed, stack: Sequence[Placed], unit: str) -> tuple[Edge, ...]:
    """The edges of a piece along which something above it in the stack hides a run of glue, the longest first.

    Args:
        placed: what is to be held.
        stack: everything of its face, lowest first.
        unit: the kit's, in which the width of a run is usual.
    """
    above, wide = stack[stack.index(placed) + 1 :], usual_pocket.USUAL_GLUE[unit]
    runs: dict[Edge, Rect] = {edge: along(placed.rect, edge, wide) for edge in ("top", "bottom", "left", "right")}
    hidden: list[Edge] = [edge for edge, run in runs.items() if any(_hides(other, run) for other in above)]
    return tuple(sorted(hidden, key=lambda edge: max(runs[edge].width, runs[edge].height), reverse=True))


def _hides(cover: Placed, run: Rect) -> bool:
    """Whether a piece lies over all of a rectangle, with none of its openings there."""
    outer, *openings = cover.edges or (cover.rect.corners,)
    return all(within(outer, corner) for corner in run.corners) and not any(_around(opening).overlaps(run) for opening in openings)


def _around(ring: Sequence[Point]) -> Rect:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return Rect(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))
