"""Put pages together as a file: frames, what stands under them, metadata, bytes.

What stands on the pages is made elsewhere, and so is their number: a page says `2 of 2`,
so whoever asks for a file knows beforehand how many there will be.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus.doctemplate import BaseDocTemplate, NextPageTemplate, PageTemplate
from reportlab.platypus.flowables import Flowable
from reportlab.platypus.frames import Frame

from kitwright.drawing.pdf import register
from kitwright.drawing.styles import Level
from kitwright.printable.blocks import hairline
from kitwright.printable.job import Job, state_text
from kitwright.printable.metadata import Metadata
from kitwright.printable.tags import TaggedCanvas, tagged
from kitwright.printable.typeset import BOLD, FOOT, MARK, SANS, draw_line, line_width, words
from kitwright.release.stamp import PreviewStamp

INKS: tuple[Level, ...] = ("full", "light", "outline")
"""How much ink a printable may take, most first."""


@dataclass(frozen=True)
class Foot:
    """What stands at the foot of the first page, under its text."""

    height: float = 0
    """Room that it takes, points."""
    draw: Callable[[TaggedCanvas], None] | None = None


def built(
    job: Job, story: Sequence[Flowable], said: Metadata, pages: int, inks: Sequence[Level], foot: Foot = Foot()
) -> dict[Level, bytes]:
    """The file in each ink.

    Args:
        job: the printable.
        story: its blocks in order; those of the first page end with a page break where there is a foot.
        said: what it says of itself.
        pages: how many there will be.
        inks: inks that differ in colours alone.
        foot: of the first page.
    """
    files: dict[Level, bytes] = {}
    document = _document(job, said, pages, foot)
    canvas = partial(TaggedCanvas, inks=inks, files=files, metadata=said, palette=job.worked.kit.club.palette)
    document.build([NextPageTemplate("later"), *story], canvasmaker=canvas)
    assert document.page == pages, f"{document.page} pages instead of {pages}"
    return files


def _document(job: Job, said: Metadata, pages: int, foot: Foot) -> BaseDocTemplate:
    document = BaseDocTemplate(
        io.BytesIO(),
        pagesize=job.edition.page,
        invariant=1,
        pageCompression=1,
        initialFontName=register(SANS),
        title=said.title,
        author=said.author,
        subject=said.identifier,
        keywords=list(job.worked.kit.spec.tags),
        creator="kitwright",
        producer="kitwright",
        lang="en",
        displayDocTitle=True,
        printScaling="None",
    )
    document.addPageTemplates([_template("first", job, pages, foot), _template("later", job, pages, Foot())])
    return document


def _template(name: str, job: Job, pages: int, foot: Foot) -> PageTemplate:
    edition = job.edition
    frame = Frame(
        edition.left,
        edition.bottom + foot.height,
        edition.width,
        edition.height - foot.height,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
        id=name,
    )

    def furniture(plain: Canvas, document: BaseDocTemplate) -> None:
        canvas = tagged(plain)
        if foot.draw:
            foot.draw(canvas)
        footer(canvas, job, document.page, pages)

    # After the text, so that it is read last.
    return PageTemplate(name, [frame], onPageEnd=furniture, pagesize=edition.page)


def footer(canvas: TaggedCanvas, job: Job, page: int, pages: int) -> None:
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
        if isinstance(job.stamp, PreviewStamp):
            head = edition.page[1] - edition.top + 2
            draw_line(canvas, tuple(words(job.stamp.mark, BOLD)), edition.left + edition.width, head, MARK.size, MARK.ink, "end")
