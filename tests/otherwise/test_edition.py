"""A kit's printable for a reader with other sheets: what is said there, and the kit cut from them where its author allows it."""

from __future__ import annotations

import pytest
from kitwright.cutting import auto
from kitwright.errors import UserError
from kitwright.otherwise.asked import answers_of
from kitwright.otherwise.checked import check
from kitwright.otherwise.edition import find, in_edition
from kitwright.printable.job import Job
from kitwright.release.kept import read_results, results_text, worked_again
from kitwright.telling.printed import LONGEST_NOTE, edition_text
from kitwright.units import parse_size
from kitwright.work.cite import notes_of
from kitwright.work.working import work
from making import BATCH, CLUB, changed, make_kit, make_worked

ALLOWED = BATCH + "also from: A4\n"
ISO = changed(
    BATCH, ("    size: Letter\n  white:", "    size: A4\n  white:"), ("White cardstock\n    size: Letter", "White cardstock\n    size: A4")
)
PADS = changed(
    ISO, ("    size: A4\n  white:", "    size: 12 x 12\n  white:"), ("White cardstock\n    size: A4", "White cardstock\n    size: 12 x 12")
)
A4 = parse_size("210 x 297 mm")


def said(worked, sheet: str) -> str:
    note = in_edition(worked, sheet).note
    return ": ".join(edition_text(worked, note)) if note else ""


def test_an_edition_of_the_kits_own_sheet_changes_nothing(tmp_path):
    worked = make_worked(tmp_path, BATCH)
    assert in_edition(worked, "Letter").note is None and in_edition(worked, "Letter").worked is worked


def test_what_a_reader_with_a4_needs_is_said_in_both_units_and_two_lines(tmp_path):
    worked = make_worked(tmp_path, BATCH)
    found = in_edition(worked, "A4")
    assert found.worked is worked and not found.note.follows and not found.note.impossible
    (white,) = found.note.papers
    assert (white.paper, white.typed.name, white.sheet.name, white.own, white.sheets) == (
        "white",
        "Letter",
        "A4",
        worked.cut("white").sheets,
        9,
    )
    assert white.one_base and white.shrinks
    text = said(worked, "A4")
    assert "9 sheets, not 4½" in text and "8¼ × 5½ in (≈209.5 × 139.5 mm)" in text and "guides here are for Letter" in text
    assert len(text) <= LONGEST_NOTE + 2


def test_a_guide_that_gives_its_pieces_from_the_other_sheet_as_it_stands_is_no_change(tmp_path):
    """Cream's mats leave ½ in across and ½ in along: an A4 sheet is 5.9 mm narrower and longer. A second column that takes all the width leaves none."""
    assert [each.paper for each in in_edition(make_worked(tmp_path / "one", BATCH), "A4").note.papers] == ["white"]
    tight = changed(BATCH, ("    size: 4 x 5-1/4\n", "    size: 4-1/4 x 5-1/4\n"))
    assert [each.paper for each in in_edition(make_worked(tmp_path / "two", tight), "A4").note.papers] == ["cream", "white"]
    # On a longer sheet, what was the last of it is too large without one cut more.
    whole = changed(
        BATCH, ("guides:\n", "guides:\n  - papers: cream\n    cuts:\n      - 1 column of 4 off the left:\n          - the rest: M\n")
    )
    whole = changed(whole, ("    size: 4 x 5-1/4\n", "    size: 4 x 11\n"))
    found = in_edition(make_worked(tmp_path / "three", whole), "A4").note
    assert "cream" in [each.paper for each in found.papers]


def test_a_metric_kit_is_told_the_other_way_round_millimetres_first(tmp_path):
    metric = changed(
        ISO, ("cards: 9\n", "cards: 9\nunit: mm\n"), ("8-1/2 x 5-1/2", "8-1/4 in x 5-1/2 in"), ("1/8\n  gap: 1/8", "1/8 in\n  gap: 1/8 in")
    )
    for inches in ("12 x 12", "3-3/4 x 1-1/4", "3-3/4 x 7/8", "4 x 5-1/4", "2-1/2 x 3/4"):
        metric = metric.replace(inches, inches.replace(" x", " in x") + " in")
    metric = metric.replace("of 3-3/4", "of 3-3/4 in").replace("of 1-1/4", "of 1-1/4 in").replace("of 7/8", "of 7/8 in")
    tall = changed(metric, ("4 in x 5-1/4 in", "101.5 x 290"))
    worked = make_worked(tmp_path, tall)
    assert in_edition(worked, "A4").note is None
    text = said(worked, "Letter")
    assert "M is ≈10.5 mm (≈7⁄16 in) too large" in text and "guides here are for A4" in text


def test_other_papers_are_the_same_in_every_edition(tmp_path):
    worked = make_worked(tmp_path, PADS)
    assert in_edition(worked, "A4").note is None and in_edition(worked, "Letter").note is None


def test_what_does_not_come_out_at_all_is_said_with_the_nearest_size(tmp_path):
    tall = changed(ISO, ("    size: 4 x 5-1/4\n", "    size: 4 x 11-1/2\n"))
    worked = make_worked(tmp_path, tall)
    note = in_edition(worked, "Letter").note
    assert note.impossible and not in_edition(worked, "Letter").note.follows
    text = said(worked, "Letter")
    assert "Cream cardstock can’t be Letter: M is ½ in (≈12.5 mm) too large" in text and len(text) <= LONGEST_NOTE + 2


def test_many_papers_with_long_names_still_take_two_lines(tmp_path):
    names = [("Cream cardstock", "Cream cardstock " * 7), ("White cardstock", "White cardstock " * 7), ("4 x 5-1/4", "4-1/4 x 5-1/4")]
    text = said(make_worked(tmp_path, changed(BATCH, *names)), "A4")
    assert len(text) <= LONGEST_NOTE + 2 and "kit’s page" in text and "Letter" in text


# --- cut from it ------------------------------------------------------------------------------------------


def test_where_the_author_allows_it_the_kit_of_that_edition_is_cut_from_its_sheet(tmp_path):
    worked = make_worked(
        tmp_path,
        changed(ALLOWED, ("summary: Nine cards", "summary: Nine cards and [[sheets of white]] for [[cards]]")),
        "[[count of sheets of white]]",
    )
    found = in_edition(worked, "A4")
    assert found.note.follows and {p.paper: (p.demand.sheet, p.sheets) for p in found.worked.plans if p.paper != "river"} == {
        "cream": (A4, worked.cut("cream").sheets),
        "white": (A4, 9),
    }
    # Author's guides of other papers stay, and what is cited follows.
    assert found.worked.cut("river") == worked.cut("river")
    assert "9 sheets" in found.worked.kit.spec.summary and "4½ sheets" in worked.kit.spec.summary
    assert notes_of(found.worked) == "9" and notes_of(worked) == "4½"
    assert [f for f in check(worked) if f.level == "error"] == [] and "9 sheets, not 4½" in said(worked, "A4")
    assert in_edition(worked, "Letter").worked is worked
    job = Job.for_edition(worked, "a4", "full", None)
    assert job.worked is found.worked and job.edition_note is found.note and job.paper("white").size.name == "A4"
    assert Job.for_edition(worked, "letter", "full", None).edition_note is None


def test_how_it_is_cut_is_kept_with_the_answers_and_not_planned_again(tmp_path, monkeypatch):
    kit = make_kit(tmp_path, ALLOWED)
    worked = work(kit)
    text = results_text(worked, None, answers_of(worked))
    plans = in_edition(worked, "A4").worked.plans
    monkeypatch.setattr(auto, "plan_paper", lambda *asked: pytest.fail("planned"))
    monkeypatch.setattr(auto, "count_sheets", lambda *asked: pytest.fail("counted"))
    again = in_edition(worked_again(make_kit(tmp_path / "again", ALLOWED), read_results(text)), "A4").worked.plans
    assert [(p.demand, p.runs) for p in again] == [(p.demand, p.runs) for p in plans]


def test_what_was_kept_before_there_were_editions_is_kept_alike(tmp_path):
    """The key asks more of the planner; without it nothing more is asked, so that old results keep their bytes."""
    plain, more = (answers_of(make_worked(tmp_path / str(i), text)) for i, text in enumerate((BATCH, ALLOWED)))
    assert plain.sheets == more.sheets and more.plans[: len(plain.plans)] == plain.plans and len(more.plans) > len(plain.plans)


@pytest.mark.parametrize("typed", ["A4", "a4", "[A4]", '"A4 "'])
def test_the_sheet_may_be_spelt_as_one_likes(tmp_path, typed):
    assert make_kit(tmp_path, f"{BATCH}also from: {typed}\n").spec.also_from == ("A4",)


@pytest.mark.parametrize("typed", ["A5", "yes", "12 x 12", "[A4, A3]"])
def test_what_is_no_such_sheet_is_one_error(tmp_path, typed):
    with pytest.raises(UserError) as error:
        make_kit(tmp_path, f"{BATCH}also from: {typed}\n")
    assert len(error.value.each) == 1 and "also from" in str(error.value) and "A4" in str(error.value)


def test_a_sheet_that_changes_nothing_and_one_that_gives_no_piece_are_errors(tmp_path):
    (nothing,) = check(make_worked(tmp_path / "same", BATCH + "also from: Letter\n"))[:1]
    assert (nothing.level, nothing.code) == ("error", "editions.nothing-to-change") and "leave Letter out" in nothing.remedy
    tall = changed(ISO, ("    size: 4 x 5-1/4\n", "    size: 4 x 11-1/2\n")) + "also from: Letter\n"
    worked = make_worked(tmp_path / "tall", tall)
    found = list(find(worked))
    assert [f.code for f in found] == ["editions.does-not-fit"] and "M, 4 × 11½ in, is ½ in (≈12.5 mm) too large" in found[0].problem
    # A preview is drawn all the same, as the kit is.
    assert in_edition(worked, "Letter").worked is worked and in_edition(worked, "Letter").note.impossible


def test_what_a_trimmer_could_not_cut_is_found_at_the_line(tmp_path):
    """A4 is 11.69 in long: what an 11 in trimmer cuts off Letter is too long for it there."""
    spec, club = changed(ALLOWED, ("size: 12 x 12", "size: 12 x 11")), changed(CLUB, ("cut length: 12", "cut length: 11"))
    (found,) = (f for f in check(make_worked(tmp_path, spec, club=club)) if f.level == "error")
    assert found.code == "editions.breaks" and found.place.line == BATCH.count("\n") + 1
    assert "cut from A4, it no longer comes out: cut 1 of White cardstock is ≈11 11⁄16 in long, past the trimmer's 11 in" in found.problem
