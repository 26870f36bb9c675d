"""The other side: every cutting guide, with its strokes, leftovers and slack."""

from __future__ import annotations

from reportlab.platypus.flowables import Flowable

from kitwright.printable.guide_page import guides
from kitwright.printable.job import Job


def guide_pages(job: Job) -> list[list[Flowable]]:
    """Blocks of the pages with guides, page by page."""
    return [[guides(job, [layout])] for layout in job.worked.layouts]
