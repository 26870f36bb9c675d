"""Outlines of pieces that are not plain rectangles, exact: from what the spec says to edges."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from kitwright.card import outlines, pointed
from kitwright.card.face import Form, Placed
from kitwright.card.notches import Ends, notch_depth, notch_ends, strip_height, ways
from kitwright.card.outlines import CORNERS, Contour, Outline, Point
from kitwright.geometry import Rect
from kitwright.kit.model import Edge, Notch, Piece, Pointing, Scalloped, Shape, Tag, Window
from kitwright.units import ZERO, Length, Size

__all__ = [
    "Ends",
    "Misshape",
    "TURNED",
    "as_placed",
    "clear_of_notches",
    "form_of",
    "holds_within",
    "lying_size",
    "misshapes",
    "notch_depth",
    "notch_ends",
    "notches_on_card",
    "on_card",
    "outline",
    "outline_of",
    "scalloped_edges",
    "stays_clear",
    "window_on_card",
]

SIDES: tuple[Edge, ...] = ("top", "right", "bottom", "left")
TURNED: dict[str, Edge] = {"left": "top", "top": "right", "right": "bottom", "bottom": "left"}
"""Where an end comes to lie after a quarter turn to the right."""
_END_CORNERS = {
    "top": ("top left", "top right"),
    "right": ("top right", "bottom right"),
    "bottom": ("bottom right", "bottom left"),
    "left": ("bottom left", "top left"),
}


# --- notches on the card ---------------------------------------------------------------------


def notches_on_card(piece: Piece, turned: bool, upside_down: bool = False) -> dict[str, Length]:
    """Depth of each notch by the end where it lies on the card."""
    if piece.notch is None:
        return {}
    depth = notch_depth(piece.size, piece.notch)
    ends: Iterable[str] = notch_ends(piece.size, piece.notch)
    if upside_down:
        ends = [TURNED[TURNED[end]] for end in ends]
    return {(TURNED[end] if turned else end): depth for end in ends}


def outline(rect: Rect, notches: dict[str, Length]) -> tuple[Point, ...]:
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


# --- the whole piece --------------------------------------------------------------------------


def outline_of(piece: Piece) -> Outline:
    """The finished piece as its size is written, its top left corner at the origin.

    A shape that can't be (see `misshapes`) is left a plain rectangle.
    """
    if next(misshapes(piece), None):
        return outlines.plain(piece.size)
    rect = Rect.of(piece.size)
    if piece.notch:
        edge = outlines.polygon(*outline(rect, notches_on_card(piece, False)))
    elif piece.pocket and piece.pocket.thumb_notch:
        edge = outlines.bitten(rect, piece.pocket.open, piece.pocket.thumb_notch)
    else:
        edge = _edge(rect, piece.shape) if piece.shape else outlines.rectangle(rect)
    return Outline(edge, tuple(_openings(rect, piece.shape)) if piece.shape else ())


def on_card(piece: Piece, rect: Rect, turned: bool, upside_down: bool = False, point: Pointing | None = None) -> Outline | None:
    """The finished piece where it lies on the card; None for a plain rectangle.

    Args:
        piece: as the spec has it.
        rect: the rectangle around it on the card.
        turned: whether it lies a quarter turn, to the right, from its own width × height.
        upside_down: whether it lies half a turn from that.
        point: of a triangle set on its point, where its right angle is.
    """
    if not piece.shaped:
        return None
    way = piece.shape.triangle if piece.shape else None
    if point and way:
        return pointed.outline(piece.size, way, point).moved(rect.x, rect.y)
    shape = outline_of(piece)
    if turned:
        shape = shape.turned(piece.size.height)
    if upside_down:
        shape = shape.head_down()
    return shape.moved(rect.x, rect.y)


def as_placed(piece: Piece, placed: Placed) -> Outline | None:
    """The same of a piece that lies on the card; its label may stand for another that looks so."""
    return on_card(piece, placed.rect, placed.turned, placed.upside_down, _POINTS.get(placed.point))


_POINTS: dict[str, Pointing] = {point: point for point in pointed.POINTS}


def lying_size(piece: Piece, turned: bool, point: Pointing | None = None) -> Size:
    """How much room a piece takes as it lies."""
    if point and piece.shape and piece.shape.triangle:
        return pointed.size(piece.size, piece.shape.triangle, point)
    return piece.size.turned if turned else piece.size


def window_on_card(piece: Piece, rect: Rect, turned: bool) -> Rect | None:
    """The rectangle around a piece's window where it lies on the card; None where it has none.

    Args:
        piece: as the spec has it.
        rect: the rectangle around it on the card.
        turned: whether it lies a quarter turn, to the right, from its own width × height.
    """
    if piece.shape is None or piece.shape.window is None:
        return None
    own = _window(Rect.of(piece.size), piece.shape.window)
    if turned:
        own = Rect(piece.size.height - own.bottom, own.x, own.height, own.width)
    return own.moved(rect.x, rect.y)


def form_of(piece: Piece) -> Form:
    """What makes a piece other than a plain rectangle; empty for a plain one."""
    shape = piece.shape
    if piece.notch:
        found: Form = (("notch", notch_ends(piece.size, piece.notch)),)
    elif piece.pocket and piece.pocket.thumb_notch:
        found = (("thumb notch", (piece.pocket.open,)),)
    elif shape is None:
        return ()
    elif shape.circle or shape.oval:
        found = (("circle" if shape.circle else "oval", ()),)
    elif shape.triangle:
        found = (("triangle", (shape.triangle,)),)
    elif shape.trapezoid:
        found = (("trapezoid", (shape.trapezoid.end,)),)
    elif shape.parallelogram:
        found = (("parallelogram", (shape.parallelogram.lean,)),)
    elif shape.scalloped:
        found = (("scalloped", tuple(scalloped_edges(shape.scalloped))),)
    elif shape.rounded:
        found = (("rounded", tuple(shape.corners)),)
    elif shape.snipped:
        found = (("snipped", tuple(shape.corners)),)
    elif shape.arch:
        found = (("arch", (shape.arch,)),)
    else:
        found = (("tag", (shape.tag.end,)),) if shape.tag else ()
    if shape and shape.window:
        found += (("frame" if shape.window.border else "window", ()),)
    return found


def stays_clear(shape: Outline, rect: Rect) -> bool:
    """Whether something printed in a rectangle stays on the paper of a piece without notches, clear of its edge and openings."""
    return _holds(shape.edge, rect) and not any(Outline(opening).bounds.overlaps(rect) for opening in shape.openings)


def _holds(edge: Contour, rect: Rect, on_it: bool = False) -> bool:
    """Whether a rectangle lies inside the edge of a piece without notches; or touches it, where that is asked.

    All of them are convex but for scallops, which reach in no further than where two of them meet, at a corner of the edge,
    and for a thumb notch, of which nothing may lie in the rectangle around it.
    """
    corners = [(x, y) for x in (rect.x, rect.right) for y in (rect.y, rect.bottom)]
    reach_in = any(rect.x < x < rect.right and rect.y < y < rect.bottom for x, y in (e.start for e in edge))
    if any(outlines.box(e).overlaps(rect) for e in edge if e.centre and not e.clockwise):
        return False
    return not reach_in and all(outlines.lies_inside(edge, corner, on_it) for corner in corners)


def holds_within(piece: Piece, rect: Rect, turned: bool, inner: Rect) -> bool:
    """Whether a rectangle lies within a piece's edge, whatever openings it has there.

    Args:
        piece: as the spec has it.
        rect: the rectangle around it on the card.
        turned: whether it lies a quarter turn, to the right, from its own width × height.
        inner: what is to lie within.
    """
    if not rect.contains(inner):
        return False
    shape = on_card(piece, rect, turned)
    if shape is None or piece.notch:
        return clear_of_notches(rect, notches_on_card(piece, turned)).contains(inner)
    return _holds(shape.edge, inner, True)


def _edge(rect: Rect, shape: Shape) -> Contour:
    corners = shape.corners or CORNERS
    if shape.circle or shape.oval:
        return outlines.oval(rect)
    if shape.triangle:
        return outlines.triangle(rect, shape.triangle)
    if shape.trapezoid:
        return outlines.trapezoid(rect, shape.trapezoid.end, shape.trapezoid.by)
    if shape.parallelogram:
        return outlines.parallelogram(rect, shape.parallelogram.lean, shape.parallelogram.by)
    if shape.scalloped:
        return outlines.scalloped(rect, scalloped_edges(shape.scalloped), shape.scalloped.width)
    if shape.rounded:
        return outlines.softened(rect, dict.fromkeys(corners, shape.rounded), True)
    if shape.snipped:
        return outlines.softened(rect, dict.fromkeys(corners, shape.snipped), False)
    if shape.arch:
        return outlines.softened(rect, dict.fromkeys(_END_CORNERS[shape.arch], _across(rect.size, shape.arch) / 2), True)
    if shape.tag:
        return outlines.softened(rect, dict.fromkeys(_END_CORNERS[shape.tag.end], shape.tag.snip), False)
    return outlines.rectangle(rect)


def scalloped_edges(said: Scalloped) -> tuple[Edge, ...]:
    """The edges that have half circles."""
    return said.edge or SIDES


def _across(size: Size, end: str) -> Length:
    """How wide an end is."""
    return size.width if end in ("top", "bottom") else size.height


def _openings(rect: Rect, shape: Shape) -> Iterator[Contour]:
    if shape.window:
        r = _window(rect, shape.window)
        corners = dict.fromkeys(CORNERS, shape.window.rounded) if shape.window.rounded else {}
        yield outlines.opening(outlines.softened(r, corners, True))
    if shape.tag:
        (x, y), radius = _hole(rect, shape.tag), shape.tag.hole / 2
        yield outlines.opening(outlines.circle(x, y, radius))


def _window(rect: Rect, window: Window) -> Rect:
    if window.border is not None:
        return rect.inset(window.border)
    size = window.size
    if size is None:
        raise ValueError("a window has a size or a border")
    width, height = size.width, size.height
    x, y = rect.x + (rect.width - width) / 2, rect.y + (rect.height - height) / 2
    if window.left is not None:
        x = rect.x + window.left
    elif window.right is not None:
        x = rect.right - window.right - width
    if window.top is not None:
        y = rect.y + window.top
    elif window.bottom is not None:
        y = rect.bottom - window.bottom - height
    return Rect(x, y, width, height)


def _hole(rect: Rect, tag: Tag) -> Point:
    """The middle of a tag's hole."""
    mid_x, mid_y = rect.centre
    inset = tag.inset or tag.snip
    return {
        "top": (mid_x, rect.y + inset),
        "bottom": (mid_x, rect.bottom - inset),
        "left": (rect.x + inset, mid_y),
        "right": (rect.right - inset, mid_y),
    }[tag.end]


# --- shapes that can't be ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Misshape:
    """Something about a shape that no scissors can cut."""

    path: tuple[str, ...]
    """The key under the piece's entry."""
    code: str
    """What it is; the catalogue has the words."""
    values: Mapping[str, Any]


def misshapes(piece: Piece, unit: str = "in") -> Iterator[Misshape]:
    """What is wrong with the notches and the shape of a piece; nothing for a sound one.

    Args:
        piece: as the spec has it.
        unit: on whose ruler the smallest tool is sought.
    """
    if piece.notch:
        yield from _bad_notches(piece, piece.notch, unit)
    if piece.pocket and (thumb := piece.pocket.thumb_notch):
        upright = piece.pocket.open in ("top", "bottom")
        across, deep = (piece.size.width, piece.size.height) if upright else (piece.size.height, piece.size.width)
        if thumb >= across or thumb >= deep * 2:
            yield Misshape(("pocket", "thumb notch"), "shapes.thumb-too-large", {"thumb": thumb, "most": min(across, deep * 2)})
    if piece.shape:
        yield from list(_bad_edge(piece.size, piece.shape)) or _bad_openings(piece, piece.shape)


def _bad_notches(piece: Piece, notch: Notch, unit: str) -> Iterator[Misshape]:
    ends, depth = notch_ends(piece.size, notch), notch_depth(piece.size, notch)
    along = piece.size.width if ends[0] in ("left", "right") else piece.size.height
    if depth * len(ends) >= along:
        yield Misshape(("notch",), "shapes.notches-meet", {"along": along, "depth": depth, "notches": len(ends)})
    own = ways(piece, unit)[0]
    if own.big_enough is False:
        yield Misshape(
            ("notch", "made with"),
            "shapes.punch-too-small",
            {"tool": own.tool, "height": strip_height(piece.size, notch), "least": own.least},
        )


def _bad_edge(size: Size, shape: Shape) -> Iterator[Misshape]:
    """Corners that take more of an edge than there is, a circle that is none."""
    if shape.circle and size.width != size.height:
        yield Misshape(("shape",), "shapes.no-circle", {"size": size})
    yield from _bad_slants(size, shape)
    if shape.scalloped:
        yield from _bad_scallops(size, shape.scalloped)
    for key in ("rounded", "snipped"):
        taken = getattr(shape, key)
        if taken is None:
            continue
        corners = shape.corners or CORNERS
        for end, pair in _END_CORNERS.items():
            n, have = sum(corner in corners for corner in pair), _across(size, end)
            # Two snips may meet in a point, two arcs in a half circle; one may not take more than its edge.
            if n and taken * n > have:
                yield Misshape(
                    ("shape", key), "shapes.corners-too-large", {"across": have, "end": end, "how": key, "taken": taken, "most": have / n}
                )
                return
    opposite = any(set(pair) <= set(shape.corners or CORNERS) for pair in (CORNERS[::2], CORNERS[1::2]))
    if shape.snipped and opposite and shape.snipped * 2 >= size.width + size.height:
        yield Misshape(("shape", "snipped"), "shapes.snipped-away", {"snip": shape.snipped})
    if shape.arch:
        rise = _across(size, shape.arch) / 2
        have = size.height if shape.arch in ("top", "bottom") else size.width
        if rise > have:
            yield Misshape(("shape", "arch"), "shapes.arch-too-high", {"end": shape.arch, "rise": rise})
    if shape.tag:
        yield from _bad_tag(size, shape.tag)


def _bad_slants(size: Size, shape: Shape) -> Iterator[Misshape]:
    """Slanted cuts that meet before they are through."""
    if shape.trapezoid:
        end, by = shape.trapezoid.end, shape.trapezoid.by
        most = _across(size, end) / 2
        if by > most:
            yield Misshape(("shape", "trapezoid", "in"), "shapes.trapezoid-too-slanted", {"end": end, "across": most * 2, "most": most})
    if shape.parallelogram:
        across = size.width if shape.parallelogram.lean in ("left", "right") else size.height
        if shape.parallelogram.by >= across:
            yield Misshape(("shape", "parallelogram", "by"), "shapes.leans-too-far", {"by": shape.parallelogram.by, "across": across})


def _bad_scallops(size: Size, said: Scalloped) -> Iterator[Misshape]:
    """Half circles that don't come out even on their edge, with the nearest that would."""
    sides, width = scalloped_edges(said), said.width
    inner = outlines.within_scallops(Rect.of(size), sides, width)
    lengths = {side: inner.width if side in ("top", "bottom") else inner.height for side in sides}
    wrong = next((side for side, length in lengths.items() if length < width or (length / width).denominator > 1), None)
    if inner.width <= ZERO or inner.height <= ZERO:
        wrong = sides[0]
    if wrong:
        nearest = _nearest_scallop(size, sides, width)
        values = {"width": width, "edge": wrong, "along": max(lengths[wrong], ZERO), "nearest": nearest}
        yield Misshape(("shape", "scalloped", "width"), "shapes.scallops-uneven", values)


MOST_SCALLOPS = 400
"""Half circles on an edge up to which a width that comes out even is looked for."""


def _nearest_scallop(size: Size, sides: tuple[Edge, ...], width: Length) -> Length | None:
    """The width nearest to one that comes out even on all these sides; None where none is found.

    A side takes n of them where it is as long as (n + k/2), of which the k rows at its ends take half a width each.
    """
    across = [Fraction(sum(side in sides for side in ("left", "right")), 2)] if {"top", "bottom"} & set(sides) else []
    down = [Fraction(sum(side in sides for side in ("top", "bottom")), 2)] if {"left", "right"} & set(sides) else []
    length, ends = (size.width, across[0]) if across else (size.height, down[0])
    found = []
    for n in range(1, MOST_SCALLOPS):
        each = length / (n + ends)
        inner = outlines.within_scallops(Rect.of(size), sides, each)
        other = (inner.height / each) if across and down else Fraction(1)
        if inner.width > ZERO and inner.height > ZERO and other.denominator == 1:
            found.append(each)
    return min(found, key=lambda each: abs(each - width), default=None)


def _bad_tag(size: Size, tag: Tag) -> Iterator[Misshape]:
    across = _across(size, tag.end)
    along = size.height if tag.end in ("top", "bottom") else size.width
    if tag.snip * 2 > across or tag.snip > along:
        yield Misshape(
            ("shape", "tag", "snip"), "shapes.snips-too-large", {"across": across, "end": tag.end, "most": min(across / 2, along)}
        )
        return
    radius, inset = tag.hole / 2, tag.inset or tag.snip
    # Clear of both snipped edges: the distance from the hole's middle to the line they lie on,
    # (inset + across/2 − snip) / √2, compared as squares.
    room = (inset + across / 2 - tag.snip).inches
    if inset <= radius or inset + radius >= along or radius * 2 >= across or room <= 0 or room**2 <= 2 * radius.inches**2:
        yield Misshape(("shape", "tag", "hole"), "shapes.hole-breaks-edge", {"hole": tag.hole, "inset": inset, "end": tag.end})


def _bad_openings(piece: Piece, shape: Shape) -> Iterator[Misshape]:
    window = shape.window
    if window is None:
        return
    rect = Rect.of(piece.size)
    opening = _window(rect, window)
    if opening.width <= ZERO or opening.height <= ZERO:
        yield Misshape(("shape", "window"), "shapes.no-window", {"border": window.border})
        return
    if window.rounded and window.rounded * 2 > min(opening.width, opening.height):
        most = min(opening.width, opening.height) / 2
        yield Misshape(("shape", "window", "rounded"), "shapes.window-too-small", {"rounded": window.rounded, "most": most})
        return
    inside = rect.x < opening.x and rect.y < opening.y and opening.right < rect.right and opening.bottom < rect.bottom
    if not inside or not _clear(piece, shape, opening):
        yield Misshape(("shape", "window"), "shapes.window-breaks-edge", {})


def _clear(piece: Piece, shape: Shape, opening: Rect) -> bool:
    """Whether a window lies clear inside the piece's edge, and of its hole; sharp corners are taken for rounded ones, which errs to the safe side by a hair."""
    rect = Rect.of(piece.size)
    if piece.notch:
        return clear_of_notches(rect, notches_on_card(piece, False)).contains(opening)
    if shape.tag:
        (hx, hy), radius = _hole(rect, shape.tag), shape.tag.hole / 2
        box = Rect(hx - radius, hy - radius, shape.tag.hole, shape.tag.hole)
        if box.overlaps(opening):
            return False
    return _holds(_edge(rect, shape), opening)
