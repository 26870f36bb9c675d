"""An author's own cuts, in words, turned into a cut tree.

    - 3 columns of 3-3/4 off the left:
        - 3 strips of 1-1/4 off the top: A
        - 6 strips of 7/8 off the top: B
    - halve at 4:
        - 2 strips of 1-1/2 off the bottom: C
        - turn
        - the rest in panels of 2-3/4: D
    - the rest: E

Each line acts on what is in hand. What falls off gets a label, is cut further by the
lines indented under it, or is left over. Sides are named as the piece lies in hand,
so they turn with it. A rectangle of a triangle's size gives two:

    - 4 rows of 2:
        - corner to corner: T
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from kitwright.cutting.tree import Leaf, Node, Side, Split, lying
from kitwright.errors import MeasureError, Place, UserError
from kitwright.geometry import Axis, Diagonal, Rect
from kitwright.units import Length, Size, parse_length

NUMBERS = {word: n for n, word in enumerate("one two three four five six seven eight nine ten eleven twelve".split(), 1)} | {
    "a": 1,
    "an": 1,
}
SIDES: tuple[Side, ...] = ("top", "right", "bottom", "left")
LEFT_OVER = ("leftover", "left over", "scrap", "aside", "set aside")

MOST_PARTS = 2000
"""Parts that one guide may cut a sheet into: far more than hands do, and each is looked at again and again."""
MOST_LINES = 200
"""Lines that act on one thing in hand, one after another."""

_FROM: Mapping[str, Side] = {"column": "left", "row": "top"}
"""Where these come off, if no side is named."""
_WHAT = r"(?P<what>strips?|columns?|rows?|panels?|pieces?)"
_OFF = r"(?:\s+(?:off|from)\s+(?:the\s+)?(?P<side>top|right|bottom|left))?"
_STRIPS = re.compile(rf"(?P<count>\d{{1,3}}|[a-z]+)\s+{_WHAT}\s+(?:of\s+)?(?P<measure>.+?){_OFF}$")
_REST_IN = re.compile(rf"(?:cut\s+)?the\s+rest\s+in(?:to)?\s+{_WHAT}\s+(?:of\s+)?(?P<measure>.+?){_OFF}$")
_HALVE = re.compile(r"halve(?:\s+(?P<way>across|down))?(?:\s+at\s+(?P<measure>.+?))?(?:\s+(?P<way2>across|down))?$")
_TURN = re.compile(r"turn(?:\s+(?P<way>left|right|back))?$")
_CORNERS = re.compile(r"(?:cut\s+)?(?:from\s+)?corner\s+to\s+corner$")
_REST = re.compile(r"(?:set\s+)?the\s+rest(?:\s+(?P<aside>aside))?$")


@dataclass(frozen=True)
class _Hand:
    """What is in hand while a guide is read."""

    rect: Rect
    """Its place on the sheet."""
    turns: int = 0
    """Quarter turns to the right since the sheet lay upright."""
    side: Side | None = None
    """The side that the last strip came off, as it lay in hand."""

    def on_sheet(self, side: Side) -> Side:
        """Which side of the sheet this is."""
        return SIDES[(SIDES.index(side) - self.turns) % 4]

    def across(self, side: Side) -> Length:
        """How much there is to cut from this side, as it lies in hand."""
        return self.rect.width if self.on_sheet(side) in ("left", "right") else self.rect.height

    def take(self, side: Side, measure: Length) -> tuple[Rect, Rect | None]:
        """A strip off a side, and what stays in hand."""
        r, there = self.rect, self.on_sheet(side)
        if self.across(side) == measure:
            return r, None
        if there == "left":
            return Rect(r.x, r.y, measure, r.height), Rect(r.x + measure, r.y, r.width - measure, r.height)
        if there == "right":
            return Rect(r.right - measure, r.y, measure, r.height), Rect(r.x, r.y, r.width - measure, r.height)
        if there == "top":
            return Rect(r.x, r.y, r.width, measure), Rect(r.x, r.y + measure, r.width, r.height - measure)
        return Rect(r.x, r.bottom - measure, r.width, measure), Rect(r.x, r.y, r.width, r.height - measure)


@dataclass(frozen=True)
class Reader:
    """Reads the cuts of one guide."""

    sizes: Mapping[str, Size]
    """The size of each label, width × height on its own."""
    unit: str
    """What a bare number means."""
    place: Callable[..., Place]
    """File and line of an entry, by its path from the list of cuts."""
    halves: Mapping[str, Diagonal] = field(default_factory=dict)
    """Labels of triangles, two from one rectangle of their size, and which corners the cut joins."""
    odd: list[UserError] = field(default_factory=list)
    """Labels met on a part that is not of their size, one for each line."""
    _parts: list[int] = field(default_factory=lambda: [0], repr=False)
    """How many parts were cut so far."""

    def read(self, entries: list[Any], sheet: Size) -> Node:
        """The tree of a whole sheet.

        Raises:
            UserError: a line that can't be read or cut, with file and line.
        """
        return merged(self._list(entries, _Hand(Rect.of(sheet)), ()))

    def unreadable(self, entries: list[Any], path: tuple = ()) -> Iterator[UserError]:
        """Every line that can't be read, whatever paper it is meant for, with file and line."""
        for i, entry in enumerate(entries):
            try:
                text, inside, below = self._entry(entry, (*path, i))
            except UserError as error:
                yield error
                continue
            yield from self._unread(text, (*path, i))
            if _CORNERS.match(text):
                yield from _tried(self._triangle, inside, below)
            elif isinstance(inside, list):
                yield from self.unreadable(inside, below)
            elif inside is not None and not _says_leftover(inside):
                yield from _tried(self._uncut, inside, below)

    def _unread(self, text: str, path: tuple) -> Iterator[UserError]:
        match = next(filter(None, (pattern.match(text) for pattern in (_TURN, _CORNERS, _REST, _REST_IN, _STRIPS, _HALVE))), None)
        if match is None:
            yield self._fault(path, "guide.not-a-cut", text=text)
            return
        said = match.groupdict()
        if said.get("count"):
            yield from _tried(self._count, match, path)
        if said.get("measure"):
            yield from _tried(self._measure, said["measure"], path)

    # One list of lines, acting on one piece of paper.

    def _list(self, entries: list[Any], hand: _Hand, path: tuple) -> Node:
        if len(entries) > MOST_LINES:
            raise self._fault((*path, MOST_LINES), "guide.too-many-lines", most=MOST_LINES)
        parts: list[tuple[Side, Node]] = []
        rest: Rect | None = hand.rect
        for i, entry in enumerate(entries):
            here = (*path, i)
            text, inside, below = self._entry(entry, here)
            if rest is None:
                raise self._fault(here, "guide.nothing-in-hand", text=text)
            hand = replace(hand, rect=rest)
            if match := _TURN.match(text):
                self._nothing_under(text, inside, here)
                hand = replace(hand, turns=hand.turns + (-1 if match["way"] in ("left", "back") else 1))
            elif _CORNERS.match(text):
                parts.append(("left", self._halved(rest, inside, below)))
                rest = None
            elif match := _REST.match(text):
                if match["aside"]:
                    self._nothing_under(text, inside, here)
                parts.append(("left", self._made(rest, hand, None if match["aside"] else inside, below)))
                rest = None
            elif (match := _REST_IN.match(text)) or (match := _STRIPS.match(text)):
                hand, rest = self._strips(match, text, hand, parts, inside, here, below)
            elif match := _HALVE.match(text):
                hand, rest = self._halve(match, hand, parts, inside, here, below)
            else:
                raise self._fault(here, "guide.not-a-cut", text=text)
        if rest is not None:
            parts.append(("left", Leaf(rest)))
        return _joined(parts)

    def _entry(self, entry: Any, path: tuple) -> tuple[str, Any, tuple]:
        if isinstance(entry, str):
            return self._clean(entry), None, path
        if isinstance(entry, dict) and len(entry) == 1:
            ((text, inside),) = entry.items()
            return self._clean(text), inside, (*path, text)
        raise self._fault(path, "guide.not-one-cut")

    def _nothing_under(self, text: str, inside: Any, path: tuple) -> None:
        if inside is not None:
            raise self._fault(path, "guide.nothing-after", text=text)

    @staticmethod
    def _clean(text: str) -> str:
        return " ".join(text.replace("−", "-").split()).rstrip(".").casefold()

    def _strips(
        self, match: re.Match, text: str, hand: _Hand, parts: list, inside: Any, path: tuple, below: tuple
    ) -> tuple[_Hand, Rect | None]:
        what = match["what"].rstrip("s")
        side: Side | None = match["side"] or _FROM.get(what) or hand.side
        if side is None:
            raise self._fault(path, "guide.side-missing", text=text)
        measure = self._measure(match["measure"], path)
        room = hand.across(side)
        fits = room // measure
        if "count" in match.re.groupindex:
            count = self._count(match, path)
        else:
            count = max(fits, 1)
        if count > fits:
            raise self._fault(path, "guide.past-the-hand", count=count, measure=measure, room=room, unit=self.unit)
        self._note_parts(count, path)
        rest: Rect | None = hand.rect
        while count and rest is not None:
            strip, rest = replace(hand, rect=rest).take(side, measure)
            count -= 1
            parts.append((hand.on_sheet(side), self._made(strip, hand, inside, below)))
        return replace(hand, side=side), rest

    def _halve(self, match: re.Match, hand: _Hand, parts: list, inside: Any, path: tuple, below: tuple) -> tuple[_Hand, Rect | None]:
        way = match["way"] or match["way2"]
        measure = self._measure(match["measure"], path) if match["measure"] else None
        halves = {"left": hand.across("left") / 2, "top": hand.across("top") / 2}
        if way:
            side: Side = "top" if way == "across" else "left"
        elif measure is not None:
            side = "left" if halves["left"] == measure else "top"
        else:
            side = "left" if halves["left"] >= halves["top"] else "top"
        if measure is not None and halves[side] != measure:
            in_hand = Size(hand.across("left"), hand.across("top"))
            raise self._fault(path, "guide.no-such-half", in_hand=in_hand, measure=measure, unit=self.unit)
        strip, rest = hand.take(side, halves[side])
        if inside is None:
            # Nothing said about the halves: set one aside and go on with the other, as a maker would.
            parts.append((hand.on_sheet(side), Leaf(strip)))
            return replace(hand, side=side), rest
        for half in filter(None, (strip, rest)):
            parts.append((hand.on_sheet(side), self._made(half, hand, inside, below)))
        return replace(hand, side=side), None

    def _made(self, rect: Rect, hand: _Hand, inside: Any, path: tuple) -> Node:
        """What becomes of a part: a label, more cuts, or a leftover."""
        if inside is None or _says_leftover(inside):
            return Leaf(rect)
        if isinstance(inside, list):
            return self._list(inside, replace(hand, rect=rect), path)
        label = self._uncut(inside, path)
        size = self.sizes[label]
        if rect.size not in (size, size.turned):
            twin = next((other for other, its in self.sizes.items() if rect.size in (its, its.turned)), None)
            self._note_odd(
                self._fault(path, "guide.part-of-another-size", label=label, size=size, lies=rect.size, twin=twin, unit=self.unit)
            )
        return Leaf(rect, label, turned=rect.size != size and rect.size == size.turned)

    def _halved(self, rect: Rect, inside: Any, path: tuple) -> Leaf:
        """Two triangles, from a rectangle of exactly their size."""
        label = self._triangle(inside, path)
        size = self.sizes[label]
        if rect.size not in (size, size.turned):
            self._note_odd(self._fault(path, "guide.no-rectangle", label=label, size=size, lies=rect.size, unit=self.unit))
        turned = rect.size != size and rect.size == size.turned
        return Leaf(rect, label, turned, lying(self.halves[label], turned))

    def _note_odd(self, found: UserError) -> None:
        if all((one.place, one.values) != (found.place, found.values) for one in self.odd):
            self.odd.append(found)

    def _uncut(self, inside: Any, path: tuple) -> str:
        """The label of a piece that a part is as it lies."""
        label = self._label(inside, path)
        if label in self.halves:
            raise self._fault(path, "guide.triangle-uncut", label=label)
        return label

    def _triangle(self, inside: Any, path: tuple) -> str:
        """The label of a piece of which a cut from corner to corner makes two."""
        if inside is None:
            raise self._fault(path, "guide.corners-of-what", known=tuple(self.halves))
        label = self._label(inside, path)
        if label not in self.halves:
            raise self._fault(path, "guide.no-triangle", label=label, known=tuple(self.halves))
        return label

    def _label(self, inside: Any, path: tuple) -> str:
        if not isinstance(inside, str):
            raise self._fault(path, "guide.not-a-label")
        label = inside.strip()
        if label not in self.sizes:
            raise self._fault(path, "guide.no-such-piece", label=label, known=tuple(self.sizes))
        return label

    def _count(self, match: re.Match, path: tuple) -> int:
        count = int(match["count"]) if match["count"].isdigit() else NUMBERS.get(match["count"], 0)
        if not count:
            raise self._fault(path, "guide.not-a-number", text=match["count"], what=match["what"].rstrip("s"))
        return count

    def _note_parts(self, parts: int, path: tuple) -> None:
        """Note parts that are cut; too many are refused before any is made."""
        self._parts[0] += parts
        if self._parts[0] > MOST_PARTS:
            raise self._fault(path, "guide.too-many-parts", most=MOST_PARTS)

    def _measure(self, text: str, path: tuple) -> Length:
        if re.search(r"\b(?:long|stop)", text):
            raise self._fault(path, "guide.stops-inside", text=text)
        if found := re.search(r"\s(?:off|from)\s+(?:the\s+)?(.+)", text):
            raise self._fault(path, "guide.no-side", text=found[1])
        try:
            return parse_length(text, self.unit)
        except MeasureError as error:
            raise error.at(self.place(*path)) from None

    def _fault(self, path: tuple, code: str, **values: Any) -> UserError:
        return UserError(code, place=self.place(*path), **values)


def measure_in(line: str) -> str | None:
    """The measure of a line as it is typed; None where it says none, or is no line of a guide."""
    for pattern in (_REST_IN, _STRIPS, _HALVE):
        if match := re.compile(pattern.pattern, re.IGNORECASE).match(line.strip().rstrip(".")):
            return match["measure"]
    return None


def _tried(read: Callable, *args: Any) -> Iterator[UserError]:
    """The error that a reader raises, if it does."""
    try:
        read(*args)
    except UserError as error:
        yield error


def _says_leftover(inside: Any) -> bool:
    return isinstance(inside, str) and inside.strip().casefold() in LEFT_OVER


def _joined(parts: list[tuple[Side, Node]]) -> Node:
    """The parts, each cut off what the ones after it still form, as a tree."""
    *before, (_, node) = parts
    for side, part in reversed(before):
        axis: Axis = "x" if side in ("left", "right") else "y"
        pair = (part, node) if side in ("left", "top") else (node, part)
        node = Split(_around(pair[0].rect, pair[1].rect), axis, pair, side)
    return node


def _around(a: Rect, b: Rect) -> Rect:
    x, y = min(a.x, b.x), min(a.y, b.y)
    return Rect(x, y, max(a.right, b.right) - x, max(a.bottom, b.bottom) - y)


def merged(node: Node) -> Node:
    """Cuts that follow one another off the same side, as one split: they are made together."""
    if isinstance(node, Leaf):
        return node
    parts = [merged(part) for part in node.parts]
    rest = -1 if node.off in ("left", "top") else 0
    inner = parts[rest]
    if isinstance(inner, Split) and inner.axis == node.axis and inner.off == node.off:
        parts[rest : len(parts) if rest == -1 else 1] = inner.parts
    return Split(node.rect, node.axis, tuple(parts), node.off)
