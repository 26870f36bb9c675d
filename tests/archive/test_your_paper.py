"""A kit on other paper and for other batches: what is shown is what was computed, and rules that are told hold."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path

import pytest
from archive.small import FIRST, SECOND
from archive.tables import tables
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.your_paper import your_paper
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.plan import HALF
from kitwright.cutting.stock import from_sheet
from kitwright.kit.read import read_club, read_kit
from kitwright.materials import MATERIALS
from kitwright.telling.questions import as_json, use_text
from kitwright.telling.slack import short_text
from kitwright.telling.words import sheets_text
from kitwright.telling.your_paper import YourPaper, _ladder
from kitwright.units import VULGAR
from kitwright.work.batches import MOST, Counts, alike, batches, runs
from kitwright.work.leftovers import uses
from kitwright.work.worked import Worked
from kitwright.work.working import work
from making import BATCH, TWO_PAPERS, changed, make_worked

SIX = changed(BATCH, ("cards: 9\n", "cards: 6\n"))
SIX = SIX[: SIX.index("guides:\n")]
"""The batch for six cards: three Letter sheets of bases."""


@pytest.fixture(scope="module", params=[BATCH, TWO_PAPERS, SIX], ids=["batch", "two papers", "six"])
def told(request, tmp_path_factory) -> tuple[Worked, YourPaper, dict[str, bytes]]:
    worked = make_worked(tmp_path_factory.mktemp("kit"), request.param)
    return worked, *your_paper(worked)


def sheets(text: str) -> Fraction:
    """`2½ sheets`, `half a sheet`, `2½`, as a number."""
    if text.startswith("half a sheet"):
        return HALF
    whole, glyph = re.match(r"(\d*)([½]?)", text).groups()
    return Fraction(whole or 0) + VULGAR.get(glyph, 0)


# --- any number of cards ----------------------------------------------------------------------------------


def test_the_full_table_is_what_was_computed(told):
    worked, page, _ = told
    computed, groups = dict(batches(worked)), alike(worked)
    assert [row.first for row in page.rows] == [1, *(row.last + 1 for row in page.rows[:-1])] and page.rows[-1].last == MOST
    for row in page.rows:
        for cards in range(row.first, row.last + 1):
            for said, plans in zip(row.sheets, groups):
                assert {sheets(said)} == {computed[cards][plan.paper] for plan in plans}
    assert [row.own for row in page.rows] == [row.first <= page.cards <= row.last for row in page.rows]
    assert all(a.sheets != b.sheets for a, b in zip(page.rows, page.rows[1:])), "equal rows stand together"


def spread(ladder) -> dict[int, Fraction]:
    """Sheets for every batch that a ladder speaks of, followed as a reader would."""
    found = {}
    for cards, said in ladder.steps:
        first, _, last = re.match(r"(\d+)(–(\d+))?", cards).groups()
        found |= {n: sheets(said) for n in range(int(first), int(last or first) + 1)}
    if ladder.each:
        one, period, many = re.fullmatch(r"(.+) for each card|(\d+) cards (?:a sheet|from (.+))", ladder.each).groups()
        period, each = int(period or 1), sheets(one or many or "1")
        return {n: n // period * each + (found.get(n % period, each) if n % period else 0) for n in range(1, MOST + 1)}
    if ladder.further:
        more, period = re.fullmatch(r"then (.+) more for (?:each card|every (\d+) cards)", ladder.further).groups()
        for n in range(max(found) + 1, MOST + 1):
            found[n] = found[n - int(period or 1)] + sheets(more)
    return found


def test_the_short_rule_gives_every_batch(told):
    worked, page, _ = told
    computed = dict(batches(worked))
    for ladder, plans in zip(page.ladders, alike(worked)):
        followed = spread(ladder)
        assert len(followed) == MOST or not (ladder.each or ladder.further)
        assert all(computed[n][plans[0].paper] == said for n, said in followed.items())
        one = max(n for n in computed if computed[n][plans[0].paper] <= 1)
        assert ladder.one == f"{one} {'card' if one == 1 else 'cards'}"


@pytest.fixture(scope="module")
def batch(tmp_path_factory) -> Worked:
    return make_worked(tmp_path_factory.mktemp("batch"), BATCH)


@tried(60)
@given(steps=st.lists(st.integers(0, 2), min_size=1, max_size=26), first=st.integers(1, 4), proved=st.sampled_from([None, True, False]))
def test_a_rule_is_told_only_where_it_holds(batch, steps, first, proved):
    """Any rising counts, repeating or not: following what is told gives them back."""
    worked = batch
    rises = [first, *(steps * MOST)[: MOST - 1]]
    counts = tuple(Fraction(sum(rises[:n]), 2) for n in range(1, MOST + 1))
    ladder = _ladder(worked, alike(worked)[0], "River", Counts(counts, proved))
    followed = spread(ladder)
    assert all(counts[n - 1] == said for n, said in followed.items()) and (len(followed) == MOST or not ladder.further and not ladder.each)
    assert ("guide" in ladder.by) == (proved is None) and ("there can be" in ladder.by) == (proved is True)


@given(st.lists(st.integers(0, 3), max_size=40))
def test_equal_neighbours_are_one_run(values):
    found = runs(values)
    assert [v for first, last, v in found for _ in range(first, last + 1)] == values
    assert all(a[2] != b[2] and a[1] + 1 == b[0] for a, b in zip(found, found[1:]))


# --- other paper --------------------------------------------------------------------------------------------


def test_every_usual_sheet_is_told_as_the_planner_has_it(told):
    worked, page, _ = told
    for table, kind in zip(page.stock, ("patterned", "cardstock")):
        stock = MATERIALS[kind].sold
        mine = [plans[0] for plans in alike(worked) if worked.kit.papers[plans[0].paper].kind == kind]
        assert [sheet for sheet, _ in table.rows][-len(stock) :] == [name for name, _ in stock] and len(table.columns) == len(mine)
        for sheet, cells in table.rows:
            for plan, (said, remark) in zip(mine, cells):
                size = dict(stock).get(sheet, plan.demand.sheet)
                if size == plan.demand.sheet:
                    assert (said, remark) == (sheets_text(plan.sheets), "this kit’s")
                    continue
                other = from_sheet(plan.demand, sheet, size, plan_paper)
                assert said == (sheets_text(other.plan.sheets) if other.plan else "does not fit")
                if other.plan:
                    assert remark == {True: "more than this kit’s", False: "fewer than this kit’s"}.get(
                        other.plan.sheets > plan.sheets if other.plan.sheets != plan.sheets else None, ""
                    )


def test_three_letter_sheets_become_six_a4(tmp_path):
    """Common practice, no source: 210 mm is less than 215.9, so A4 gives one 8½ × 5½ base, not two; or the card becomes ISO A6."""
    page, _ = your_paper(make_worked(tmp_path, SIX))
    table = page.stock[1]
    white = [i for i, name in enumerate(table.columns) if name.startswith("White")][0]
    rows = {sheet: cells[white][0] for sheet, cells in table.rows}
    assert rows == {"Letter": "3 sheets", "A4": "6 sheets"}
    (note,) = [n for n in table.notes if n.startswith("White cardstock from A4: ")]
    assert "one base, not two, since half of it is 210 × 148.5 mm" in note and "make the card ISO A6, 105 × 148 mm" in note
    a4 = next(fact for fact in page.top if fact.title == "From A4?")
    assert "White cardstock: 6 sheets" in a4.text and "one base, not two" in a4.rule


def test_what_does_not_fit_is_told_with_the_nearest_change(tmp_path):
    wide = changed(
        BATCH,
        ("size: 4 x 5-1/4", "size: 6-1/4 x 6-1/4"),
        ("    name: Cream cardstock\n    size: Letter\n", "    name: Cream\n    size: 12 x 12\n"),
        ("    kind: cardstock\n    name: Cream\n", "    kind: patterned\n    name: Cream\n    front: {look: plain, colours: [cream]}\n"),
    )
    page, data = your_paper(make_worked(tmp_path, wide))
    cream = [i for i, name in enumerate(page.stock[0].columns) if name == "Cream"][0]
    assert dict(page.stock[0].rows)["6 × 6 in"][cream][0] == "does not fit"
    assert any(note == "Cream from 6 × 6 in: does not fit: M is ¼ in too large; at 6 × 6 in it fits." for note in page.stock[0].notes)
    told = json.loads(data["questions.json"])["other paper"]["cream"]
    assert next(row for row in told if row["sheet"] == "6 × 6 in")["does not fit"] == [
        {"label": "M", "too large by": "¼ in", "fits at": "6 × 6 in"}
    ]


# --- short sheets, leftovers, one-way ----------------------------------------------------------------------------


def test_shortfall_and_leftovers_are_those_of_the_guides(told):
    worked, page, _ = told
    assert [
        f"{across} across, {along} along" if {across, along} != {"nothing"} else "nothing: measure the sheet before you cut"
        for _, across, along in page.short
    ] == [short_text(layout.slack, "in") for layout in worked.layouts]
    assert [use for *_, use in page.left] == [use_text(use, "in") for use in uses(worked)]
    patterned = [plans for plans in alike(worked) if worked.kit.papers[plans[0].paper].kind == "patterned"]
    assert len(page.one_way) == len(patterned) > 0 and all(line.endswith(".") for line in page.one_way)


# --- as data, and on the page ------------------------------------------------------------------------------------


def test_the_data_is_what_was_computed(told):
    worked, _, files = told
    assert list(files) == ["questions.json", "yields.js", "batch.js"] and json.loads(files["questions.json"]) == as_json(worked)


def test_the_page_shows_the_table_of_the_data(small_site: Path):
    """What stands on the page and in the file beside it is one and the same, card by card."""
    for kit in (FIRST, SECOND):
        html = (small_site / f"kits/{kit}/your-paper.html").read_text(encoding="utf-8")
        data = json.loads((small_site / f"kits/{kit}/questions.json").read_text(encoding="utf-8"))
        ((head, *rows),) = tables(html, "kw-batches")
        papers = [next(key for key, paper in data["papers"].items() if paper["name"] == name) for name in head[1:]]
        shown = {}
        for cards, *cells in rows:
            first, _, last = cards.partition("–")
            shown |= {n: dict(zip(papers, map(sheets, cells))) for n in range(int(first), int(last or first) + 1)}
        assert shown == {row["cards"]: {paper: Fraction(n) for paper, n in row["sheets"].items()} for row in data["sheets"]}
        for table, stock in zip(tables(html, "kw-table--stock"), ("field", "white")):
            for sheet, cell in table[1:]:
                row = next((r for r in data["other paper"][stock] if r["sheet"] == sheet), None)
                assert sheets(cell) == Fraction(row["sheets"] if row else data["papers"][stock]["sheets"])
        assert re.search(r'href="questions\.json"', html)
        assert re.search(r'href="your-paper\.html"', (small_site / f"kits/{kit}/index.html").read_text(encoding="utf-8"))


def test_a4_on_a_page(small_site: Path):
    """Common practice, no source: the small kit's three bases are one and a half Letter sheets, and three A4."""
    html = (small_site / f"kits/{FIRST}/your-paper.html").read_text(encoding="utf-8")
    assert dict(tables(html, "kw-table--stock")[1][1:]) == {"Letter": "1½ sheets this kit’s", "A4": "3 sheets more than this kit’s"}
    said = re.sub(r"<[^>]+>", "", html)
    assert "one base, not two, since half of it is 210 × 148.5 mm" in said and "ISO A6, 105 × 148 mm" in said


def test_a_past_kit_has_no_such_page(small_site: Path):
    assert len(list(small_site.glob("kits/*/your-paper.html"))) == 2 == len(list(small_site.glob("kits/*/questions.json")))


def test_the_worked_kit_of_the_small_site_is_the_one_shown(small_site: Path):
    folder = small_site.parent / "kits"
    worked = work(read_kit(folder / FIRST, read_club(folder)))
    assert json.loads((small_site / f"kits/{FIRST}/questions.json").read_text(encoding="utf-8")) == as_json(worked)
