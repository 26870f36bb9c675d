"""Tables of yields: what pages say of a kit, what the planner says when it is asked directly, and never fewer cards from more sheets."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import demo
import pytest
from kitwright.archive.called import call
from kitwright.cutting import yields
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.stock import for_cards, from_sheet
from kitwright.cutting.yields import MOST, Yields, _together, counted
from kitwright.materials import MATERIALS
from kitwright.otherwise.asked import answers_of
from kitwright.otherwise.planned import from_stock, one_way, upright_sheets
from kitwright.otherwise.yields import GroupYields, KitYields, SheetYields, yields_of
from kitwright.release.kept import Unread, read_results, results_text, worked_again
from kitwright.telling.yields import as_data, size_of
from kitwright.units import Length, Size, parse_size
from kitwright.work.batches import alike, counts_of, tables_of
from kitwright.work.worked import Worked
from making import BATCH, changed, make_worked
from several import SEVERAL

AUTO = BATCH[: BATCH.index("guides:\n")]
UP = changed(BATCH, ("colours: [sky, white]}", "colours: [sky, white], up: top}"))
LARGE = changed(AUTO, ("size: 3-3/4 x 1-1/4", "size: 3-3/4 x 7"), ("    - A\n    - B\n    - band", "    - B\n    - band"))


@pytest.fixture(scope="module", params=[BATCH, SEVERAL], ids=["guide", "designs"])
def told(request, tmp_path_factory) -> tuple[Worked, KitYields]:
    worked = make_worked(tmp_path_factory.mktemp("kit"), request.param)
    return worked, yields_of(worked)


def every(found: KitYields) -> list[tuple[GroupYields, SheetYields, Yields]]:
    return [(group, one, table) for group in found.groups for one in group.sheets for table in (one.drawn, one.upright) if table]


def test_each_table_rises_to_the_most_and_is_read_both_ways(told):
    for _, _, table in every(told[1]):
        assert all(a <= b for a, b in pairwise((0, *table.most))) and table.most.index(MOST) == len(table.most) - 1
        for cards in range(1, MOST + 1):
            sheets = table.sheets(cards)
            assert table.cards(sheets) >= cards > table.cards(sheets - Fraction(1, 2))
        assert table.cards(Fraction(0)) == 0 and table.cards(Fraction(9999)) == MOST


def test_the_kits_own_sheet_is_counted_as_its_pages_count_it(told):
    worked, found = told
    for plans, group in zip(alike(worked), found.groups, strict=True):
        counts = counts_of(worked, plans[0])
        own = group.sheets[0]
        assert own.sheet == group.own == plans[0].demand.sheet and own.drawn
        assert [own.drawn.sheets(cards) for cards in range(1, MOST + 1)] == [*counts.sheets] and own.drawn.proved == counts.proved


def test_the_kits_own_batch_is_said_as_elsewhere(told):
    worked, found = told
    cards = worked.kit.spec.cards
    for plans, group in zip(alike(worked), found.groups, strict=True):
        for one in group.sheets[1:]:
            other = from_stock(worked, plans[0], one.name, one.sheet)
            assert (one.drawn is not None) == other.fits and one.misfits == other.misfits
            assert not one.drawn or one.drawn.sheets(cards) == other.sheets
        held = one_way(worked, plans[0])
        if held and group.sheets[0].upright:
            assert group.sheets[0].upright.sheets(cards) == upright_sheets(plans[0], held)


def test_what_is_proved_is_what_the_planner_says_directly(told):
    worked, found = told
    for plans, group in zip(alike(worked), found.groups, strict=True):
        for one in group.sheets[1:]:
            for upright, table in ((False, one.drawn), (True, one.upright)):
                if not table or not table.proved or upright and not group.printed:
                    continue
                for cards in (4,):
                    batch = for_cards(plans[0].demand, cards, worked.kit.spec.cards)
                    assert table.sheets(cards) == plan_paper(from_sheet(batch, "", one.sheet, plan_paper, upright).demand, "").sheets


def test_an_up_never_saves_a_sheet(told):
    for group in told[1].groups:
        for one in group.sheets:
            if one.drawn and one.upright:
                assert all(one.upright.sheets(cards) >= one.drawn.sheets(cards) for cards in range(1, MOST + 1))


def test_a_piece_that_a_sheet_cannot_give_is_named(tmp_path):
    found = yields_of(make_worked(tmp_path, LARGE))
    (river, *_) = found.groups
    six = next(one for one in river.sheets if one.name == "6 × 6 in")
    assert six.drawn is None and [wrong.label for wrong in six.misfits] == ["A"], river.names
    assert all(one.drawn for one in river.sheets if one.name in ("8 × 8 in", "12 × 12 in"))


def test_ways_that_come_to_the_same_are_one(tmp_path):
    river, *_, white = yields_of(make_worked(tmp_path, UP)).groups
    assert river.upright and all(one.drawn is one.upright for one in (*river.sheets, *white.sheets)) and not white.printed


def test_triangles_that_lie_turned_allow_no_up():
    """A demo kit whose triangles are set on their points, and one whose triangles stand."""
    turned, *_ = yields_of(demo.worked("2026-05-on-the-green")).groups
    assert turned.turned == ("T",) and all(one.upright is None and one.drawn for one in turned.sheets)
    assert not any(group.turned for group in yields_of(demo.worked("2026-11-weathervane")).groups)


def test_smaller_batches_help_a_larger_one_that_was_left_early():
    assert _together([1, 2, 4, 5, 5]) == [1, 2, 3, 4, 5] and _together([3, 3, 3, 5]) == [3, 3, 3, 5]


def test_a_purse_that_is_soon_empty_gives_a_sound_table(tmp_path, monkeypatch):
    """Whatever the search still finds: it rises, and gives no more cards than one with more to spend."""
    worked = make_worked(tmp_path, AUTO)
    demand = from_stock(worked, worked.plans[0], "", parse_size("8 x 8")).demand
    full = yields.planned(demand, 9)
    monkeypatch.setattr(yields, "STEPS", 1_000)
    yields._planned.cache_clear()
    poor = yields.planned(demand, 9)
    yields._planned.cache_clear()
    assert all(poor.sheets(cards) >= full.sheets(cards) for cards in range(1, MOST + 1)) and full.proved


def test_a_table_of_what_was_counted_is_that(tmp_path):
    sheets = [Fraction(-(-cards // 7), 2) for cards in range(1, MOST + 1)]
    table = counted(sheets, None)
    assert [table.sheets(cards) for cards in range(1, MOST + 1)] == sheets and table.most[:3] == (7, 14, 21)


# --- as pages are told them ---------------------------------------------------------------------------------


def test_what_pages_are_told_is_the_tables_themselves(told):
    worked, found = told
    script = call("kwYields", as_data(worked)).decode()
    data = json.loads(script.removeprefix("kwYields(").removesuffix(")\n"))
    assert data["cards"] == worked.kit.spec.cards and data["digits"][data["most"]] == "y"
    for said, group in zip(data["groups"], found.groups, strict=True):
        assert said["keys"] == [*group.papers] and [one["own"] for one in said["sheets"] if "own" in one] == [True]
        for one, sheet in zip(said["sheets"], group.sheets, strict=True):
            assert sheet.drawn and one["drawn"] == sheet.drawn.written and one["by"] == ("guide" if sheet.drawn.proved is None else "best")
            assert ("upright" in one) == (said["way"] == "asked" and sheet.upright is not None)


def test_sheets_that_are_sold_are_whole_nanometres():
    for material in MATERIALS.values():
        for _, size in material.sold:
            assert [Length.mm(Fraction(n, 1_000_000)) for n in size_of(size)] == [size.width, size.height]
    assert size_of(Size(Length(Fraction(1, 3)), Length(1))) == [8_466_667, 25_400_000]


# --- kept with a release -----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def released(tmp_path_factory) -> tuple[Worked, str]:
    worked = make_worked(tmp_path_factory.mktemp("released"), BATCH)
    return worked, results_text(worked, tables_of(worked), answers_of(worked))


def test_a_revision_keeps_its_tables_and_nothing_is_planned_again(released, monkeypatch):
    worked, text = released
    told = yields_of(worked)
    monkeypatch.setattr(yields, "_planned", lambda *asked: pytest.fail("planned again"))
    assert yields_of(worked_again(worked.kit, read_results(text))) == told
    old = json.loads(text)
    del old["answers"]["yields"]
    monkeypatch.undo()
    assert yields_of(worked_again(worked.kit, read_results(json.dumps(old)))) == told, "what was published before has none"


def test_tables_are_small(released):
    assert len(json.dumps(json.loads(released[1])["answers"]["yields"], separators=(",", ":"))) < 1_600


@pytest.mark.parametrize("to", ["", "12", "21y", "yy", "-y", "1 y", "z", 5, ["y"], "½y"])
def test_no_other_tables_are_read(released, to):
    worked, text = released
    data = json.loads(text)
    data["answers"]["yields"][0]["most"] = to
    with pytest.raises(Unread):
        worked_again(worked.kit, read_results(json.dumps(data)))


def test_a_design_has_the_tables_of_its_kit(told):
    worked, found = told
    assert all(yields_of(design) is found for design in worked.designs)
    assert yields_of(replace(worked)) == found
