"""The first side: what the kit makes, what it takes, what is cut, and how it goes together."""

from __future__ import annotations

from reportlab.platypus.flowables import Flowable

from kitwright.printable import qrcode, scalebar
from kitwright.printable.job import Job
from kitwright.printable.pages import Foot
from kitwright.printable.sketch_page import masthead, pieces, plate, sheets_across
from kitwright.printable.tags import TaggedCanvas


def front_page(job: Job) -> list[Flowable]:
    """Blocks of the first page: they fill one page and no more."""
    return [*masthead(job), plate(job, 290, []), *sheets_across(job), *pieces(job)]


def foot_of(job: Job) -> Foot:
    """The scale bar, and the code where the club has an address."""
    address, edition = qrcode.page_address(job), job.edition

    def draw(canvas: TaggedCanvas) -> None:
        beside = qrcode.SIDE + qrcode.BESIDE + 26 if address else 0
        scalebar.scale_bar(canvas, edition.left, edition.bottom - 4, edition.width - beside)
        if address:
            qrcode.draw_code(canvas, address, edition.left + edition.width, edition.bottom - 6)

    return Foot(qrcode.SIDE + 2 if address else scalebar.HEIGHT, draw)
