"""The workbook: a second file for who wants every stroke, every step, true-size templates and room for notes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from reportlab.platypus.flowables import Flowable, PageBreak

from kitwright.printable.author_notes import author_notes
from kitwright.printable.back_page import Notes, closing, supplies_and_post
from kitwright.printable.blocks import Heading, Prose, Side
from kitwright.printable.edition import EditionName
from kitwright.printable.filling import LINES, BookPart, Chunk, FilledPage, filled, half_empty
from kitwright.printable.job import Job, state_text
from kitwright.printable.label_list import label_list
from kitwright.printable.making import steps
from kitwright.printable.mark import Named
from kitwright.printable.metadata import metadata
from kitwright.printable.other_cards import other_cards
from kitwright.printable.other_paper import other_paper
from kitwright.printable.pages import built
from kitwright.printable.strokes import strokes
from kitwright.printable.sums import sums
from kitwright.printable.templates_page import templates
from kitwright.printable.typeset import SUMMARY, TITLE
from kitwright.release.stamp import PreviewStamp, Stamp
from kitwright.telling.printed import WORKBOOK, belongs_text, workbook_text
from kitwright.work.worked import Worked

HIGH_NOTES, LOW_NOTES = 560, 300
"""How high a pair of columns of the author's notes may be, points."""


@dataclass(frozen=True, slots=True)
class _Way:
    """How the pages may be laid out."""

    share: float = 1
    """How high the largest pictures of steps are, of what they may be."""
    notes: float = LOW_NOTES
    parted: bool = False
    """Whether what may change its place is parted where it is higher than half a page."""
    steps_stay: bool = True
    """Whether the steps follow the strokes, whatever else may change its place."""


WAYS = (
    _Way(notes=HIGH_NOTES),
    _Way(),
    *(_Way(share) for share in (0.9, 0.8, 0.7)),
    *(_Way(share, parted=True) for share in (1, 0.8)),
    *(_Way(share, parted=True, steps_stay=False) for share in (1, 0.8)),
)
"""Tried in turn until no page is left half empty: each is only measured."""


def workbook_pdf(worked: Worked, edition: EditionName, *, stamp: Stamp | PreviewStamp | None = None) -> bytes:
    """The workbook of a kit as a PDF.

    Args:
        worked: the kit, worked out; it should have no errors left.
        edition: `letter` or `a4`.
        stamp: revision and date once released; before, the code of the preview.

    Raises:
        UserError: a citation in the author's notes or own steps that names nothing.
    """
    job = Job.for_edition(worked, edition, "full", stamp)
    pages = workbook_pages(job)
    said = metadata(job, workbook_text(worked.kit.spec.title))
    width, height = job.edition.width, job.edition.height
    # A page as one block: what was measured as one stands as one.
    whole = [Side([page.blocks], [width], 0, height, after=0) for page in pages]
    lines = [Notes(job)] if height - pages[-1].used >= LINES else []
    story = [*chain.from_iterable((page, PageBreak()) for page in whole[:-1]), whole[-1], *lines]
    return built(job, story, said, len(pages), ("full",))["full"]


def workbook_pages(job: Job) -> list[FilledPage]:
    """Its pages, measured; nothing is drawn yet."""
    width, height = job.edition.width, job.edition.height
    best: list[FilledPage] = []
    for i, way in enumerate(WAYS):
        if i > 1 and not half_empty(best):
            break
        parts = [*_begun(job), *_part("steps", steps(job, way.share), fixed=way.steps_stay), *_after_the_steps(job, way.notes)]
        found = filled(parts, width, height, way.parted)
        if not best or (half_empty(found), len(found)) < (half_empty(best), len(best)):
            best = found
    return best


def _begun(job: Job) -> Iterator[BookPart]:
    """What it begins with."""
    yield from _part("head", [Chunk(tuple(_head(job)))], fixed=True)
    yield from _part("strokes", strokes(job), fixed=True)


def _after_the_steps(job: Job, tall: float) -> Iterator[BookPart]:
    """What is looked up, in its usual order."""
    yield from _part("templates", templates(job))
    yield from _part("sums", _together(sums(job)))
    for design in job.designs:
        yield from _part("arrangements", _together(other_cards(design)))
    yield from _part("other paper", other_paper(job))
    yield from _part("supplies", _together(supplies_and_post(job)))
    yield from _part("notes", [Chunk((block,)) for block in author_notes(job, tall)])
    yield from _part("closing", [Chunk((closing(job),))])


def _part(kind: str, chunks: Sequence[Chunk], fixed: bool = False) -> Iterator[BookPart]:
    if chunks:
        yield BookPart(kind, tuple(chunks), fixed)


def _together(blocks: Sequence[Flowable]) -> list[Chunk]:
    return [Chunk(tuple(blocks))] if blocks else []


def _head(job: Job) -> list[Flowable]:
    """Which kit, which revision, and what its labels stand for."""
    kit = job.worked.kit
    return [
        Named(job, f"{kit.club.name}  ·  {kit.spec.title}"),
        Heading(WORKBOOK, 1, TITLE, bookmark="workbook"),
        Prose(belongs_text(kit.spec.title, state_text(job)), SUMMARY),
        *label_list(job),
    ]
