"""A layout as steps at the desk, the way hands cut.

Things that are cut alike are taken up together, and all strokes at one measure follow one
another without moving the ruler. Either a whole level is cut before the next (`together`:
all columns, then all strips), or one thing is finished before the next is taken up
(`one by one`: half by half).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Leaf, Node, Side, Split, moved
from kitwright.geometry import Rect
from kitwright.units import Length, Size

Order = Literal["together", "one by one"]


@dataclass(frozen=True, slots=True)
class Fall:
    """What falls off."""

    what: str
    """`piece`, `leftover`, or what it is called in hand: `column`, `strip`, `half`, `part`."""
    label: str | None
    """The label of a finished piece."""
    size: Size
    """As it lies when the sheet lies upright."""
    each: int
    """How many from each thing in hand."""


@dataclass(frozen=True, slots=True)
class DeskStep:
    """Strokes at one measure on things that are alike."""

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

    @property
    def axis(self) -> Literal["x", "y"]:
        """`x`: the blade runs up and down with the sheet upright."""
        return "x" if self.side in ("left", "right") else "y"


@dataclass(frozen=True, slots=True)
class _Job:
    node: Split
    things: int
    what: str


def desk_steps(layout: Layout, least_hold: Length, order: Order = "together") -> tuple[DeskStep, ...]:
    """The steps for one sheet of a layout.

    Args:
        layout: how the sheet is cut.
        least_hold: the narrowest paper that the trimmer holds flat beside the blade.
        order: whether a whole level is cut before the next.
    """
    if isinstance(layout.tree, Leaf):
        return ()
    steps: list[DeskStep] = []
    waiting = [_Job(layout.tree, 1, "sheet")]
    while waiting:
        job = waiting.pop(0)
        steps += _cut(job, len(steps), steps[-1].side if steps else None, least_hold)
        inner = _inner(job)
        if order == "together":
            waiting = _merged(waiting + inner)
        else:
            waiting = inner + waiting
        waiting = _same_measure_first(waiting, steps[-1]) if order == "together" else waiting
    return tuple(steps)


def orders(layout: Layout, least_hold: Length) -> dict[Order, tuple[DeskStep, ...]]:
    """Every order that costs no more settings of the ruler than the best; the natural one first."""
    found = {order: desk_steps(layout, least_hold, order) for order in ("together", "one by one")}
    if found["together"] == found["one by one"]:
        return {"together": found["together"]}
    fewest = min(settings(steps) for steps in found.values())
    return {order: steps for order, steps in found.items() if settings(steps) == fewest}


def settings(steps: tuple[DeskStep, ...]) -> int:
    """How often the ruler mark changes."""
    return sum(a is None or a.measure != b.measure for a, b in zip((None, *steps), steps))


def _ordered(node: Split) -> tuple[Node, ...]:
    return node.parts if node.off in ("left", "top") else tuple(reversed(node.parts))


def _thickness(node: Node, split: Split) -> Length:
    return node.rect.width if split.axis == "x" else node.rect.height


def _local(node: Node) -> Node:
    """The same tree with its corner at the origin, so that alike things are equal."""
    return moved(node, -node.rect.x, -node.rect.y)


def _named(node: Node, split: Split) -> str:
    """What a part is called once it is cut off."""
    if isinstance(node, Leaf):
        return "piece" if node.label else "leftover"
    if len(split.parts) == 2 and split.parts[0].rect.size == split.parts[1].rect.size:
        return "half"
    across = node.rect.width < node.rect.height
    return "column" if split.axis == "x" and across else "strip" if split.axis == "y" and not across else "part"


def _fall(node: Node, split: Split, each: int) -> Fall:
    return Fall(_named(node, split), node.label if isinstance(node, Leaf) else None, node.rect.size, each)


def _cut(job: _Job, done: int, side_before: Side | None, least_hold: Length) -> Iterator[DeskStep]:
    split, parts = job.node, _ordered(job.node)
    hand, start = split.rect, 0
    runs = [list(run) for _, run in groupby(parts, key=lambda p: _thickness(p, split))]
    for i, run in enumerate(runs):
        last = i == len(runs) - 1
        if last and len(run) == 1:
            # The last part is simply what stays in hand.
            break
        falling = run[:-1] if last else run
        strokes, measure = len(falling), _thickness(run[0], split)
        across = hand.width if split.axis == "x" else hand.height
        left = across - measure * strokes
        ends = last or (i == len(runs) - 2 and len(runs[-1]) == 1)
        kept = parts[-1]
        rest = _fall(kept, split, 1) if ends and isinstance(kept, Leaf) else None
        narrow = left < least_hold and not (rest and rest.label is None)
        groups = [list(g) for _, g in groupby(falling, key=_local)]
        done += 1
        yield DeskStep(done, job.things, job.what, hand, split.off, measure, strokes,
                       tuple(_fall(g[0], split, len(g)) for g in groups), rest, start > 0,
                       split.off != side_before, narrow, narrow and measure < least_hold)
        side_before, hand, start = split.off, _without(hand, split.off, measure * strokes), start + strokes


def _without(hand: Rect, side: Side, taken: Length) -> Rect:
    if side == "left":
        return Rect(hand.x + taken, hand.y, hand.width - taken, hand.height)
    if side == "right":
        return Rect(hand.x, hand.y, hand.width - taken, hand.height)
    if side == "top":
        return Rect(hand.x, hand.y + taken, hand.width, hand.height - taken)
    return Rect(hand.x, hand.y, hand.width, hand.height - taken)


def _inner(job: _Job) -> list[_Job]:
    """What is cut further, alike things together, in the order in which they fall."""
    return _merged([_Job(_local(part), job.things, _named(part, job.node))
                    for part in _ordered(job.node) if isinstance(part, Split)])


def _merged(jobs: list[_Job]) -> list[_Job]:
    found: dict[Node, _Job] = {}
    for job in jobs:
        before = found.get(job.node)
        found[job.node] = _Job(job.node, job.things + (before.things if before else 0), before.what if before else job.what)
    return list(found.values())


def _same_measure_first(waiting: list[_Job], step: DeskStep) -> list[_Job]:
    """Bring up a thing whose first stroke is at the mark where the ruler stands."""
    for i, job in enumerate(waiting):
        if _thickness(_ordered(job.node)[0], job.node) == step.measure:
            return [job, *waiting[:i], *waiting[i + 1:]]
    return waiting
