"""What changes on other paper: other sheets, one-way paper, one sheet alone."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus.flowables import Flowable

from kitwright.printable.blocks import Heading, Listed, Prose, Side
from kitwright.printable.filling import Chunk
from kitwright.printable.job import Job
from kitwright.printable.other_guides import other_guides
from kitwright.printable.tables import Cell, Column, Row, Table, size_cell
from kitwright.printable.typeset import BODY, BOLD, CELL, HEAD, HEADING, SANS, Style, text_width
from kitwright.telling.printed import OTHER_GUIDES, OWN_IN_BOLD
from kitwright.telling.your_paper import OtherPaper, StockTable, on_other_paper

GUTTER = 24
SHEET, SIZE, APART, LEAST_NOTES = 64, 80, 22, 210
"""Width of a table's first column and of one of sizes, what every other takes beside its words, and the least width for reasons to be read; points."""
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
        if rows and _needs(job, [*rows[-1], each]) <= room:
            rows[-1].append(each)
        else:
            rows.append([each])
    found = []
    for row in rows:
        spare = max(room - _needs(job, row), 0)
        more = min(spare, MOST_SPARE) if len(row) == 1 else spare
        widths = [min(room, _need(job, each) + more / len(row)) for each in row]
        found.append(Side([_table(job, each) for each in row], widths, GUTTER, job.edition.height, before=12))
    return found


def _needs(job: Job, row: Sequence[StockTable]) -> float:
    """How wide tables beside one another have to be, points."""
    return sum(_need(job, each) for each in row) + GUTTER * (len(row) - 1)


def _need(job: Job, told: StockTable) -> float:
    """How wide a table has to be for its words, points; one with reasons under it a little wider."""
    columns = sum(
        max(text_width(name, HEAD.font, HEAD.size), text_width(cells[i][0], BOLD, CELL.size)) + APART
        for i, name in enumerate(told.columns)
        for _, cells in told.rows[:1]
    )
    return max(SHEET + (SIZE if _measured(job) else 0) + columns, LEAST_NOTES if told.notes else 0)


def _measured(job: Job) -> bool:
    """Whether each sheet's size stands beside its name: sheets sold by the inch have none in millimetres in it."""
    return job.unit == "mm"


def _heading() -> Heading:
    return Heading("Other paper", 2, bookmark="other-paper")


def _table(job: Job, told: StockTable) -> list[Flowable]:
    measured = _measured(job)
    rows = [
        Row(
            (
                Cell(sheet),
                *([size_cell(size, job.unit)] * measured),
                *(Cell(sheets, STRONG if own else CELL) for (sheets, _), own in zip(cells, owns)),
            )
        )
        for (sheet, cells), size, owns in zip(told.rows, told.sizes, told.own)
    ]
    # Names that run over are the exception; columns as wide as what they hold lie evenly.
    kind = "plain" if _need(job, told) <= job.edition.width else "text"
    columns = [Column("Sheet", "plain"), *([Column(job.unit, "size")] * measured), *(Column(name, kind) for name in told.columns)]
    notes = [Listed([Prose(note, NOTE) for note in told.notes])] if told.notes else []
    return [Heading(told.title, 3, HEADING), Table(columns, rows, job.level), *notes]
