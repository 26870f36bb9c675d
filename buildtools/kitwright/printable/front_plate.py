"""The upper half of the first side: the sketch, or those of all faces and designs at one scale, with facts and looks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

from reportlab.platypus.flowables import Flowable

from kitwright.card.face import Face
from kitwright.drawing.designs import DesignFront, designs_sketch
from kitwright.drawing.front import shown_of
from kitwright.drawing.looks import DrawnLook, Patch, TileArea
from kitwright.drawing.scene import Scene
from kitwright.drawing.sketch import card_sketch, sketch_lengths
from kitwright.labels import is_base
from kitwright.printable import pictures
from kitwright.printable.blocks import PictureBlock, Prose, Side, high
from kitwright.printable.card_facts import Fact, facts, facts_table, in_columns
from kitwright.printable.job import Job
from kitwright.printable.small_card import SmallCard
from kitwright.printable.tables import swatch
from kitwright.printable.typeset import SHEET_NOTE
from kitwright.telling.goes import design_text, side_text
from kitwright.telling.printed import FINISHED, figures_text, looks_text
from kitwright.units import Length

GUTTER = 20
"""Between the sketch and what stands beside it, points."""
BESIDE, NARROW = 158, 112
"""Width of the column of facts, and that beside a wide card; points."""
AROUND, AROUND_SLIM, OVER = 98, 72, 92
"""About what a sketch takes for figures across, what with slimmer margins, and for its head, figures and key along; points."""
SLIM = 55
"""Per cent of its height: a card no wider than that is drawn in a column of its own."""
LOOK, LOOK_GAP, MOST_LOOKS = 58, 14, 6
"""How wide a small picture of a look is, the space between two, and how many are shown; points."""
FOLD_HIGH, FOLD_WIDE = 110, 236
"""Room for the drawing of a fold, points."""
LEAST_HIGH = 120
"""Height of a sketch that is drawn at all, points."""
MANY = 3
"""From so many sketches on, each has slimmer margins."""
UNDER = 8
"""Between the sketch and what stands under it, points."""


@dataclass(frozen=True)
class ShownFace:
    """One front of the sketch."""

    said: str
    face: Face


def shown(job: Job) -> list[ShownFace]:
    """The front; of several designs all, of a card with more faces those too."""
    fronts = []
    for design in job.designs:
        worked = design.worked
        name = design_text(worked) if worked.kit.design else worked.face.name
        fronts.append(ShownFace(name, worked.face))
        fronts += [ShownFace(side_text(worked, side), side) for side in worked.face.sides]
    return fronts


def names(job: Job) -> Mapping[tuple[str, str], str]:
    """Papers that are named on the sketch, under labels that come from several."""
    worked = job.worked.whole
    found: dict[tuple[str, str], str] = {}
    for label in worked.sizes:
        papers = worked.counts(label)
        if len(papers) > 1 and not is_base(label):
            found |= {(label, paper): job.paper(paper).name for paper in papers}
    return found


def drawing(job: Job, width: float, height: float) -> Scene:
    """The sketch in this room, points."""
    fronts, named = shown(job), names(job)
    wide, high_ = pictures.room(width), pictures.room(height)
    key = ("sheet sketch", job.worked.kit.design, wide, high_)
    if len(fronts) == 1:
        return job.once(key, lambda: card_sketch(fronts[0].face, job.looks, unit=job.unit, width=wide, height=high_, named=named))
    designs = [DesignFront(each.said, each.face) for each in fronts]
    title = job.worked.kit.spec.title
    return job.once(
        key,
        lambda: designs_sketch(
            designs, job.looks, unit=job.unit, width=wide, height=high_, name=title, named=named, slim=len(fronts) >= MANY
        ),
    )


def sketch(job: Job, width: float, height: float) -> list[Flowable]:
    """The sketch with its figures in the other unit under it, no higher than asked."""
    other = in_other_unit(job)
    left = max(height - other.wrap(width, height)[1] - other.style.before, LEAST_HIGH)
    return [PictureBlock(drawing(job, width, left), job.level, after=0), other]


def in_other_unit(job: Job) -> Prose:
    lengths: list[Length] = [length for each in shown(job) for length in sketch_lengths(each.face)]
    return Prose(figures_text(lengths, job.unit), replace(SHEET_NOTE, before=4))


def patterns(job: Job) -> dict[DrawnLook, TileArea]:
    """What is shown of each pattern anywhere on the page."""
    found = shown_of([face for design in job.worked.designs for face in design.faces], job.looks)
    for look in job.looks.values():
        patch = next(item for item in swatch(look).shapes if isinstance(item, Patch))
        if patch.patterned:
            found[look] = found[look].both(patch.area) if look in found else patch.area
    return found


# --- looks, and how the base folds ----------------------------------------------------------------


SHADOW = 4
"""What a card’s shadow takes beside it, points."""


def looks(job: Job, width: float, wide: float = LOOK) -> list[Flowable]:
    """Small pictures of the cards of the batch, each with how many there are; none where too many differ."""
    pairs = [(design, face) for design in job.designs for face in design.worked.faces]
    alike = len(pairs) == 1
    if len(pairs) > MOST_LOOKS or job.level == "outline":
        # Outlines of two looks are one picture.
        return []
    fit = max(int((width + LOOK_GAP) // (wide + LOOK_GAP)), 1)
    columns = -(-len(pairs) // -(-len(pairs) // fit))
    each = min((width - (columns - 1) * LOOK_GAP) / columns, wide * 1.3)
    found: list[Flowable] = []
    for i in range(0, len(pairs), columns):
        stacks = [
            [
                SmallCard(design, face, face.name, min(each, wide) - SHADOW),
                Prose(FINISHED if alike else looks_text(face.cards, face.name or design.worked.kit.design), SHEET_NOTE),
            ]
            for design, face in pairs[i : i + columns]
        ]
        found.append(Side(stacks, [each] * len(stacks), LOOK_GAP, 1e6, before=10, after=0))
    return found


def pictured(job: Job) -> bool:
    """Whether cards of the batch differ and are few enough to be pictured."""
    return job.level != "outline" and 2 <= sum(len(design.worked.faces) for design in job.designs) <= MOST_LOOKS


def folds(job: Job, width: float, height: float) -> list[Flowable]:
    """How bases fold that are no plain half folds, small; of several designs the first such one."""
    scenes = [pictures.fold(design, width, height, short=True) for design in job.designs if not design.worked.base.plain]
    found: list[Flowable] = [PictureBlock(scene, job.level, after=0) for scene in scenes if scene]
    return found[:1]


# --- together -------------------------------------------------------------------------------------


@dataclass(frozen=True)
class PlateWay:
    """One way to lay it out."""

    width: float
    """Of the sketch, points."""
    rest: float
    """Of what stands beside it."""
    beside: Sequence[Flowable]
    """What stands at its right."""
    under: Sequence[Flowable]
    """What stands under it."""

    def left(self, height: float, width: float) -> float:
        """How high the sketch may be."""
        return height - (high(self.under, width) + UNDER if self.under else 0)


def planned_plate(job: Job, height: float, with_looks: bool) -> tuple[PlateWay, float]:
    """How it is laid out best, facts beside the sketch, or under it where the sketch comes out larger so; and about how large that is."""
    width, found = job.edition.width, shown(job)
    every = [*_ways(job, with_looks)]
    ways = [way for way in every if high(way.beside, way.rest) <= height] or every
    scales = [_scale(found, way.width, way.left(height, width)) for way in ways]
    # The first is the usual one, and wins unless another is clearly better.
    best = max(range(len(ways)), key=lambda i: scales[i] * (1 if i else 1.06))
    return ways[best], scales[best]


def plate(job: Job, height: float, way: PlateWay) -> Side:
    """All of it, no higher than asked if that can be."""
    width = job.edition.width
    drawn = sketch(job, way.width, way.left(height, width))
    row: list[Flowable] = [Side([drawn, way.beside], [way.width, way.rest], GUTTER, 1e6, after=0)] if way.beside else [*drawn]
    if way.under:
        row.append(Side([way.under], [width], 0, 1e6, before=UNDER, after=0))
    return Side([row], [width], 0, 1e6, after=0)


def _ways(job: Job, with_looks: bool) -> Iterator[PlateWay]:
    width, several = job.edition.width, len(shown(job)) > 1
    told = facts(job, not (with_looks and pictured(job)))
    folded = folds(job, FOLD_WIDE, FOLD_HIGH)
    if folded:
        rest = width - FOLD_WIDE - GUTTER
        told = facts(job, True)
        yield PlateWay(width, 0, [], [Side([folded, [in_columns(told, 2, rest, 14, 1e6)]], [FOLD_WIDE, rest], GUTTER, 1e6, after=0)])
        return
    if not several:
        for beside, wide in product((BESIDE, NARROW), (LOOK, 48, 40, 0)):
            small = looks(job, beside, wide) if wide else []
            yield PlateWay(width - beside - GUTTER, beside, [*_column(facts(job, not (small and pictured(job)))), *small], [])
        if with_looks and pictured(job):
            in_row = in_columns(told, min(len(told), 4), width, GUTTER, 1e6)
            yield PlateWay(width - LOOK - GUTTER, LOOK, looks(job, LOOK), [in_row])
    if len(job.designs) > 2:
        yield PlateWay(width, 0, [], [facts_table(job)])
        return
    small = looks(job, BESIDE, 48) if with_looks and pictured(job) else []
    if several and small and len(job.designs) > 1:
        yield PlateWay(width, 0, [], [in_columns(told, min(len(told), 3), width, GUTTER, 1e6), *looks(job, width, 48)])
        return
    room = width - (BESIDE + GUTTER if small else 0)
    columns = min(len(told), 2 if small else 4)
    block = in_columns(told, columns, room, GUTTER, 1e6)
    yield PlateWay(width, 0, [], [Side([[block], small], [room, BESIDE], GUTTER, 1e6, after=0)] if small else [block])


def _column(told: Sequence[Fact]) -> list[Flowable]:
    return [block for fact in told for block in fact.blocks]


def _scale(found: Sequence[ShownFace], width: float, height: float) -> float:
    """About how large the cards come out in this room."""
    around = AROUND if len(found) < MANY else AROUND_SLIM
    tried = []
    for columns in range(1, len(found) + 1):
        rows = [found[i : i + columns] for i in range(0, len(found), columns)]
        across = min(
            (width - around * len(row)) / sum(float(each.face.size.width.inches) for each in row) for row in rows if len(row) == columns
        )
        along = (height - OVER * len(rows)) / sum(max(float(each.face.size.height.inches) for each in row) for row in rows)
        tried.append(min(across, along) / 72)
    return max(tried)


def slim(job: Job) -> bool:
    """Whether the sketch is a column of its own."""
    size = job.worked.face.size
    return len(shown(job)) == 1 and size.width.inches * 100 <= size.height.inches * SLIM
