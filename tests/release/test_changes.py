"""Differences: found on the model, told in a maker's words, graded by what they mean for pieces already cut."""

import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.release.changes import Differences, changes
from kitwright.release.history import copy_now
from kitwright.release.paths import GRADES
from kitwright.release.state import state_of
from kitwright.telling.changes import words
from making import BATCH, CLUB, TWO_PAPERS, changed, make_worked


def made(text: str, notes: str = "", club: str = CLUB):
    return make_worked(Path(tempfile.mkdtemp()), text, notes, club=club)


def differences(one, other) -> Differences:
    return changes(copy_now(one), copy_now(other))


def told(base: str, *pairs: tuple[str, str]) -> list[tuple[str, str]]:
    return worded(differences(made(base), made(changed(base, *pairs))))


def worded(found: Differences) -> list[tuple[str, str]]:
    return [(d.grade, words(d)) for d in found.told]


ALIKE = changed(
    BATCH,
    ("  M:\n", "  C:\n    size: 3-3/4 x 7/8\n    for: lower panel\n    paper: river\n  M:\n"),
    ("    for: low strip\n    paper: river\n    per card: 2", "    for: upper panel\n    paper: river\n    per card: 1"),
    ("    - band\n    - B", "    - band\n    - C"),
    ("6 strips of 7/8 off the top: B", "3 strips of 7/8 off the top: B\n          - 3 strips of 7/8 off the top: C"),
)
"""Two labels of one size, so that only the letter on the guide can be wrong."""


def test_a_label_on_a_guide():
    """The example of the issue: labels differ, sizes and cuts don't."""
    found = told(
        ALIKE,
        (
            "3 strips of 7/8 off the top: B\n          - 3 strips of 7/8 off the top: C",
            "3 strips of 7/8 off the top: C\n          - 3 strips of 7/8 off the top: B",
        ),
    )
    assert found == [
        ("write in", "on sheet 1, River, the nine lower panels are C, not B; sizes and cuts unchanged"),
        ("write in", "on sheet 1, River, the nine upper panels are B, not C; sizes and cuts unchanged"),
    ]


def test_a_label_on_the_card():
    found = told(ALIKE, ("    - A\n    - B\n    - band\n    - C\n", "    - A\n    - C\n    - band\n    - B\n"))
    assert found == [
        ("write in", "on the card, the lower panel is C, not B; its place is unchanged"),
        ("write in", "on the card, the upper panel is B, not C; its place is unchanged"),
    ]


def test_a_label_that_was_renamed_throughout():
    found = told(BATCH, ("  A:\n", "  D:\n"), ("    - A\n", "    - D\n"), ("1-1/4 off the top: A", "1-1/4 off the top: D"))
    assert found == [
        ("write in", "on sheet 1, River, the nine tall strips are D, not A; sizes and cuts unchanged"),
        ("write in", "on the card, the tall strip is D, not A; its place is unchanged"),
    ]


def test_a_new_piece_on_the_card_is_not_told_as_places_that_are_unchanged():
    token = ("  M:\n", "  T:\n    size: 1 x 1/2\n    for: token\n    paper: cream\n  M:\n")
    laid = ("sentiment:\n", "  over:\n    - {piece: T, on: M, left: 1/8, bottom: 1/8}\nsentiment:\n")
    found = differences(made(BATCH), made(changed(BATCH, token, laid)))
    assert ("recut", "T is new: token, 1 × ½ in") in worded(found) and not any("unchanged" in said for _, said in worded(found))
    assert any(path.startswith("front.over") for change in found.besides for path in change.paths)


def test_looks_in_another_order_ask_nothing():
    river, meadow = "    - {name: river, cards: 9}\n", "    - {name: meadow, cards: 9, swap: {river: meadow}}\n"
    order = (river + meadow, meadow + river)
    assert told(TWO_PAPERS, order) == [("cosmetic", "the looks of the batch stand in another order")]
    # With anything else of a look they are compared one by one.
    both = told(TWO_PAPERS, order, ("  border: 1/8", "  border: 1/16"))
    assert any(grade == "write in" for grade, _ in both) and not any("order" in said for _, said in both)


def test_labels_that_were_exchanged_throughout():
    """Every piece is as good as it was: to trim what is called A now would spoil it."""
    one, other = (
        ("  {0}:\n    size: 3-3/4 x 1-1/4\n", "    - {0}\n    - {1}\n    - band\n    - {1}\n", "1-1/4 off the top: {0}"),
        ("  {1}:\n    size: 3-3/4 x 7/8\n", "7/8 off the top: {1}"),
    )
    found = told(BATCH, *((each.format("A", "B"), each.format("B", "A")) for each in (*one, *other)))
    assert found == [
        ("write in", "on sheet 1, River, the nine tall strips are B, not A; sizes and cuts unchanged"),
        ("write in", "on sheet 1, River, the 18 low strips are A, not B; sizes and cuts unchanged"),
        ("write in", "on the card, the tall strip is B, not A; its place is unchanged"),
        ("write in", "on the card, the two low strips are A, not B; their places are unchanged"),
    ]


def test_a_size():
    found = told(BATCH, ("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))
    assert found == [
        ("recut", "B is 3¾ × ¾ in, not 3¾ × ⅞ in: ⅛ in lower; pieces already cut can be trimmed"),
        ("recut", "on sheet 1, River, cuts 13 to 30 are at ¾ in, not ⅞ in"),
    ]
    larger = told(BATCH, ("size: 4 x 5-1/4", "size: 4-1/8 x 5-1/4"))
    assert larger[0] == ("recut", "M is 4⅛ × 5¼ in, not 4 × 5¼ in: ⅛ in wider")


def test_the_base_and_the_score():
    assert ("recut", "the base is 8½ × 5⅜ in, not 8½ × 5½ in: ⅛ in lower; pieces already cut can be trimmed") in told(
        BATCH, ("8-1/2 x 5-1/2", "8-1/2 x 5-3/8")
    )
    assert ("recut", "the base is scored at 4⅛ in, not 4¼ in") in told(BATCH, ("  fold: side", "  fold: side\n  score: 4-1/8"))


def test_counts_and_sheets():
    found = told(BATCH, ("cards: 9", "cards: 18"))
    assert ("recut", "the batch is 18 cards, not 9") in found and ("recut", "the batch takes 2 sheets of River, not 1 sheet") in found
    assert not any("takes 18 A" in words for _, words in found)  # follows from the cards
    fewer = told(BATCH, ("cards: 9", "cards: 6"))
    assert ("write in", "the batch is 6 cards, not 9") in fewer
    more = told(
        BATCH,
        ("    per card: 1\n", "    per card: 2\n"),
        ("    - A\n    - B\n", "    - A\n    - A\n    - B\n"),
        ("3 strips of 1-1/4", "4 strips of 1-1/4"),
        ("  text: thank you\n  size: 2-1/2 x 3/4", "  text: thank you\n  size: 2-1/2 x 1/4"),
    )
    assert ("recut", "the batch takes 18 A from River, not 9") in more


def test_positions():
    found = told(BATCH, ("    - A\n    - B\n    - band\n    - B\n", "    - B\n    - A\n    - band\n    - B\n"))
    assert ("write in", "on the card, A lies 1⅛ in from the top of M, not ⅛ in") in found and {g for g, _ in found} == {"write in"}
    assert ("write in", "on the card, M stands on foam") in told(BATCH, ("    - M\n", "    - {piece: M, raised: yes}\n"))


def test_pieces_that_moved_alike_are_one_change_and_each_is_ringed():
    pair = ("    - B\n    - band\n    - B\n", "    - [B, B]\n    - band\n")
    narrow = ("3-3/4 x 7/8", "1-13/16 x 7/8")
    old = made(changed(BATCH, pair, narrow))
    found = differences(old, made(changed(BATCH, pair, narrow, ("size: 3-3/4 x 1-1/4", "size: 3-3/4 x 1-3/8"))))
    moved = [change for change in found.told if change.kind == "moved" and change.values["label"] == "B"]
    assert [words(change) for change in moved] == ["on the card, both B lie 1⅝ in from the top of M, not 1½ in"]
    assert len(moved[0].old) == len(moved[0].new) == 2


def test_cuts():
    turned = told(
        BATCH,
        (
            "          - 3 strips of 1-1/4 off the top: A\n          - 6 strips of 7/8 off the top: B\n",
            "          - 6 strips of 7/8 off the top: B\n          - 3 strips of 1-1/4 off the top: A\n",
        ),
    )
    assert {g for g, _ in turned} == {"write in"} and all("cuts" in w for _, w in turned)
    more = told(
        BATCH,
        (
            "          - 6 strips of 7/8 off the top: B\n",
            "          - 6 strips of 7/8 off the top: B\n          - one strip of 1/2 off the top:\n              - set the rest aside\n",
        ),
    )
    assert more == [("write in", "on sheet 1, River, the cuts go another way: 33 cuts, not 30; the pieces keep their sizes")]


HALF = (("cards: 9", "cards: 6"), ("    per card: 1\n", "    per card: 3/2\n"))


def test_more_to_a_card_is_told_though_the_batch_takes_as_many():
    """Nine for nine cards, nine for six: the counts agree, and the card does not."""
    found = told(BATCH, *HALF)
    assert ("recut", "a card takes 1½ A, not 1") in found and not [w for _, w in found if "pieces" in w and "something else" in w]


def test_a_sheet_cut_otherwise_is_no_reason_to_cut_again():
    """A smaller batch, whose last sheets `auto` cuts otherwise: what the old copy had cut is good, and more than enough."""
    auto = BATCH.partition("guides:")[0]
    fewer = told(auto, ("cards: 9", "cards: 3"))
    assert any("the cuts go another way" in w for _, w in fewer) and {g for g, _ in fewer} <= {"write in", "cosmetic"}
    # More than the old copy had cut is missing.
    more = worded(differences(made(auto.replace("cards: 9", "cards: 3")), made(auto)))
    assert ("recut", "the batch is 9 cards, not 3") in more


def test_a_piece_that_is_left_over_now():
    """The strokes are the same, and the last strips are kept for later, or were."""
    aside = (
        "          - 6 strips of 7/8 off the top: B\n",
        "          - 6 strips of 7/8 off the top: B\n          - one strip of 7/8 off the top:\n              - set the rest aside\n",
    )
    given = ("          - 6 strips of 7/8 off the top: B\n", "          - 7 strips of 7/8 off the top: B\n")
    one, other = made(changed(BATCH, aside)), made(changed(BATCH, given))
    assert ("recut", "sheet 1, River, gives 9 A and 21 B, not 9 A and 18 B") in worded(differences(one, other))
    assert ("write in", "sheet 1, River, gives 9 A and 18 B, not 9 A and 21 B") in worded(differences(other, one))


def test_papers():
    assert ("recut", "a sheet of River is 12 × 12½ in, not 12 × 12 in") in told(BATCH, ("    size: 12 x 12\n", "    size: 12 x 12-1/2\n"))
    assert told(
        BATCH, ("    front: {look: stripes, colours: [sky, white]}", "    front: {look: stripes, colours: [sky, white], up: top}")
    ) == [("recut", "River is one-way: mind its up")]
    assert told(BATCH, ("    name: River\n", "    name: Stream\n"))[0][0] == "cosmetic"
    assert ("write in", "Cream cardstock is 80 lb cover") in told(
        BATCH, ("    name: Cream cardstock\n", "    name: Cream cardstock\n    weight: 80 lb cover\n")
    )
    swapped = told(
        TWO_PAPERS,
        ("    - A river\n", "    - A meadow\n"),
        ("cards: 9, swap: {river: meadow}", "cards: 9, swap: {river: meadow, meadow: river}"),
    )
    assert any("A is Meadow, not River" in w for _, w in swapped)


def test_a_paper_under_another_key_is_the_same_paper():
    """Readers see names, and never keys; what else changed of it is told as ever."""
    key = (
        ("  river:\n    kind", "  stream:\n    kind"),
        ("for: tall strip\n    paper: river", "for: tall strip\n    paper: stream"),
        ("for: low strip\n    paper: river", "for: low strip\n    paper: stream"),
        ("  - papers: river\n", "  - papers: stream\n"),
    )
    same = ("cosmetic", "River goes by another key in the kit file; nothing else of it changed by that")
    assert told(BATCH, *key) == [same]
    assert told(BATCH, *key, ("cards: 9", "cards: 18"))[0] == ("recut", "the batch is 18 cards, not 9")
    renamed = told(BATCH, *key, ("    name: River\n", "    name: Stream\n"))
    assert ("cosmetic", "the paper River is called Stream") in renamed and {grade for grade, _ in renamed} == {"cosmetic"}


def test_decoration_of_another_name_has_not_moved():
    dot = changed(BATCH, ("sentiment:\n", "decorations:\n  - {name: a dot, size: 1/4 x 1/4, on: band, left: 1/8}\nsentiment:\n"))
    assert told(dot, ("a dot", "a pearl")) == [("write in", "the decoration is told otherwise: see the new sketch")]
    assert ("write in", "the decoration has another place: see the new sketch") in told(dot, ("left: 1/8", "left: 1/4"))


def test_decoration_that_is_gone_and_a_base_of_another_paper():
    dot = changed(
        BATCH, ("sentiment:\n", "decorations:\n  - {name: a dot, size: 1/4 x 1/4, on: band, left: 1/8, thickness: 1/16}\nsentiment:\n")
    )
    assert worded(differences(made(dot), made(BATCH))) == [
        ("write in", "no place is kept for decoration any more"),
        ("write in", "this no longer holds for the post: lumps and stiff parts can cost more"),
    ]
    found = differences(made(BATCH), made(changed(BATCH, ("    paper: white\n  fold", "    paper: cream\n  fold"))))
    assert ("recut", "the batch takes 9 bases from Cream cardstock, not none") in worded(found)
    assert not any("worked out anew" in words for _, words in worded(found))


def test_words():
    assert told(BATCH, ("title: Nine strips", "title: Nine fine strips")) == [
        ("cosmetic", "the kit is called “Nine fine strips”, not “Nine strips”")
    ]
    assert told(BATCH, ("text: thank you", "text: thanks")) == [("cosmetic", "the sentiment reads “thanks”, not “thank you”")]
    assert told(BATCH, ("    for: mat", "    for: dark mat")) == [("cosmetic", "M is called “dark mat”, not “mat”")]
    assert told(BATCH, ("US A2 envelope", "US A6 envelope")) == [("write in", "the envelope is US A6 envelope, not US A2 envelope")]
    assert told(BATCH, ("cards: 9\n", "cards: 9\nsteps:\n  score: Score twice.\n")) == [
        ("write in", "the step “Score and fold the bases” was reworded")
    ]
    notes = differences(made(BATCH, "One."), made(BATCH, "Two."))
    assert worded(notes) == [("cosmetic", "the notes were reworded")]
    care = differences(made(BATCH), made(BATCH, club=CLUB.replace("Keep fingers", "Keep hands")))
    assert worded(care) == [("cosmetic", "the cautions were reworded")]


def test_what_no_comparison_explains_is_told_by_its_key():
    assert told(BATCH, ("cards: 9\n", "cards: 9\narrangements: {mirror: yes}\n")) == [
        ("cosmetic", "“arrangements” of the kit says something else; sizes, cuts and places are unchanged")
    ]


VARIANTS = [BATCH, ALIKE] + [
    changed(BATCH, *pairs)
    for pairs in (
        [("cards: 9", "cards: 6")],
        [("gap: 1/8", "gap: 1/4")],
        [("text: thank you", "text: hi")],
        [("  fold: side", "  fold: side\n  score: 4-1/8")],
        [("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4")],
        [("look: stripes", "look: dots")],
        [("    - A\n    - B\n", "    - B\n    - A\n")],
        [("  size: 2-1/2 x 3/4", "  size: 2-1/2 x 1/2")],
        [("    for: mat\n", "    for: mat\n    may turn: no\n")],
        [("cards: 9\n", "cards: 9\ntags: [a, b]\n")],
        [("    name: White cardstock\n", "    name: White cardstock\n    grain: long\n")],
        [("    name: White cardstock\n", "    name: White cardstock\n    thickness: 0.3 mm\n")],
        [("sentiment:\n", "decorations:\n  - {name: a dot, size: 1/4 x 1/4, on: band, left: 1/8}\nsentiment:\n")],
        [("    - M\n", "    - {piece: M, raised: yes}\n")],
        [("summary: Nine cards from one sheet.", "summary: Nine.")],
        [("  fold: side", "  fold: side\n  inside: M"), ("    for: mat\n", "    for: mat\n    per card: 2\n")],
        [("    size: 4 x 5-1/4\n", "    size: 4 x 5-1/4\n    shape: {rounded: 1/4}\n")],
        [("    size: 12 x 12\n", "    size: 12 x 12\n    sheets: 1\n")],
    )
]
WORKED = [made(v) for v in VARIANTS]


@given(st.integers(0, len(VARIANTS) - 1), st.integers(0, len(VARIANTS) - 1))
def test_two_states_differ_in_words_exactly_when_they_differ(i, j):
    one, other = WORKED[i], WORKED[j]
    found = differences(one, other)
    assert bool(found) == (state_of(one) != state_of(other)), (VARIANTS[i], VARIANTS[j])
    grades = [GRADES.index(d.grade) for d in found.told]
    assert grades == sorted(grades, reverse=True) and len({words(d) for d in found.told}) == len(found.told)


@pytest.mark.parametrize("i", range(1, len(VARIANTS)))
def test_every_difference_from_the_batch_is_told_and_lies_on_what_it_marks(i):
    for a, b in ((WORKED[0], WORKED[i]), (WORKED[i], WORKED[0])):
        found = differences(a, b)
        assert found
        for d in found:
            for worked, marks in ((a, d.old), (b, d.new)):
                for mark in marks:
                    size = worked.layouts[mark.index].sheet if mark.on == "sheet" else worked.faces[mark.index].size
                    assert mark.rects
                    for rect in mark.rects:
                        assert rect.x.inches >= 0 and rect.y.inches >= 0 and rect.right <= size.width and rect.bottom <= size.height


@pytest.mark.parametrize("now, words", [("1", "are at 1, not ⅞"), ("3/4", "are at ¾, not ⅞")])
def test_a_cut_that_moved_is_told_whichever_way(now, words):
    found = [w for _, w in told(BATCH, ("3-3/4 x 7/8", f"3-3/4 x {now}"), ("6 strips of 7/8", f"6 strips of {now}"))]
    assert any("cuts" in w and words in w.replace(" in", "") for w in found), found
