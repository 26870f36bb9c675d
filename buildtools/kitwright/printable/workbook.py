"""The workbook: a second file for who wants every stroke, every step, true-size templates and room for notes."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus.flowables import Flowable

from kitwright.printable.author_notes import author_notes
from kitwright.printable.back_page import Notes, closing, supplies_and_post
from kitwright.printable.blocks import Heading, anew
from kitwright.printable.desk_page import desk_page
from kitwright.printable.edition import EditionName
from kitwright.printable.job import Job, state_text
from kitwright.printable.mark import Named
from kitwright.printable.metadata import metadata
from kitwright.printable.other_cards import other_cards
from kitwright.printable.pages import built, counted
from kitwright.printable.steps_page import steps_page, sums
from kitwright.printable.templates_page import templates_page
from kitwright.release.stamp import PreviewStamp, Stamp
from kitwright.telling.printed import workbook_text
from kitwright.work.worked import Worked


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
    said = metadata(job, workbook_text(worked.kit.spec.title))
    pages = counted(job, story := _story(job), said)
    return built(job, anew(story), said, pages, ("full",))["full"]


def _story(job: Job) -> list[Flowable]:
    """What it holds, in order."""
    kit = job.worked.kit
    parts: list[Sequence[Flowable]] = [
        [Named(job, f"{kit.club.name}  ·  {state_text(job)}"), Heading(workbook_text(kit.spec.title), 1)],
        desk_page(job),
        steps_page(job),
        sums(job),
        templates_page(job),
        *(other_cards(design) for design in job.designs),
        supplies_and_post(job),
        author_notes(job),
        [closing(job)],
        [Notes(job)],
    ]
    return [block for part in parts for block in part]
