"""Outlines of pieces that are not plain rectangles, exact."""

from __future__ import annotations

from kitwright.geometry import Rect
from kitwright.kit.model import Notch, Piece
from kitwright.units import ZERO, Length, Size

Ends = tuple[str, ...]
_TURNED = {"left": "top", "top": "right", "right": "bottom", "bottom": "left"}
"""Where an end comes to lie after a quarter turn to the right."""


def notch_ends(size: Size, notch: Notch) -> Ends:
    """The notched ends of a strip as it is written; `both` means both short ends."""
    if notch.ends == "both":
        return ("left", "right") if size.width >= size.height else ("top", "bottom")
    return (notch.ends,)


def notch_depth(size: Size, notch: Notch) -> Length:
    """How deep the V is: as said, or half the strip's height, which makes it a right angle."""
    if notch.depth is not None:
        return notch.depth
    return (size.height if notch_ends(size, notch)[0] in ("left", "right") else size.width) / 2


def notches_on_card(piece: Piece, turned: bool) -> dict[str, Length]:
    """Depth of each notch by the end where it lies on the card."""
    if piece.notch is None:
        return {}
    depth = notch_depth(piece.size, piece.notch)
    ends = notch_ends(piece.size, piece.notch)
    return {(_TURNED[end] if turned else end): depth for end in ends}


def outline(rect: Rect, notches: dict[str, Length]) -> tuple[tuple[Length, Length], ...]:
    """The corners of a notched strip, clockwise from the top left; empty for a plain rectangle."""
    if not notches:
        return ()
    mid_x, mid_y = rect.centre
    corners = [(rect.x, rect.y)]
    if "top" in notches:
        corners.append((mid_x, rect.y + notches["top"]))
    corners.append((rect.right, rect.y))
    if "right" in notches:
        corners.append((rect.right - notches["right"], mid_y))
    corners.append((rect.right, rect.bottom))
    if "bottom" in notches:
        corners.append((mid_x, rect.bottom - notches["bottom"]))
    corners.append((rect.x, rect.bottom))
    if "left" in notches:
        corners.append((rect.x + notches["left"], mid_y))
    return tuple(corners)


def clear_of_notches(rect: Rect, notches: dict[str, Length]) -> Rect:
    """The part of a strip between the notch bottoms."""
    left, right = notches.get("left", ZERO), notches.get("right", ZERO)
    top, bottom = notches.get("top", ZERO), notches.get("bottom", ZERO)
    return Rect(rect.x + left, rect.y + top, rect.width - left - right, rect.height - top - bottom)
