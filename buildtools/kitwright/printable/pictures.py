"""The pictures of a printable, each drawn for the room it gets; all room is in points."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from functools import partial

from kitwright import cache
from kitwright.card.face import Face
from kitwright.cutting.desk import CornerStep, DeskStep
from kitwright.cutting.plan import Layout
from kitwright.drawing.base import base_flat
from kitwright.drawing.designs import DesignFront, designs_sketch
from kitwright.drawing.dimensions import round_scale
from kitwright.drawing.folds.diagram import fold_diagram, fold_in_short
from kitwright.drawing.folds.lies import lying_on, on_panels
from kitwright.drawing.guide import EDGE, cutting_guide, least_height
from kitwright.drawing.hand import corner_picture, hand_picture
from kitwright.drawing.holds.held import held_of
from kitwright.drawing.layers import layer_steps
from kitwright.drawing.scene import Scene
from kitwright.drawing.sketch import card_sketch
from kitwright.printable.job import Job
from kitwright.telling.backs import backs_on
from kitwright.telling.folds import fold_text
from kitwright.telling.goes import design_text, goes_on, side_text
from kitwright.telling.words import led


def sketch(job: Job, width: float, height: float) -> Scene:
    """The card sketch; of a kit of several designs all of them, at one scale."""

    def draw() -> Scene:
        if len(job.worked.designs) == 1:
            return card_sketch(job.worked.face, job.looks, unit=job.unit, width=room(width), height=room(height))
        shown = [DesignFront(design_text(design), design.face) for design in job.worked.designs]
        title = job.worked.kit.spec.title
        return designs_sketch(shown, job.looks, unit=job.unit, width=room(width), height=room(height), name=title)

    return job.once(("sketch", job.worked.kit.design, room(width), room(height)), draw)


def sides(job: Job, width: float, height: float) -> list[Scene]:
    """The sketches of faces besides the leading one."""

    def drawn(side: Face) -> Scene:
        said = side_text(job.worked, side)
        return card_sketch(side, job.looks, unit=job.unit, name=said, width=room(width), height=room(height))

    def known(side: Face) -> tuple:
        return "side", job.worked.kit.design, side.on, room(width), room(height)

    return [job.once(known(side), partial(drawn, side)) for side in job.worked.face.sides]


def look(job: Job, face: Face, width: float) -> Scene:
    """The finished card in one of its looks, without labels and figures."""
    return job.once(
        ("look", job.worked.kit.design, face.name, room(width)),
        lambda: card_sketch(face, job.looks, unit=job.unit, width=room(width), plain=True, name=face.name),
    )


def guide(job: Job, layout: Layout, width: float, height: float, share: float = 1, scale: Fraction | None = None) -> Scene:
    """The cutting guide of one layout, at a share of the scale that the room allows, and at most at `scale`: its texts alone."""
    whole = _guide(job, layout, width, room(height), scale, True)
    return whole if share == 1 else _guide(job, layout, width, None, _shared(whole, share), True)


@contextmanager
def measured_before(job: Job) -> Iterator[None]:
    """Meanwhile no guide is measured that was in an earlier run: where a word changed, that is none."""
    drawn = [
        (layout.tree, job.look(layout.papers[0]), backs_on(job.worked, layout), goes_on(job.worked, layout))
        for layout in job.worked.layouts
    ]
    key = cache.digest(job.edition.name, job.edition.page, job.unit, drawn)
    known: dict[tuple, Scene] = cache.known(_MEASURED, key) or {}
    job.made.update(known)
    yield
    bare = {key: made for key, made in job.made.items() if key[0] == _GUIDE and key[-1]}
    if len(bare) > len(known):
        cache.note(_MEASURED, key, bare)


_GUIDE, _MEASURED = "guide", "guides measured"


def whole_guide(job: Job, layout: Layout, width: float, bare: Scene) -> Scene:
    """The same as a whole, by its texts alone."""
    return _guide(job, layout, width, None, bare.stated_scale, False)


def least_guide(job: Job, layout: Layout, width: float, bare: Scene, share: float) -> Fraction:
    """A height, margins included, below which a guide is not at this share of a scale; found without drawing it."""
    look, backs = job.look(layout.papers[0]), backs_on(job.worked, layout)
    return least_height(layout.tree, _shared(bare, share), unit=job.unit, width=room(width), look=look, backs=backs)


def _shared(whole: Scene, share: float) -> Fraction:
    return round_scale(whole.stated_scale * Fraction(share).limit_denominator(100))


def _guide(job: Job, layout: Layout, width: float, height: Fraction | None, scale: Fraction | None, bare: bool) -> Scene:
    key = (_GUIDE, job.worked.layouts.index(layout), room(width), height, scale, bare)
    return job.once(
        key,
        lambda: cutting_guide(
            layout.tree,
            unit=job.unit,
            width=room(width),
            height=height,
            look=job.look(layout.papers[0]),
            scale=scale,
            backs=backs_on(job.worked, layout),
            goes=goes_on(job.worked, layout),
            bare=bare,
        ),
    )


def guides_alike(job: Job, layouts: Sequence[Layout], width: float, height: float, share: float = 1) -> list[Scene]:
    """Guides for one row, at one scale: the smallest that any of them needs."""
    scale = None
    while True:
        scenes = [guide(job, layout, width, height, 1, scale) for layout in layouts]
        if len({scene.scale for scene in scenes}) == 1:
            return scenes if share == 1 else [guide(job, layout, width, height, share, scale) for layout in layouts]
        scale = min(scene.stated_scale for scene in scenes)


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


def held(job: Job, width: float, height: float) -> list[Scene]:
    """Its pockets, shakers and belly bands."""
    found = held_of(job.worked, job.looks)
    return [
        job.once((each.name, job.worked.kit.design, room(width), room(height)), partial(each.draw, room(width), room(height)))
        for each in found
    ]


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


def layers(job: Job, width: float, height: float) -> Scene:
    """How the layers go on, one after another."""
    return job.once(
        ("layers", job.worked.kit.design, room(width), room(height)),
        lambda: layer_steps(job.worked.face, job.looks, unit=job.unit, width=room(width), height=room(height)),
    )


def room(value: float) -> Fraction:
    """Room on the page as a picture takes it: whole points, and the clear margin that hangs outside."""
    return int(value) + 2 * EDGE
