"""How the cards are made, step by step, each with its picture beside it."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus.flowables import Flowable

from kitwright.printable.blocks import Gap, Heading, Listed, PictureBlock, Prose, Side, high
from kitwright.printable.filling import Chunk
from kitwright.printable.job import Job
from kitwright.printable.step_pictures import below, beside, folded
from kitwright.printable.typeset import BODY, BOLD, NUMERAL, Style, draw_line, words
from kitwright.telling.printed import STEPS_SHOW
from kitwright.telling.steps import Step, steps_of

NUMBER_ROOM = 30
"""Where the number of a step hangs, points."""
NUMBER_RISE = 5
"""How far that number rises over the title, points."""
DROP = 8
"""Brings a picture beside a step down to the capitals of the step's title, points."""
GUTTER, PICTURE = 24, 176
"""Between words and picture, and width of the picture, points."""
HIGH, HIGH_SEVERAL = 160, 120
"""How high one picture beside a step may be, and each of several; points."""
HELD_HIGH, FOLD_HIGH = 270, 230
"""How high the drawing of a pocket, a shaker or a band may be, and that of a fold; points."""
HELD_WIDE, MOST_HELD, MANY = 182, 2, 3
"""Width of such a drawing beside the card, points, how many stand there at most, and how many pictures a step has that is set so."""
COLUMNS, IN_ROW = 3, 136
"""Pictures beside one another under the words of a step, and how wide each may be, points."""
UNDER = 1.1
"""How much higher a step may be with its picture beside its words than with it under them: beside one another they read better."""
BEFORE = 16
"""Clear space over a step, points."""
TITLE = Style(BOLD, 12, 16, after=3, even=True)


class StepHeading(Heading):
    """The title of a step, its number hanging beside it."""

    def __init__(self, number: int, title: str) -> None:
        super().__init__(title, 3, TITLE)
        self.number = number

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        super().wrap(room - NUMBER_ROOM, height)
        self.width, self.height = room, self.height + NUMBER_RISE
        return room, self.height

    def draw(self) -> None:
        with self.canv.element("H3", text=f"{self.number} {self.plain}"):
            y = self.height - NUMBER_RISE - self.style.rise
            draw_line(self.canv, tuple(words(str(self.number), NUMERAL.font)), 0, y, NUMERAL.size, NUMERAL.ink)
            self.lines_on(self.canv, NUMBER_ROOM, self.height - NUMBER_RISE)


def steps(job: Job, share: float = 1) -> list[Chunk]:
    """The steps, none of them parted; the largest pictures at a share of the height that they may have."""
    found = [block for i, step in enumerate(steps_of(job.worked), 1) for block in _step(job, i, step, share)]
    if not found:
        return []
    head = [Heading("Step by step", 2, bookmark="steps"), Prose(STEPS_SHOW, BODY)]
    return [Chunk((*head, found[0])), *(Chunk((step,)) for step in found[1:])]


def _step(job: Job, i: int, step: Step, share: float) -> list[Side]:
    """A step as one block, its picture beside its words, or under them where that is lower; one that no page holds goes on in further ones."""
    full, whole = job.edition.height, job.edition.width
    title, said = StepHeading(i, step.title), told(step)
    more = [*_fold(job, step, share), *_held(job, step, share)]
    scenes = beside(job, step, PICTURE, HIGH)
    if len(scenes) > 1:
        scenes = beside(job, step, PICTURE, HIGH_SEVERAL * share)
    ways: list[list[Flowable]] = [[title, *said, *more]]
    if scenes:
        blocks = [PictureBlock(scene, job.level, before=6, drop=0 if n else DROP) for n, scene in enumerate(scenes)]
        left = whole - PICTURE - GUTTER
        row = [PictureBlock(scene, job.level) for scene in beside(job, step, IN_ROW, HIGH_SEVERAL * share)]
        ways = [[Side([[title, *said], blocks], [left, PICTURE], GUTTER, full), *more], [title, *said, *_in_rows(job, row), *more]]
        if all_in_one := _beside_held(job, step, share):
            ways.insert(1, [title, *said, *_fold(job, step, share), all_in_one])
    tall = [high(blocks, whole) for blocks in ways]
    lowest = ways[0] if tall[0] <= UNDER * min(tall) else ways[tall.index(min(tall))]
    if high(lowest, whole) <= full:
        return [_whole(job, lowest)]
    first, *rest = _parted(said, whole, full / 3)
    return [_whole(job, [title, *first, *ways[-1][1 + len(said) :]]), *(_whole(job, lines, before=0) for lines in rest)]


def _parted(blocks: Sequence[Flowable], width: float, room: float) -> list[list[Flowable]]:
    """Lists in lengths no higher than this, an entry always whole."""
    found: list[list[Flowable]] = [[]]
    for block in blocks:
        while block.wrap(width, 1e6)[1] > room and len(parts := block.split(width, room)) > 1:
            found[-1].append(parts[0])
            found.append([])
            block = parts[1]
        found[-1].append(block)
    return found


def _whole(job: Job, blocks: Sequence[Flowable], before: float = BEFORE) -> Side:
    return Side([blocks], [job.edition.width], 0, job.edition.height, before=before, after=0)


def _in_rows(job: Job, blocks: Sequence[Flowable]) -> list[Flowable]:
    """Pictures beside one another, under the words of a step."""
    rows = [blocks[i : i + COLUMNS] for i in range(0, len(blocks), COLUMNS)]
    # A first column without anything in it stands in for the indent.
    return [
        Side([[Gap(0)], *([block] for block in row)], [NUMBER_ROOM - GUTTER, *[IN_ROW] * len(row)], GUTTER, job.edition.height, before=6)
        for row in rows
    ]


def _fold(job: Job, step: Step, share: float) -> list[Flowable]:
    scene = folded(job, step, job.edition.width, FOLD_HIGH * share)
    return [PictureBlock(scene, job.level, before=6, after=0)] if scene else []


def _held(job: Job, step: Step, share: float) -> list[Flowable]:
    """How things are held: two drawings beside one another."""
    wide = (job.edition.width - GUTTER) / 2
    blocks = [[PictureBlock(scene, job.level)] for scene in below(job, step, wide, HELD_HIGH * share)]
    pairs = [blocks[i : i + 2] for i in range(0, len(blocks), 2)]
    return [Side(pair, [wide] * len(pair), GUTTER, job.edition.height, before=8) for pair in pairs]


def _beside_held(job: Job, step: Step, share: float) -> Side | None:
    """The card after the step beside how things are held by it, all in one row; None where there are not so many pictures, or too many."""
    held = below(job, step, HELD_WIDE, HELD_HIGH * share)
    if not held or len(held) > MOST_HELD:
        return None
    left = job.edition.width - len(held) * (HELD_WIDE + GUTTER)
    faces = beside(job, step, min(left, IN_ROW), HIGH_SEVERAL * share)
    if len(faces) + len(held) < MANY:
        return None
    stacks = [[PictureBlock(scene, job.level, before=6) for scene in faces], *([PictureBlock(scene, job.level)] for scene in held)]
    return Side(stacks, [left, *[HELD_WIDE] * len(held)], GUTTER, job.edition.height, before=8)


def told(step: Step) -> list[Flowable]:
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
