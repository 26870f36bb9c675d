"""Proposed layouts on paper: each with its card and its sheets in small, to choose from at the table."""

from __future__ import annotations

import io
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, partial

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus.doctemplate import BaseDocTemplate, PageTemplate
from reportlab.platypus.flowables import Flowable
from reportlab.platypus.frames import Frame

from kitwright.drawing.pdf import register
from kitwright.drawing.proposals.plate import EDGE, Plate, Row, as_made, is_wide, plates, scales_of, usual_row, wide_row
from kitwright.drawing.proposals.sheets import IN_PRINT
from kitwright.drawing.styles import Level
from kitwright.exact import Exact
from kitwright.kit.model import Club
from kitwright.printable.blocks import GUTTER, Heading, Listed, PictureBlock, Prose, Side, hairline, high
from kitwright.printable.edition import EDITIONS, Edition, EditionName
from kitwright.printable.tags import TaggedCanvas, tagged
from kitwright.printable.typeset import BODY, FOOT, HEADING, KICKER, NOTE, SANS, SHEET_TITLE, draw_line, words
from kitwright.proposing.papered import AsMade
from kitwright.proposing.records import Answer, Proposal
from kitwright.telling.layout_names import what
from kitwright.telling.proposals import asked, completeness, none_found, reason, sizes, twins, ways_out
from kitwright.telling.proposals_page import NOT_YET, proposed_by, scale_said, title

PARTS = tuple(Exact(n, 20) for n in range(20, 9, -1))
"""How much of its column a picture may take, the largest first: the largest is taken that needs no page more."""
WITH_WORDS = tuple(Exact(n, 50) for n in range(36, 25, -1))
"""The same of the page, where a wide picture has its words beside it."""
_BEFORE, _UNDER, _LAST = 12, 5, 10
"""Clear space above a row, under a picture, and above what stands at the end; points."""


def proposals_pdf(answer: Answer, club: Club, edition: EditionName | None = None, *, ink: Level = "full", in_file: bool = False) -> bytes:
    """An answer as a PDF.

    Args:
        answer: what the question gave.
        club: whose colours and cautions it bears.
        edition: `letter` or `a4`; the one of the club's region where it is left out.
        ink: `full`, `light` or `outline`.
        in_file: whether the question stands in a file.
    """
    files: dict[Level, bytes] = {}
    area = EDITIONS[edition or ("a4" if club.region == "metric" else "letter")]
    document = BaseDocTemplate(
        io.BytesIO(),
        pagesize=area.page,
        invariant=1,
        pageCompression=1,
        initialFontName=register(SANS),
        title=title(answer),
        author=club.name,
        creator="kitwright",
        producer="kitwright",
        lang="en",
        displayDocTitle=True,
        printScaling="None",
    )
    frame = Frame(area.left, area.bottom, area.width, area.height, leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0, id="sheet")
    foot = partial(_foot, area=area, club=club)
    document.addPageTemplates([PageTemplate("sheet", [frame], onPageEnd=foot, pagesize=area.page)])
    canvas = partial(TaggedCanvas, inks=(ink,), files=files, palette=club.palette)
    head = _head(answer, club, in_file)
    layout = _fitted(answer, head, club, area, ink)
    document.build([*head, *layout.rows(), layout.end()], canvasmaker=canvas)
    return files[ink]


def _head(answer: Answer, club: Club, in_file: bool) -> list[Flowable]:
    blocks: list[Flowable] = [Prose(club.name, KICKER), Heading(title(answer), 1, SHEET_TITLE), Prose(asked(answer.wish), BODY)]
    more = (ways_out if answer.proposals else none_found)(answer, in_file)
    return [*blocks, *(Prose(line, BODY) for line in more)]


@dataclass(frozen=True)
class Laid:
    """Layouts on pages, their pictures of one size."""

    answer: Answer
    made: tuple[AsMade, ...]
    club: Club
    area: Edition
    ink: Level
    part: Fraction
    """Of a column, or of the page."""

    @cached_property
    def beside(self) -> bool:
        """Whether words stand beside a picture: wide ones stand one under another."""
        return is_wide(self.answer.proposals)

    @property
    def each(self) -> float:
        """How wide a column is."""
        return self.area.width if self.beside else (self.area.width - GUTTER) / 2

    @cached_property
    def wide(self) -> Fraction:
        """How wide a plate is: its clear margin hangs outside, as with every picture here."""
        return Exact(int(self.each)) * self.part + 2 * EDGE

    @cached_property
    def row(self) -> Row:
        """What stands side by side on a plate."""
        return wide_row(self.answer.wish) if self.beside else usual_row(self.answer.wish)

    @cached_property
    def plates(self) -> tuple[Plate, ...]:
        return plates(self.answer.wish, self.made, self.wide, self.row, least=IN_PRINT)

    def pages(self, first: float) -> int:
        """How many pages they take with what stands at the end, where so much of the first is taken."""
        found, room = 1, self.area.height - first
        for block in (*self._heights(), _LAST + high([self.end()], self.area.width)):
            if block > room:
                found, room = found + 1, self.area.height
            room -= block
        return found

    def _heights(self) -> list[float]:
        pictures = [float(plate.high - 2 * EDGE) for plate in self.plates]
        words = [self._words(one) for one in self.answer.proposals]
        said = [high(some, self._for_words) for some in words]
        if self.beside:
            return [_BEFORE + max(both) for both in zip(pictures, said)]
        apart = [max(_UNDER, some[0].getSpaceBefore()) for some in words]
        stacks = [sum(one) for one in zip(pictures, apart, said)]
        return [_BEFORE + max(stacks[i : i + 2]) for i in range(0, len(stacks), 2)]

    @property
    def _for_words(self) -> float:
        return self.area.width - GUTTER - float(self.wide - 2 * EDGE) if self.beside else self.each

    def _words(self, one: Proposal) -> list[Flowable]:
        unit = self.answer.wish.unit
        said = ". ".join(filter(None, (reason(one, unit, self.answer.proposals), twins(one, unit))))
        return [Heading(f"{one.number}  {what(one)}", 2, HEADING), Prose(" · ".join(sizes(one, unit)), NOTE), Prose(f"{said}.", NOTE)]

    def rows(self) -> list[Flowable]:
        """Layouts side by side, or each with its words beside it."""
        each = [
            (PictureBlock(plate.scene, self.ink, after=_UNDER), self._words(one)) for one, plate in zip(self.answer.proposals, self.plates)
        ]
        if self.beside:
            widths = [float(self.wide - 2 * EDGE), self._for_words]
            return [Side([[picture], words], widths, GUTTER, self.area.height, _BEFORE, 0) for picture, words in each]
        stacks = [[picture, *words] for picture, words in each]
        pairs = [stacks[i : i + 2] for i in range(0, len(stacks), 2)]
        return [Side(pair, [self.each] * len(pair), GUTTER, self.area.height, _BEFORE, 0) for pair in pairs]

    def end(self) -> Flowable:
        """What was looked at, the scale, and the cautions; together on a page."""
        said = completeness(self.answer)
        if self.answer.proposals:
            scales = scales_of(self.answer.wish, self.wide, self.row)
            said = [NOT_YET, scale_said(scales.card, scales.sheet), *said]
        notes: list[Flowable] = [Heading("About these layouts", 2, HEADING), *(Prose(line, NOTE) for line in said)]
        cautions: list[Flowable] = [Heading("Mind your hands", 2, HEADING), Listed([Prose(line, NOTE) for line in self.club.cautions])]
        room = self.area.width - GUTTER
        side = Side([notes, cautions], [room * 0.42, room * 0.58], GUTTER, self.area.height, before=_LAST)
        assert high([side], self.area.width) <= self.area.height
        return side


def _fitted(answer: Answer, head: list[Flowable], club: Club, area: Edition, ink: Level) -> Laid:
    """The largest pictures with which no page more is needed than with the smallest."""
    made, first = as_made(answer), high(head, area.width)
    tries = [Laid(answer, made, club, area, ink, part) for part in (WITH_WORDS if is_wide(answer.proposals) else PARTS)]
    fewest = tries[-1].pages(first)
    return next(one for one in tries if one.pages(first) <= fewest)


def _foot(plain: Canvas, document: BaseDocTemplate, area: Edition, club: Club) -> None:
    """Whose it is, that it is no kit, and the page."""
    canvas = tagged(plain)
    y = area.bottom - 24
    hairline(canvas, area.left, area.left + area.width, y + 12)
    with canvas.artifact():
        draw_line(canvas, tuple(words(f"page {document.page}")), area.left + area.width, y, FOOT.size, FOOT.ink, "end")
        draw_line(canvas, tuple(words(proposed_by(club.name))), area.left, y, FOOT.size, FOOT.ink)
