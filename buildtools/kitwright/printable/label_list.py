"""What every label stands for: all that the workbook says again of the two pages."""

from __future__ import annotations

from reportlab.platypus.flowables import Flowable

from kitwright.labels import is_base
from kitwright.printable.job import Job
from kitwright.printable.tables import Cell, Column, Row, Table, size_cell
from kitwright.printable.typeset import LABEL, SERIF_BOLD, Style
from kitwright.telling.kitpage import folded
from kitwright.telling.printed import base_named
from kitwright.telling.shapes import shaped_with
from kitwright.telling.words import led, listed

BASE_LABEL = Style(SERIF_BOLD, 10.5, 13)


def label_list(job: Job) -> list[Flowable]:
    """A line for each label: what it is for, its size in both units, its papers."""
    one, two = job.units
    sizes = job.worked.sizes
    labels = [label for label in sizes if not is_base(label)] + [*filter(is_base, sizes)]
    rows = [
        Row(
            (
                Cell(led(label), BASE_LABEL) if is_base(label) else Cell(label, LABEL),
                Cell(_for(job, label)),
                size_cell(sizes[label], one),
                size_cell(sizes[label], two),
                Cell(listed([job.paper(paper).name for paper in job.worked.counts(label)])),
            )
        )
        for label in labels
    ]
    columns = [Column("Label", "plain"), Column("Piece"), Column(one, "size"), Column(two, "size"), Column("Paper", weight=1.3)]
    return [Table(columns, rows, job.level)]


def _for(job: Job, label: str) -> str:
    if is_base(label):
        return base_named(folded(job.worked, label))
    piece = job.worked.kit.spec.pieces[label]
    shape = shaped_with(piece, job.unit)
    return f"{piece.use or 'piece'}; {shape}" if shape else piece.use or "piece"
