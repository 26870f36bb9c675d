"""What changes on other paper: other sheets, one-way paper, one sheet alone."""

from __future__ import annotations

from reportlab.platypus.flowables import Flowable

from kitwright.printable.blocks import Heading, Listed, Prose, Side
from kitwright.printable.filling import Chunk
from kitwright.printable.job import Job
from kitwright.printable.tables import Cell, Column, Row, Table
from kitwright.printable.typeset import BODY, BOLD, CELL, HEAD, HEADING, SANS, Style, text_width
from kitwright.telling.printed import OWN_IN_BOLD
from kitwright.telling.your_paper import OtherPaper, StockTable, on_other_paper

GUTTER = 24
FEW = 2
"""Papers in a table that may stand beside another."""
NOTE = Style(SANS, 9, 12, after=2)
STRONG = Style(BOLD, CELL.size, CELL.leading)


def other_paper(job: Job) -> list[Chunk]:
    """A table for each kind of paper, after the questions asked most; why a sheet does not do stands under its table."""
    found: OtherPaper = job.worked.once(("other paper",), lambda: on_other_paper(job.worked))
    said = [Prose(f"{line.text}{f', {line.rule}' if line.rule else ''}.", BODY, lead=line.title) for line in found.asked]
    shown = [each for each in found.stock if len(each.rows) > 1]
    if not shown:
        return [Chunk((_heading(), *said))] if said else []
    paired = len(shown) > 1 and all(len(each.columns) <= FEW for each in shown)
    wide = (job.edition.width - GUTTER) / 2 if paired else job.edition.width
    tables = [_table(job, each, wide) for each in shown]
    if paired:
        pairs = [tables[i : i + 2] for i in range(0, len(tables), 2)]
        rows: list[list[Flowable]] = [[Side(pair, [wide] * len(pair), GUTTER, job.edition.height)] for pair in pairs]
    else:
        rows = tables
    said.append(Prose(OWN_IN_BOLD, BODY))
    return [Chunk((_heading(), *said, *rows[0])), *(Chunk(tuple(row)) for row in rows[1:])]


def _heading() -> Heading:
    return Heading("Other paper", 2, bookmark="other-paper")


def _table(job: Job, told: StockTable, room: float) -> list[Flowable]:
    rows = [
        Row((Cell(sheet), *(Cell(sheets, STRONG if own else CELL) for (sheets, _), own in zip(cells, owns))))
        for (sheet, cells), owns in zip(told.rows, told.own)
    ]
    # Names that run over are the exception; columns as wide as what they hold lie evenly.
    even = sum(text_width(name, HEAD.font, HEAD.size) + 24 for name in told.columns) < room - 90
    columns = [Column("Sheet", "plain"), *(Column(name, "plain" if even else "text") for name in told.columns)]
    notes = [Listed([Prose(note, NOTE) for note in told.notes])] if told.notes else []
    return [Heading(told.title, 3, HEADING), Table(columns, rows, job.level), *notes]
