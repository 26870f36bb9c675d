"""Proposed layouts in words: each family as a maker would say it, why one would choose it, what was looked at."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
from kitwright.cutting.tree import Leaf
from kitwright.findings import Note
from kitwright.geometry import Rect
from kitwright.papers import sheet_named
from kitwright.proposing.families import families
from kitwright.proposing.families.family import field_of, kinds
from kitwright.proposing.records import Answer, Counted, Measured, Proposal, Scope, SheetCut, Twin
from kitwright.proposing.usual import CARDS, HABITS
from kitwright.proposing.wish import CardWish, Stock, Wish
from kitwright.telling import proposals as words
from kitwright.telling.layout_names import family as sort_of
from kitwright.telling.layout_names import what
from kitwright.telling.proposals_json import plain_data
from kitwright.units import ZERO, Length, Size, parse_length, parse_size

MEASURED = Measured(Fraction(1, 16), Fraction(4), parse_length("1/4"), 4, 9, True)


def wish(unit: str = "in", fold: str = "side", band: str | None = None) -> Wish:
    habits, (front, envelope) = HABITS[unit], CARDS[unit][2]
    card = CardWish(front, fold, envelope, None, sheet_named("12 x 12"))
    stock = Stock("meadow", "Meadow", sheet_named("8 x 8"), 3)
    return Wish(unit, habits.step, (stock,), 8, (card,), (habits.border,), (habits.gap,), band=parse_length(band, unit) if band else None)


@cache
def some(wished: Wish, family: str) -> tuple[Proposal, ...]:
    """Layouts of a family, from all over it."""
    field = field_of(wished, wished.cards_of[0], wished.borders[0], wished.gaps[0])
    found = []
    for batch in families()[family].batches(field):
        for i in range(0, len(batch), max(1, len(batch) // 2)):
            side = replace(families()[family].side(field, batch, i), cards=8)
            cut = SheetCut((("meadow", 3),), Leaf(Rect.of(parse_size("8 x 8"))))
            found.append(Proposal(len(found) + 1, (side,), kinds(field, batch, i), (cut,), 8, MEASURED))
    return tuple(found)


@pytest.mark.parametrize(
    "family, fold, band, say",
    [
        ("rows", "side", None, {"Three strips and a panel", "Five strips"}),
        ("rows", "side", "1", {"Four strips and a band"}),
        ("columns", "side", None, {"Four upright strips"}),
        ("columns", "side", "1", {"Four upright strips over a band"}),
        ("grid", "side", None, {"A grid of three by three"}),
        ("rows beside a panel", "side", None, {"Four strips under a panel"}),
        ("framed panel", "side", None, {"A panel framed by four strips"}),
        ("wound strips", "side", None, {"Four strips wound round a panel"}),
        ("band across", "side", None, {"A panel with a strip across"}),
        ("bunting", "side", None, {"Three flags in a row over three strips and a band"}),
        ("gate doors", "gate", None, {"Doors of three panels each"}),
    ],
)
def test_what_a_layout_is(family, fold, band, say):
    told = {what(one) for one in some(wish("in", fold, band), family)}
    assert say <= told
    assert all(text[0].isupper() and " a u" not in text and "no " not in text for text in told)


def test_every_family_has_words_and_none_speaks_of_another():
    for name in families():
        assert sort_of(name)[0].isupper() and sort_of(name).casefold() == name


def test_sizes_and_reasons():
    one = some(wish(), "rows")[0]
    assert words.sizes(one, "in")[0].startswith(f"{one.kinds[0].each} A ")
    assert words.reason(one, "in") == "6% left over; four measures; sheets may be ¼ in short; all sheets cut alike"
    bare = replace(one, measured=Measured(Fraction(0), Fraction(0), ZERO, 1, 1, False))
    assert words.reason(bare, "in") == "Nothing left over; one measure; no room for a short sheet"
    # Beside others it says what it is best in, and nothing where most are as good.
    said = words.reason(one, "in", [one, *[replace(one, measured=replace(one.measured, waste=Fraction(1, 10), strokes=99))] * 4])
    assert (
        said == f"Least left over, 6%; four measures; sheets may be ¼ in short; fewest cuts, {one.measured.strokes}; all sheets cut alike"
    )
    assert words.reason(one, "in", [one] * 5) == words.reason(one, "in")
    assert words.part_text(Fraction(1, 1000)) == "under 1%"


def test_near_twins_are_one_line():
    one = some(wish(), "rows")[0]
    assert words.twins(one, "in") == ""
    other = Size(one.kinds[0].size.width, one.kinds[0].size.height + Length(Fraction(1, 8)))
    near = [Twin((("A", Size(other.width, other.height + Length(Fraction(n, 8)))),), MEASURED) for n in range(4)]
    told = words.twins(replace(one, twins=tuple(near)), "in")
    assert told.startswith("Also A ") and told.endswith("; and two more") and told.count("left over") == 2


def answer(*proposals: Proposal, **more) -> Answer:
    wished = wish()
    scope = Scope("rows", wished.cards_of[0], wished.borders[0], wished.gaps[0], 465, True)
    scopes = scope, replace(scope, family="columns", layouts=126), replace(scope, family="grid", layouts=1070, whole=False)
    return Answer(wished, proposals, scopes, Counted(1661, 1500, 580, 312, 20, 1000), **more)


def test_completeness_is_told_of_what_was_decided_and_only_of_that():
    told = words.completeness(answer())
    assert told[0].startswith("Nothing is missing here: all 580 sets of pieces in steps of ⅛ in") and "rows and columns" in told[0]
    assert (
        told[1]
        == "Not every set of pieces of grid was decided: where pieces don’t part evenly among the sheets, a few ways to deal them are tried."
        and "312 tried" in told[-1]
    )
    stopped = words.completeness(answer(stopped=True))
    assert stopped[0].startswith("Ended before") and not any("Nothing is missing" in line for line in stopped)


def test_a_spent_purse_and_a_stop_are_two_things():
    hers, spent = (words.completeness(answer(stopped=True, spent=spent))[0] for spent in (False, True))
    assert "as you asked" in hers and "--kinds" in spent and "as you asked" not in spent
    # What is told to help is what she left open, and nothing that she said.
    one = answer(stopped=True, spent=True)
    for said, there, not_there in (
        ({"cards": None, "families": ()}, "--cards", "--card)"),
        ({"cards": None, "cards_of": one.wish.cards_of * 2}, "one card (--card) and a number of cards (--cards)", "--kinds"),
        ({"families": ("rows",), "kinds": 3}, "--kinds", "--family"),
        ({"families": ("rows",), "kinds": 1}, "all of this.", "--"),
    ):
        line = words.completeness(replace(one, wish=replace(one.wish, **said)))[0]
        assert there in line and not_there not in line, line
    hers, spent = (words.none_found(answer(stopped=True, spent=spent))[0] for spent in (False, True))
    assert hers.startswith("You ended it") and "you" not in spent.casefold()


def test_why_only_a_part_was_looked_at():
    one = answer()
    assert "evenly" in words.completeness(one)[1]
    two = replace(one.wish, stocks=(*one.wish.stocks, Stock("river", "River", sheet_named("6 x 6"), 1)))
    assert "several sizes" in words.completeness(replace(one, wish=two))[1]
    assert words.partly(one) == words.completeness(one)[1:2]
    # A card that is no gate has no doors to miss.
    doors = replace(one.scopes[2], family="gate doors")
    assert "gate doors" not in " ".join(words.completeness(replace(one, scopes=(*one.scopes, doors))))
    assert "two designs" in words.completeness(replace(one, wish=replace(one.wish, designs=2)))[1]


def test_steps_that_were_left_out_are_told_with_the_way_to_have_them():
    one = answer(stopped=True, spent=True)
    open_ = replace(one, wish=replace(one.wish, cards=None, unit="mm", step=Length.mm(1), even=Length.mm(5)))
    told = words.completeness(open_)
    assert "--cards" in told[0] and any("steps of 5 mm" in line and '--grid "1 mm"' in line for line in words.partly(open_))


def test_what_stays_whole_is_told_in_sheets():
    assert words.stays_whole("Meadow", Fraction(1, 2)) == "Half a sheet of Meadow stays whole: the batch needs no more"
    assert words.stays_whole("Meadow", Fraction(3, 2)) == "1½ sheets of Meadow stay whole: the batch needs no more"


def test_an_empty_answer_says_why():
    told = words.none_found(answer(why=(Note("proposing.with-gap", gap=parse_length("1/16"), unit="in"),)))
    assert told[1] == "With a gap of 1⁄16 in they fit: ask for  --gap 1/16"


def test_the_question_in_words():
    told = words.asked(replace(wish(), designs=2, pieces=(3, 5), band=parse_length("1-5/8"), sharing="whole", families=("rows",)))
    assert told.startswith("From 3 sheets of Meadow (8 × 8 in): 8 cards of two designs, 5 × 7 in. Border ⅛ in and gap ⅛ in;")
    for part in ("3–5 pieces a card", "a band of 1⅝ in", "each card is of one paper", "layouts: rows", "15% left over at most"):
        assert part in told


def test_plain_data_is_exact_and_whole():
    one = some(wish(), "rows")[0]
    data = json.loads(json.dumps(plain_data(answer(one))))
    layout = data["layouts"][0]
    assert data["question"]["step"] == "1/8" and layout["waste"] == "1/16" and layout["slack"] == "1/4"
    assert [Fraction(kind["size"]["width"]) for kind in layout["sizes"]] == [kind.size.width.inches for kind in one.kinds]
    assert len(layout["designs"][0]["pieces"]) == len(one.sides[0].spots)
    assert data["looked at"]["candidates"] == 1661 and data["stopped"] is False
