"""The computed facts, in words."""

from fractions import Fraction

import pytest
from kitwright.telling.facts import grain_advice, tables
from kitwright.telling.words import listed, number, sheets_text, spelled
from kitwright.work.desk import grain_runs_along_fold
from making import BATCH, TWO_PAPERS, changed, make_worked


def rows(worked, title):
    return next(t.rows for t in tables(worked) if t.title == title)


def test_every_row_fills_its_columns(tmp_path):
    for i, text in enumerate((BATCH, TWO_PAPERS)):
        for table in tables(make_worked(tmp_path / str(i), text)):
            assert (
                table.title
                and table.rows
                and all(len(row) == len(table.columns) and all(isinstance(c, str) for c in row) for row in table.rows)
            )


def test_the_card(tmp_path):
    facts = dict(rows(make_worked(tmp_path, BATCH), "Card"))
    assert (
        facts["cards"] == "9"
        and facts["finished card"].startswith("4¼ × 5½ in")
        and facts["score"].startswith("4¼ in from the left, side fold")
    )
    assert (
        facts["base, cut"] == "8½ × 5½ in (≈216 × 139.5 mm)" and "US A2 envelope" in facts["envelope"] and "⅛ × ¼ in" in facts["envelope"]
    )
    assert facts["free band"].startswith("3¾ × 1⅝ in") and facts["sentiment"] == "2½ × ¾ in on band"


def test_pieces_and_sheets(tmp_path):
    worked = make_worked(tmp_path, TWO_PAPERS)
    pieces = [(r[0], r[2], r[3]) for r in rows(worked, "Pieces")]
    for row in (
        ("A", "River", "9"),
        ("A", "Meadow", "9"),
        ("B", "River", "18"),
        ("B", "Meadow", "18"),
        ("M", "Cream cardstock", "18"),
        ("base", "White cardstock", "18"),
    ):
        assert row in pieces
    sheets = {r[0]: r[1:3] for r in rows(worked, "Sheets")}
    assert sheets == {
        "River": ("12 × 12 in", "1 sheet"),
        "Meadow": ("12 × 12 in", "1 sheet"),
        "Cream cardstock": ("Letter", "4½ sheets"),
        "White cardstock": ("Letter", "9 sheets"),
    }


def test_the_guide(tmp_path):
    (row,) = [r for r in rows(make_worked(tmp_path, BATCH), "Cutting guides") if r[0] == "River"]
    text = " | ".join(row)
    assert "9 A, 18 B" in text and "¾ in across, 3 in along" in text and "3¾ in, 1¼ in, ⅞ in" in text and "30 cuts" in text


@pytest.mark.parametrize(
    "size, sheet, fold, grain, along",
    [
        ("8-1/2 x 5-1/2", "8-1/2 x 11", "side", "long", True),
        ("8-1/2 x 5-1/2", "8-1/2 x 11", "side", "short", False),
        ("8-1/2 x 5-1/2", "11 x 8-1/2", "side", "long", True),
        ("8-1/2 x 5-1/2", "11 x 8-1/2", "side", "short", False),
        ("5-1/2 x 8-1/2", "8-1/2 x 11", "top", "long", True),
        ("4-1/4 x 11", "8-1/2 x 11", "top", "long", False),
        ("4-1/4 x 11", "8-1/2 x 11", "top", "short", True),
    ],
)
def test_which_way_the_grain_runs(tmp_path, size, sheet, fold, grain, along):
    """Cardstock folds best along its grain (vocabulary of the trade): for a half Letter base the fold runs along the sheet's long side."""
    text = changed(
        BATCH,
        ("size: 8-1/2 x 5-1/2", f"size: {size}"),
        ("fold: side", f"fold: {fold}"),
        ("name: White cardstock\n    size: Letter", f"name: White cardstock\n    size: {sheet}\n    grain: {grain}"),
    )
    worked = make_worked(tmp_path, text)
    layout = next(run.layout for run in worked.plan("white").runs)
    assert grain_runs_along_fold(worked, layout) == along
    assert ("it runs that way" in grain_advice(worked)) == along


def test_grain_that_is_not_known(tmp_path):
    assert "not known" in grain_advice(make_worked(tmp_path, BATCH))


def test_counts_in_words():
    assert [number(n, "card", "cards") for n in (0, 1, 2)] == ["0 cards", "1 card", "2 cards"]
    assert [sheets_text(Fraction(n, 2)) for n in (1, 2, 3, 4)] == ["half a sheet", "1 sheet", "1½ sheets", "2 sheets"]
    assert [listed(w) for w in ([], ["A"], ["A", "B"], ["A", "B", "C"])] == ["", "A", "A and B", "A, B and C"]
    assert [spelled(n) for n in (1, 9, 12, 13)] == ["one", "nine", "twelve", "13"]
