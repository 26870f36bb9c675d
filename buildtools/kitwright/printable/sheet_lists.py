"""What you need and what you cut, side by side on the first side of the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus.flowables import Flowable

from kitwright.labels import is_base
from kitwright.printable.blocks import Gap, Prose, Side, high
from kitwright.printable.job import Job
from kitwright.printable.tables import ON_SHEET, Cell, Column, Row, Table, TableType
from kitwright.printable.typeset import SHEET_LABEL, SHEET_NOTE, SHEET_STRONG, Style
from kitwright.telling.backs import back_text
from kitwright.telling.kitpage import folded
from kitwright.telling.printed import EACH, OF_EACH, other_sizes_text, piece_text
from kitwright.telling.words import led, listed
from kitwright.units import fraction_text, size_text

GUTTER = 20
"""Between the two, points."""


@dataclass(frozen=True)
class ListType:
    """How the two lists are set."""

    table: TableType
    uses: bool = True
    """Whether each piece says what it is for on a line of its own."""

    @property
    def strong(self) -> Style:
        return Style(SHEET_STRONG.font, self.table.cell.size, self.table.cell.leading)


ROOMY = ListType(ON_SHEET)
CLOSE = ListType(TableType(ON_SHEET.cell, ON_SHEET.note, ON_SHEET.head, 1, 2))
TIGHT = ListType(TableType(Style(SHEET_NOTE.font, 8, 9.8), SHEET_NOTE, ON_SHEET.head, 0.8, 2), uses=False)
"""Type of 8 points, and a line for each piece."""


def lists(job: Job, width: float, type_: ListType) -> Flowable:
    """Both, each as wide as makes the higher one lowest; one above the other where the width is too small for two."""
    sheets, others = need(job, type_), other_sizes(job)
    needed: list[Flowable] = [sheets, others]
    pieces = [cut(job, type_, weight) for weight in WEIGHTS]
    if width < 330 or len(job.designs) > 2:
        # Measured first: whether words break is asked at that width.
        best = min(pieces, key=lambda table: (round(high([table], width)), table.runs_over) if not _breaks(table, width) else (10_000, 0))
        return Side([[*needed, Gap(6), best]], [width], 0, job.edition.height, after=0)
    tried = []
    for share in range(28, 57, 2):
        left, right = (width - GUTTER) * share / 100, (width - GUTTER) * (100 - share) / 100
        low = high(needed, left)
        for table in pieces:
            other = high([table], right)
            # Of those that are equally low the one whose lower list is lowest too, then the one whose texts run over least.
            cost = sheets.breaks_words + table.breaks_words, round(max(low, other)), round(low + other), table.runs_over
            tried.append((cost, [left, right], table))
    _, widths, table = min(tried, key=lambda one: one[0])
    return Side([needed, [table]], widths, GUTTER, job.edition.height, after=0)


def _breaks(table: Table, width: float) -> bool:
    table.wrap(width, 1e6)
    return table.breaks_words


WEIGHTS = (1.2, 1.6, 2, 2.4)
"""What share of the room sizes may take, papers taking 1."""


def other_sizes(job: Job) -> Prose:
    """Sizes of the sheets in the other unit."""
    sizes = dict.fromkeys(job.paper(plan.paper).size.size for plan in job.worked.plans)
    return Prose(other_sizes_text(sizes, job.unit), SHEET_NOTE)


def need(job: Job, type_: ListType) -> Table:
    """Sheets of every paper for the batch."""
    rows = []
    for plan in job.worked.plans:
        paper = job.paper(plan.paper)
        size = paper.size.name or size_text(paper.size.size, job.unit)
        said = ", ".join(filter(None, (size, paper.weight.text if paper.weight else "")))
        name = Cell(paper.name, type_.table.cell, look=job.look(plan.paper))
        rows.append(Row((name, Cell(said, type_.table.note), Cell(fraction_text(plan.sheets), type_.strong))))
    columns = [Column(""), Column(""), Column("Sheets", "figure")]
    return Table(columns, rows, job.level, gap=8, before=0, after=2, type_=type_.table, title="What you need", bookmark="need")


def cut(job: Job, type_: ListType, weight: float = 1.6) -> Table:
    """Every piece: label, use, size in both units, how many from each paper; of several designs how many for each."""
    worked, rows = job.worked, []
    labels = [label for label in worked.sizes if not is_base(label)] + [*filter(is_base, worked.sizes)]
    for label in labels:
        rows += _rows(job, label, type_)
    designs = [design.worked.kit.design for design in job.designs]
    several = len(designs) > 1
    columns = [
        Column("", "plain"),
        Column("", weight=weight),
        Column(""),
        *(Column(name, "figure") for name in designs if several),
        *([] if several else [Column("Pieces", "figure")]),
    ]
    return Table(columns, rows, job.level, gap=8, before=0, after=2, type_=type_.table, title="What you cut", bookmark="cut")


def _rows(job: Job, label: str, type_: ListType) -> list[Row]:
    worked, (one, two) = job.worked, job.units
    size, counts = worked.sizes[label], worked.counts(label)
    sizes = size_text(size, one), size_text(size, two)
    use = led(piece_text(worked, label, folded(worked, label)))
    named = Cell(label, type_.strong if is_base(label) else SHEET_LABEL)
    piece = Cell(use, type_.table.cell, sizes=sizes) if type_.uses else Cell("", type_.table.cell, sizes=sizes)
    shared = len(counts) > 1 and len({*counts.values()}) == 1 and len({tuple(_given(job, label, paper)) for paper in counts}) == 1
    several = len(job.designs) > 1
    if shared:
        papers, paper = [_paper(job, label, paper) for paper in counts], next(iter(counts))
        looks = tuple(job.shown(label, each) for each in counts) if type_.uses else ()
        cell = Cell("", type_.table.cell, notes=(listed(papers),), several=looks)
        told = _given(job, label, paper) if several else [str(counts[paper])]
        figures = [_of_each(each, type_) for each in told]
        return [Row((named, piece, cell, *figures))]
    rows = []
    for i, (paper, n) in enumerate(counts.items()):
        cell = Cell(_paper(job, label, paper), type_.table.cell, look=job.shown(label, paper))
        figures = [Cell(each, type_.strong) for each in (_given(job, label, paper) if several else [str(n)])]
        rows.append(Row((*((named, piece) if not i else (Cell(), Cell())), cell, *figures), joined=i > 0))
    return rows


def _of_each(n: str, type_: ListType) -> Cell:
    """So many pieces of every paper; nothing where there are none."""
    if not n:
        return Cell()
    return Cell(n, type_.strong, notes=(OF_EACH,)) if type_.uses else Cell(f"{n} {EACH}", type_.strong)


def _paper(job: Job, label: str, paper: str) -> str:
    return ", ".join(filter(None, (job.paper(paper).name, back_text(job.worked, label, [paper]))))


def _given(job: Job, label: str, paper: str) -> Sequence[str]:
    """How many of them go to each design; nothing of a kit of one."""
    if len(job.designs) < 2:
        return ()
    counts = [design.worked.counts(label).get(paper, 0) if label in design.worked.sizes else 0 for design in job.designs]
    return [str(n) if n else "" for n in counts]
