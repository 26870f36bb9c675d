"""The pictures of a printable, each drawn for the room it gets; all room is in points."""

from __future__ import annotations

from fractions import Fraction

from kitwright.cutting.desk import CornerStep, DeskStep
from kitwright.cutting.plan import Layout
from kitwright.drawing.base import base_flat
from kitwright.drawing.folds.diagram import fold_diagram, fold_in_short
from kitwright.drawing.folds.lies import lying_on, on_panels
from kitwright.drawing.guide import EDGE
from kitwright.drawing.hand import corner_picture, hand_picture
from kitwright.drawing.scene import Scene
from kitwright.printable.job import Job
from kitwright.telling.backs import backs_on
from kitwright.telling.folds import fold_text
from kitwright.telling.words import led


def base(job: Job, width: float, height: float) -> Scene:
    """The flat base with its score line."""
    key = job.worked.kit.spec.card.base.paper
    return job.once(
        ("base", job.worked.kit.design, room(width), room(height)),
        lambda: base_flat(job.worked.base, unit=job.unit, width=room(width), height=room(height), look=job.look(key)),
    )


def fold(job: Job, width: float, height: float, short: bool = False) -> Scene | None:
    """How the base folds; None where its flat drawing shows it all. `short`: small, for the first page."""
    base, closed = job.worked.base, job.worked.base.closed
    if base.plain or closed is None:
        return None
    return job.once(
        ("fold", job.worked.kit.design, room(width), room(height), short),
        lambda: (fold_in_short if short else fold_diagram)(
            closed,
            base.breadth,
            unit=job.unit,
            width=room(width),
            height=room(height),
            look=job.look(job.worked.kit.spec.card.base.paper),
            lies=tuple(on_panels(base, lying_on(job.worked))),
            looks=job.looks,
            name=led(fold_text(base)),
        ),
    )


def hand(job: Job, layout: Layout, step: DeskStep, width: float, height: float, one_way: bool) -> Scene:
    """The paper in hand at one step at the trimmer."""
    key = ("hand", job.worked.layouts.index(layout), step.number, room(width), room(height))
    return job.once(
        key,
        lambda: hand_picture(
            step,
            unit=job.unit,
            width=room(width),
            height=room(height),
            one_way=one_way,
            backs=backs_on(job.worked, layout),
            ruler_side=job.worked.kit.club.trimmer.ruler_side,
        ),
    )


def corners(job: Job, layout: Layout, step: CornerStep, width: float, height: float) -> Scene:
    """The paper in hand at a step from corner to corner."""
    key = ("corners", job.worked.layouts.index(layout), step.number, room(width), room(height))
    return job.once(key, lambda: corner_picture(step, unit=job.unit, width=room(width), height=room(height)))


def room(value: float) -> Fraction:
    """Room on the page as a picture takes it: whole points, and the clear margin that hangs outside."""
    return int(value) + 2 * EDGE
