"""The first page: what the kit makes, its card sketch, facts, sheets and pieces."""

from __future__ import annotations

from reportlab.platypus.flowables import Flowable, PageBreak

from kitwright.labels import is_base
from kitwright.printable import pictures
from kitwright.printable.blocks import Gap, Heading, PictureBlock, Prose, Side, high
from kitwright.printable.job import Job
from kitwright.printable.mark import Named
from kitwright.printable.tables import Cell, Column, Row, Table, size_cell
from kitwright.printable.typeset import BOLD, CELL, FACT, FACT_NAME, LABEL, LONG_TITLE, NOTE, SUMMARY, TITLE, Style, broken, words
from kitwright.telling.backs import back_text
from kitwright.telling.folds import fold_text
from kitwright.telling.goes import given_text
from kitwright.telling.kitpage import folded
from kitwright.telling.post import overall_text
from kitwright.telling.printed import counts_text, room_text, score_text
from kitwright.telling.shapes import shaped_with
from kitwright.telling.words import listed, month_text, number
from kitwright.units import Size, fraction_text, size_text, total

STRONG = Style(BOLD, CELL.size, CELL.leading)
GUTTER = 20
"""Between the sketch and the facts, points."""
DROP = 2
"""Brings the heading of the sketch down to the line of the first fact, points."""
LEAST_SKETCH, MOST_SKETCH, LEAST_WIDE = 270, 420, 170
"""How high the plate may be, and a wide card's sketch at least, points."""
SKETCH_AROUND = 100
"""About what a sketch takes for figures around the card, points."""
BESIDE = 164
"""Width of the column of facts, points."""
PLATE_MARGIN = 4
"""Clear space over and under the plate, points."""


def sketch_page(job: Job, room: float) -> list[Flowable]:
    """Blocks of the first page.

    Args:
        job: the printable.
        room: height of text on the first page, points.
    """
    head, lists, width = masthead(job), pieces(job), job.edition.width
    # Several designs take all the room that there is.
    most = room if job.worked.parts else MOST_SKETCH
    left = room - high([*head, Gap(0), *lists], width) - PLATE_MARGIN
    for height in (min(left, most), LEAST_SKETCH):
        for more in ([*looks(job), *sheets(job)], sheets(job)):
            whole = plate(job, height, more)
            if LEAST_SKETCH <= height and whole.wrap(width, room)[1] <= left:
                return [*head, whole, *lists, PageBreak()]
    # The list of pieces goes to the next page; the sketch gets the room.
    needed = sheets_across(job)
    left = room - high([*head, Gap(0), *needed], width) - PLATE_MARGIN
    if left < LEAST_SKETCH:
        return [*head, plate(job, LEAST_SKETCH, []), *needed, *lists]
    height = min(left, most)
    choices = (plate(job, height, more) for more in (looks(job), looks(job, 0.75), []))
    whole = next((p for p in choices if p.wrap(width, room)[1] <= left), plate(job, height, []))
    return [*head, whole, *needed, PageBreak(), *lists]


def masthead(job: Job) -> list[Flowable]:
    """Club and month, title, summary."""
    kit = job.worked.kit
    kicker = f"{kit.club.name}  ·  {month_text(kit.month)}"
    style = TITLE if len(broken(words(kit.spec.title, TITLE.font), TITLE.size, job.edition.width)) == 1 else LONG_TITLE
    title = Heading(kit.spec.title, 1, style, bookmark="sketch")
    return [Named(job, kicker), title, Prose(kit.spec.summary, SUMMARY)]


# --- the plate: sketch, facts, sheets --------------------------------------------------------


def plate(job: Job, height: float, more: list[Flowable]) -> Side:
    """The card sketch with the facts, and `more`, beside it, or under it where the sketch comes out larger so."""
    width, fronts = job.edition.width, [design.base.front for design in job.worked.designs]
    size = Size(total(front.width for front in fronts), max(front.height for front in fronts))
    facts = [fact_blocks(name, lines) for name, lines in facts_of(job)]
    left = width - BESIDE - GUTTER
    below = _below(job, facts, more)
    low = max(height - below.wrap(width, height)[1] - PLATE_MARGIN, LEAST_WIDE)
    if _fits(size, width, low) > _fits(size, left, height):
        sketch = PictureBlock(pictures.sketch(job, width, low), job.level)
        return Side([[sketch, below]], [width], 0, job.edition.height, before=4, after=10)
    sketch = PictureBlock(pictures.sketch(job, left, height - DROP), job.level, drop=DROP)
    beside = [*(b for blocks in facts for b in blocks), *more]
    return Side([[sketch], beside], [left, BESIDE], GUTTER, job.edition.height, before=4, after=10)


def _fits(size: Size, width: float, height: float) -> float:
    """About how large a card comes out in this room, figures around it included."""
    return min((width - SKETCH_AROUND) / float(size.width.inches), (height - SKETCH_AROUND) / float(size.height.inches))


def _below(job: Job, facts: list[list[Flowable]], more: list[Flowable]) -> Side:
    """The facts in columns; with `more` in the last, they share the others."""
    columns = 2 if more else min(len(facts), 4)
    each = (job.edition.width - (BESIDE + GUTTER if more else 0) - (columns - 1) * GUTTER) / columns
    stacks: list[list[Flowable]] = [[] for _ in range(columns)]
    for blocks in facts:
        # The next fact goes to the shortest column, so that they end level.
        min(stacks, key=lambda s: high(s, each)).extend(blocks)
    return Side([*stacks, more] if more else stacks, [each] * columns + [BESIDE] * bool(more), GUTTER, job.edition.height)


def fact_blocks(name: str, lines: tuple[str, ...]) -> list[Flowable]:
    """One fact: its name, then what it is; the second unit a shade quieter."""
    first, *more = lines
    quiet = Style(NOTE.font, NOTE.size, NOTE.leading, NOTE.ink)
    blocks: list[Flowable] = [
        Prose(name, Style(FACT_NAME.font, FACT_NAME.size, FACT_NAME.leading, FACT_NAME.ink, before=6)),
        Prose(first, FACT),
    ]
    return blocks + [Prose(line, quiet) for line in more]


def facts_of(job: Job) -> list[tuple[str, tuple[str, ...]]]:
    """Name and lines of each fact; of several designs each is one, under its name."""
    if len(job.worked.designs) > 1:
        return [(design.worked.kit.design, _design(design)) for design in job.designs]
    batch = number(job.worked.kit.spec.cards, "card", "cards")
    found = [("The batch", (batch, *_mixed(job))), ("Finished card", _finished(job)), ("Card base", _base(job))]
    return found + ([("Envelope", envelope)] if (envelope := _envelope(job)) else [])


def _design(job: Job) -> tuple[str, ...]:
    (size, *other), (cut, _, *scored), envelope = _finished(job), _base(job), _envelope(job)
    cards = number(job.worked.kit.spec.cards, "card", "cards")
    return (
        f"{cards}, {size}",
        *other,
        ", ".join([cut, *scored]),
        *filter(None, [", ".join((*envelope[:1], *envelope[-1:]))]),
        *_mixed(job),
    )


def _mixed(job: Job) -> tuple[str, ...]:
    """How many of the batch are of each look."""
    faces = job.worked.faces
    return (listed([f"{look.cards} with {look.name}" for look in faces]),) if len(faces) > 1 else ()


def _finished(job: Job) -> tuple[str, ...]:
    base, (one, two) = job.worked.base, job.units
    fold = (fold_text(base),) if base.scored.scores else ()
    return (
        size_text(base.finished, one),
        ", ".join((size_text(base.finished, two), *fold)),
        *filter(None, [overall_text(job.worked, one)]),
    )


def _base(job: Job) -> tuple[str, ...]:
    base, (one, two) = job.worked.base, job.units
    scored = (score_text(base, one),) if base.scored.scores else ()
    return (f"cut {size_text(base.cut, one)}", size_text(base.cut, two), *scored)


def _envelope(job: Job) -> tuple[str, ...]:
    envelope, room, unit = job.worked.kit.spec.card.envelope, job.worked.enclosed.room, job.unit
    if not envelope or not room:
        return ()
    size = size_text(envelope.size, unit)
    return (envelope.name or size, *((size,) if envelope.name else ()), room_text(room, unit))


# --- what you need, what you cut ------------------------------------------------------------


def sheets(job: Job) -> list[Flowable]:
    """Sheets of each paper for the batch."""
    rows = []
    for plan in job.worked.plans:
        paper = job.paper(plan.paper)
        said = [paper.size.name or size_text(paper.size.size, job.unit), paper.weight.text if paper.weight else ""]
        rows.append(
            Row(
                (
                    Cell(paper.name, look=job.look(plan.paper), notes=(", ".join(filter(None, said)),)),
                    Cell(fraction_text(plan.sheets), STRONG),
                )
            )
        )
    return [Table([Column("What you need"), Column("Sheets", "figure")], rows, job.level, before=14)]


def looks(job: Job, share: float = 1) -> list[Flowable]:
    """Small pictures of the finished card, when the batch has several looks, on a share of the column's width; a line for each design."""
    return [line for design in job.designs if 2 <= len(design.worked.faces) <= 3 for line in _looks(design, share)]


def _looks(job: Job, share: float) -> list[Flowable]:
    faces, gap = job.worked.faces, 12
    width = (BESIDE * share - gap * (len(faces) - 1)) / len(faces)
    stacks = [[PictureBlock(pictures.look(job, face, width), job.level, after=5), Prose(face.name, NOTE)] for face in faces]
    return [Side(stacks, [width] * len(faces), gap, job.edition.height, before=14, after=4)]


def sheets_across(job: Job) -> list[Flowable]:
    """The same over the whole width, a line for each paper."""
    one, two = job.units
    rows = []
    for plan in job.worked.plans:
        paper = job.paper(plan.paper)
        rows.append(
            Row(
                (
                    Cell(paper.name, look=job.look(plan.paper)),
                    Cell(paper.weight.text if paper.weight else ""),
                    Cell(paper.size.name),
                    size_cell(paper.size.size, one),
                    size_cell(paper.size.size, two),
                    Cell(fraction_text(plan.sheets), STRONG),
                )
            )
        )
    columns = [
        Column("Paper"),
        Column("Weight", "plain"),
        Column("Sheet", "plain"),
        Column(one, "size"),
        Column(two, "size"),
        Column("Sheets", "figure"),
    ]
    for empty in (2, 1):
        if not any(row.cells[empty].text for row in rows):
            del columns[empty]
            rows = [Row(row.cells[:empty] + row.cells[empty + 1 :]) for row in rows]
    return [Heading("What you need", 3, bookmark="need"), Table(columns, rows, job.level)]


def pieces(job: Job) -> list[Flowable]:
    """Every piece: label, use, size in both units, how many from each paper, and of several designs to which they go."""
    one, two = job.units
    spec, rows, several = job.worked.kit.spec, [], bool(job.worked.parts)
    labels = [label for label in job.worked.sizes if not is_base(label)] + [*filter(is_base, job.worked.sizes)]
    for label in labels:
        size = job.worked.sizes[label]
        for i, (paper, n) in enumerate(job.worked.counts(label).items()):
            first = (
                Cell(label[0].upper() + label[1:] if is_base(label) else label, STRONG if is_base(label) else LABEL),
                Cell(use_of(job, label)),
                size_cell(size, one),
                size_cell(size, two),
            )
            rows.append(
                Row(
                    (
                        *(first if i == 0 else (Cell(),) * 4),
                        Cell(
                            ", ".join(filter(None, (job.paper(paper).name, back_text(job.worked, label, [paper])))),
                            look=job.shown(label, paper),
                        ),
                        *([Cell(given_text(job.worked, label, paper))] * several),
                        Cell(str(n), STRONG),
                    ),
                    joined=i > 0,
                )
            )
    columns = [
        Column("Label", "plain"),
        Column("Piece", weight=1),
        Column(one, "size"),
        Column(two, "size"),
        Column("Paper", weight=1.1),
        *([Column("Goes to", weight=1)] * several),
        Column("Pieces", "figure"),
    ]
    if several and not any(piece.use or piece.shaped for piece in spec.pieces.values()):
        # What each is for, the design says.
        del columns[1]
        rows = [Row(row.cells[:1] + row.cells[2:], joined=row.joined) for row in rows]
    return [Heading("What you cut", 3, bookmark="cut"), Table(columns, rows, job.level), Prose(counts_text(spec.cards), NOTE)]


def use_of(job: Job, label: str) -> str:
    """What a piece is for, and how it is shaped when it is no plain rectangle."""
    if is_base(label):
        return "card base, scored and folded" if folded(job.worked, label) else "not folded"
    piece = job.worked.kit.spec.pieces[label]
    said = piece.use or "piece"
    shape = shaped_with(piece, job.unit)
    return f"{said}; {shape}" if shape else said
