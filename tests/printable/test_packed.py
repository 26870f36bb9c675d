"""A packed file says what the plain one says. ISO 32000-1, 7.5.7 and 7.5.8; read by three libraries that know both forms."""

from __future__ import annotations

import io

import pdfplumber
import pypdf
import pypdfium2
import pytest
from kitwright.printable.packed import packed
from reportlab.pdfgen.canvas import Canvas


@pytest.fixture(scope="module")
def plain() -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(300, 200), invariant=1)
    canvas.setTitle("50 % (more) \\ or less")
    canvas.setAuthor("Ünï")
    for page in range(12):
        canvas.drawString(20, 100, f"page {page + 1}, 100 % of it")
        canvas.bookmarkPage(f"p{page}")
        canvas.addOutlineEntry(f"Part {page} %d", f"p{page}")
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def written(part: pypdf.generic.PdfObject) -> bytes:
    """A part as bytes."""
    out = io.BytesIO()
    part.write_to_stream(out)
    return out.getvalue()


def test_every_part_is_the_same(plain):
    before, after = (pypdf.PdfReader(io.BytesIO(data), strict=True) for data in (plain, packed(plain)))
    assert after.metadata == before.metadata and after.trailer["/ID"] == before.trailer["/ID"]
    for number in range(1, int(before.trailer["/Size"])):
        one, other = (reader.get_object(pypdf.generic.IndirectObject(number, 0, reader)) for reader in (before, after))
        assert written(one) == written(other), number
        if isinstance(one, pypdf.generic.StreamObject):
            assert one.get_data() == other.get_data()


def test_it_is_read_and_smaller(plain):
    data = packed(plain)
    assert len(data) < 0.7 * len(plain) and data.startswith(b"%PDF-1.5\n") and data == packed(plain)
    texts = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(data)]
    assert texts == [page.extract_text() for page in pdfplumber.open(io.BytesIO(data)).pages]
    assert texts[11] == "page 12, 100 % of it"


def test_what_is_no_such_file_is_told(plain):
    with pytest.raises(AssertionError, match="reportlab"):
        packed(plain[:-40])
