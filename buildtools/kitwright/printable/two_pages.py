"""The printable: a sheet of paper, both sides. The sketch and what to cut on one, the cutting guides on the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import chain

from reportlab.platypus.flowables import Flowable, PageBreak

from kitwright.drawing.styles import Level
from kitwright.printable.edition import EditionName
from kitwright.printable.filling import BookPart, Chunk, filled
from kitwright.printable.front_page import foot_of, front_page, lists_over
from kitwright.printable.guide_side import guide_pages
from kitwright.printable.job import Job
from kitwright.printable.metadata import metadata
from kitwright.printable.pages import INKS, built
from kitwright.release.stamp import PreviewStamp, Stamp
from kitwright.work.worked import Worked


def two_pages(
    worked: Worked, edition: EditionName, *, inks: Sequence[Level] = INKS, stamp: Stamp | PreviewStamp | None = None
) -> dict[Level, bytes]:
    """The printable of a kit as a PDF in several levels of ink, laid out once.

    Args:
        worked: the kit, worked out; it should have no errors left.
        edition: `letter` or `a4`, each laid out for its own page.
        inks: how much ink: `full`, `light`, `outline`.
        stamp: revision and date once released; before, the code of the preview. Without one the
            pages say PREVIEW all the same.

    Raises:
        UserError: a citation in the author's notes or own steps that names nothing.
    """
    first = Job.for_edition(worked, edition, inks[0], stamp)
    files: dict[Level, bytes] = {}
    # Less colour changes nothing but colours; outlines alone have other tables too.
    for alike in ([ink for ink in inks if ink != "outline"], [ink for ink in inks if ink == "outline"]):
        if alike:
            job = replace(first, level=alike[0])
            pages = [front_page(job), *_over(job), *guide_pages(job)]
            files |= built(job, _parted(pages), metadata(job), len(pages), alike, foot_of(job))
    return files


def _over(job: Job) -> list[Sequence[Flowable]]:
    """Pages of lists that have no room on the first, before what is cut; of forty kinds of pieces they take more than one."""
    chunks = tuple(Chunk((block,)) for block in lists_over(job))
    return [page.blocks for page in filled([BookPart("lists", chunks)] if chunks else [], job.edition.width, job.edition.height)]


def _parted(pages: Sequence[Sequence[Flowable]]) -> list[Flowable]:
    """Pages one after another."""
    return [*pages[0], *chain.from_iterable((PageBreak(), *page) for page in pages[1:])]
