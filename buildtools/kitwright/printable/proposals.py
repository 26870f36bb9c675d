"""Proposed layouts on paper: each with its card and its sheets in small, to choose from at the table."""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import partial

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus.doctemplate import BaseDocTemplate, PageTemplate
from reportlab.platypus.flowables import Flowable
from reportlab.platypus.frames import Frame

from kitwright.drawing.pdf import register
from kitwright.drawing.proposals.plate import EDGE, Plate, plates, scales_of
from kitwright.drawing.styles import Level
from kitwright.exact import Exact
from kitwright.kit.model import Club
from kitwright.printable.blocks import GUTTER, Heading, Listed, PictureBlock, Prose, Side, hairline, high
from kitwright.printable.edition import EDITIONS, Edition, EditionName
from kitwright.printable.tags import TaggedCanvas, tagged
from kitwright.printable.typeset import BODY, FOOT, HEADING, KICKER, NOTE, SANS, SHEET_TITLE, draw_line, words
from kitwright.proposing.records import Answer, Proposal
from kitwright.telling.proposals import asked, completeness, none_found, reason, sizes, twins, what
from kitwright.telling.proposals_page import NOT_YET, proposed_by, scale_said, title

COLUMNS = 2
_ACROSS = Exact(4, 5)
"""How much of its column a plate of a card and a sheet takes, so that a dozen stand on two pages."""


def proposals_pdf(answer: Answer, club: Club, edition: EditionName | None = None, *, ink: Level = "full") -> bytes:
    """An answer as a PDF.

    Args:
        answer: what the question gave.
        club: whose colours and cautions it bears.
        edition: `letter` or `a4`; the one of the club's region where it is left out.
        ink: `full`, `light` or `outline`.
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
    document.build([*_head(answer, club), *_rows(answer, area, ink), *_end(answer, club, area)], canvasmaker=canvas)
    return files[ink]


def _head(answer: Answer, club: Club) -> list[Flowable]:
    blocks: list[Flowable] = [Prose(club.name, KICKER), Heading(title(answer), 1, SHEET_TITLE), Prose(asked(answer.wish), BODY)]
    return blocks if answer.proposals else [*blocks, *(Prose(line, BODY) for line in none_found(answer))]


def _rows(answer: Answer, area: Edition, ink: Level) -> list[Flowable]:
    """Layouts side by side, their pictures on one line."""
    each = (area.width - GUTTER) / COLUMNS
    made = plates(answer.wish, answer.proposals, _room(each, answer), _in_row(answer))
    both = list(zip(answer.proposals, made))
    return [_row(answer, both[i : i + COLUMNS], each, area, ink) for i in range(0, len(both), COLUMNS)]


def _row(answer: Answer, row: Sequence[tuple[Proposal, Plate]], each: float, area: Edition, ink: Level) -> Side:
    tallest = max(plate.high for _, plate in row)
    stacks = [_layout(one, plate, float(tallest - plate.high), answer.wish.unit, ink) for one, plate in row]
    return Side(stacks, [each] * len(row), GUTTER, area.height, before=8, after=0)


def _layout(one: Proposal, plate: Plate, drop: float, unit: str, ink: Level) -> list[Flowable]:
    # What lies lower in its row begins as much lower, so that the words under all of them begin on one line.
    picture = PictureBlock(plate.scene, ink, before=0, after=5, drop=drop)
    said = ". ".join(filter(None, (reason(one, unit), twins(one, unit))))
    words_under = [Prose(" · ".join(sizes(one, unit)), NOTE), Prose(f"{said}.", NOTE)]
    return [picture, Heading(f"{one.number}  {what(one)}", 2, HEADING), *words_under]


def _end(answer: Answer, club: Club, area: Edition) -> list[Flowable]:
    """What was looked at, the scale, and the cautions; together on a page."""
    said = completeness(answer)
    if answer.proposals:
        scales = scales_of(answer.wish, _room((area.width - GUTTER) / COLUMNS, answer), _in_row(answer))
        said = [NOT_YET, scale_said(scales.card, scales.sheet), *said]
    notes: list[Flowable] = [Heading("About these layouts", 2, HEADING), *(Prose(line, NOTE) for line in said)]
    cautions: list[Flowable] = [Heading("Mind your hands", 2, HEADING), Listed([Prose(line, NOTE) for line in club.cautions])]
    room = area.width - GUTTER
    side = Side([notes, cautions], [room * 0.42, room * 0.58], GUTTER, area.height, before=10)
    assert high([side], area.width) <= area.height
    return [side]


def _in_row(answer: Answer) -> int:
    """How many drawings stand in a row: more where sheets are cut in several ways, so that a dozen stay on two or three pages."""
    several = any(len(one.cuts) > 1 for one in answer.proposals)
    return 3 if several or answer.wish.designs > 1 else 2


def _room(each: float, answer: Answer) -> Exact:
    """How wide a plate may be in a column: its clear margin hangs outside, as with every picture here."""
    return Exact(int(each)) * (_ACROSS if _in_row(answer) == 2 else 1) + 2 * EDGE


def _foot(plain: Canvas, document: BaseDocTemplate, area: Edition, club: Club) -> None:
    """Whose it is, that it is no kit, and the page."""
    canvas = tagged(plain)
    y = area.bottom - 24
    hairline(canvas, area.left, area.left + area.width, y + 12)
    with canvas.artifact():
        draw_line(canvas, tuple(words(f"page {document.page}")), area.left + area.width, y, FOOT.size, FOOT.ink, "end")
        draw_line(canvas, tuple(words(proposed_by(club.name))), area.left, y, FOOT.size, FOOT.ink)
