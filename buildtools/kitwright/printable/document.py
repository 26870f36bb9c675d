"""Put the pages together: flow, footers, metadata, bytes."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import partial
from typing import Literal

from reportlab.platypus.doctemplate import BaseDocTemplate, NextPageTemplate, PageBreak, PageTemplate
from reportlab.platypus.flowables import Flowable
from reportlab.platypus.frames import Frame

from kitwright.drawing.pdf import register
from kitwright.drawing.styles import Level
from kitwright.printable import qrcode, scalebar
from kitwright.printable.back_page import back_page
from kitwright.printable.blocks import hairline, high
from kitwright.printable.desk_page import desk_page
from kitwright.printable.edition import EDITIONS, Edition
from kitwright.printable.guide_page import guide_page
from kitwright.printable.job import Job, Preview, Stamp, state_text
from kitwright.printable.metadata import metadata
from kitwright.printable.sketch_page import sketch_page
from kitwright.printable.steps_page import steps_page, sums
from kitwright.printable.tags import MeasuringCanvas, TaggedCanvas
from kitwright.printable.templates_page import templates_page
from kitwright.printable.typeset import BOLD, FOOT, MARK, SANS, draw_line, line_width, words
from kitwright.worked import Worked


def printable_pdf(worked: Worked, edition: Literal["letter", "a4"], *, ink: Level = "full", stamp: Stamp | Preview | None = None) -> bytes:
    """The printable of a kit as a PDF.

    Args:
        worked: the kit, worked out; it should have no errors left.
        edition: `letter` or `a4`, each laid out for its own page.
        ink: `full`, `light` or `outline`.
        stamp: revision and date once released; before, the code of the preview. Without one the
            pages say PREVIEW all the same.

    Raises:
        UserError: a citation in the author's own steps that names nothing.
    """
    roomy = Job(worked, EDITIONS[edition], ink, stamp or Preview())
    # Measured first: how many pages there are, and whether a tighter setting would save one.
    counted = [(_built(job, None)[1], job) for job in (roomy, replace(roomy, tight=1), replace(roomy, tight=2))]
    pages, job = min(counted, key=lambda c: c[0])
    return _built(job, pages)[0]


def _built(job: Job, pages: int | None) -> tuple[bytes, int]:
    """The file and how many pages it has; without their number, only measured."""
    kit, out, said = job.worked.kit, io.BytesIO(), metadata(job)
    document = BaseDocTemplate(
        out, pagesize=job.edition.page, invariant=1, pageCompression=1, initialFontName=register(SANS),
        title=said.title, author=said.author, subject=said.identifier, keywords=list(kit.spec.tags),
        creator="kitwright", producer="kitwright", lang="en", displayDocTitle=True, printScaling="None")
    document.addPageTemplates([_template("first", job, pages, _foot(job)), _template("later", job, pages, 0)])
    document._doSave = pages is not None
    document.build(_story(job), canvasmaker=partial(TaggedCanvas if pages else MeasuringCanvas, metadata=said))
    return out.getvalue(), document.page


def _story(job: Job) -> list[Flowable]:
    opening = sketch_page(job, job.edition.height - _foot(job))
    later = opening[max((i for i, block in enumerate(opening) if isinstance(block, PageBreak)), default=-1) + 1:]
    left = job.edition.height - high(later, job.edition.width)
    return [NextPageTemplate("later"), *opening, *guide_page(job, left), *desk_page(job), *steps_page(job), *sums(job), *templates_page(job), *back_page(job)]


def _foot(job: Job) -> float:
    """Height of what stands under the text of the first page: the scale bar, and the code where there is one."""
    return qrcode.SIDE + 8 if qrcode.page_address(job) else scalebar.HEIGHT


def _template(name: str, job: Job, pages: int | None, foot: float) -> PageTemplate:
    edition = job.edition
    frame = Frame(edition.left, edition.bottom + foot, edition.width, edition.height - foot,
                  leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0, id=name)

    def furniture(canvas: TaggedCanvas, document: BaseDocTemplate) -> None:
        if foot:
            address = qrcode.page_address(job)
            scalebar.scale_bar(canvas, edition.left, edition.bottom - 4, edition.width - (qrcode.SIDE + qrcode.BESIDE + 26 if address else 0))
            if address:
                qrcode.draw_code(canvas, address, edition.left + edition.width, edition.bottom - 6)
        footer(canvas, job, document.page, pages)
    # After the text, so that it is read last.
    return PageTemplate(name, [frame], onPageEnd=furniture, pagesize=edition.page)


def footer(canvas: TaggedCanvas, job: Job, page: int, pages: int | None) -> None:
    """Club and kit, state, page number; at the head of a preview, that it is one."""
    edition, kit = job.edition, job.worked.kit
    y = edition.bottom - 24
    hairline(canvas, edition.left, edition.left + edition.width, y + 12)
    with canvas.artifact():
        number = tuple(words(f"page {page} of {pages}"))
        draw_line(canvas, number, edition.left + edition.width, y, FOOT.size, FOOT.ink, "end")
        left = f"{kit.club.name}  ·  {kit.id}  ·  {state_text(job)}"
        room = edition.width - line_width(number, FOOT.size) - 20
        line = tuple(words(left))
        if line_width(line, FOOT.size) > room:
            line = tuple(words(f"{kit.id}  ·  {state_text(job)}"))
        draw_line(canvas, line, edition.left, y, FOOT.size, FOOT.ink)
        if isinstance(job.stamp, Preview):
            head = edition.page[1] - edition.top + 7
            draw_line(canvas, tuple(words(job.stamp.mark, BOLD)), edition.left + edition.width, head, MARK.size, MARK.ink, "end")
