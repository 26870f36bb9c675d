"""The workbook: every stroke and every step whole on its page, no page half empty but the last, and nothing of the two pages but the labels."""

from __future__ import annotations

import io

import demo
import pypdf
import pypdfium2
import pytest
from kitwright.cutting.desk import corner_steps
from kitwright.printable.blocks import Listed, Side
from kitwright.printable.edition import EDITIONS
from kitwright.printable.filling import LEAST_FILL, BookPart, filled, half_empty
from kitwright.printable.job import Job
from kitwright.printable.label_list import label_list
from kitwright.printable.making import steps, told
from kitwright.printable.step_pictures import beside
from kitwright.printable.strokes import COLUMNS, StrokesRow, strokes
from kitwright.printable.workbook import workbook_pages, workbook_pdf
from kitwright.release.kept import read_results, worked_again
from kitwright.release.stamp import PreviewStamp
from kitwright.telling.steps import numbered, steps_of
from kitwright.work.desk import layout_steps
from making import make_worked
from several import SEVERAL

COVES, FERRY, GARDEN = "2027-05-three-coves", "2027-07-night-ferry", "2027-08-garden"


def job_of(worked, edition="letter") -> Job:
    return Job(worked, EDITIONS[edition], "full", PreviewStamp())


def published(kit_id: str):
    """A demo kit as its last revision keeps it, with the answers about other paper; worked out where there is none."""
    kept = sorted((demo.KITS / kit_id / "published").glob("r*/results.json"))
    return worked_again(demo.BY_ID[kit_id], read_results(kept[-1].read_text(encoding="utf-8"))) if kept else demo.worked(kit_id)


def within(blocks):
    """Every block, those beside one another too."""
    for block in blocks:
        yield block
        if isinstance(block, Side):
            for stack in block.stacks:
                yield from within(stack)


@pytest.mark.parametrize("kit_id", sorted(demo.BY_ID))
def test_no_page_of_a_demo_kit_is_half_empty_but_the_last(kit_id):
    worked = published(kit_id)
    for edition in EDITIONS:
        pages = workbook_pages(job_of(worked, edition))
        assert all(page.fill >= LEAST_FILL for page in pages[:-1]), [round(page.fill, 2) for page in pages]
        assert all(page.fill <= 1 for page in pages)


@pytest.mark.parametrize("name", [COVES, "2027-06-long-evening", FERRY, "designs"])
def test_no_page_of_an_odd_kit_is_half_empty_either(name, all_kits, tmp_path_factory):
    worked = make_worked(tmp_path_factory.mktemp("designs"), SEVERAL) if name == "designs" else all_kits[name]
    for edition in EDITIONS:
        pages = workbook_pages(job_of(worked, edition))
        assert all(page.fill >= LEAST_FILL for page in pages[:-1]), [round(page.fill, 2) for page in pages]


def test_many_guides_and_moves_leave_no_page_half_empty(all_kits):
    job = job_of(all_kits[GARDEN])
    parts = [BookPart("strokes", tuple(strokes(job)), fixed=True), BookPart("steps", tuple(steps(job)), fixed=True)]
    pages = filled(parts, job.edition.width, job.edition.height)
    assert len(pages) > 3 and not half_empty(pages)


@pytest.fixture(scope="module")
def file(all_kits) -> bytes:
    return workbook_pdf(all_kits[COVES], "letter")


@pytest.fixture(scope="module")
def said(file) -> list[str]:
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in pypdfium2.PdfDocument(io.BytesIO(file))]


def test_the_fill_is_what_is_measured_in_the_file(file, all_kits):
    edition = EDITIONS["letter"]
    for page, drawn in zip(workbook_pages(job_of(all_kits[COVES])), pypdfium2.PdfDocument(io.BytesIO(file)), strict=True):
        text = drawn.render(scale=1).to_pil().convert("L").crop((0, 0, edition.page[0], edition.page[1] - edition.bottom + 2))
        lowest = text.point(lambda v: 255 if v < 200 else 0).getbbox()[3]
        # A block may end with clear space: a line's descent, a table's margin.
        lined = "Your notes" in drawn.get_textpage().get_text_bounded()
        assert lowest > edition.top + page.used if lined else lowest == pytest.approx(edition.top + page.used, abs=12)


def test_no_page_begins_with_a_line_that_parts_it_from_nothing(file, all_kits):
    edition, lined = EDITIONS["letter"], []
    pages = workbook_pages(job_of(all_kits[COVES]))
    begun = [any(isinstance(b, StrokesRow) and b.over for b in page.blocks[:1]) for page in pages]
    for drawn in pypdfium2.PdfDocument(io.BytesIO(file)):
        text = drawn.render(scale=2).to_pil().convert("L")
        strip = text.crop((round(2 * edition.left), round(2 * edition.top) - 3, round(2 * edition.left) + 100, round(2 * edition.top) + 3))
        lined.append(any(max(strip.crop((0, y, 100, y + 1)).tobytes()) < 250 for y in range(strip.height)))
    assert any(begun) and not any(lined)


def test_the_file_is_small_tagged_and_counts_its_pages(file, said):
    assert len(file) < 250_000
    catalogue = pypdf.PdfReader(io.BytesIO(file)).root_object
    assert catalogue["/MarkInfo"]["/Marked"] and catalogue["/StructTreeRoot"]
    assert all(f"page {i} of {len(said)}" in text for i, text in enumerate(said, 1))


def test_it_repeats_nothing_of_the_two_pages_but_the_labels(said, all_kits):
    worked, text = all_kits[COVES], " ".join(said)
    assert worked.kit.spec.summary not in text
    for repeated in ("What you need", "What you cut", "Cutting guide", "Slack", "Left over:", "A sheet gives", "Line up at"):
        assert repeated not in text
    labels = label_list(job_of(worked))[-1]
    assert [row.cells[0].text for row in labels.rows] == ["A", "B", "S", "M", "Base"]
    assert "Three Coves" in said[0] and "PREVIEW, not released" in said[0]


def test_every_guide_begins_on_a_row_of_its_own_with_its_name_at_every_cut(all_kits):
    worked = all_kits[GARDEN]
    rows = [block for chunk in strokes(job_of(worked)) for block in chunk.blocks if isinstance(block, StrokesRow)]
    names = [[block.plain for block in within([row]) if getattr(block, "plain", "").startswith("Cut")] for row in rows]
    told_of = [(row.over > 0, [name.partition("· ")[2] for name in of_row]) for row, of_row in zip(rows, names)]
    expected = []
    for layout in worked.layouts:
        n = len(layout_steps(worked, layout)) + len(corner_steps(layout.tree))
        each = [layout.name] * n
        expected += [(i == 0, each[i : i + COLUMNS]) for i in range(0, n, COLUMNS)]
    assert told_of == expected and len(worked.layouts) > 2


def test_no_step_is_broken_and_each_has_its_picture(said, all_kits):
    worked = all_kits[COVES]
    job = job_of(worked)
    for i, step in enumerate(steps_of(worked), 1):
        assert beside(job, step, 176, 160), step.title
        (page,) = [text for text in said if f"{i} {step.title}" in text]
        for line in step.lines:
            assert bare(line.partition(": ")[2] or line) in bare(page), line
    assert len(steps(job)) == len(steps_of(worked))


def bare(text: str) -> str:
    return text.replace("\N{FRACTION SLASH}", "/").replace("’", "'").replace(" ", "")


def test_moves_are_numbered_alike_in_words_and_picture(all_kits):
    worked = all_kits[COVES]
    step = next(step for step in steps_of(worked) if step.stage == "build")
    moves = told(step)[1].items
    found = numbered(worked)[""]
    for placed, number in found.items():
        if number:
            assert moves[number - 1].plain.startswith(f"{placed.label} (")
    (scene,) = beside(job_of(worked), step, 176, 160)
    drawn = {text.text for text in scene.texts if text.role == "tag"}
    assert drawn == {str(number) for number in found.values() if number}


@pytest.mark.parametrize("n", [30, 60])
def test_a_long_step_of_her_own_stays_whole_where_a_page_holds_it(make_kit, kit_texts, n):
    lines = [f"Move number {i}: lay it down and press it, then look whether it is straight before the glue takes hold." for i in range(n)]
    steps = "steps:\n  build:\n" + "".join(f"    - '{line}'\n" for line in lines)
    worked = make_kit(FERRY, kit_texts[FERRY] + steps)
    pages = workbook_pages(job_of(worked))
    assert all(LEAST_FILL <= page.fill <= 1 for page in pages[:-1]), [round(page.fill, 2) for page in pages]
    told = [[block.plain for block in within(page.blocks) if isinstance(block, Listed) for block in block.items] for page in pages]
    of_step = [[line for line in page if line.startswith("Move number")] for page in told]
    assert [line for page in of_step for line in page] == lines
    assert (len([page for page in of_step if page]) == 1) is (n == 30)


def test_long_terms_and_many_cautions_leave_no_page_half_empty(make_kit, kit_texts, club_text):
    lines = [f"Caution number {i}: " + "keep the blade away from fingers " * 20 for i in range(1, 31)]
    club = club_text[: club_text.index("terms:")] + "terms: " + "Be kind with these pages. " * 70 + "\ncautions:\n"
    worked = make_kit(FERRY, kit_texts[FERRY], club + "".join(f"  - '{line.strip()}'\n" for line in lines))
    assert not half_empty(workbook_pages(job_of(worked)))
