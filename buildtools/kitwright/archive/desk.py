"""A guide as it is cut at the desk: a row for each step with the sheet in hand drawn beside it,
another order where it costs nothing, and why no fewer sheets would do."""

from __future__ import annotations

from dataclasses import dataclass

from kitwright.cutting.desk import DeskStep
from kitwright.cutting.plan import Layout
from kitwright.drawing.hand import hand_picture
from kitwright.drawing.svg import svg
from kitwright.telling.backs import backs_on
from kitwright.telling.cutplan import Verdict, verdict
from kitwright.telling.instructions import step_text
from kitwright.telling.words import span_text
from kitwright.units import length_text, other_unit
from kitwright.work.desk import has_up, layout_orders
from kitwright.work.worked import Worked

WIDE, TALL = 150, 112
"""Points: a picture of the sheet in hand. It is shown at that size or smaller by a tenth, so
that its figures of 10 points are never under 11 pixels."""
FINISH = {"together": "Rather cut every part one level at a time?", "one by one": "Rather finish one part before the next?"}


@dataclass(frozen=True)
class HandPicture:
    """The sheet in hand at one step."""

    src: str
    alt: str
    width: int
    """Pixels."""
    height: int


@dataclass(frozen=True)
class DeskRow:
    """One step at the desk."""

    cuts: str
    """The numbers on the drawing, such as `2–4`."""
    edge: str
    first: str
    """The measure in the kit's own unit."""
    second: str
    """And in the other one."""
    words: str
    """The whole instruction."""
    picture: HandPicture


@dataclass(frozen=True)
class OtherOrder:
    """An order that takes as many settings of the ruler."""

    question: str
    steps: tuple[str, ...]


@dataclass(frozen=True)
class Desk:
    """How one guide is cut."""

    rows: tuple[DeskRow, ...]
    others: tuple[OtherOrder, ...]
    verdict: Verdict | None
    """None where nothing is known, or where the guide before has told it for the same paper."""


def desks_of(worked: Worked) -> tuple[tuple[Desk, ...], dict[str, bytes]]:
    """Every guide of a kit at the desk, in the order of the layouts, and the pictures by file name."""
    found, files, told = [], {}, set()
    for i, layout in enumerate(worked.layouts, 1):
        every = layout_orders(worked, layout)
        (_, natural), *rest = every.items()
        rows = tuple(_row(worked, layout, f"hand-{i}-{step.number}.svg", step, files) for step in natural)
        others = tuple(OtherOrder(FINISH[order], tuple(_words(worked, layout, step) for step in steps)) for order, steps in rest)
        found.append(Desk(rows, others, None if told & set(layout.papers) else verdict(worked, layout)))
        told |= set(layout.papers)
    return tuple(found), files


def _row(worked: Worked, layout: Layout, name: str, step: DeskStep, files: dict[str, bytes]) -> DeskRow:
    unit = worked.kit.spec.unit
    scene = hand_picture(
        step,
        unit=unit,
        width=WIDE,
        height=TALL,
        ruler_side=worked.kit.club.trimmer.ruler_side,
        one_way=has_up(worked, layout),
        backs=backs_on(worked, layout),
    )
    files[name] = svg(scene).encode()
    first, last = step.cuts[0].number, step.cuts[-1].number
    return DeskRow(
        span_text(first, last),
        f"{step.side.capitalize()} edge",
        length_text(step.measure, unit),
        length_text(step.measure, other_unit(unit)),
        _words(worked, layout, step),
        HandPicture(name, scene.alt, int(scene.width * 4 / 3), int(scene.height * 4 / 3)),
    )


def _words(worked: Worked, layout: Layout, step: DeskStep) -> str:
    return step_text(step, worked.kit.spec.unit, has_up(worked, layout), backs_on(worked, layout))
