"""What a PDF says of itself and shows, read by PDFium. Runs in a helping process alone (`reading.py`): a PDF may come from a stranger.

PDFium is not safe in threads, and a broken file may take the process with it; so nothing here is
called from anywhere else, and no more is loaded than it takes. Sizes of pages: ISO 32000-1,
14.11.2; lengths are in points, 1/72 of an inch, there (8.3.2.3).
"""

from __future__ import annotations

import io
from fractions import Fraction

import pypdfium2
from PIL import Image

from kitwright.past.found import Drawn, Fault, Found
from kitwright.past.tidy import CHARACTERS, tidy

LARGE, SMALL = 1100, 640
"""Pixels along the longer edge of a picture of page 1: as its own page shows it, and as lists do."""
PAGES_READ = 24
"""Pages whose words are taken, and whose sizes are looked at."""
CROWDED = 100_000
"""Characters on one page; more are no words for a reader, and none of that page is taken."""


def found(data: bytes) -> Found | Fault:
    """Read a PDF from its bytes."""
    # PDFium says no more of a PDF without pages than what it said last; so let that be what no bytes can be.
    pypdfium2.raw.FPDF_LoadDocument(b"", None)
    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as error:
        code = getattr(error, "err_code", None)
        if code == pypdfium2.raw.FPDF_ERR_FILE:
            return "past.no-page"  # Nothing else is wrong with it.
        return "past.encrypted" if code in (pypdfium2.raw.FPDF_ERR_PASSWORD, pypdfium2.raw.FPDF_ERR_SECURITY) else "past.broken"
    try:
        if len(document) < 1:
            return "past.no-page"
        sizes = [_size(document, number) for number in range(min(len(document), PAGES_READ))]
        if not all(width > 0 and height > 0 for width, height in sizes):
            return "past.broken"
        noted = document.get_metadata_dict()
        large, small = _drawn(document[0])
        return Found(
            len(document),
            tuple(dict.fromkeys(sizes)),
            _words(document),
            tidy(noted.get("Title", ""))[:200],
            tidy(noted.get("CreationDate", ""))[:40],
            large,
            small,
        )
    except pypdfium2.PdfiumError:
        return "past.broken"


def _size(document: pypdfium2.PdfDocument, number: int) -> tuple[Fraction, Fraction]:
    """A page as it lies before the reader; PDFium hands on what was written in single precision."""
    width, height = document.get_page_size(number)
    return Fraction(round(width * 1000), 1000), Fraction(round(height * 1000), 1000)


def _drawn(page: pypdfium2.PdfPage) -> tuple[Drawn, Drawn]:
    """The page on white; as large as asked for, whatever its size, so that the pixels are bounded."""
    whole = page.render(scale=LARGE / max(page.get_size()), may_draw_forms=False).to_pil().convert("RGB")
    little = whole.copy()
    little.thumbnail((SMALL, SMALL), Image.Resampling.LANCZOS)
    return _encoded(whole), _encoded(little)


def _encoded(picture: Image.Image) -> Drawn:
    """As a drawing or as a photo, whichever is smaller."""
    jpeg, png = io.BytesIO(), io.BytesIO()
    picture.save(jpeg, "JPEG", quality=82, optimize=True)
    # Few colours, as where nothing but text and lines is printed, make a small drawing without a loss.
    if (colours := picture.getcolors(256)) is not None:
        picture.quantize(max(len(colours), 2), dither=Image.Dither.NONE).save(png, "PNG", optimize=True)
    return Drawn(".png", png.getvalue()) if 0 < png.tell() <= jpeg.tell() else Drawn(".jpg", jpeg.getvalue())


def _words(document: pypdfium2.PdfDocument) -> str:
    taken, room = [], CHARACTERS
    for number in range(min(len(document), PAGES_READ)):
        try:
            text = document[number].get_textpage()
            # What lies beside the page is seen by nobody; what lies unseen on it is how a scan is read.
            said = tidy(text.get_text_bounded()) if text.count_chars() <= CROWDED else ""
        except pypdfium2.PdfiumError:
            continue
        taken.append(said[:room])
        room -= len(taken[-1]) + 1
        if room <= 0:
            break
    return "\n".join(filter(None, taken))
