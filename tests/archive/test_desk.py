"""The desk beside each guide: the whole instruction, the sheet in hand, another order, and why no fewer sheets."""

from __future__ import annotations

import html
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from archive.small import FIRST
from making import BATCH, TWO_PAPERS, make_worked

from kitwright.archive.desk import desks_of
from kitwright.cutplan import layout_steps, verdict
from kitwright.cutting.instructions import step_text
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import Leaf, Split
from kitwright.geometry import Rect
from kitwright.kit.read import read_club, read_kit
from kitwright.units import ZERO, Length, length_text
from kitwright.worked import Worked, work


@pytest.fixture(scope="module")
def batch(tmp_path_factory) -> Worked:
    return make_worked(tmp_path_factory.mktemp("batch"), BATCH)


def test_every_step_is_told_whole_and_drawn(batch):
    desks, files = desks_of(batch)
    assert len(desks) == len(batch.layouts)
    for desk, layout in zip(desks, batch.layouts):
        steps = layout_steps(batch, layout)
        assert [row.words for row in desk.rows] == [step_text(step, "in") for step in steps]
        assert [row.first for row in desk.rows] == [length_text(step.measure, "in") for step in steps]
        numbers = [n for row in desk.rows for first, _, last in [row.cuts.partition("–")] for n in range(int(first), int(last or first) + 1)]
        assert numbers == [cut.number for cut in layout.cuts]
        for row in desk.rows:
            drawn = ElementTree.fromstring(files[row.picture.src])
            assert drawn.find("{http://www.w3.org/2000/svg}desc").text == row.picture.alt
            assert len(files[row.picture.src]) < 12_000, "small enough to stand beside every step"
    assert set(files) == {row.picture.src for desk in desks for row in desk.rows}


def test_the_page_shows_them_in_order(small_site: Path):
    folder = small_site.parent / "kits"
    worked = work(read_kit(folder / FIRST, read_club(folder)))
    page = (small_site / f"kits/{FIRST}/index.html").read_text(encoding="utf-8")
    shown = [html.unescape(re.sub(r"<[^>]+>", "", words)) for words in re.findall(r'<p class="kw-words">(.*?)</p>', page)]
    assert shown == [" ".join(row.words.split()) for desk in desks_of(worked)[0] for row in desk.rows]
    pictures = re.findall(r'<img class="kw-hand" src="([^"]+)"', page)
    assert len(pictures) == len(shown) and all((small_site / f"kits/{FIRST}" / name).is_file() for name in pictures)


# --- another order ----------------------------------------------------------------------------------------------

def two_columns() -> Layout:
    """One column of strips that are cut again, one of a single piece: finishing the first before the second costs nothing."""
    first = Rect(ZERO, ZERO, Length(4), Length(12))
    strips = tuple(Split(Rect(ZERO, Length(3 * i), Length(4), Length(3)), "x", (
        Leaf(Rect(ZERO, Length(3 * i), Length(2), Length(3)), "A"), Leaf(Rect(Length(2), Length(3 * i), Length(2), Length(3)), "A")), "left")
        for i in range(4))
    second = Rect(Length(4), ZERO, Length(8), Length(12))
    parts = (Leaf(Rect(Length(4), ZERO, Length(8), Length(7)), "B"), Leaf(Rect(Length(4), Length(7), Length(8), Length(5))))
    return Layout("Two", ("river",), Split(Rect(ZERO, ZERO, Length(12), Length(12)), "x", (
        Split(first, "y", strips, "top"), Split(second, "y", parts, "top")), "left"), "author", 0)


def test_an_order_that_costs_nothing_is_offered_with_its_own_steps(batch):
    (desk,), _ = desks_of(replace(batch, layouts=(two_columns(),)))
    (other,) = desk.others
    assert other.question.endswith("?") and len(other.steps) == len(desk.rows) and list(other.steps) != [row.words for row in desk.rows]
    marks = [re.search(r" at (\S+ in)", words)[1] for words in other.steps]
    assert marks == ["4 in", "3 in", "2 in", "7 in"] and [row.first for row in desk.rows] == ["4 in", "3 in", "7 in", "2 in"]


def test_none_is_offered_where_the_strokes_come_in_the_same_order(batch):
    assert all(desk.others == () for desk in desks_of(batch)[0])


# --- why no fewer sheets --------------------------------------------------------------------------------------------

def test_the_batch_by_hand(batch):
    """Nine A of 3¾ × 1¼ and eighteen B of 3¾ × ⅞ cover 101¼ sq in; half of 12 × 12 has 72."""
    told = verdict(batch, batch.layouts[0])
    assert told.lead == "Nobody could cut the batch from fewer than 1 sheet."
    assert told.why == "The pieces cover 101¼ sq in, and half a sheet has 72 sq in."
    assert told.beside.startswith("The guide is its author’s own, and the best plan found is no shorter") and told.levels == ()


def test_what_is_proved_and_what_is_best_found_is_told_apart(batch):
    for layout in batch.layouts[1:]:
        plan, told = batch.plan(layout.papers[0]), verdict(batch, layout)
        assert told.lead.startswith("Nobody could") == next(p.proved for p in plan.proof if p.level == "sheets")
        assert [proved for _, proved, _ in told.levels] == [p.proved for p in plan.proof if p.level != "sheets"]


def test_a_guide_that_takes_more_sheets_than_needed_says_so(tmp_path):
    text = BATCH[:BATCH.index("guides:\n")] + (
        "guides:\n  - papers: river\n    cuts:\n      - 2 columns of 3-3/4 off the left:\n"
        "          - 3 strips of 1-1/4 off the top: A\n          - 6 strips of 7/8 off the top: B\n")
    worked = make_worked(tmp_path, text)
    told = verdict(worked, worked.layouts[0])
    assert told.lead == "1 sheet would do, cut another way, and no fewer." and "The plan that takes less needs" in told.beside


def test_two_guides_of_one_paper_say_it_once(batch):
    desks, _ = desks_of(replace(batch, layouts=(batch.layouts[0], batch.layouts[0])))
    assert desks[0].verdict is not None and desks[1].verdict is None


def test_papers_cut_alike_are_counted_each(tmp_path):
    worked = make_worked(tmp_path, TWO_PAPERS)
    assert verdict(worked, worked.layouts[0]).lead == "Nobody could cut the batch from fewer than 1 sheet of each."
