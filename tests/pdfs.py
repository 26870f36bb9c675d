"""Old printables for tests: small PDFs, as many ways as they come."""

from __future__ import annotations

import io

from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.pdfgen.canvas import Canvas

LETTER, A4 = (612, 792), (595.276, 841.89)


def pdf(*pages: str, size: tuple[float, float] = LETTER, title: str | None = None, password: str | None = None) -> bytes:
    """A PDF with some words on each page; the same bytes each time, unless there is a password.

    Args:
        pages: what stands on each, line by line.
        size: of its pages, in points.
        title: as the PDF notes it.
        password: without which nobody opens it.
    """
    out = io.BytesIO()
    lock = StandardEncryption(password, ownerPassword="owner", strength=128) if password else None
    canvas = Canvas(out, pagesize=size, invariant=1, encrypt=lock)
    if title is not None:
        canvas.setTitle(title)
    for words in pages or ("",):
        for i, line in enumerate(words.split("\n")):
            canvas.drawString(36, size[1] - 48 - 16 * i, line)
        canvas.rect(36, 36, size[0] / 3, size[1] / 4, fill=1)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def noted(data: bytes, created: str) -> bytes:
    """The same, made at another time; what was noted keeps its length, so nothing else moves."""
    before = b"(D:20000101000000+00'00')"
    assert before in data
    return data.replace(before, f"({created})".encode().ljust(len(before)))
