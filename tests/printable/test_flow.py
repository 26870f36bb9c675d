"""The pages hold whatever a kit brings: ink levels, stamps, long words, long terms, odd numbers of things."""

from __future__ import annotations

import datetime as dt
import io

import pypdf
import pypdfium2
import pytest
from kitwright.printable import printable_pdf, workbook_pdf
from kitwright.release.stamp import PreviewStamp, Stamp

STAMP = Stamp(3, dt.date(2027, 5, 9), "kx4")


def pages(data: bytes) -> list[str]:
    return [" ".join(p.get_textpage().get_text_bounded().split()) for p in pypdfium2.PdfDocument(io.BytesIO(data))]


def ink(data: bytes) -> float:
    """How much of the paper is darkened, 0 to 1, over all pages."""
    share = []
    for page in pypdfium2.PdfDocument(io.BytesIO(data)):
        histogram = page.render(scale=1).to_pil().convert("L").histogram()
        share.append(sum((255 - i) * n for i, n in enumerate(histogram)) / (255 * sum(histogram)))
    return sum(share) / len(share)


def test_less_ink_is_less_ink(pdf_of):
    full, light, outline = (ink(pdf_of("2027-05-three-coves", "letter", level)) for level in ("full", "light", "outline"))
    assert full > light > outline
    assert full < 0.15  # no large dark fills on any level


def test_a_stamp_tells_revision_date_and_mark(pdf_of):
    for text in pages(pdf_of("2027-05-three-coves", "a4", "full", STAMP)):
        assert "Revision 3, released 9 May 2027, code kx4" in text
        assert "PREVIEW" not in text


def test_before_its_release_every_page_says_preview_with_its_code(pdf_of):
    data = pdf_of("2027-05-three-coves", "a4", "full", PreviewStamp("K7MW-4TX2"))
    for text in pages(data):
        assert text.count("PREVIEW K7MW-4TX2") >= 2 and "PREVIEW K7MW-4TX2, not released" in text and "Revision" not in text
    assert "VersionID>PREVIEW K7MW-4TX2<" in pypdf.PdfReader(io.BytesIO(data)).root_object["/Metadata"].get_data().decode()
    margins_are_clear(data)
    # Who prints it without a code gets the mark all the same.
    for text in pages(pdf_of("2027-05-three-coves")):
        assert text.count("PREVIEW") >= 2


@pytest.mark.parametrize("title", ["W" * 60, "Antidisestablishmentarian" * 4, "Up to six score letters " * 4 + "may stand in a title"])
def test_any_title_fits(make_kit, kit_texts, title):
    spec = kit_texts["2027-07-night-ferry"].replace("title: Night Ferry", f"title: {title}")
    worked = make_kit("2027-07-night-ferry", spec)
    data = printable_pdf(worked, "letter")
    first = pages(data)[0]
    assert title.replace(" ", "") in first.replace(" ", "")
    margins_are_clear(data)


def test_long_terms_and_many_cautions_flow_on(make_kit, kit_texts, club_text):
    lines = [f"Caution number {i}: " + "keep the blade away from fingers " * 20 for i in range(1, 31)]
    club = (
        club_text[: club_text.index("terms:")]
        + "terms: "
        + "Be kind with these pages. " * 70
        + "\ncautions:\n"
        + "".join(f"  - '{line.strip()}'\n" for line in lines)
    )
    worked = make_kit("2027-07-night-ferry", kit_texts["2027-07-night-ferry"], club)
    data = workbook_pdf(worked, "letter")
    text = " ".join(pages(data))
    for i in range(1, 31):
        assert f"Caution number {i}:" in text
    assert text.count("Be kind with these pages.") == 70
    margins_are_clear(data)
    # The sheet of paper has one line of care, and stays one sheet.
    sheet = printable_pdf(worked, "letter")
    assert len(pages(sheet)) == 2 and "Caution number 1:" in pages(sheet)[1]
    margins_are_clear(sheet)


def test_long_names_of_papers_and_uses_flow(make_kit, kit_texts):
    long = "the cream and gold paper with small anchors that was left over in the second drawer last winter"
    spec = kit_texts["2027-07-night-ferry"].replace("name: Net", f"name: {long}").replace("for: side panel", f"for: {long}")
    data = printable_pdf(make_kit("2027-07-night-ferry", spec), "a4")
    assert " ".join(pages(data)).count(long) >= 3
    margins_are_clear(data)


@pytest.mark.parametrize(("pieces", "papers", "sides"), [(3, 1, 2), (8, 3, 3)])
def test_few_and_many_pieces_and_sheets(make_kit, stress, pieces, papers, sides):
    """Thirty narrow pieces on a pad take a page for the patterned papers alone."""
    worked = make_kit("2027-08-garden", stress(pieces, papers))
    data = printable_pdf(worked, "letter")
    text = pages(data)
    assert len(text) == sides
    for label in worked.kit.spec.pieces:
        assert any(f"{label} " in page for page in text)
    margins_are_clear(data)


def test_a_usual_kit_is_a_small_file_of_few_pages(pdf_of):
    for name, edition in (("2027-07-night-ferry", "a4"), ("2027-05-three-coves", "letter"), ("2027-06-long-evening", "letter")):
        assert len(pdf_of(name, edition)) < 120_000
        assert len(pypdf.PdfReader(io.BytesIO(pdf_of(name, edition))).pages) == 2


def margins_are_clear(data: bytes) -> None:
    """Nothing within a centimetre of any edge but the footer's; the mark of a preview stands highest."""
    for page in pypdfium2.PdfDocument(io.BytesIO(data)):
        picture = page.render(scale=1).to_pil().convert("L").point(lambda v: 255 if v < 250 else 0)
        left, top, right, bottom = picture.getbbox()
        # Either side of the sheet may be punched, as 80 mm apart and 12 mm in (ISO 838).
        assert left >= 52 and top >= 29
        assert right <= picture.width - 52 and bottom <= picture.height - 20
