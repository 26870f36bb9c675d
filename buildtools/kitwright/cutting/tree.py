"""The cut tree: a sheet, taken apart by edge-to-edge cuts.

Every node owns a rectangle of the sheet (sheet coordinates: x right, y down). A `Split`
is cut right across into parts; a `Leaf` is a labelled piece or a leftover. The
literature calls such a plan guillotine cutting.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from kitwright.geometry import HALVES, Axis, Diagonal, Rect, other_diagonal
from kitwright.units import ZERO, Length, Size

Side = Literal["left", "right", "top", "bottom"]


@dataclass(frozen=True, slots=True)
class Leaf:
    """A rectangle that is cut no further."""

    rect: Rect
    """Where it lies on the sheet."""
    label: str | None = None
    """The label of the piece; None marks a leftover."""
    turned: bool = False
    """Whether the piece lies a quarter turn from its own width × height."""
    diagonal: Diagonal | None = None
    """The cut from corner to corner that makes two triangles of it, as it lies on the sheet; None for a piece that is one."""

    @property
    def gives(self) -> int:
        """How many pieces come of it."""
        return HALVES if self.diagonal else 1


@dataclass(frozen=True, slots=True)
class Split:
    """A rectangle cut right across, once or several times in one direction."""

    rect: Rect
    """What is in hand before these cuts."""
    axis: Axis
    """`x`: the cuts run up and down, parts lie left to right; `y`: top to bottom."""
    parts: tuple[Node, ...]
    """The parts in order of x or y; at least two."""
    off: Side = "left"
    """The side from which strips come off first."""


Node = Leaf | Split


@dataclass(frozen=True, slots=True)
class Cut:
    """One stroke of the blade."""

    number: int
    """Its turn, counted from 1."""
    part: Rect
    """What is in hand before the stroke."""
    axis: Axis
    """`x`: the blade runs up and down at `at`; `y`: it runs across."""
    at: Length
    """Where, in sheet coordinates."""
    measure: Length
    """The ruler mark: the width of what falls off."""
    off: Side
    """The side that falls off."""

    @property
    def across(self) -> Length:
        """What is in hand, across the blade."""
        return self.part.width if self.axis == "x" else self.part.height

    @property
    def wider(self) -> Length:
        """Of both sides of the blade the wider, which lies under the trimmer."""
        return max(self.measure, self.across - self.measure)

    @property
    def line(self) -> tuple[tuple[Length, Length], tuple[Length, Length]]:
        """Both ends; the blade starts at the first."""
        if self.axis == "x":
            return (self.at, self.part.y), (self.at, self.part.bottom)
        return (self.part.x, self.at), (self.part.right, self.at)


@dataclass(frozen=True, slots=True)
class Slant:
    """A stroke from corner to corner, made without the ruler once everything else is cut."""

    number: int
    """Its turn, counted on from the other strokes."""
    leaf: Leaf
    """The rectangle that it halves."""
    way: Diagonal
    """From which corner to which, as the sheet lies."""

    @property
    def line(self) -> tuple[tuple[Length, Length], tuple[Length, Length]]:
        """Both ends, the upper one first."""
        r = self.leaf.rect
        if self.way == "falling":
            return (r.x, r.y), (r.right, r.bottom)
        return (r.right, r.y), (r.x, r.bottom)


def leaves(node: Node) -> Iterator[Leaf]:
    """All leaves, in the order in which they lie in the tree."""
    if isinstance(node, Leaf):
        yield node
    else:
        for part in node.parts:
            yield from leaves(part)


def lying(way: Diagonal | None, turned: bool) -> Diagonal | None:
    """A piece's diagonal as it lies on the sheet."""
    return other_diagonal(way) if way and turned else way


def pieces(node: Node) -> list[Leaf]:
    """The labelled leaves."""
    return [leaf for leaf in leaves(node) if leaf.label is not None]


def leftovers(node: Node) -> list[Rect]:
    """What remains of the sheet, largest first."""
    rests = [leaf.rect for leaf in leaves(node) if leaf.label is None]
    return sorted(rests, key=lambda r: (-r.area, r.y, r.x))


def yields(node: Node) -> dict[str, int]:
    """Pieces per sheet, by label, in label order."""
    return dict(sorted(Counter(labels(pieces(node))).items()))


def labels(leaves: Iterable[Leaf]) -> list[str]:
    """The labels of those that have one, as often as each gives a piece."""
    return [leaf.label for leaf in leaves if leaf.label is not None for _ in range(leaf.gives)]


@dataclass(frozen=True, slots=True)
class Pass:
    """Strokes at one measure on things of one size, without moving the ruler."""

    things: tuple[Split, ...]
    """What is taken in hand, one after another: these strokes are the same on each, though
    what falls off may be cut differently later."""
    start: int
    """How many parts have come off each before."""
    falling: tuple[Node, ...]
    """The parts that fall off, thing by thing, in order."""
    cuts: tuple[Cut, ...]
    """The strokes, thing by thing."""


def passes(node: Node, together: bool = True) -> list[Pass]:
    """Every stroke, in the order in which hands make them.

    Things that take the same strokes are taken up together, so that all strokes at one
    measure follow one another; and a thing whose first stroke is at the mark where the
    ruler stands is taken up next. Either a whole level is cut before the next (`together`:
    all columns, then all strips), or one thing is finished before the next is taken up;
    then only things that are alike to the last piece are taken up together.
    """
    alike = _same_strokes if together else _alike
    found: list[Pass] = []
    waiting = [[node]] if isinstance(node, Split) else []
    done = 0
    while waiting:
        things = waiting.pop(0)
        for one in _passes_of(things, done):
            found.append(one)
            done += len(one.cuts)
        inner = alike([part for part in _ordered(things) if isinstance(part, Split)])
        waiting = alike([thing for group in waiting + inner for thing in group]) if together else inner + waiting
        if together:
            mark = found[-1].cuts[-1].measure
            waiting.sort(key=lambda group: _thickness(taken(group[0])[0], group[0]) != mark)
    return found


def cuts(node: Node) -> list[Cut]:
    """Every stroke, numbered in the order in which hands make them."""
    return list(_cuts(node))


@lru_cache(maxsize=512)
def _cuts(node: Node) -> tuple[Cut, ...]:
    # Every drawing and table of a sheet asks for them again.
    return tuple(cut for one in passes(node) for cut in one.cuts)


def holds(node: Node, least: Length) -> bool:
    """Whether a trimmer that holds no paper narrower than this can make every stroke."""
    return all(cut.wider >= least for cut in _cuts(node))


def slants(node: Node) -> list[Slant]:
    """Every stroke from corner to corner, numbered on from the others, row by row as they lie on the sheet."""
    halved = [leaf for leaf in leaves(node) if leaf.diagonal]
    first = len(_cuts(node)) + 1 if halved else 0
    # Those alike come together: a label's diagonal falls one way on those that lie turned, the other way on the rest.
    lying_so = sorted(halved, key=lambda leaf: (leaf.label or "", leaf.diagonal, leaf.rect.y, leaf.rect.x))
    return [Slant(i, leaf, leaf.diagonal) for i, leaf in enumerate(lying_so, first) if leaf.diagonal]


def taken(split: Split) -> tuple[Node, ...]:
    """The parts of a split in the order in which they come off."""
    return split.parts if split.off in ("left", "top") else tuple(reversed(split.parts))


def _ordered(things: list[Split]) -> list[Node]:
    return [part for thing in things for part in taken(thing)]


def _alike(things: list[Split]) -> list[list[Split]]:
    """Things that are equal but for where they lie, together, in the order in which they came."""
    groups: dict[Node, list[Split]] = {}
    for thing in things:
        groups.setdefault(moved(thing, -thing.rect.x, -thing.rect.y), []).append(thing)
    return list(groups.values())


def _same_strokes(things: list[Split]) -> list[list[Split]]:
    """Things of one size that take the same strokes and leave the same in hand at the end."""
    groups: dict[tuple, list[Split]] = {}
    for thing in things:
        last = taken(thing)[-1]
        stays = last.label if isinstance(last, Leaf) else Split
        groups.setdefault((thing.rect.size, thing.off, tuple(_thickness(part, thing) for part in thing.parts), stays), []).append(thing)
    return list(groups.values())


def _thickness(part: Node, split: Split) -> Length:
    return part.rect.width if split.axis == "x" else part.rect.height


def _passes_of(things: list[Split], done: int) -> Iterator[Pass]:
    """The passes over things that take the same strokes: one for each run of parts of one thickness."""
    first = things[0]
    # The last part is simply what stays in hand.
    falling = taken(first)[:-1]
    start = 0
    while start < len(falling):
        end = start + 1
        while end < len(falling) and _thickness(falling[end], first) == _thickness(falling[start], first):
            end += 1
        strokes: list[Cut] = []
        for thing in things:
            for i in range(start, end):
                strokes.append(_stroke(thing, i, done + len(strokes) + 1))
        yield Pass(tuple(things), start, tuple(part for thing in things for part in taken(thing)[start:end]), tuple(strokes))
        done, start = done + len(strokes), end


def _stroke(split: Split, i: int, number: int) -> Cut:
    """The stroke that takes part `i` off what is left of a split."""
    parts = taken(split)
    r = parts[i].rect
    hand = _around(parts[i:])
    at = {"left": r.right, "right": r.x, "top": r.bottom, "bottom": r.y}[split.off]
    return Cut(number=number, part=hand, axis=split.axis, at=at, measure=_thickness(parts[i], split), off=split.off)


def _around(parts: tuple[Node, ...]) -> Rect:
    x, y = min(p.rect.x for p in parts), min(p.rect.y for p in parts)
    return Rect(x, y, max(p.rect.right for p in parts) - x, max(p.rect.bottom for p in parts) - y)


def slack(node: Node) -> Size:
    """How much smaller the sheet may be, across and along, with the same strokes still giving every piece whole.

    Strokes are made at the ruler, so only what comes off last gives way: a leftover that
    falls first takes its full width all the same.
    """
    return Size(_slack(node, "x"), _slack(node, "y"))


def _slack(node: Node, way: Axis) -> Length:
    width = node.rect.width if way == "x" else node.rect.height
    if isinstance(node, Leaf):
        return width if node.label is None else ZERO
    if node.axis != way:
        return min(_slack(part, way) for part in node.parts)
    found = ZERO
    for part in reversed(taken(node)):
        gives = _slack(part, way)
        found += gives
        if gives < _thickness(part, node):
            break
    return found


def moved(node: Node, dx: Length, dy: Length) -> Node:
    """The same tree elsewhere on the sheet."""
    if isinstance(node, Leaf):
        return Leaf(node.rect.moved(dx, dy), node.label, node.turned, node.diagonal)
    return Split(node.rect.moved(dx, dy), node.axis, tuple(moved(part, dx, dy) for part in node.parts), node.off)


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong with a tree."""

    what: Literal["start", "area", "label", "size", "turned", "diagonal", "few", "off", "edge", "room"]
    """It does not start from the sheet; a part has no area; a label was not asked for, lies in another size, or turned
    where it may not; it is not cut from corner to corner as it should be; a split has fewer than two parts, or strips that can't come off that side; a part does not run
    edge to edge in its parent, or the parts don't fill it."""
    part: Node
    """Where."""


def faults(
    node: Node, sheet: Size, wanted: Mapping[str, Size], fixed: frozenset[str] = frozenset(), halved: Mapping[str, Diagonal] | None = None
) -> list[Fault]:
    """What is wrong with a tree; an empty list means that it is sound.

    Much simpler than anything that makes trees, and shares no code with it: parts lie
    edge to edge and fill their parent, so nothing overlaps and areas add up exactly;
    every leaf is what was asked.

    Args:
        node: the tree to verify.
        sheet: the sheet it cuts.
        wanted: the size of the piece for each label, width × height on its own.
        fixed: labels that may not be turned on this sheet.
        halved: labels that are cut from corner to corner, and which corners of the piece's own width × height.
    """
    return ([Fault("start", node)] if node.rect != Rect.of(sheet) else []) + list(_verify(node, wanted, fixed, halved or {}))


def _verify(node: Node, wanted: Mapping[str, Size], fixed: frozenset[str], halved: Mapping[str, Diagonal]) -> Iterator[Fault]:
    r = node.rect
    if r.width <= ZERO or r.height <= ZERO:
        yield Fault("area", node)
    if isinstance(node, Leaf):
        if node.label is None:
            return
        if node.label not in wanted:
            yield Fault("label", node)
            return
        if r.size != (wanted[node.label].turned if node.turned else wanted[node.label]):
            yield Fault("size", node)
        if node.turned and node.label in fixed:
            yield Fault("turned", node)
        if node.diagonal != lying(halved.get(node.label), node.turned):
            yield Fault("diagonal", node)
        return
    if len(node.parts) < 2:
        yield Fault("few", node)
    if node.off not in (("left", "right") if node.axis == "x" else ("top", "bottom")):
        yield Fault("off", node)
    edge = r.x if node.axis == "x" else r.y
    for part in node.parts:
        p = part.rect
        if node.axis == "x":
            good = p.x == edge and p.y == r.y and p.height == r.height
            edge = p.right
        else:
            good = p.y == edge and p.x == r.x and p.width == r.width
            edge = p.bottom
        if not good:
            yield Fault("edge", part)
        yield from _verify(part, wanted, fixed, halved)
    if edge != (r.right if node.axis == "x" else r.bottom):
        yield Fault("room", node)
