"""Pictures beside what is done at the desk: the sheet in hand at each stroke, and what is seen after each step."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial

from kitwright.archive.picture import BESIDE, NARROW, Picture, named, one_scene
from kitwright.cutting.desk import DeskStep, corner_steps
from kitwright.cutting.tree import Side
from kitwright.drawing.front import Looks
from kitwright.drawing.hand import corner_picture, hand_picture
from kitwright.drawing.holds.held import held_of
from kitwright.drawing.onestep import ShownStep, step_picture, told_at
from kitwright.drawing.piles import Pile, piles_picture
from kitwright.drawing.scene import Scene
from kitwright.drawing.shown import looks_of
from kitwright.drawing.stepped import faces_after, piles_of, stage_of
from kitwright.telling.backs import backs_on
from kitwright.telling.holds import held_text
from kitwright.telling.steps import Step, heads_of
from kitwright.work.desk import has_up, layout_orders
from kitwright.work.worked import Worked

BESIDE_TALL, STEP_TALL = 210, 300
"""Points: the most that a picture is high that words run round on a phone, and one beside a step."""
HAND_WIDE, HAND_TALL = 64, 48
"""Points: a picture of the sheet in hand, small and without figures, since its mark stands large beside it; hardly more than it is
shown at, so that its lines stay lines."""


def hand_pictures(worked: Worked) -> Iterator[Picture]:
    """The sheet in hand at each step of each guide, without figures, so that one picture does for both units."""
    side = worked.kit.club.trimmer.ruler_side
    for i, layout in enumerate(worked.layouts, 1):
        one_way, backs = has_up(worked, layout), backs_on(worked, layout)
        for step in next(iter(layout_orders(worked, layout).values())):
            yield _hand(f"hand-{i}-{step.number}", step, side, one_way, backs)
        for k, corner in enumerate(corner_steps(layout.tree), 1):
            yield one_scene(
                f"hand-{i}-corner-{k}", (corner,), partial(corner_picture, corner, width=HAND_WIDE, height=HAND_TALL, figures=False)
            )


def _hand(name: str, step: DeskStep, side: Side, one_way: bool, backs: Mapping[str, str]) -> Picture:
    def draw() -> Scene:
        return hand_picture(step, width=HAND_WIDE, height=HAND_TALL, ruler_side=side, one_way=one_way, backs=backs, figures=False)

    return one_scene(name, (step, side, one_way, backs), draw)


def step_pictures(worked: Worked) -> Iterator[Picture]:
    """What is seen after each step, and once all is cut; the base has its own drawings."""
    looks = looks_of(worked)
    for step in heads_of(worked):
        if step.stage == "cut":
            piles = piles_of(worked, looks)
            yield _twice(step.anchor, (piles,), partial(_drawn_piles, piles))
        elif step.stage != "score":
            for n, shown in enumerate(faces_after(worked.of(step.design), step), 1):
                # Numbers of moves want the width, unless there is room for them in less.
                beside = BESIDE if step.stage != "build" or told_at(shown, BESIDE) else NARROW
                yield _twice(_beside(step, n), (shown, looks, beside), partial(_drawn_step, shown, looks), beside)


def _twice(name: str, made_from: tuple[object, ...], draw: Callable[[int], Scene], narrow: int = BESIDE) -> Picture:
    """A picture beside a step: at the size that a wide page has for it, and at that of a phone."""
    return Picture(name, made_from, lambda: (draw(NARROW), draw(narrow)), pixels=False)


def _drawn_piles(piles: Sequence[Pile], width: int) -> Scene:
    return piles_picture(piles, width=width, height=STEP_TALL)


def _drawn_step(shown: ShownStep, looks: Looks, width: int) -> Scene:
    return step_picture(shown, looks, width=width, height=BESIDE_TALL if width == BESIDE else STEP_TALL, snug=True)


def _beside(step: Step, n: int) -> str:
    """What the picture of a face after a step is called."""
    return step.anchor if n == 1 else f"{step.anchor}-{n}"


def pictures_beside(worked: Worked, step: Step) -> list[str]:
    """The names of the pictures that belong beside a step: what is seen after it."""
    design = worked.of(step.design)
    if step.stage == "cut":
        return [step.anchor]
    if step.stage == "score":
        return [named("base" if design.base.plain or design.base.closed is None else "fold", design)]
    return [_beside(step, n) for n, _ in enumerate(faces_after(design, step), 1)]


def held_beside(worked: Worked, step: Step) -> list[tuple[str, str]]:
    """The same of what is held in a way of its own, such as a pocket: the name of each picture, and what it is of in words."""
    design = worked.of(step.design)
    return [
        (named(held.name, design), held_text(held.name, held.label))
        for held in held_of(design, looks_of(design))
        if stage_of(design, held) == step.stage
    ]
