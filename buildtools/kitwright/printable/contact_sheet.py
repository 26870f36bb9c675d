"""The contact sheet: every arrangement that is shown, small, on one page."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from reportlab.platypus.doctemplate import BaseDocTemplate, PageTemplate
from reportlab.platypus.flowables import Flowable
from reportlab.platypus.frames import Frame

from kitwright.card.face import Face
from kitwright.drawing.pdf import register
from kitwright.drawing.styles import Level
from kitwright.otherwise.arrangements import Arrangement, Arrangements, Set
from kitwright.printable.blocks import Heading, Prose, Side, high
from kitwright.printable.edition import EDITIONS, EditionName
from kitwright.printable.job import Job
from kitwright.printable.mark import Named
from kitwright.printable.pages import footer
from kitwright.printable.small_card import CAPTION, SmallCard
from kitwright.printable.tags import TaggedCanvas, tagged
from kitwright.printable.typeset import BODY, HEADING, SANS, TITLE
from kitwright.release.stamp import PreviewStamp, Stamp
from kitwright.telling.arranging import titled
from kitwright.telling.printed import arrangements_text
from kitwright.telling.words import month_text, number

WIDEST, NARROWEST = 150, 46
"""How wide a card may be drawn, points."""
GAP, UNDER = 14, 10
"""Between pictures, and under each row; points."""
STEP = 3
"""By how much pictures are made smaller until they fit, points."""


@dataclass(frozen=True, slots=True)
class _Shown:
    face: Face
    mark: str
    name: str


def contact_sheet_pdf(
    found: Arrangements, edition: EditionName, *, ink: Level = "full", stamp: Stamp | PreviewStamp | None = None
) -> bytes:
    """All shown arrangements of a kit on one page, as a PDF.

    Where they are too many to be seen, some that the suggested set does not use are left to
    the gallery, and the page says so.

    Args:
        found: the kit's arrangements.
        edition: `letter` or `a4`.
        ink: `full`, `light` or `outline`.
        stamp: revision and date once released; before, the code of the preview.
    """
    job = Job(found.worked, EDITIONS[edition], ink, stamp or PreviewStamp())
    kit, files = found.worked.kit, dict[Level, bytes]()
    document = BaseDocTemplate(
        io.BytesIO(),
        pagesize=job.edition.page,
        invariant=1,
        pageCompression=1,
        initialFontName=register(SANS),
        title=f"{titled(kit.spec.title, kit.design)}: arrangements",
        author=kit.club.name,
        subject=f"{kit.id}; contact sheet, {job.edition.name} edition",
        creator="kitwright",
        producer="kitwright",
        lang="en",
        displayDocTitle=True,
        printScaling="None",
    )
    area = job.edition
    frame = Frame(area.left, area.bottom, area.width, area.height, leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0, id="sheet")
    document.addPageTemplates(
        [PageTemplate("sheet", [frame], onPageEnd=lambda canvas, _: footer(tagged(canvas), job, 1, 1), pagesize=area.page)]
    )
    document.build(_page(job, found), canvasmaker=partial(TaggedCanvas, inks=(ink,), files=files, palette=kit.club.palette))
    return files[ink]


def _page(job: Job, found: Arrangements) -> list[Flowable]:
    marks = marks_of(found)
    others = [_Shown(v.face, "", v.name) for v in found.variations]
    for step in range(1, len(found.items) + 1):
        shown = [_Shown(item.face, marks[item.slug], item.name) for item in _thinned(found, step)]
        head = _head(job, found, marks, len(shown))
        room = job.edition.height - high(head, job.edition.width) - 12
        grid = _grid(job, shown, others, room)
        if grid:
            return [*head, *grid]
    return _head(job, found, marks, 0)


def _thinned(found: Arrangements, step: int) -> list[Arrangement]:
    """The cards of the recommended set, and every so many of the others; one card's ways round stay together."""
    needed = {part.slug for part in found.recommended.parts} if found.recommended else set()
    kept = {item.card for item in found.items if item.slug in needed}
    others = list(dict.fromkeys(item.card for item in found.items if item.card not in kept))
    kept |= set(others[::step])
    return [item for item in found.items if item.card in kept]


def marks_of(found: Arrangements) -> dict[str, str]:
    """A short mark for each arrangement: one number for one card, a letter for each way round."""
    cards: dict[str, list[str]] = {}
    for item in found.items:
        cards.setdefault(item.card, []).append(item.slug)
    marks = {}
    for i, slugs in enumerate(cards.values(), 1):
        for slug, letter in zip(slugs, "abcdefgh"):
            marks[slug] = f"{i}{letter}" if len(slugs) > 1 else f"{i}"
    return marks


def _head(job: Job, found: Arrangements, marks: dict[str, str], shown: int) -> list[Flowable]:
    kit = job.worked.kit
    blocks: list[Flowable] = [
        Named(job, f"{kit.club.name}  ·  {month_text(kit.month)}"),
        Heading(f"{titled(kit.spec.title, kit.design)}: arrangements", 1, TITLE),
        Prose(arrangements_text(found, shown), BODY),
    ]
    best = found.recommended
    if best and len(best.parts) > 1:
        blocks.append(Prose(f"{suggested(best, marks)}.", BODY, lead="For your batch:"))
    if found.shortcut:
        blocks.append(Prose(found.shortcut.words, BODY, lead="Shortcut:"))
    return blocks


def suggested(best: Set, marks: dict[str, str]) -> str:
    """A set by its marks: `2 cards each of 1a, 3`."""
    by_count: dict[int, list[str]] = {}
    for part in best.parts:
        by_count.setdefault(part.cards, []).append(marks[part.slug])
    order = list(marks.values())
    return "; ".join(
        f"{number(n, 'card', 'cards')} {'each ' if len(m) > 1 else ''}of {', '.join(sorted(m, key=order.index))}"
        for n, m in by_count.items()
    )


def _grid(job: Job, shown: Sequence[_Shown], others: Sequence[_Shown], room: float) -> list[Flowable]:
    """Pictures in rows, as large as fit; empty when even the smallest don't."""
    width = job.edition.width
    pairs = any(s.mark.endswith("b") for s in shown)
    best: list[Flowable] = []
    widest: float = NARROWEST - STEP
    for columns in range(2, int((width + GAP) // (NARROWEST + GAP)) + 1):
        if pairs and columns % 2:
            continue  # both ways round stand in one row
        each = (width - GAP * (columns - 1)) / columns
        wide = min(each, WIDEST)
        # In fewer columns names take fewer lines, so a picture narrower than its column may still be the larger.
        while wide >= widest + STEP:
            blocks = _rows(job, shown, columns, each, wide)
            if others:
                blocks += [Heading("Made otherwise", 2, HEADING), *_rows(job, others, columns, each, wide)]
            if high(blocks, width) <= room:
                best, widest = blocks, wide
                break
            wide -= STEP
    return best


def _rows(job: Job, shown: Sequence[_Shown], columns: int, each: float, wide: float) -> list[Flowable]:
    rows: list[Flowable] = []
    for start in range(0, len(shown), columns):
        row = shown[start : start + columns]
        stacks = [[SmallCard(job, s.face, s.name, wide), Prose(s.name, CAPTION, lead=s.mark)] for s in row]
        rows.append(Side(stacks, [each] * len(row), GAP, job.edition.height, before=UNDER))
    return rows
