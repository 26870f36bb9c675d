"""The first side: what the kit makes, what it takes, what is cut, and how it goes together.

Everything else is set first, and the sketch gets the room that is left. Where that is too little,
things give way in this order: space between rows; the small pictures of looks; a point of type (never
under 8); what each piece is for; the lists, which go to a page of their own; how it goes together, which
goes with them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from reportlab.platypus.flowables import Flowable

from kitwright.drawing.pdf import share
from kitwright.printable import qrcode, scalebar
from kitwright.printable.blocks import Block, Gap, Heading, Prose, Side, hairline, high, stack
from kitwright.printable.card_facts import facts, in_columns
from kitwright.printable.front_plate import GUTTER, looks, patterns, pictured, planned_plate, plate, shown, sketch, slim
from kitwright.printable.job import Job
from kitwright.printable.mark import Named
from kitwright.printable.pages import Foot
from kitwright.printable.sheet_lists import CLOSE, ROOMY, TIGHT, ListType, lists
from kitwright.printable.tags import TaggedCanvas
from kitwright.printable.typeset import (
    SHEET_HEADING,
    SHEET_LONG_TITLE,
    SHEET_NUMERAL,
    SHEET_SUMMARY,
    SHEET_TEXT,
    SHEET_TITLE,
    Style,
    broken,
    draw_line,
    words,
)
from kitwright.release.stamp import Stamp
from kitwright.telling.briefly import briefly
from kitwright.telling.printed import PAGE_HAS, Marked, correction_text, edition_text
from kitwright.telling.words import month_text

LEAST, MOST = 10, 22
"""Clear space between the parts of the page, points."""
LEAST_PLATE = 150
"""Under this height of sketch and facts, something gives way in any case; points."""
ENOUGH, ENOUGH_EACH, LEAST_SCALE = 0.4, 0.3, 0.18
"""Scales of a sketch, and of each of several, at which nothing more gives way; and the least with which the lists stay."""
NUMBER = 14
"""Where the lines of how it goes together begin, behind their numbers; points."""


@dataclass(frozen=True)
class Ease:
    """How much room is given away."""

    lists: ListType | None
    """None: they stand on a page of their own."""
    looks: bool
    text: Style | None = SHEET_TEXT
    """Of how it goes together; None: that stands with them."""


_SMALL = Style(SHEET_TEXT.font, 8, 10, after=2)
EASES = (
    Ease(ROOMY, True),
    Ease(CLOSE, True),
    Ease(CLOSE, False),
    Ease(CLOSE, False, _SMALL),
    Ease(TIGHT, False, _SMALL),
    Ease(None, False, _SMALL),
    Ease(None, False, None),
)


def front_page(job: Job) -> list[Flowable]:
    """Blocks of the first page: they fill one page and no more."""
    _, parts = _laid(job)
    return [FullPage(job, parts, job.edition.height - foot_of(job).height - 0.01)]


def lists_over(job: Job) -> list[Flowable]:
    """What you need and cut, and how it goes together, where the first page has no room for them; mostly nothing."""
    ease, _ = _laid(job)
    if ease.lists:
        return []
    return [lists(job, job.edition.width, CLOSE), *([] if ease.text else [Gap(MOST), together(job, SHEET_TEXT)])]


Parts = list[list[Flowable]]


@dataclass(frozen=True)
class _Plan:
    """The page at one ease, its sketch not drawn yet."""

    ease: Ease
    scale: float
    """About how large the sketch comes out; 0 where all that cannot stand on one page."""
    draw: Callable[[], Parts]


def _laid(job: Job) -> tuple[Ease, Parts]:
    return job.once(("front page", job.level), lambda: _eased(job))


def _eased(job: Job) -> tuple[Ease, Parts]:
    planned = _slim_plan if slim(job) else _plan
    tried: list[_Plan] = []
    for ease in EASES:
        tried.append(planned(job, ease))
        if tried[-1].scale >= (ENOUGH if len(shown(job)) == 1 else ENOUGH_EACH):
            break
    room = job.edition.height - foot_of(job).height
    # Where none is large enough, as much as can be stays as long as that leaves a sketch at all.
    sound = [one for one in tried if one.scale > LEAST_SCALE]
    stay = [one for one in sound if one.ease.lists] or [one for one in sound if one.ease.text]
    for plan in sorted(stay, key=lambda one: -one.scale) + tried[-1:]:
        parts = plan.draw()
        # What the sketch takes is known once it is drawn.
        if sum(high(part, job.edition.width) for part in parts) + LEAST * (len(parts) - 1) <= room:
            break
    return plan.ease, parts


def _plan(job: Job, ease: Ease) -> _Plan:
    head, below, left = _frame(job, ease, [lists(job, job.edition.width, ease.lists)] if ease.lists else [])
    if left < LEAST_PLATE and ease is not EASES[-1]:
        return _Plan(ease, 0, list)
    way, scale = planned_plate(job, left, ease.looks)
    return _Plan(ease, scale, lambda: [head, [plate(job, left, way)], *below])


def _frame(job: Job, ease: Ease, listed: list[Flowable]) -> tuple[list[Flowable], Parts, float]:
    """What stands over the sketch, what stands under it, and the height that is left between."""
    width, head = job.edition.width, masthead(job)
    last: list[Flowable] = [together(job, ease.text)] if ease.text else []
    below: Parts = [part for part in (listed, last) if part]
    taken = high(head, width) + sum(high(part, width) for part in below) + LEAST * (1 + len(below))
    return head, below, job.edition.height - foot_of(job).height - taken


def _slim_plan(job: Job, ease: Ease) -> _Plan:
    """A slim card: the sketch in a column of its own, as large as the other column leaves it."""
    width, (head, below, left) = job.edition.width, _frame(job, ease, [])
    size = job.worked.face.size
    most = min((left - 110) * float(size.width.inches / size.height.inches) + 100, width * 0.52)
    for part in (1, 0.95, 0.9, 0.85, 0.8):
        wide = most * part
        rest = width - wide - GUTTER
        blocks = _column(job, rest, ease)
        if high(blocks, rest) <= left:
            scale = (wide - 100) / float(size.width.inches * 72)
            return _Plan(ease, scale, partial(_beside, job, (wide, rest), left, blocks, head, below))
    return _Plan(ease, 0, list)


def _beside(job: Job, widths: tuple[float, float], height: float, blocks: list[Flowable], head: list[Flowable], below: Parts) -> Parts:
    """The page of a slim card."""
    return [head, [Side([sketch(job, widths[0], height), blocks], widths, GUTTER, 1e6, after=0)], *below]


def _column(job: Job, width: float, ease: Ease) -> list[Flowable]:
    """What stands beside a slim card."""
    told = facts(job, not (ease.looks and pictured(job)))
    blocks: list[Flowable] = [in_columns(told, 2, width, GUTTER, 1e6)]
    if ease.looks:
        blocks += looks(job, width)
    if ease.lists:
        blocks += [Gap(8), lists(job, width, ease.lists)]
    return blocks


# --- its parts --------------------------------------------------------------------------------------


def masthead(job: Job) -> list[Flowable]:
    """Club and month, title, summary, and what is marked: what this edition changes, what this revision corrects."""
    kit, width = job.worked.kit, job.edition.width
    kicker = Named(job, f"{kit.club.name}  ·  {month_text(kit.month)}")
    one_line = len(broken(words(kit.spec.title, SHEET_TITLE.font), SHEET_TITLE.size, width)) == 1
    title = Heading(kit.spec.title, 1, SHEET_TITLE if one_line else SHEET_LONG_TITLE, bookmark="sketch")
    return [kicker, title, Prose(kit.spec.summary, SHEET_SUMMARY), *map(MarkedNote, _marked(job))]


def _marked(job: Job) -> Iterator[Marked]:
    if job.edition_note:
        yield edition_text(job.worked, job.edition_note)
    if isinstance(job.stamp, Stamp) and job.stamp.corrects:
        yield correction_text(job.stamp.corrects, job.stamp.revision)


class MarkedNote(Prose):
    """What is marked, with a stroke beside it that the eye finds."""

    INDENT = 10

    def __init__(self, note: Marked) -> None:
        super().__init__(note.text, Style(SHEET_TEXT.font, 9.5, 12.5, before=7), lead=f"{note.lead}:")

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        super().wrap(room - self.INDENT, height)
        return room, self.height

    def draw(self) -> None:
        with self.canv.element("P", text=self.plain):
            self.lines_on(self.canv, self.INDENT, self.height)
        self.canv.saveState()
        self.canv.translate(1.5, 0)
        self.canv.rotate(90)
        hairline(self.canv, 0, self.height, 0, "accent", 3)
        self.canv.restoreState()


def together(job: Job, style: Style) -> Side:
    """How it goes together: numbered lines in two columns that end level."""
    told, width = briefly(job.worked), job.edition.width
    each = (width - GUTTER) / 2
    lines = [Numbered(i, text, style) for i, text in enumerate(told, 1)]
    heads: list[Flowable] = [Heading("How it goes together", 2, SHEET_HEADING, bookmark="steps")]
    halves = [(lines[:i], lines[i:]) for i in range(1, len(lines) + 1)]
    # Of those that are equally low, the one whose first column is the fuller.
    first, second = min(halves, key=lambda half: (round(max(high(half[0], each), high(half[1], each))), -len(half[0])))
    columns = NumberedColumns([first, second], [each, each], GUTTER, 1e6, after=0)
    return Side([[*heads, columns]], [width], 0, 1e6, after=0)


class NumberedColumns(Side):
    """One list, though it stands in two columns."""

    def draw(self) -> None:
        with self.canv.group("L"):
            super().draw()


class Numbered(Prose):
    """A paragraph with its number hanging before it."""

    def __init__(self, number: int, text: str, style: Style) -> None:
        super().__init__(text, style)
        self.number = number

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        super().wrap(room - NUMBER, height)
        return room, self.height

    def draw(self) -> None:
        with self.canv.group("LI"):
            with self.canv.element("Lbl"):
                numeral = tuple(words(str(self.number), SHEET_NUMERAL.font))
                draw_line(self.canv, numeral, 0, self.height - self.style.rise, SHEET_NUMERAL.size, SHEET_NUMERAL.ink)
            with self.canv.element("LBody", text=self.plain):
                self.lines_on(self.canv, NUMBER, self.height)


class FullPage(Block):
    """Parts one under another on a whole page, what is left of it shared out between them."""

    def __init__(self, job: Job, parts: Sequence[Sequence[Flowable]], height: float) -> None:
        super().__init__()
        self.job, self.parts, self.full = job, parts, height

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width, self.height = room, self.full
        return room, self.height

    def draw(self) -> None:
        # From here on each pattern stands in the file once.
        share(self.canv, patterns(self.job))
        highs = [high(part, self.width) for part in self.parts]
        gap = min(MOST, (self.full - sum(highs)) / max(len(highs) - 1, 1))
        top = self.full
        for part, high_ in zip(self.parts, highs):
            stack(part, self.canv, 0, top, self.width)
            top -= high_ + gap


# --- the foot -------------------------------------------------------------------------------------


def foot_of(job: Job) -> Foot:
    """The scale bar, and the code where the club has an address."""
    address, edition = qrcode.page_address(job), job.edition

    def draw(canvas: TaggedCanvas) -> None:
        beside = qrcode.SIDE + qrcode.BESIDE + 26 if address else 0
        scalebar.scale_bar(canvas, edition.left, edition.bottom - 2, edition.width - beside, ink="ink")
        if address:
            right, low = edition.left + edition.width, edition.bottom - 3
            qrcode.draw_code(canvas, address, right, low, lead="", say=PAGE_HAS, ink="ink")

    return Foot(qrcode.SIDE + 6 if address else scalebar.HEIGHT + 10, draw)
