"""Corrections through the command, over three revisions and more: every group of copies is told what it has to know, and no other."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from kitwright.cli import cli
from kitwright.kit.model import Anniversaries
from kitwright.kit.theme import Theme
from kitwright.release.errata import errata
from kitwright.release.lookup import table
from kitwright.release.record import released
from kitwright.telling.brief import brief
from kitwright.telling.errata import affected, asked_lines, means
from kitwright.telling.lookup import do, says, table_json
from making import BATCH, CLUB, ID, changed
from release.bench import archive, at, edit, kit_in, people_in

LATER = at("2030-06-01")
LOWER = (("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))
TWO_TALL = (
    ("    per card: 1\n", "    per card: 2\n"),
    ("    - A\n    - B\n", "    - A\n    - A\n    - B\n"),
    ("3 strips of 1-1/4", "4 strips of 1-1/4"),
    ("6 strips of 7/8", "5 strips of 7/8"),
    ("  text: thank you\n  size: 2-1/2 x 3/4", "  text: thank you\n  size: 2-1/2 x 1/4"),
)
"""The count of A was wrong: two to a card, not one."""
FEWER = (("cards: 9", "cards: 6"),)
THICK = (("    name: White cardstock\n", "    name: White cardstock\n    thickness: 0.3 mm\n"),)
TITLE = (("title: Nine strips", "title: Nine fine strips"),)


def back(pairs):
    return tuple((new, old) for old, new in pairs)


def run(kits, *words: str) -> str:
    result = CliRunner().invoke(cli, ["--root", str(kits.parent), *words])
    assert result.exit_code == 0, result.output
    return result.output


@pytest.fixture(autouse=True)
def brisk(quick, monkeypatch):
    """Printables that take no time, and no search for better cuts than the author's own, which nothing here is about."""
    monkeypatch.setattr("kitwright.check.sheets._compared", lambda worked: ())


@pytest.fixture
def kits(tmp_path):
    return released_later(tmp_path, BATCH)


def released_later(tmp_path, text: str):
    return archive(tmp_path, text + "reveal: 2030-01-05 18:00\n", notes="Nine.\n")


def live(kits, *steps, advice: tuple[str, ...] = ()) -> list[str]:
    """Release, and publish each step as a correction; what the command said at each."""
    said = [run(kits, "release", ID, "--as-of", "2030-01-04 12:00")]
    for n, step in enumerate(steps, 1):
        edit(kits, *step)
        given = ("--advice", advice[n - 1]) if n <= len(advice) else ()
        said.append(run(kits, "erratum", ID, *given, "--yes", "--as-of", f"2030-02-{n:02d} 12:00"))
    return said


def asked(kits) -> list:
    """What the code page tells each revision, oldest first."""
    kit = kit_in(kits)
    found = table([kit], kit.club, LATER)
    return [do(found[revision.code.replace("-", "")]) for revision in released(kit)]


def newest(kits):
    kit = kit_in(kits)
    return errata(kit, kit.club, {}, LATER)[0]


def test_a_count_wrong_from_the_first_with_the_batch_changed_in_between(kits):
    """Readers of revision 1 were told that they are fine: the sentence about the count had another number in it."""
    said = live(kits, FEWER, TWO_TALL)
    assert "Revision 1 or PREVIEW: cut again. The batch takes 12 A from River, not 9." in " ".join(said[2].split())
    first, second, third = asked(kits)
    assert first.do.startswith("Stop before you cut") and second.do.startswith("Stop before you cut") and third.do.startswith("Cut along")
    assert "The batch takes 12 A from River, not 9." in first.changes and "The batch is 6 cards, not 9." in first.changes
    assert "The batch takes 12 A from River, not 6." in second.changes and not any("cards" in words for words in second.changes)
    last = newest(kits)
    assert affected(last).startswith("Your copy is affected if it says revision 1 or 2 or PREVIEW")
    told = asked_lines(last)
    assert [line.split(":")[0] for line in told[1:]] == ["Revision 1 or PREVIEW", "Revision 2"] and all(
        "cut again" in line for line in told[1:]
    )
    assert last.revision.record.erratum.affects == {1: "recut", 2: "recut"}


def test_thickness_and_the_number_of_cards_changed_together(kits):
    """Only the number of cards was told."""
    said = live(kits, (*THICK, *FEWER))[1]
    assert "The batch is 6 cards, not 9. (write it in by hand)" in said
    assert "A sheet of White cardstock is 0.0118 in thick. (write it in by hand)" in said
    assert "Besides: " in said and "thickness in the envelope" in said and "adhesive" in said
    recorded = released(kit_in(kits))[1].record.erratum
    assert {c.path for c in recorded.changes} >= {"cards", "papers.white.thickness"} and not any(c.words for c in recorded.changes)
    assert next((c.was, c.now) for c in recorded.changes if c.path == "cards") == ("9", "6")


def test_foam_that_thickens_the_card_is_no_cosmetic_change(tmp_path):
    raised = changed(BATCH, ("    - M\n", "    - {piece: M, raised: yes}\n"), ("  fold: side", "  fold: side\n  foam: 1 mm"))
    kits = released_later(tmp_path, raised)
    said = live(kits, (("foam: 1 mm", "foam: 3 mm"),))[1]
    assert (
        "The foam is 0.118 in (3 mm) thick, not 0.0394 in (1 mm). (write it in by hand)" in said and "In all: write it in by hand." in said
    )
    assert "thickness in the envelope" in said
    assert asked(kits)[0].do.startswith("Write the changes")


def test_a_fault_that_was_changed_back_leaves_the_first_copies_alone(kits):
    live(kits, LOWER, back(LOWER), advice=("Trim the strips.", "Take new strips."))
    first, second, third = asked(kits)
    assert first.do == "Your copy is fine to cut from: the newest says the same." and not first.changes and not first.advice
    assert second.do.startswith("Stop") and second.advice == ("Take new strips.",) and third.do.startswith("Cut along")
    last = newest(kits)
    assert affected(last) == "Your copy is affected if it says revision 2." and last.first == 2
    older = errata(kit_in(kits), kit_in(kits).club, {}, LATER)[1]
    assert affected(older) == "No copy is affected now.", "what it mended was no fault"


def test_advice_that_no_longer_holds_is_not_given(kits):
    """Trimmed to the size of revision 2, a strip is too short for revision 3."""
    other = (("3-3/4 x 3/4", "3-3/4 x 13/16"), ("6 strips of 3/4", "6 strips of 13/16"))
    live(kits, LOWER, other, advice=("Trim the strips to ¾ in.", "Trim them to 13⁄16 in, or cut new ones."))
    first, second, _ = asked(kits)
    assert first.advice == second.advice == ("Trim them to 13⁄16 in, or cut new ones.",)
    assert any("B is 13⁄16" in words.replace("3¾ × ", "") for words in first.changes)


ENVELOPE = (("US A2 envelope", "US A6 envelope"),)


def test_advice_on_what_was_changed_back_is_not_given_though_something_else_stayed(kits):
    """Strips of revision 1 are good again: whoever trims them spoils them. The envelope still has to be written in."""
    live(kits, (*LOWER, *ENVELOPE), back(LOWER), advice=("Trim the strips.", "Take new strips."))
    first, second, _ = asked(kits)
    assert first.do.startswith("Write") and "The envelope is US A6 envelope, not US A2 envelope." in first.changes
    assert first.advice == () and second.advice == ("Take new strips.",)
    older = errata(kit_in(kits), kit_in(kits).club, {}, LATER)[1]
    assert asked_lines(older)[0].startswith("Your copy is affected if it says revision 1 or PREVIEW")
    assert asked_lines(older)[1:] == ["Write the change on your copy by hand, or print the new one."]
    assert (older.grade, older.asks, older.advice) == ("recut", "write in", "")
    assert means(older).startswith("A later revision changed some of this again")


def test_advice_on_a_place_that_was_changed_again_is_not_given(kits):
    """Where the greeting goes is told by the sketch alone, so that two of its places sound alike."""
    small, smaller = ("size: 2-1/2 x 3/4", "size: 2-1/4 x 3/4"), ("size: 2-1/4 x 3/4", "size: 2 x 3/4")
    live(kits, (small,), (smaller,), advice=("Stamp it at 2¼ in.",))
    first, second, _ = asked(kits)
    assert first.advice == () and second.advice == () and first.changes == second.changes


def test_advice_on_an_outline_that_was_changed_again_is_not_given(tmp_path):
    """Another outline is told by the drawing alone; to punch by the last but one would spoil the piece."""
    notch = ("    for: low strip\n", "    for: low strip\n    notch: {made with: square punch, square punch: 1, keeps: tips}\n")
    kits = released_later(tmp_path, changed(BATCH, notch))
    live(kits, (("punch: 1,", "punch: 7/8,"),), (("punch: 7/8,", "punch: 3/4,"),), advice=("Punch again at ⅞ in.", "Punch again at ¾ in."))
    first, second, _ = asked(kits)
    assert first.advice == second.advice == ("Punch again at ¾ in.",)


def test_a_correction_that_was_taken_back_asks_nothing(kits):
    """It said: no copy is affected now; and in the same breath: trim the strips."""
    live(kits, LOWER, back(LOWER), advice=("Trim the strips.",))
    older = errata(kit_in(kits), kit_in(kits).club, {}, LATER)[1]
    assert asked_lines(older) == ["No copy is affected now.", "Nothing need be done."]


def test_advice_that_holds_is_given_to_everybody_whom_it_helps(kits):
    live(kits, LOWER, TITLE, advice=("Trim the strips.",))
    first, second, _ = asked(kits)
    assert first.advice == ("Trim the strips.",) and second.advice == () and second.do.startswith("Your copy is fine")
    assert first.changes[0].startswith("B is") and any("Nine fine strips" in words for words in first.changes)
    told = asked_lines(newest(kits))
    assert told[0].startswith("Your copy is affected if it says revision 1 or PREVIEW")
    assert told[1].startswith("Revision 1 or PREVIEW: cut again. B is") and told[1].endswith("Trim the strips.")
    assert told[2].startswith("Revision 2: nothing to do.")


def test_a_swap_of_labels_and_back_again(tmp_path):
    alike = changed(
        BATCH,
        ("  M:\n", "  C:\n    size: 3-3/4 x 7/8\n    for: lower panel\n    paper: river\n  M:\n"),
        ("    for: low strip\n    paper: river\n    per card: 2", "    for: upper panel\n    paper: river\n    per card: 1"),
        ("    - band\n    - B", "    - band\n    - C"),
        ("6 strips of 7/8 off the top: B", "3 strips of 7/8 off the top: B\n          - 3 strips of 7/8 off the top: C"),
    )
    kits = released_later(tmp_path, alike)
    swap = (("top: B\n          - 3 strips of 7/8 off the top: C", "top: C\n          - 3 strips of 7/8 off the top: B"),)
    live(kits, swap, back(swap))
    first, second, _ = asked(kits)
    assert first.changes == () and second.changes == (
        "On sheet 1, River, the nine upper panels are B, not C; sizes and cuts unchanged.",
        "On sheet 1, River, the nine lower panels are C, not B; sizes and cuts unchanged.",
    )


def test_a_label_renamed_and_resized_at_once(kits):
    live(
        kits,
        (
            ("  A:\n    size: 3-3/4 x 1-1/4", "  D:\n    size: 3-3/4 x 1-1/8"),
            ("    - A\n", "    - D\n"),
            ("3 strips of 1-1/4 off the top: A", "3 strips of 1-1/8 off the top: D"),
        ),
    )
    first, _ = asked(kits)
    assert "D is 3¾ × 1⅛ in, not 3¾ × 1¼ in: ⅛ in lower; pieces already cut can be trimmed." in first.changes
    assert "A is called D now." in first.changes
    assert not any("is new" in words or "any more" in words for words in first.changes)


def test_new_terms_of_the_club_reach_every_copy_and_hurt_none(kits):
    live(kits, TITLE)
    (kits / "club.yaml").write_text(CLUB.replace("For the tests alone.", "For everybody."), encoding="utf-8")
    run(kits, "erratum", ID, "--yes", "--as-of", "2030-03-01 12:00")
    first, second, _ = asked(kits)
    terms = "The terms of use are new: read them before you share the printable."
    assert terms in first.changes and terms in second.changes and "fine to cut from" in first.do
    assert affected(newest(kits)) == "No copy is affected now."


@pytest.mark.parametrize(
    "step, words, grade",
    [
        ((("US A2 envelope", "US A6 envelope"),), "The envelope is US A6 envelope, not US A2 envelope.", "write in"),
        ((("  fold: side", "  fold: side\n  score: 4-3/16"),), "The base is scored at 4 3⁄16 in, not 4¼ in.", "recut"),
        (
            (("    size: Letter\npieces", "    size: Letter\n    sheets: 5\npieces"),),
            "Of White cardstock, 5 sheets are at hand.",
            "write in",
        ),
        ((("    for: mat\n", "    for: dark mat\n"),), "M is called “dark mat”, not “mat”.", "cosmetic"),
    ],
)
def test_each_change_is_told_beside_another_and_to_every_copy(kits, step, words, grade):
    """The title changes at the same time, and the batch before."""
    said = live(kits, FEWER, (*TITLE, *step))[2]
    assert words in said and "The kit is called “Nine fine strips”, not “Nine strips”." in said
    first, second, _ = asked(kits)
    assert words in first.changes and words in second.changes and "The batch is 6 cards, not 9." in first.changes
    grades = newest(kits).revision.record.erratum.affects
    assert grades[2] == grade and grades[1] == max(grade, "write in", key=["cosmetic", "write in", "recut"].index)


def test_notes_alone(kits):
    live(kits, TITLE)
    (kits / ID / "notes.md").write_text("Other words.\n", encoding="utf-8")
    said = run(kits, "erratum", ID, "--yes", "--as-of", "2030-03-01 12:00")
    assert "The notes were reworded. (nothing to do)" in said
    assert "The notes were reworded." in asked(kits)[0].changes


def test_feed_brief_and_table_tell_the_same(kits):
    live(kits, FEWER, TWO_TALL)
    kit = kit_in(kits)
    text = table_json(table([kit], kit.club, LATER))
    data = json.loads(text)["codes"][released(kit)[0].code.replace("-", "")]
    assert data["changes"] == list(asked(kits)[0].changes) and data["see"] == f"errata.html#{ID}-r3"
    assert says(table([kit], kit.club, LATER)[released(kit)[0].code.replace("-", "")]).endswith("Revision 3 replaces it.")
    sent = brief(kit, "viewers", Theme(), people_in(kits), Anniversaries(), LATER, plain=True)
    assert all(line in sent for line in asked_lines(newest(kits)))


def test_advice_outlives_a_guide_that_comes_before_it(kits):
    """A further paper changes the number of every sheet, and nothing about the strips."""
    paper = ("  cream:\n", "  dusk:\n    kind: patterned\n    name: Dusk\n    size: 12 x 12\n  cream:\n")
    piece = ("  M:\n", "  T:\n    size: 1 x 1\n    for: token\n    paper: dusk\n  M:\n")
    laid = ("sentiment:\n", "  over:\n    - {piece: T, on: M, left: 1/8, bottom: 1/8}\nsentiment:\n")
    guide = (
        "guides:\n",
        "guides:\n  - papers: dusk\n    cuts:\n      - 9 strips of 1 off the top:\n          - one column of 1 off the left: T\n",
    )
    live(kits, LOWER, (paper, piece, laid, guide), advice=("Trim the strips.",))
    first, second, _ = asked(kits)
    assert first.advice == ("Trim the strips.",) and second.advice == ()
    assert any("Dusk is new" in words for words in second.changes) and not any("B is" in words for words in second.changes)
    older = errata(kit_in(kits), kit_in(kits).club, {}, LATER)[1]
    assert affected(older).startswith("Your copy is affected if it says revision 1 or PREVIEW")


def test_advice_on_words_outlives_other_words(kits):
    live(kits, TITLE, (("title: Nine fine strips", "title: Nine finest strips"),), advice=("Write “fine” before “strips”.",))
    assert asked(kits)[0].advice == ("Write “fine” before “strips”.",)
