"""Put the pages together: flow, footers, metadata, bytes."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus.doctemplate import BaseDocTemplate, NextPageTemplate, PageTemplate
from reportlab.platypus.flowables import Flowable, PageBreak
from reportlab.platypus.frames import Frame

from kitwright.drawing.pdf import register
from kitwright.drawing.styles import Level
from kitwright.printable import pictures, qrcode, scalebar
from kitwright.printable.author_notes import author_notes
from kitwright.printable.back_page import Notes, closing, supplies_and_post
from kitwright.printable.blocks import anew, high
from kitwright.printable.desk_page import desk_page
from kitwright.printable.edition import EDITIONS, EditionName
from kitwright.printable.ending import EndingPart, Here, ordered, part
from kitwright.printable.guide_page import guide_page
from kitwright.printable.job import Job
from kitwright.printable.metadata import metadata
from kitwright.printable.other_cards import other_cards
from kitwright.printable.pages import INKS, footer
from kitwright.printable.sketch_page import sketch_page
from kitwright.printable.steps_page import steps_page
from kitwright.printable.sums import sums
from kitwright.printable.tags import MeasuringCanvas, TaggedCanvas, tagged
from kitwright.printable.templates_page import templates_page
from kitwright.printable.typeset import SANS
from kitwright.release.stamp import PreviewStamp, Stamp
from kitwright.work.worked import Worked


def printable_pdf(worked: Worked, edition: EditionName, *, ink: Level = "full", stamp: Stamp | PreviewStamp | None = None) -> bytes:
    """The printable of a kit as a PDF.

    Args:
        worked: the kit, worked out; it should have no errors left.
        edition: `letter` or `a4`, each laid out for its own page.
        ink: `full`, `light` or `outline`.
        stamp: revision and date once released; before, the code of the preview. Without one the
            pages say PREVIEW all the same.

    Raises:
        UserError: a citation in the author's notes or own steps that names nothing.
    """
    return printables(worked, edition, inks=(ink,), stamp=stamp)[ink]


def printables(
    worked: Worked, edition: EditionName, *, inks: Sequence[Level] = INKS, stamp: Stamp | PreviewStamp | None = None
) -> dict[Level, bytes]:
    """The same in several levels of ink: laid out once, its pictures drawn once."""
    roomy = Job(worked, EDITIONS[edition], inks[0], stamp or PreviewStamp())
    files: dict[Level, bytes] = {}
    with pictures.measured_before(roomy):
        job, pages = _laid_out(roomy)
        # Less colour changes nothing but colours; outlines alone have other tables too.
        for alike in ([ink for ink in inks if ink != "outline"], [ink for ink in inks if ink == "outline"]):
            if alike:
                files |= _built(replace(job, level=alike[0]), pages, alike).files
    return files


@dataclass(frozen=True)
class _Built:
    """Files, or what was measured of them."""

    files: dict[Level, bytes]
    """By ink."""
    pages: int
    end: Here
    """Where the last parts begin."""
    parts: list[EndingPart]


def _laid_out(roomy: Job) -> tuple[Job, int]:
    """How the pages are filled best, and how many there are.

    Measured: whether a tighter setting saves a page, and in which order the last parts do.
    """
    found = []
    for job in (roomy, replace(roomy, tight=1), replace(roomy, tight=2)):
        usual = _built(job, None)
        order = ordered(usual.parts, usual.end.room, job.edition.height, job.edition.width)
        found.append((usual.pages, job))
        if order != tuple(range(len(usual.parts))):
            other = replace(job, order=order)
            found.append((_built(other, None).pages, other))
    pages, job = min(found, key=lambda f: f[0])
    return job, pages


def _built(job: Job, pages: int | None, inks: Sequence[Level] = ()) -> _Built:
    """The files; without the number of their pages, only measured."""
    kit, said = job.worked.kit, metadata(job)
    files: dict[Level, bytes] = {}
    document = BaseDocTemplate(
        io.BytesIO(),
        pagesize=job.edition.page,
        invariant=1,
        pageCompression=1,
        initialFontName=register(SANS),
        title=said.title,
        author=said.author,
        subject=said.identifier,
        keywords=list(kit.spec.tags),
        creator="kitwright",
        producer="kitwright",
        lang="en",
        displayDocTitle=True,
        printScaling="None",
    )
    document.addPageTemplates([_template("first", job, pages, _foot(job)), _template("later", job, pages, 0)])
    document._doSave = pages is not None  # type: ignore[attr-defined]  # private, so its types leave it out
    here, parts = Here(job.edition.bottom), _ending(job)
    last = [parts[i].block for i in job.order or range(len(parts))]
    canvas = partial(TaggedCanvas if pages else MeasuringCanvas, inks=inks, files=files, metadata=said, palette=kit.club.palette)
    document.build([*_story(job), here, *last, Notes(job)], canvasmaker=canvas)
    return _Built(files, document.page, here, parts)


def _story(job: Job) -> list[Flowable]:
    """What is read in order: the card, the cuts, the steps."""
    # What is the same however tight the pages are set is made once.
    opening = anew(job.once(("opening", job.level), lambda: sketch_page(job, job.edition.height - _foot(job))))
    later = opening[max((i for i, block in enumerate(opening) if isinstance(block, PageBreak)), default=-1) + 1 :]
    left = job.edition.height - high(later, job.edition.width)
    return [NextPageTemplate("later"), *opening, *guide_page(job, left), *_desk(job), *steps_page(job)]


def _desk(job: Job) -> list[Flowable]:
    return anew(job.once(("desk", job.level), lambda: desk_page(job)))


def _ending(job: Job) -> list[EndingPart]:
    """What is looked up, each part by itself."""
    parts: list[EndingPart] = job.once(("ending", job.level), lambda: _parts(job))
    anew([each.block for each in parts])
    return parts


def _parts(job: Job) -> list[EndingPart]:
    width, full = job.edition.width, job.edition.height
    found: list[tuple[str, Sequence[Flowable]]] = [
        ("sums", sums(job)),
        *(("templates", [block]) for block in templates_page(job)),
        *(("arrangements", other_cards(design)) for design in job.designs),
        ("supplies", supplies_and_post(job)),
        *(("notes", [block]) for block in author_notes(job)),
        ("closing", [closing(job)]),
    ]
    return [part(kind, blocks, width, full, spare=kind == "arrangements") for kind, blocks in found if blocks]


def _foot(job: Job) -> float:
    """Height of what stands under the text of the first page: the scale bar, and the code where there is one."""
    return qrcode.SIDE + 2 if qrcode.page_address(job) else scalebar.HEIGHT


def _template(name: str, job: Job, pages: int | None, foot: float) -> PageTemplate:
    edition = job.edition
    frame = Frame(
        edition.left,
        edition.bottom + foot,
        edition.width,
        edition.height - foot,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
        id=name,
    )

    def furniture(plain: Canvas, document: BaseDocTemplate) -> None:
        canvas = tagged(plain)
        if canvas.measuring:
            return
        if foot:
            address = qrcode.page_address(job)
            scalebar.scale_bar(
                canvas, edition.left, edition.bottom - 4, edition.width - (qrcode.SIDE + qrcode.BESIDE + 26 if address else 0)
            )
            if address:
                qrcode.draw_code(canvas, address, edition.left + edition.width, edition.bottom - 6)
        footer(canvas, job, document.page, pages or 0)

    # After the text, so that it is read last.
    return PageTemplate(name, [frame], onPageEnd=furniture, pagesize=edition.page)
