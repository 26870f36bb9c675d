"""What stands around the drawings: the code to the kit's page, metadata, the post, supplies, room for notes."""

from __future__ import annotations

import datetime as dt
import io
import xml.etree.ElementTree as ET

import pdfplumber
import pypdf
import pypdfium2
import pytest
import zxingcpp
from kitwright.cutting.desk import desk_steps
from kitwright.printable import printable_pdf
from kitwright.printable.back_page import Notes
from kitwright.release.stamp import Stamp
from kitwright.telling.instructions import step_text
from kitwright.telling.post import post_lines
from kitwright.telling.supplies import supply_lines
from kitwright.work.post import mailing
from kitwright.work.supplies import supplies

NAME = "2027-07-night-ferry"
BOUND = (("2027-05-three-coves", "letter"), ("2027-06-long-evening", "letter"), (NAME, "a4"))
STAMP = Stamp(2, dt.date(2027, 7, 21), "QX7M-42KD")
MM = 72 / 25.4


def bare(text: str) -> str:
    return text.replace("\u2044", "/")


def text_of(data: bytes) -> str:
    return " ".join(" ".join(p.get_textpage().get_text_bounded().split()) for p in pypdfium2.PdfDocument(io.BytesIO(data)))


@pytest.fixture(scope="module")
def addressed(make_kit, kit_texts, club_text):
    club = club_text.replace("region: us\n", "region: us\naddress: https://tin-drawer-cards.example/\n")
    return {edition: printable_pdf(make_kit(NAME, kit_texts[NAME], club), edition) for edition in ("letter", "a4")}


@pytest.mark.parametrize("edition", ["letter", "a4"])
@pytest.mark.parametrize("dpi", [100, 150, 300])
@pytest.mark.parametrize("mode", ["RGB", "L", "1"])
def test_the_code_is_read_by_a_separate_reader(addressed, edition, dpi, mode):
    page = pypdfium2.PdfDocument(io.BytesIO(addressed[edition]))[0]
    picture = page.render(scale=dpi / 72).to_pil().convert(mode)  # "1" is dithered, as cheap printers do
    if mode == "1":
        picture = picture.convert("L")
    read = zxingcpp.read_barcodes(picture)
    assert [found.text for found in read] == [f"https://tin-drawer-cards.example/kits/{NAME}/"]


def test_the_code_is_twenty_millimetres_of_vectors(addressed):
    page = pypdf.PdfReader(io.BytesIO(addressed["letter"])).pages[0]
    assert not page.images
    picture = pypdfium2.PdfDocument(io.BytesIO(addressed["letter"]))[0].render(scale=300 / 72).to_pil().convert("L")
    corners = zxingcpp.read_barcodes(picture)[0].position
    assert (corners.top_right.x - corners.top_left.x) * 25.4 / 300 == pytest.approx(20, abs=0.3)


def test_no_address_no_code(pdf_of):
    picture = pypdfium2.PdfDocument(io.BytesIO(pdf_of(NAME, "a4")))[0].render(scale=150 / 72).to_pil()
    assert not zxingcpp.read_barcodes(picture)
    assert "newer revision" not in text_of(pdf_of(NAME, "a4"))


# --- metadata -----------------------------------------------------------------------------------


def test_the_packet_tells_revision_and_terms(pdf_of, all_kits):
    reader = pypdf.PdfReader(io.BytesIO(pdf_of(NAME, "letter", "full", STAMP)))
    tree = ET.fromstring(reader.root_object["/Metadata"].get_data().decode().split("?>", 1)[1].rsplit("<?xpacket", 1)[0])
    said = {e.tag.partition("}")[2]: " ".join("".join(e.itertext()).split()) for e in tree.iter()}
    kit = all_kits[NAME].kit
    assert said["VersionID"] == "2 QX7M-42KD"
    assert said["UsageTerms"] == said["rights"] == " ".join(kit.club.terms.split())
    assert said["title"].startswith(kit.spec.title) and said["creator"] == kit.club.name
    assert said["CreateDate"] == "2027-07-21"
    # The reader of another library agrees.
    assert reader.xmp_metadata.dc_title["x-default"].startswith(kit.spec.title)
    assert reader.xmp_metadata.dc_rights["x-default"] == said["rights"]


def test_the_date_is_that_of_the_release_or_else_of_the_reveal(pdf_of):
    assert pypdf.PdfReader(io.BytesIO(pdf_of(NAME, "letter", "full", STAMP))).metadata.creation_date.date() == STAMP.date
    unreleased = pypdf.PdfReader(io.BytesIO(pdf_of(NAME, "a4")))
    assert unreleased.metadata.creation_date.date() == dt.date(2027, 7, 1)  # the first of its month, unless said
    assert "VersionID>PREVIEW</" in unreleased.root_object["/Metadata"].get_data().decode()


# --- what closes it -----------------------------------------------------------------------------


def test_the_post_and_its_source_are_told(bound):
    text = " ".join(bound.said)
    for line in post_lines(bound.worked, mailing(bound.worked)):
        assert bare(line.text) in text, line.about


def test_the_supplies_are_told(bound):
    text = " ".join(bound.said)
    for line in supply_lines(bound.worked, supplies(bound.worked)):
        if line.about != "paper":
            assert f"{line.title}: {bare(line.whole)}." in text


def test_every_step_at_the_trimmer_is_told_with_its_cuts(bound):
    text, worked = " ".join(bound.said), bound.worked
    trimmer = worked.kit.club.trimmer
    for layout in worked.layouts:
        one_way = any(worked.kit.papers[p].front.up for p in layout.papers)
        for step in desk_steps(layout, trimmer.least_hold):
            assert bare(step_text(step, worked.kit.spec.unit, one_way and step.number == 1)) in text


def test_a_page_with_room_left_gives_it_to_notes(workbook_of):
    """Ruled lines, unless what is left of the last page is too little to write on."""
    assert {_noted(workbook_of(name, edition)) for name, edition in BOUND} >= {True}


def _noted(data: bytes) -> bool:
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        page = pdf.pages[-1]
        words = page.extract_words()
        foot = next(w["top"] for w in reversed(words) if w["text"] == "page")
        lowest = max(w["bottom"] for w in words if w["bottom"] < foot - 4)
        noted = "Your notes" in " ".join(w["text"] for w in words)
        assert noted or foot - lowest < Notes.LEAST + 60
        lines = [line for line in page.lines if line["top"] > lowest]
        assert len(lines) >= 3 or not noted
        return noted
