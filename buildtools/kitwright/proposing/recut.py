"""A sheet cut as it was, with pieces of other sizes: the same cuts in the same order, each as far as the new sizes ask."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from kitwright.cutting.tree import Leaf, Node, Side, Split
from kitwright.geometry import Axis, Rect
from kitwright.units import ZERO, Length, Size, total


def recut(node: Node, sizes: Mapping[str, Size]) -> Node | None:
    """The tree with other sizes of its pieces; None where they don't come out of the sheet by its cuts.

    A part is larger than its pieces by as much as it was, where that still goes; what stays in hand
    at the end takes the rest. A half that is kept whole stays as large as it is.
    """
    return _fill(node, sizes, node.rect) if least(node, sizes).fits(node.rect.size) else None


def least(node: Node, sizes: Mapping[str, Size] | None = None) -> Size:
    """The smallest sheet that gives the pieces by these cuts; of those that it has without `sizes`. A half that is kept whole counts as it is."""
    if isinstance(node, Leaf):
        return Size(ZERO, ZERO) if node.label is None else _lying(node, sizes) if sizes else node.rect.size
    along = total(lengths_of(node, sizes))
    across = max(_along(least(part, sizes), "y" if node.axis == "x" else "x") for part in node.parts)
    return Size(along, across) if node.axis == "x" else Size(across, along)


def lengths_of(split: Split, sizes: Mapping[str, Size] | None) -> list[Length]:
    """What each part takes at least along a split."""
    each = [_along(least(part, sizes), split.axis) for part in split.parts]
    if any(map(split_in_half(split), split.parts)):
        # Both halves are as large as they are, unless the one that is cut has to be larger.
        return [max(length, _along(part.rect.size, split.axis)) for length, part in zip(each, split.parts)]
    return each


def split_in_half(split: Split) -> Callable[[Node], bool]:
    """Whether a part is the half of a sheet that stays whole."""
    whole = _along(split.rect.size, split.axis)
    return lambda part: isinstance(part, Leaf) and part.label is None and _along(part.rect.size, split.axis) * 2 == whole


def _lying(leaf: Leaf, sizes: Mapping[str, Size]) -> Size:
    size = sizes[leaf.label or ""]
    return size.turned if leaf.turned else size


def _along(size: Size, axis: Axis) -> Length:
    return size.width if axis == "x" else size.height


def _fill(node: Node, sizes: Mapping[str, Size], room: Rect) -> Node:
    if isinstance(node, Leaf):
        return replace(node, rect=room) if node.label is None else _trimmed(node, _lying(node, sizes), room)
    there, own = _along(room.size, node.axis), lengths_of(node, sizes)
    spare = [_along(part.rect.size, node.axis) - length for part, length in zip(node.parts, lengths_of(node, None))]
    as_before = [length + more for length, more in zip(own, spare)]
    last = -1 if node.off in ("left", "top") else 0
    end = node.parts[last]
    rest = there - total(as_before)
    if isinstance(end, Split) or end.label is None:
        lengths = as_before if as_before[last] + rest >= own[last] else own
        lengths[last] += there - total(lengths)
        rest = ZERO
    elif rest >= ZERO:
        lengths = as_before
    else:
        lengths, rest = own, there - total(own)
    parts = [(length, part) for length, part in zip(lengths, node.parts) if length > ZERO]
    if rest > ZERO:
        parts.insert(len(parts) if last else 0, (rest, Leaf(room)))
    return _laid(node.axis, node.off, parts, room, sizes)


def _laid(axis: Axis, off: Side, there: list[tuple[Length, Node]], room: Rect, sizes: Mapping[str, Size]) -> Node:
    """Parts in the order in which they lie, each filled."""
    if len(there) == 1:
        return _fill(there[0][1], sizes, room)
    at, filled = (room.x if axis == "x" else room.y), []
    for length, part in there:
        rect = Rect(at, room.y, length, room.height) if axis == "x" else Rect(room.x, at, room.width, length)
        filled.append(_fill(part, sizes, rect))
        at += length
    return Split(room, axis, tuple(filled), off)


def _trimmed(leaf: Leaf, size: Size, room: Rect) -> Node:
    """A piece in a part that is larger than it: what it does not take comes off, along first."""
    if size.width < room.width:
        cut = Rect(room.x, room.y, size.width, room.height)
        rest = Rect(cut.right, room.y, room.width - size.width, room.height)
        return Split(room, "x", (_trimmed(leaf, size, cut), Leaf(rest)), "left")
    if size.height < room.height:
        cut = Rect(room.x, room.y, room.width, size.height)
        rest = Rect(room.x, cut.bottom, room.width, room.height - size.height)
        return Split(room, "y", (replace(leaf, rect=cut), Leaf(rest)), "top")
    return replace(leaf, rect=room)
