"""Page 1 of the printable: one page, complete, in both units, nothing small; counts that a maker reads off its tables alone."""

from __future__ import annotations

import io
import re
from collections import Counter
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from functools import cached_property

import demo
import numpy as np
import pypdf
import pypdfium2
import pytest
from kitwright.drawing.pdf import draw_scene, lasting, share
from kitwright.printable import front_page
from kitwright.printable.blocks import Side
from kitwright.printable.front_page import FullPage, foot_of, lists_over
from kitwright.printable.front_plate import drawing, names, patterns
from kitwright.printable.job import Job
from kitwright.printable.metadata import metadata
from kitwright.printable.pages import built
from kitwright.printable.sheet_lists import ROOMY, TIGHT, cut, need
from kitwright.printable.tables import Table
from kitwright.release.both import Difference
from kitwright.release.stamp import Stamp
from kitwright.telling.printed import EACH
from kitwright.units import ABOUT, Length, Size, fraction_text, size_text
from kitwright.work.worked import Worked, on_card
from making import make_worked
from reportlab.pdfgen.canvas import Canvas
from several import LYING, SHEETS, STANDING

STAMP = Stamp(1, date(2027, 5, 7), "R348-H9TT")
ODD = ["2027-05-three-coves", "2027-06-long-evening", "2027-07-night-ferry", "2027-08-garden"]


def job_of(worked: Worked, edition: str = "letter", ink: str = "full", stamp: Stamp = STAMP) -> Job:
    return Job.for_edition(worked, edition, ink, stamp)


@dataclass
class First:
    """A first page, drawn by itself."""

    job: Job

    @cached_property
    def data(self) -> bytes:
        # `built` refuses a story that takes another number of pages.
        return built(self.job, front_page.front_page(self.job), metadata(self.job), 1, (self.job.level,), foot_of(self.job))[self.job.level]

    @cached_property
    def text(self) -> pypdfium2.PdfTextPage:
        (page,) = pypdfium2.PdfDocument(self.data)
        return page.get_textpage()

    @cached_property
    def said(self) -> str:
        """As a reader copies it: pdfium honours ActualText, so fractions come in plain digits."""
        return " ".join(self.text.get_text_bounded().split())


@pytest.fixture(scope="module")
def firsts(all_kits):
    """The first pages of odd kits, and of those of the demo that are laid out each in its own way."""
    jobs = {name: job_of(all_kits[name]) for name in ODD}
    jobs |= {kit: job_of(demo.worked(kit)) for kit in ("2025-09-bud-vases", "2026-04-kitchen-garden")}
    jobs["a4"] = job_of(demo.worked("2026-07-lock-by-lock"), "a4")
    jobs["outline"] = job_of(demo.worked("2026-11-weathervane"), "letter", "outline")
    return {name: First(job) for name, job in jobs.items()}


FIRSTS = [*ODD, "2025-09-bud-vases", "2026-04-kitchen-garden", "a4", "outline"]


@pytest.fixture(params=FIRSTS)
def first(request, firsts) -> First:
    return firsts[request.param]


# --- the page ---------------------------------------------------------------------------------------


def test_it_is_one_page_and_keeps_its_margins(first):
    edition = first.job.edition
    picture = np.array(next(iter(pypdfium2.PdfDocument(first.data))).render(scale=2).to_pil().convert("L"))
    rows, columns = np.where(picture < 250)
    assert columns.min() >= (edition.left - 2) * 2 and columns.max() <= (edition.page[0] - edition.side + 2) * 2
    assert rows.min() >= 28.3 * 2 and rows.max() <= (edition.page[1] - 24) * 2


def test_no_type_is_smaller_than_eight_points(first):
    sizes = {pypdfium2.raw.FPDFText_GetFontSize(first.text, i) for i in range(first.text.count_chars())}
    # A blank that pdfium puts between two words has none.
    assert min(sizes - {1.0}) >= 8


def test_no_words_stand_on_one_another(first):
    """Stretches of text, by the boxes of their letters' ink."""
    boxes = sorted(first.text.get_rect(i) for i in range(first.text.count_rects()))
    for i, (left, bottom, right, top) in enumerate(boxes):
        for other in boxes[i + 1 :]:
            if other[0] >= right - 1:
                break
            assert min(top, other[3]) - max(bottom, other[1]) < 1, [
                first.text.get_text_bounded(*box) for box in ((left, bottom, right, top), other)
            ]


def test_it_is_complete(first):
    worked, said = first.job.worked, first.said
    squeezed = said.replace(" ", "")
    for plan in worked.plans:
        assert first.job.paper(plan.paper).name.replace(" ", "") in squeezed
    units = first.job.units
    for size in worked.sizes.values():
        for unit in units:
            assert size_text(size, unit).replace("\u2044", "/").replace(" ", "") in squeezed
    for design in worked.designs:
        assert f"{design.kit.spec.cards} cards" in said
        for unit in units:
            assert size_text(design.base.finished, unit).replace("\u2044", "/").replace(" ", "") in squeezed
        if len(design.faces) > 1:
            for look in design.faces:
                assert f"{look.cards} {look.name}" in said or f"{look.cards}{look.name.replace(' ', '')}" in squeezed
    for heading in ("What you need", "What you cut", "How it goes together", "Check your print."):
        assert heading in said
    if worked.kit.club.address:
        assert "stand on the kit" in said


def test_metric_kits_show_no_bare_inch(firsts):
    for name in ("2027-07-night-ferry", "a4"):
        said = firsts[name].said.split("Check your print")[0].removesuffix(" 0 1 2 in 0 10 20 30 40 50 mm ")
        # In brackets, behind the same in millimetres, or in the one line that says so at its head.
        said = re.sub(r"\([^()]* in\)", "", re.sub(r"In inches: [^.]*[.]", "", said))
        for match in re.finditer(r"[\d½¼¾⅛⅜⅝⅞] in\b", said):
            before = said[max(0, match.start() - 60) : match.start()]
            assert ABOUT in before and re.search(r"mm", before), before


def test_headings_tables_and_pictures_are_tagged(firsts):
    reader = pypdf.PdfReader(io.BytesIO(firsts["2027-05-three-coves"].data))
    roles: list[tuple[str, str]] = []

    def walk(node) -> None:
        node = node.get_object()
        if "/S" in node:
            roles.append((node["/S"], node.get("/Alt", "")))
        kids = node.get("/K", [])
        for kid in kids if isinstance(kids, list) else [kids]:
            if not isinstance(kid, int):
                walk(kid)

    walk(reader.trailer["/Root"]["/StructTreeRoot"])
    order = [role for role, _ in roles]
    assert order.count("/H1") == 1 and order.count("/H2") == 3 and order.count("/Table") == 2
    # Sketch, two looks, scale bar; each told, and the sketch before the tables.
    figures = [alt for role, alt in roles if role == "/Figure"]
    assert len(figures) == 4 and all(figures)
    assert order.index("/H1") < order.index("/Figure") < order.index("/Table") < order.index("/LI")
    assert figures[0].startswith("Card front")


# --- a maker's test: the tables alone ------------------------------------------------------------------


def rows_of(table: Table) -> list[list[tuple[str, ...]]]:
    return [[(cell.text, *(cell.sizes or ()), *cell.notes) for cell in row.cells] for row in table.rows]


def counted(job: Job, type_) -> Counter[str]:
    """Pieces of every label for the batch, as its table tells them."""
    found: Counter[str] = Counter()
    label = ""
    for row in rows_of(cut(job, type_)):
        label = row[0][0] or label
        for figure in row[3:]:
            text = " ".join(figure)
            if not text.strip():
                continue
            n = int(text.split()[0])
            # Of each: of as many papers as the row names.
            papers = len(re.split(r", | and ", row[2][-1])) if EACH in text else 1
            found[label] += n * papers
    return found


@pytest.mark.parametrize("kit", list(demo.BY_ID))
def test_counts_on_the_tables_agree_with_what_lies_on_the_cards(kit):
    worked = demo.worked(kit)
    job = job_of(worked)
    lying: Counter[str] = Counter()
    for (label, _), n in on_card(worked).items():
        lying[label] += n
    for design in worked.designs:
        lying[design.kit.base] += design.kit.spec.cards
    for type_ in (ROOMY, TIGHT):
        assert counted(job, type_) == lying
    sheets = [(row[0][0], row[-1][0]) for row in rows_of(need(job, ROOMY))]
    assert sheets == [(job.paper(plan.paper).name, fraction_text(plan.sheets)) for plan in worked.plans]
    sizes = {row[0][0]: row[1][1:3] for row in rows_of(cut(job, ROOMY)) if row[0][0]}
    assert sizes == {label: tuple(size_text(size, unit) for unit in job.units) for label, size in worked.sizes.items()}


def test_papers_are_named_on_the_sketch_under_labels_that_come_from_several():
    job = job_of(demo.worked("2026-11-weathervane"))
    assert {label for label, _ in names(job)} == {"A"}
    words = [text.text for text in drawing(job, 320, 320).texts]
    assert {"Breeze", "Barley", "First frost", "Brick dots"} <= {*words} and "White cardstock" not in words


# --- what gives way, and what is marked ------------------------------------------------------------------


def laid(job: Job) -> list:
    (page,) = front_page.front_page(job)
    assert isinstance(page, FullPage)
    return page.parts


def tables(blocks) -> int:
    return sum(tables(stack) for block in blocks if isinstance(block, Side) for stack in block.stacks) + sum(
        isinstance(block, Table) for block in blocks
    )


def test_eight_kinds_from_eight_papers_fit_and_so_do_three_designs(make_kit, stress, tmp_path):
    eight = job_of(make_kit("2027-08-garden", stress(9, 8, "A Long Garden Walk")))
    assert not lists_over(eight) and tables([block for part in laid(eight) for block in part]) == 2
    three = SHEETS.replace(" sheets: 1,", "").replace(", sheets: 8", "") + "designs:\n" + STANDING + LYING
    three += STANDING.replace("Standing:", "Third:")
    job = job_of(make_worked(tmp_path, three))
    # Facts of so many are a table too.
    assert not lists_over(job) and tables([block for part in laid(job) for block in part]) == 3


def test_what_finds_no_room_stands_on_a_page_of_its_own(tmp_path):
    text = SHEETS.replace(" sheets: 1,", "").replace(", sheets: 8", "") + "designs:\n"
    text += "".join(STANDING.replace("Standing:", f"No {i}:") for i in range(5))
    job = job_of(make_worked(tmp_path, text))
    over = lists_over(job)
    assert tables(over) == 2 and tables([block for part in laid(job) for block in part]) == 1
    assert "Check your print." in First(job).said


def test_what_an_edition_changes_is_marked_over_the_sketch(firsts):
    said = firsts["2027-07-night-ferry"].said
    assert said.index("If your cardstock is Letter:") < said.index("105 × 148 mm")
    assert "If your cardstock" not in firsts["2027-05-three-coves"].said


def test_what_a_revision_corrects_is_marked_under_what_its_edition_changes():
    sizes = (Size(Length(Fraction(13, 4)), Length(Fraction(n, 8))) for n in (10, 11))
    stamp = replace(STAMP, revision=2, corrects=(Difference("pieces.A.size", "size", "error", *sizes, {"label": "A", "unit": "in"}),))
    notes = [block.plain for block in front_page.masthead(job_of(demo.worked("2026-02-room-keys"), "a4", stamp=stamp))[3:]]
    assert [note.split(":")[0] for note in notes] == ["If your cardstock is A4", "Corrected in revision 2"]
    assert "3¼ × 1⅜ in" in notes[1]
    assert not front_page.masthead(job_of(demo.worked("2026-02-room-keys")))[3:]


# --- patterns stored once ---------------------------------------------------------------------------------


def test_a_pattern_stands_in_the_file_once_and_looks_the_same():
    job = job_of(demo.worked("2026-11-weathervane"))
    scene = drawing(job, 300, 300)
    pictures, forms = [], []
    for shared in ({}, patterns(job)):
        out = io.BytesIO()
        canvas = Canvas(out, pagesize=(float(scene.width), float(scene.height)), invariant=1, pageCompression=0)
        lasting(canvas)
        share(canvas, shared)
        draw_scene(canvas, scene, 0, 0)
        canvas.save()
        (page,) = pypdfium2.PdfDocument(out.getvalue())
        pictures.append(np.array(page.render(scale=2).to_pil().convert("L"), dtype=int))
        forms.append(len({*re.findall(rb"paper-[0-9a-f]{16}", out.getvalue())}))
    assert forms == [0, 4]
    assert np.abs(pictures[0] - pictures[1]).mean() < 0.5
