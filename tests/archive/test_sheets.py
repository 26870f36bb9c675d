"""The page of what one sheet gives without any kit: what is kept for it, held against the search and against plain arithmetic."""

from __future__ import annotations

import html
import re
from collections import Counter
from fractions import Fraction
from pathlib import Path

from kitwright.archive.beforehand import addresses, answers
from kitwright.cutting import tree
from kitwright.proposing.beforehand import QUESTIONS, asked
from kitwright.telling.beforehand import TITLE, layout

SMALL = next(one for one in QUESTIONS if (one.sheet, one.unit, one.card) == ("6", "in", 1))


def test_what_is_kept_is_what_the_search_gives():
    """One question asked again: `buildtools/sheets_answered.py` asks them all, where this fails."""
    kept, found = ([(one.cards, one.measured.measures, one.measured.waste) for one in each] for each in (answers()[SMALL], asked(SMALL)))
    assert kept == found and kept


def test_every_layout_comes_out_of_its_sheet_and_adds_up():
    found = answers()
    assert {one.sheet for one, layouts in found.items() if layouts} == {one.sheet for one in QUESTIONS}
    for question, layouts in found.items():
        (stock,), closed = question.wish.stocks, question.wish.cards_of[0].closed
        for one in layouts:
            (side,), (cut,) = one.sides, one.cuts
            sizes = {kind.label: kind.size for kind in one.kinds}
            assert tree.faults(cut.tree, stock.sheet.size, sizes) == []
            each, made = Counter(side.each), tree.yields(cut.tree)
            assert all(made[label] >= n * one.cards for label, n in each.items())
            used = sum((sizes[label].area * n * one.cards for label, n in each.items()), Fraction(0))
            assert one.measured.waste == 1 - used / stock.sheet.size.area
            rects = [spot.rect for spot in side.spots] + ([side.band] if side.band else [])
            left, top = min(rect.x for rect in rects), min(rect.y for rect in rects)
            right, bottom = closed.width - max(r.right for r in rects), closed.height - max(r.bottom for r in rects)
            assert left == top == right == bottom == side.border == question.wish.borders[0]


def test_the_page_tells_them_with_their_pictures(small_site: Path):
    page = (small_site / "sheets.html").read_text(encoding="utf-8")
    shown = [(question, one) for question, layouts in answers().items() for one in layouts]
    assert TITLE in page and page.count("<section data-own") == len(shown)
    assert "No kit stands behind them" in page
    said = re.sub(r"\s+", " ", re.sub(r"<[^>]*>", "", html.unescape(page)))
    for question, one in shown:
        assert layout(question, one).title in said
    pictures = re.findall(r'src="(sheets/[^"]+\.svg)"', page)
    # Each once, and beside every sheet's name a row of its fronts, for either ruler.
    rows = {f"sheets/{one.sheet}-{one.unit}.svg" for one, layouts in answers().items() if layouts}
    assert len(set(pictures)) == len(pictures) == len(shown) + len(rows) == len(shown) + 10 and rows < set(pictures)
    assert all((small_site / each).is_file() for each in pictures)
    finder = (small_site / "paper.html").read_text(encoding="utf-8")
    for sides, part in addresses():
        assert f'id="{part}"' in page and f"{sides}={part}" in finder
