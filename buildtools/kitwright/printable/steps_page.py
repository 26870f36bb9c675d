"""How the cards are made, and how their fronts add up."""

from __future__ import annotations

from reportlab.platypus.flowables import Flowable

from kitwright.labels import named
from kitwright.printable import pictures
from kitwright.printable.blocks import GUTTER, Heading, Listed, PictureBlock, Prose, Side
from kitwright.printable.job import Job
from kitwright.printable.typeset import BODY, BOLD, NUMERAL, Style, draw_line, words
from kitwright.telling.steps import Step, steps_parted
from kitwright.work.stages import built_up

NUMBER_ROOM = 30
"""Where the number of a step hangs, points."""
NUMBER_RISE = 5
"""How far that number rises over the title, points."""
DROP = 9
"""Brings the heading of a picture beside a step down to the line of the step's title, points."""
PICTURE = 190
"""Width of the picture beside a step, points."""

FOLD_HIGH = 290, 250, 230
"""How high the drawings of a fold may be, as pages get tighter, points."""

HELD_HIGH = 320, 270, 240
"""How high the drawings of pockets, shakers and bands may be, points."""


class StepHeading(Heading):
    """The title of a step, its number hanging beside it."""

    def __init__(self, number: int, title: str) -> None:
        super().__init__(title, 3, Style(BOLD, 12, 16, before=12, after=3, even=True))
        self.number = number

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        super().wrap(room - NUMBER_ROOM, height)
        self.width, self.height = room, self.height + NUMBER_RISE
        return room, self.height

    def draw(self) -> None:
        with self.canv.element("H3", text=f"{self.number} {self.plain}"):
            draw_line(
                self.canv,
                tuple(words(str(self.number), NUMERAL.font)),
                0,
                self.height - NUMBER_RISE - self.style.rise,
                NUMERAL.size,
                NUMERAL.ink,
            )
            self.lines_on(self.canv, NUMBER_ROOM, self.height - NUMBER_RISE)


def steps_page(job: Job) -> list[Flowable]:
    """Blocks of the steps, those of a design led by how its layers go on; what is done for all designs comes first."""
    found: list[Flowable] = [Heading("Step by step", 2, bookmark="steps")]
    parted, i = steps_parted(job.worked), 0
    several = bool(job.worked.parts)
    for name, steps in parted.items():
        design = job.of(name)
        if several and name:
            found.append(Heading(name, 2, bookmark=named("steps", name)))
        if not several or name and built_up(design.worked):
            layers = pictures.layers(design, job.edition.width, job.edition.height * (0.4, 0.34, 0.27)[job.tight])
            found += [PictureBlock(layers, job.level, after=0), *_held(design)]
        for step in steps:
            i += 1
            found += _step(job, i, step)
    return found


def _held(job: Job) -> list[Flowable]:
    """Further faces, and how things are held: two drawings beside one another."""
    width = (job.edition.width - GUTTER) / 2
    high = HELD_HIGH[job.tight]
    scenes = [[PictureBlock(scene, job.level)] for scene in (*pictures.sides(job, width, high), *pictures.held(job, width, high))]
    pairs = [scenes[i : i + 2] for i in range(0, len(scenes), 2)]
    return [Side(pair, [width] * len(pair), GUTTER, job.edition.height, before=8) for pair in pairs]


def _step(job: Job, i: int, step: Step) -> list[Flowable]:
    title, text = StepHeading(i, step.title), _text(step)
    if step.stage != "score":
        return [title, *text]
    job = job.of(step.design)
    folded = pictures.fold(job, job.edition.width, FOLD_HIGH[job.tight])
    if folded:
        return [title, *text, PictureBlock(folded, job.level, before=6, after=0)]
    left = job.edition.width - PICTURE - GUTTER
    scene = pictures.base(job, PICTURE, PICTURE * (0.75 if job.tight else 1))
    return [Side([[title, *text], [PictureBlock(scene, job.level, drop=DROP)]], [left, PICTURE], GUTTER, job.edition.height, before=12)]


def _text(step: Step) -> list[Flowable]:
    """Its lines; the moves of building are numbered, since their order matters."""
    lines = [Prose(line, BODY) for line in step.lines]
    if step.stage == "build" and not step.own:
        return [
            Listed(lines[:1], marks="none", indent=NUMBER_ROOM),
            Listed([_move(line) for line in step.lines[1:]], marks="numbers", indent=NUMBER_ROOM + 16),
        ]
    return [Listed(lines, marks="none", indent=NUMBER_ROOM)]


def _move(line: str) -> Prose:
    """A move with the name of its piece set bold."""
    lead, colon, rest = line.partition(": ")
    return Prose(rest, BODY, lead=f"{lead}:") if colon else Prose(line, BODY)
