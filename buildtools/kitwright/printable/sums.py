"""How the fronts add up, term by term."""

from __future__ import annotations

from reportlab.platypus.flowables import Flowable

from kitwright.printable.blocks import Heading
from kitwright.printable.job import Job
from kitwright.printable.tables import Cell, Column, Row, Table
from kitwright.printable.typeset import BOLD, CELL, Style
from kitwright.telling.shapes import ground_text
from kitwright.telling.sums import terms_text
from kitwright.units import figure, length_text


def sums(job: Job) -> list[Flowable]:
    """The sums along the front, term by term."""
    unit, rows = job.unit, []
    for line in (line for design in job.worked.designs for face in design.face.every for line in face.sums):
        if len(line.terms) < 2:
            continue
        way = "across" if line.direction == "across" else "down"
        reached = length_text(line.reached, unit)
        # A sum that falls short on purpose says of what.
        whole = reached if line.holds else f"{reached} of {figure(line.target, unit)}"
        rows.append(
            Row(
                (
                    Cell(f"{ground_text(line.on)}, {way}"),
                    Cell(terms_text(line, unit, units=False)),
                    Cell(f"= {whole}", Style(BOLD, CELL.size, CELL.leading)),
                )
            )
        )
    if not rows:
        return []
    columns = [Column("Edge", weight=0.6), Column(f"Terms, {unit}", weight=2), Column("Sum", "figure")]
    return [Heading("How the front adds up", 3, bookmark="sums"), Table(columns, rows, job.level)]
