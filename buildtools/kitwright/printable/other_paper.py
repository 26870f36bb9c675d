"""What changes on other paper: other sheets, one-way paper, one sheet alone."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus.flowables import Flowable

from kitwright.printable.blocks import Heading, Listed, Prose, Side
from kitwright.printable.filling import Chunk
from kitwright.printable.job import Job
from kitwright.printable.other_guides import other_guides
from kitwright.printable.tables import Cell, Column, Row, Table
from kitwright.printable.typeset import BODY, BOLD, CELL, HEAD, HEADING, SANS, Style, text_width
from kitwright.telling.printed import OTHER_GUIDES, OWN_IN_BOLD
from kitwright.telling.your_paper import OtherPaper, StockTable, on_other_paper

GUTTER = 24
SHEET, APART, LEAST_NOTES = 64, 22, 210
"""Width of a table's first column, what every other takes beside its words, and the least width for reasons to be read; points."""
MOST_SPARE = 90
"""How much wider than it needs a table is that stands alone: columns far apart are hard to read across; points."""
NOTE = Style(SANS, 9, 12, after=2)
STRONG = Style(BOLD, CELL.size, CELL.leading)


def other_paper(job: Job) -> list[Chunk]:
    """A table for each kind of paper, after the questions asked most; why a sheet does not do stands under its table."""
    found: OtherPaper = job.worked.once(("other paper",), lambda: on_other_paper(job.worked))
    said = [Prose(f"{line.text}{f', {line.rule}' if line.rule else ''}.", BODY, lead=line.title) for line in found.asked]
    rows = _in_rows(job, [each for each in found.stock if len(each.rows) > 1])
    if not rows:
        return [Chunk((_heading(), *said))] if said else []
    said.append(Prose(OWN_IN_BOLD, BODY))
    guides = other_guides(job)
    drawn = [Chunk((Heading(OTHER_GUIDES, 3, HEADING), guides[0])), *(Chunk((row,)) for row in guides[1:])] if guides else []
    return [Chunk((_heading(), *said, rows[0])), *(Chunk((row,)) for row in rows[1:]), *drawn]


def _in_rows(job: Job, tables: Sequence[StockTable]) -> list[Side]:
    """As many beside one another as have room, each as wide as it needs and a little more."""
    room = job.edition.width
    rows: list[list[StockTable]] = []
    for each in tables:
        if rows and sum(map(_need, [*rows[-1], each])) + GUTTER * len(rows[-1]) <= room:
            rows[-1].append(each)
        else:
            rows.append([each])
    found = []
    for row in rows:
        spare = room - sum(map(_need, row)) - GUTTER * (len(row) - 1)
        most = MOST_SPARE if len(row) == 1 else spare
        widths = [min(room, _need(each) + min(max(spare, 0), most) / len(row)) for each in row]
        found.append(Side([_table(job, each) for each in row], widths, GUTTER, job.edition.height, before=12))
    return found


def _need(told: StockTable) -> float:
    """How wide a table has to be for its words, points; one with reasons under it a little wider."""
    columns = sum(
        max(text_width(name, HEAD.font, HEAD.size), text_width(cells[i][0], BOLD, CELL.size)) + APART
        for i, name in enumerate(told.columns)
        for _, cells in told.rows[:1]
    )
    return max(SHEET + columns, LEAST_NOTES if told.notes else 0)


def _heading() -> Heading:
    return Heading("Other paper", 2, bookmark="other-paper")


def _table(job: Job, told: StockTable) -> list[Flowable]:
    rows = [
        Row((Cell(sheet), *(Cell(sheets, STRONG if own else CELL) for (sheets, _), own in zip(cells, owns))))
        for (sheet, cells), owns in zip(told.rows, told.own)
    ]
    # Names that run over are the exception; columns as wide as what they hold lie evenly.
    even = _need(told) <= job.edition.width
    columns = [Column("Sheet", "plain"), *(Column(name, "plain" if even else "text") for name in told.columns)]
    notes = [Listed([Prose(note, NOTE) for note in told.notes])] if told.notes else []
    return [Heading(told.title, 3, HEADING), Table(columns, rows, job.level), *notes]
