"""What stands beside a step: the card as it is after it, and what is held in a way of its own."""

from __future__ import annotations

from functools import partial

from kitwright.drawing.holds.held import Held, held_of
from kitwright.drawing.onestep import ShownStep, step_picture
from kitwright.drawing.piles import piles_picture
from kitwright.drawing.scene import Scene
from kitwright.drawing.stepped import faces_after, piles_of, stage_of
from kitwright.printable import pictures
from kitwright.printable.job import Job
from kitwright.printable.pictures import room
from kitwright.telling.steps import Step


def beside(job: Job, step: Step, width: float, height: float) -> list[Scene]:
    """The pictures beside a step, each for a face of the card on which it does something.

    Args:
        job: the printable.
        step: what it is about.
        width, height: of each at most, points.
    """
    design = job.of(step.design)
    wide, high = room(width), room(height)
    if step.stage == "cut":
        return [job.once(("piles", wide, high), lambda: piles_picture(piles_of(job.worked, job.looks), width=wide, height=high))]
    if step.stage == "score":
        base = design.worked.base
        return [pictures.base(design, width, height)] if base.plain or base.closed is None else []

    def drawn(shown: ShownStep) -> Scene:
        key = "step", design.worked.kit.design, step.stage, shown.face.on, shown.name, wide, high
        return design.once(key, lambda: step_picture(shown, job.looks, width=wide, height=high))

    return [drawn(shown) for shown in faces_after(design.worked, step)]


def below(job: Job, step: Step, width: float, height: float) -> list[Scene]:
    """The drawings of pockets, shakers and bands that a step makes."""
    design = job.of(step.design)
    wide, high = room(width), room(height)

    def drawn(each: Held) -> Scene:
        return design.once((each.name, design.worked.kit.design, wide, high), partial(each.draw, wide, high))

    return [drawn(each) for each in held_of(design.worked, design.looks) if stage_of(design.worked, each) == step.stage]


def folded(job: Job, step: Step, width: float, height: float) -> Scene | None:
    """Of scoring, how the base folds, where its flat drawing does not show it all."""
    return pictures.fold(job.of(step.design), width, height) if step.stage == "score" else None
