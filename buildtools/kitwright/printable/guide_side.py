"""The other side: every cutting guide, with its strokes, leftovers and slack.

One page for all of them. A page more only where a guide would else be drawn smaller than its least
scale: patterned papers on the first, cardstock on the next.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain

from reportlab.platypus.flowables import Flowable

from kitwright.printable.blocks import Block, Gap, Heading, Prose, Side, hairline, high
from kitwright.printable.guide_cell import OVER_PICTURE, UNDER_PICTURE, GuideCell, Key
from kitwright.printable.job import Job
from kitwright.printable.rows import LARGEST, GuideRow, Guides, arranged, grown
from kitwright.printable.typeset import SERIF_BOLD, SHEET_CELL, SHEET_STRONG, Style, draw_line, text_width, words
from kitwright.telling.guidetexts import CARDSTOCK, CARE, CONTINUED, OTHERS, PATTERNED, heading_text, how_text, whose_text

TITLE = Style(SERIF_BOLD, 17, 22)
BESIDE, BETWEEN = 18, 16
"""Clear space between two guides of a row, and between two rows with the line that parts them; points."""
FIGURES = 150
"""Least width of what stands beside a guide that is alone in its row, points."""
TRIES = 5
"""How often rows are looked for in less room, where guides say more than was reckoned with."""
OVER_CARE = 9
"""Clear space over the line of care, points."""
WIDEST_TABLE = 300
"""What stands under a guide that is alone in its row runs no wider than this, or than the guide, points."""
HALF_FULL = 0.5
"""A page of guides that is less full than this is spared, where any other way is left."""


def guide_pages(job: Job) -> list[list[Flowable]]:
    """Blocks of the pages with guides, page by page."""
    return [page.blocks() for page in pages(job)]


# --- which guides on which page ---------------------------------------------------------------


def pages(job: Job) -> list[GuidePage]:
    """All guides on one page, or as few as it takes.

    A page more only where some guide would else be under its least scale. Least scales are found with all
    dropped that may be dropped, so that there is nothing else to give up: where cardstock by itself leaves its
    page less than half full, the guides are parted elsewhere, in their order; where that is no better, or two
    pages don't hold them either, they fill page after page, and the last is what it is.
    """
    every = [GuideCell(job, layout) for layout in job.worked.layouts]
    if not every:
        return []
    for led in _led_out(every):
        if one := page_of(job, every, led=led):
            return [one]
    for led in _led_out(every):
        for first, second, names in _parted(every):
            both = [page_of(job, part, name, led) for part, name in zip((first, second), names)]
            if all(page and page.full >= HALF_FULL for page in both):
                return [page for page in both if page]
    return _filled(job, every)


def _led_out(every: Sequence[GuideCell]) -> Iterator[Collection[GuideCell]]:
    """Which guides have labels led out to save room: none, then one after another, the one first that saves most."""
    saving = sorted((cell for cell in every if cell.floor < cell.least), key=lambda cell: Fraction(cell.floor, cell.least))
    yield from (saving[:n] for n in range(len(saving) + 1))


def _parted(every: Sequence[GuideCell]) -> list[tuple[Sequence[GuideCell], Sequence[GuideCell], tuple[str, str]]]:
    """Ways to lay guides on two pages, best first: by what papers they are, then as they come, most evenly first."""
    printed = [sheet for sheet in every if sheet.printed]
    others = [sheet for sheet in every if not sheet.printed]
    ways: list[tuple[Sequence[GuideCell], Sequence[GuideCell], tuple[str, str]]] = []
    if printed and others:
        ways.append((printed, others, (PATTERNED, CARDSTOCK if all(sheet.cardstock for sheet in others) else OTHERS)))
    middle = len(every) / 2
    return ways + [(every[:i], every[i:], ("", CONTINUED)) for i in sorted(range(1, len(every)), key=lambda i: (abs(i - middle), -i))]


def _filled(job: Job, every: Sequence[GuideCell]) -> list[GuidePage]:
    """As many guides on each page as have room at their least scale; one that has none by itself is drawn as large as it may be."""
    found: list[GuidePage] = []
    left = [*every]
    while left:
        name = CONTINUED if found else ""
        page = next(filter(None, (page_of(job, left[:n], name, left) for n in range(len(left), 0, -1))), None)
        if page is None and not _too_long(job, left[0], name):
            page = page_of(job, left[:1], name, left, ease=1)
        if page is None:
            parts = left[0].halves()
            assert parts, f"{left[0].layout.name} has no room on a page"
            left[:1] = parts
            continue
        found.append(page)
        left = left[len(page.cells) :]
    return found


def _too_long(job: Job, cell: GuideCell, name: str) -> bool:
    """Whether it is only its table that leaves a guide no room on a page."""
    return any(page_of(job, [half], name, [half]) is not None or _too_long(job, half, name) for half in cell.halves()[:1])


# --- one page ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class GuidePage:
    """Guides in rows."""

    job: Job
    cells: Sequence[GuideCell]
    rows: Sequence[GuideRow]
    name: str
    """What is on it, where there are several pages."""

    @property
    def full(self) -> float:
        """Which share of its room the rows take."""
        return _asked(self.job, self.cells, exact=True).taken(self.rows) / _room(self.job, self.name)

    def blocks(self) -> list[Flowable]:
        """Head, rows with a line between them, and at the foot the line of care."""
        job, found = self.job, _head(self.job, self.name)
        rows = [_row(job, [self.cells[i] for i in row.guides], row.percent) for row in self.rows]
        # What is left is shared among the gaps; the line of care stands at the foot.
        care = _care(job)
        left = job.edition.height - high([*found, *care], job.edition.width) - sum(row.wrap(job.edition.width, 1e6)[1] for row in rows)
        gaps = len(rows) - 1
        between = BETWEEN + min((left - OVER_CARE - gaps * BETWEEN) / len(rows), BETWEEN / 2)
        parted = chain.from_iterable((RowLine(between), row) for row in rows)
        spare = max(left - between * gaps - 0.01, 0)
        return [*found, *[*parted][1:], Gap(spare), *care]


def page_of(job: Job, cells: Sequence[GuideCell], name: str = "", led: Collection[GuideCell] = (), ease: int = 100) -> GuidePage | None:
    """A page with these guides.

    Args:
        job: the printable.
        cells: the guides.
        name: what is on it, where there are several pages.
        led: guides whose labels may stand beside their pieces, which allows of a smaller scale.
        ease: how large they are at least, per cent of their least scale.

    Returns:
        None where they have no room on a page.
    """
    room = left = _room(job, name)
    exact = _asked(job, cells, led, exact=True)
    for _ in range(TRIES):
        # Rows are looked for as if each guide said what it says at its least scale, when most stands under it ...
        rows = arranged(_asked(job, cells, led), left, ease)
        if rows is None:
            return None
        over = exact.taken(rows) - room
        if over <= 0:
            # ... and then drawn larger with what they say indeed.
            return GuidePage(job, cells, grown(exact, rows, room), name)
        # Now and then a larger guide says more, such as the size of a leftover that was named on it.
        left -= over
    return None


def _asked(job: Job, cells: Sequence[GuideCell], led: Collection[GuideCell] = (), exact: bool = False) -> Guides:
    """The questions that are asked about guides while rows are looked for."""

    def widest(group: tuple[int, ...]) -> int:
        row = [cells[i] for i in group]
        return job.once(
            ("widest", *(cell.key for cell in row)),
            lambda: next((percent for percent in range(LARGEST, 0, -1) if _widths(job, row, percent)), 0),
        )

    def height(row: GuideRow) -> float:
        group = [cells[i] for i in row.guides]
        says = {cell.key: row.percent if exact else min(cell.floor, row.percent) for cell in group}
        return job.once(
            ("row", row.percent, *((cell.key, says[cell.key]) for cell in group)), lambda: _height(job, group, row.percent, says)
        )

    return Guides([cell.floor if cell in led else cell.least for cell in cells], widest, height, BETWEEN)


def _widths(job: Job, row: Sequence[GuideCell], percent: int) -> list[float]:
    """The widths of guides side by side: all alike where that does; empty where they have no room."""
    room, needed = job.edition.width - BESIDE * (len(row) - 1), [cell.width(percent) for cell in row]
    if len(row) == 1:
        # Tables as wide as the page are hard to read across.
        return [min(max(needed[0], WIDEST_TABLE), room)] if needed[0] <= room else []
    if max(needed) <= room / len(row):
        return [room / len(row)] * len(row)
    spare = room - sum(needed)
    return [width + spare / len(row) for width in needed] if spare >= 0 else []


def _height(job: Job, row: Sequence[GuideCell], percent: int, says: dict[Key, int]) -> float:
    """What a row takes; `says`: at which scale each is taken at its word."""
    return _shape(job, row, percent, says)[0]


def _shape(job: Job, row: Sequence[GuideCell], percent: int, says: dict[Key, int]) -> tuple[float, list[float], bool]:
    """Height and widths of a row, and whether what is said of its guide stands beside that."""
    widths = _widths(job, row, percent)
    under = max(_tall(cell, percent, width, says[cell.key]) for cell, width in zip(row, widths))
    wide, tall = row[0].size(percent)
    if len(row) > 1 or wide + BESIDE + FIGURES > job.edition.width:
        return under, widths, False
    left = job.edition.width - wide - BESIDE
    beside = row[0].above(percent, job.edition.width) + OVER_PICTURE + max(tall, row[0].below(says[row[0].key], left))
    return (beside, [wide, left], True) if beside < under else (under, widths, False)


def _tall(cell: GuideCell, percent: int, width: float, says: int) -> float:
    """Height of a guide with all that belongs to it one under another."""
    return cell.above(percent, width) + OVER_PICTURE + cell.size(percent)[1] + UNDER_PICTURE + cell.below(says, width)


def _row(job: Job, row: Sequence[GuideCell], percent: int) -> Side:
    """A row as it stands on the page."""
    height, widths, beside = _shape(job, row, percent, {cell.key: percent for cell in row})
    full = job.edition.height
    if beside:
        (cell,) = row
        inner = Side([[cell.picture(percent, widths[0], 0)], cell.figures(percent)], widths, BESIDE, full, before=OVER_PICTURE, after=0)
        return Side([[cell.head(percent), inner]], [job.edition.width], 0, full, after=0)
    heads = [cell.above(percent, width) for cell, width in zip(row, widths)]
    # Sheets lie level where that costs the row no height.
    lower = [max(heads) - head for head in heads]
    talls = [_tall(cell, percent, width, percent) for cell, width in zip(row, widths)]
    level = all(tall + more <= height + 0.01 for tall, more in zip(talls, lower))
    stacks: list[list[Flowable]] = []
    for cell, width, tall, more in zip(row, widths, talls, lower):
        gap = more if level else 0
        picture = cell.picture(percent, width, height - tall - gap)
        stacks.append([cell.head(percent), Gap(gap), picture, *cell.figures(percent)])
    return Side(stacks, widths, BESIDE, full, after=0)


# --- head and foot ----------------------------------------------------------------------------


class Head(Heading):
    """The heading of the page, and whose guides they are at its end."""

    def __init__(self, job: Job, text: str) -> None:
        super().__init__(text, 2, TITLE, bookmark="guide")
        self.whose = whose_text(job.worked)

    def draw(self) -> None:
        super().draw()
        right = tuple(words(self.whose, SHEET_STRONG.font))
        if (
            text_width(self.plain, TITLE.font, TITLE.size) + BESIDE + text_width(self.whose, SHEET_STRONG.font, SHEET_STRONG.size)
            > self.width
        ):
            return
        with self.canv.element("P", text=self.whose):
            draw_line(self.canv, right, self.width, self.height - TITLE.rise, SHEET_STRONG.size, SHEET_STRONG.ink, "end")


class RowLine(Block):
    """A line between two rows, in the middle of clear space."""

    def __init__(self, height: float) -> None:
        super().__init__()
        self.height = height

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width = room
        return room, self.height

    def draw(self) -> None:
        hairline(self.canv, 0, self.width, self.height / 2, "ink", 0.5)


def _room(job: Job, name: str) -> float:
    """Height for rows, points."""
    return job.edition.height - high([*_head(job, name), *_care(job)], job.edition.width) - OVER_CARE


def _head(job: Job, name: str) -> list[Flowable]:
    rests = any(layout.leftovers for layout in job.worked.layouts)
    return [Head(job, heading_text(name)), Prose(how_text(rests), SHEET_CELL), Gap(6)]


def _care(job: Job) -> list[Flowable]:
    """What the club says first of blades."""
    return [Prose(job.worked.kit.club.cautions[0], SHEET_CELL, lead=CARE)]
