"""The contact sheet: one page that shows what the numbers say."""

import io

import pypdfium2
import pytest
from arrange.benches import PAPERS, stack
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.printable.contact_sheet import contact_sheet_pdf, marks_of
from making import make_worked
from pypdf import PdfReader

SIZES = {"letter": (612, 792), "a4": (595.28, 841.89)}
"""Points: ANSI/ASME Y14.1 (A) and ISO 216."""


def sheet(tmp_path, text, edition="letter", ink="full"):
    found = arrangements_of(make_worked(tmp_path, text))
    data = contact_sheet_pdf(found, edition, ink=ink)
    return found, data, PdfReader(io.BytesIO(data))


def said(data: bytes) -> str:
    """The text of its one page, as a reader copies it."""
    return " ".join(pypdfium2.PdfDocument(data)[0].get_textpage().get_text_bounded().split())


def figures(reader) -> list[str]:
    """Alternate texts in the structure tree, in order."""
    found = []

    def walk(node):
        node = node.get_object()
        if isinstance(node, list):
            for kid in node:
                walk(kid)
        elif isinstance(node, dict):
            if node.get("/S") == "/Figure":
                found.append(node["/Alt"])
            elif "/K" in node:
                walk(node["/K"])

    walk(reader.trailer["/Root"]["/StructTreeRoot"])
    return found


@pytest.mark.parametrize("edition", SIZES)
def test_one_page_with_every_arrangement_and_its_name(tmp_path, edition):
    found, data, reader = sheet(tmp_path, stack(list(PAPERS[:4])), edition)
    assert len(reader.pages) == 1
    assert [round(float(v), 2) for v in reader.pages[0].mediabox[2:]] == list(SIZES[edition])
    text = said(data)
    assert all(item.name in text for item in found.items)
    assert "24 arrangements of the same pieces. 12 cards differ" in text and "Shortcut:" in text
    assert len(figures(reader)) == 24
    assert data == contact_sheet_pdf(found, edition)


def test_many_are_thinned_and_the_suggested_stay(tmp_path):
    found, data, reader = sheet(tmp_path, stack(list(PAPERS[:6])))
    text = said(data)
    shown = len(figures(reader))
    assert len(reader.pages) == 1 and f"{shown} are shown here" in text and 12 <= shown < len(found.items)
    assert all(part.name in text for part in found.recommended.parts)


def test_one_card_one_number(tmp_path):
    found, _, _ = sheet(tmp_path, stack(list(PAPERS[:3])))
    marks = marks_of(found)
    assert sorted(marks.values()) == ["1a", "1b", "2a", "2b", "3a", "3b"]
    assert all(marks[i.slug][:-1] == marks[i.turned][:-1] for i in found.items)


def test_a_single_arrangement_and_outlines_only(tmp_path):
    _, data, reader = sheet(tmp_path, stack(["river"] * 4), ink="outline")
    assert len(reader.pages) == 1 and len(figures(reader)) == 1
