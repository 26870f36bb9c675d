"""A layout as steps at the desk, the way hands cut.

Things that are cut alike are taken up together, and all strokes at one measure follow one
another without moving the ruler. Either a whole level is cut before the next (`together`:
all columns, then all strips), or one thing is finished before the next is taken up
(`one by one`: half by half).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Cut, Leaf, Node, Pass, Side, Slant, Split, passes, slants, taken
from kitwright.geometry import Axis, Diagonal, Rect
from kitwright.units import Length, Size

DeskOrder = Literal["together", "one by one"]


@dataclass(frozen=True, slots=True)
class Fall:
    """What falls off."""

    what: str
    """`piece`, `leftover`, or what it is called in hand: `column`, `strip`, `half`, `part`."""
    label: str | None
    """The label of a finished piece."""
    size: Size
    """As it lies when the sheet lies upright."""
    n: int
    """How many, of all that is in hand."""
    halved: bool = False
    """Whether it is a rectangle of which two triangles of that label come."""


@dataclass(frozen=True, slots=True)
class DeskStep:
    """Strokes at one measure on things of one size."""

    number: int
    """Counted from 1."""
    things: int
    """How many alike are taken in hand, one after another."""
    what: str
    """What each is called: `sheet`, `column`, `strip`, `half`, `part`."""
    hand: Rect
    """Its extent before the first stroke, in the frame of the thing first taken up."""
    side: Side
    """The edge that is lined up with the ruler mark, named with the sheet upright."""
    measure: Length
    """The ruler mark."""
    strokes: int
    """Strokes on each thing."""
    falls: tuple[Fall, ...]
    """What falls off each."""
    rest: Fall | None
    """What stays in hand at the end when it is finished or left over; None when it is cut on."""
    carried: bool
    """Whether this goes on with what the step before left in hand."""
    turned: bool
    """Whether another edge goes to the ruler than in the step before."""
    tape: bool
    """Whether what is left under the hand at the last stroke is too narrow to hold without tape."""
    too_narrow: bool
    """Whether both sides of the last stroke are too narrow to hold, and no order avoids it."""
    kept: Fall | None
    """What stays in hand at the end and is cut on; None when there is `rest`, or when the next step goes on with it."""
    later: int
    """The step that takes up what is `kept`; 0 when nothing is kept, or not all of it is taken up at once."""
    lying: int
    """How many of that name and size lie there before the step, what is in hand included; more than
    `things` when they are cut differently."""
    gone: int
    """How many that lay there with them were taken up in steps before."""
    cuts: tuple[Cut, ...]
    """The strokes, as they are numbered on the guide when the order is `together`."""

    @property
    def axis(self) -> Axis:
        """`x`: the blade runs up and down with the sheet upright."""
        return "x" if self.side in ("left", "right") else "y"


def desk_steps(layout: Layout, least_hold: Length, order: DeskOrder = "together", ruler_side: Side = "left") -> tuple[DeskStep, ...]:
    """The steps for one sheet of a layout.

    Args:
        layout: how the sheet is cut.
        least_hold: the narrowest paper that the trimmer holds flat beside the blade.
        order: whether a whole level is cut before the next.
        ruler_side: the side of the blade on which the trimmer's ruler lies.
    """
    steps: list[DeskStep] = []
    bench, every = _Bench(), passes(layout.tree, order == "together")
    names = _names(layout.tree, every)
    begun = {thing.rect: i for i, one in enumerate(every, 1) if not one.start for thing in one.things}
    for i, one in enumerate(every, 1):
        what, size = names[one.things[0].rect], one.things[0].rect.size
        lying, gone = (len(one.things), 0) if one.start or i == 1 else bench.take(what, size, len(one.things))
        step = _step(one, i, names, (lying, gone), steps[-1].side if steps else ruler_side, least_hold, begun)
        for fall in (*step.falls, *filter(None, [step.kept])):
            if fall.label is None and fall.what != "leftover":
                bench.lay(fall.what, fall.size, fall.n)
        steps.append(step)
    return tuple(steps)


@dataclass(frozen=True, slots=True)
class CornerStep:
    """Strokes from corner to corner through rectangles alike: no ruler, both corners on the blade line."""

    number: int
    """Counted on from the other steps."""
    label: str
    """The triangle, two from each."""
    size: Size
    """Of each rectangle, as it lies when the sheet lies upright."""
    way: Diagonal
    """From which corner to which, as it lies so."""
    slants: tuple[Slant, ...]
    """The strokes, one on each."""


def corner_steps(node: Node) -> tuple[CornerStep, ...]:
    """The steps that follow all others on a sheet of which triangles come."""
    alike: dict[tuple[str, Size, Diagonal], list[Slant]] = {}
    for slant in slants(node):
        alike.setdefault((slant.leaf.label or "", slant.leaf.rect.size, slant.way), []).append(slant)
    before = len(passes(node)) if alike else 0
    return tuple(CornerStep(before + i, *key, tuple(found)) for i, (key, found) in enumerate(alike.items(), 1))


class _Bench:
    """What lies on the bench and waits to be cut on, by its name and size."""

    def __init__(self) -> None:
        self._lots: dict[tuple[str, Size], tuple[int, int]] = {}

    def lay(self, what: str, size: Size, n: int) -> None:
        """Things are put down beside those of their kind that still lie there."""
        lying, gone = self._lots.get((what, size), (0, 0))
        self._lots[what, size] = lying + n, gone if lying else 0

    def take(self, what: str, size: Size, n: int) -> tuple[int, int]:
        """Take some up; how many lay there, and how many of their lot were gone before."""
        lying, gone = self._lots[what, size]
        self._lots[what, size] = lying - n, gone + n
        return lying, gone


def orders(layout: Layout, least_hold: Length, ruler_side: Side = "left") -> dict[DeskOrder, tuple[DeskStep, ...]]:
    """Every order that costs no more settings of the ruler than the best; the natural one first."""
    every: tuple[DeskOrder, ...] = ("together", "one by one")
    found = {order: desk_steps(layout, least_hold, order, ruler_side) for order in every}
    if len({tuple((cut.part, cut.at) for step in steps for cut in step.cuts) for steps in found.values()}) == 1:
        return {"together": found["together"]}
    fewest = min(settings(steps) for steps in found.values())
    return {order: steps for order, steps in found.items() if settings(steps) == fewest}


def settings(steps: tuple[DeskStep, ...]) -> int:
    """How often the ruler mark changes."""
    return sum(a is None or a.measure != b.measure for a, b in zip((None, *steps), steps))


def _names(root: Node, every: Sequence[Pass]) -> dict[Rect, str]:
    """What every part is called; things that are taken up together share a name, even where one is a half of something and others aren't."""
    names = {root.rect: "sheet"} | {part.rect: _named(part, thing) for one in every for thing in one.things for part in thing.parts}
    for one in every:
        called = {names[thing.rect] for thing in one.things}
        if len(called) > 1:
            plain = sorted(called - {"half"})
            names |= dict.fromkeys((thing.rect for thing in one.things), plain[0] if len(plain) == 1 else "part")
    return names


def _named(node: Node, split: Split) -> str:
    """What a part is called once it is cut off."""
    if isinstance(node, Leaf):
        return "piece" if node.label else "leftover"
    if len(split.parts) == 2 and split.parts[0].rect.size == split.parts[1].rect.size:
        return "half"
    tall = node.rect.width < node.rect.height
    return "column" if split.axis == "x" and tall else "strip" if split.axis == "y" and not tall else "part"


def _fall(node: Node, names: Mapping[Rect, str], n: int) -> Fall:
    if isinstance(node, Leaf):
        return Fall(names[node.rect], node.label, node.rect.size, n, bool(node.diagonal))
    return Fall(names[node.rect], None, node.rect.size, n)


def _counted(falls: Iterable[Fall]) -> tuple[Fall, ...]:
    """Things of one name and size together, though they may be cut differently later."""
    found: dict[tuple, Fall] = {}
    for fall in falls:
        key = (fall.what, fall.label, fall.size)
        found[key] = replace(fall, n=fall.n + (found[key].n if key in found else 0))
    return tuple(found.values())


def _step(
    one: Pass, number: int, names: Mapping[Rect, str], lot: tuple[int, int], side_before: Side, least_hold: Length, begun: dict[Rect, int]
) -> DeskStep:
    split, first = one.things[0], one.cuts[0]
    parts, measure = taken(split), first.measure
    strokes, things = len(one.falling) // len(one.things), len(one.things)
    across = first.part.width if split.axis == "x" else first.part.height
    left = across - measure * strokes
    kept = parts[-1]
    done = one.start + strokes == len(parts) - 1
    last = _fall(kept, names, things)
    rest = last if done and isinstance(kept, Leaf) else None
    goes_on = done and not rest
    takers = {begun[taken(thing)[-1].rect] for thing in one.things} if goes_on else set()
    # A leftover may be narrow where the hand can hold the other side.
    waste = rest is not None and rest.label is None
    narrow = left < least_hold and (not waste or measure < least_hold)
    lying, gone = lot
    return DeskStep(
        number=number,
        things=things,
        what=names[split.rect],
        hand=first.part,
        side=split.off,
        measure=measure,
        strokes=strokes,
        falls=_counted(_fall(part, names, 1) for part in one.falling),
        rest=rest,
        carried=one.start > 0,
        turned=split.off != side_before,
        tape=narrow,
        too_narrow=narrow and measure < least_hold,
        kept=last if goes_on else None,
        later=takers.pop() if len(takers) == 1 else 0,
        lying=lying,
        gone=gone,
        cuts=one.cuts,
    )
