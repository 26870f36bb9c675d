"""A question as it is typed: what it means, what goes without saying, and what is refused before anything is searched."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from kitwright.errors import UserError
from kitwright.kit.model import Club
from kitwright.proposing.asked import read_question
from kitwright.proposing.question import QuestionSpec
from kitwright.units import Length, parse_length, parse_size
from making import in_both_regions

PAPERS = """\
papers:
  meadow: {kind: patterned, name: Meadow stripe, size: 12 x 12, front: {look: leaves, colours: [linen, sage], up: left}}
  tall: {kind: patterned, name: Tall houses, size: 6 x 8, front: {look: houses, up: left}}
  white: {kind: cardstock, name: White cardstock, size: Letter}
"""


@pytest.fixture(scope="module")
def clubs(tmp_path_factory) -> dict[str, Club]:
    return in_both_regions(tmp_path_factory.mktemp("clubs"), PAPERS)


@pytest.fixture
def us(clubs):
    return clubs["us"]


def codes(club: Club, file: Path | None = None, **typed) -> list[str]:
    with pytest.raises(UserError) as told:
        read_question(typed, club, file)
    return [one.code for one in told.value.each]


def test_nothing_but_the_paper(us):
    wish = read_question({"paper": ["8x8"]}, us)
    eighth = parse_length("1/8")
    assert (wish.unit, wish.step, wish.borders, wish.gaps) == ("in", eighth, (eighth,), (eighth,))
    assert wish.stocks[0].sheets == 1 and wish.cards is None and wish.waste == Fraction(15, 100)
    # A2, A6, A7 and a square: common practice, no source.
    assert [str(card.closed) for card in wish.cards_of] == ["4¼ × 5½ in", "4½ × 6¼ in", "5 × 7 in", "5¼ × 5¼ in"]
    assert all(card.envelope and card.cardstock.name == "Letter" for card in wish.cards_of)


def test_a_metric_club_thinks_in_millimetres(clubs):
    wish = read_question({"paper": ["2 of A4 one-way"], "cards": "8"}, clubs["metric"])
    assert wish.unit == "mm" and wish.step == Length.mm(1) and wish.borders == (Length.mm(3),)
    assert wish.stocks[0].one_way and wish.cards_of[0].closed == parse_size("105 x 148 mm") and wish.cards_of[0].cardstock.name == "A4"


def test_every_millimetre_is_looked_at_where_a_card_or_the_steps_are_named(clubs):
    asked = {"paper": ["5 of A4"]}
    assert read_question(asked, clubs["metric"]).even == Length.mm(5) and read_question(asked, clubs["us"]).even is None
    for named in ({"card": "105 x 148"}, {"grid": "mm"}, {"envelope": "ISO C6 envelope"}):
        assert read_question({**asked, **named}, clubs["metric"]).even is None


@pytest.mark.parametrize(
    "typed, unit",
    [
        ({"paper": ["150 x 150 mm"]}, "mm"),
        ({"paper": ["2 of 15 x 15 cm"], "card": "105 x 148"}, "mm"),
        ({"paper": ["8 x 8 in"], "grid": "mm"}, "mm"),
        ({"paper": ["150 x 150 mm"], "card": "4 x 5 in"}, "in"),
        ({"paper": ["A4"], "card": "ISO A6"}, "mm"),
        ({"paper": ["A4"], "envelope": "ISO C6 envelope"}, "mm"),
        ({"paper": ["A4"], "card": "5x7"}, "in"),
        ({"paper": ["8x8"], "grid": "mm", "card": "105 x 148 mm", "unit": "mm"}, None),
        ({"paper": ['12" x 12"'], "card": "5x7"}, "in"),
    ],
)
def test_the_unit_is_the_clubs_unless_a_measure_says_another(us, typed, unit):
    if unit is None:
        assert codes(us, **typed) == ["proposing.tiny-sheet"]
    else:
        assert read_question(typed, us).unit == unit


@pytest.mark.parametrize(
    "text, sheets, size, one_way, name",
    [
        ("3 of 8x8", 3, "8 x 8", False, "Blossoms"),
        ("2 of 12 x 12 one-way", 2, "12 x 12", True, "Leaves"),
        ("2 sheets of 12 x 12 one way as Rain", 2, "12 x 12", True, "Rain"),
        ("1 of Letter as Meadow one-way", 1, "8-1/2 x 11", True, "Meadow"),
        ("letter", 1, "8-1/2 x 11", False, "Blossoms"),
        ("2 of meadow", 2, "12 x 12", True, "Meadow stripe"),
        ("tall houses", 1, "8 x 6", True, "Tall houses"),
        ("4 of tall as Street", 4, "8 x 6", True, "Street"),
    ],
)
def test_sheets_as_they_are_typed(us, text, sheets, size, one_way, name):
    stock = read_question({"paper": [text], "card": "4 x 5"}, us).stocks[0]
    assert (stock.sheets, stock.sheet.size, stock.one_way, stock.name) == (sheets, parse_size(size), one_way, name)
    # The sheet lies with its up at the top, and its look says so.
    assert stock.face is None or stock.face.up == "top"


def test_scraps_as_wide_as_a_front_within_its_border_are_sheets_too(us):
    asked = {"paper": ["5 of 4 x 12"], "card": "4-1/4 x 5-1/2", "cards": "10"}
    assert read_question(asked, us).stocks[0].sheets == 5
    assert codes(us, **asked, border="1/16") == ["proposing.card-past-every-sheet"]


def test_every_paper_has_a_short_name_of_its_own(us):
    wish = read_question({"paper": ["8x8", "2 of 8x8", "meadow", "6x6 as Meadow", "6x6 as 3 Ships"], "card": "4x5"}, us)
    keys = [stock.key for stock in wish.stocks]
    assert keys == ["paper-1", "paper-2", "meadow", "meadow-2", "paper-3-ships"] and len(set(keys)) == len(keys)
    named = read_question({"paper": ["6x6 as Café crème", "6x6 as Луг"], "card": "4x5"}, us)
    assert [stock.key for stock in named.stocks] == ["cafe-creme", "paper"]


def test_a_file_says_the_same_as_options_and_an_option_stands_over_it(us, tmp_path):
    file = tmp_path / "question.yaml"
    file.write_text(
        "paper:\n  - 2 of 8x8\n  - meadow\ncard: 4 x 5-1/4\ncards: 8\nfold: top\npieces: 3-5\nkinds: 2\nborder: 1/8, 3/16\ngap: [0, 1/8]\n"
        "band: 1-5/8\ngrid: 1/16\npunch: 2 x 2\nshare: yes\nwaste: 10%\nslack: 1/4\nmat: 1/8\ncardstock: 12 x 12\ndesigns: 2\n"
    )
    options = {
        "paper": ["2 of 8x8", "meadow"],
        "card": ["4x5 1/4"],
        "cards": "8",
        "fold": "top",
        "pieces": "3–5",
        "kinds": "2",
        "border": "1/8,3/16",
        "gap": "0, 1/8",
        "band": "1 5/8",
        "grid": "1/16",
        "punch": ["2x2"],
        "share": "yes",
        "waste": "10 %",
        "slack": "1/4",
        "mat": "1/8",
        "cardstock": "12x12",
        "designs": "2",
    }
    assert read_question({}, us, file) == read_question(options, us)
    assert read_question({"cards": "6", "fold": "side"}, us, file).cards == 6
    assert set(options) < set(QuestionSpec.model_fields)


def test_a_slip_in_the_file_has_its_line_and_one_on_the_command_line_has_none(us, tmp_path):
    file = tmp_path / "question.yaml"
    file.write_text("paper: 8x8\ncrads: 8\nborder: wide\n")
    with pytest.raises(UserError) as told:
        read_question({"gap": "narrow"}, us, file)
    placed = {one.code: one.place for one in told.value.each}
    assert placed["spec.misspelt"].line == 2 and placed["lengths.unreadable"] is not None
    assert {one.place.line for one in told.value.each if one.place} == {2, 3, None}
    assert next(one for one in told.value.each if one.code == "spec.misspelt").values["near"] == "cards"


@pytest.mark.parametrize(
    "typed, code",
    [
        ({}, "no-paper"),
        ({"paper": ["0 of 8x8"]}, "no-sheet"),
        ({"paper": ["medow"]}, "no-such-paper"),
        ({"paper": ["white"]}, "not-patterned"),
        ({"paper": ["1000 of 12x12"]}, "too-many-sheets"),
        ({"paper": ["1/2 x 1/2"]}, "tiny-sheet"),
        ({"paper": ["8x8"], "card": "1x1"}, "tiny-card"),
        ({"paper": ["8x8"], "card": "A2"}, "which-card"),
        ({"paper": ["8x8"], "envelope": "5 x 9"}, "no-usual-front"),
        ({"paper": ["8x8"], "pieces": "many"}, "no-range"),
        ({"paper": ["8x8"], "pieces": "5-3"}, "range-reversed"),
        ({"paper": ["8x8"], "pieces": "0-3"}, "no-piece"),
        ({"paper": ["8x8"], "pieces": "900"}, "too-many-pieces"),
        ({"paper": ["8x8"], "waste": "0.1"}, "no-part"),
        ({"paper": ["8x8"], "waste": "100%"}, "whole-part"),
        ({"paper": ["8x8"], "family": "spirals"}, "no-such-family"),
        # Contradictions, two by two.
        ({"paper": ["6x6"], "card": "5x7", "cardstock": "12x12"}, "card-past-every-sheet"),
        ({"paper": ["12x12"], "card": "8x8"}, "base-past-the-cardstock"),
        ({"paper": ["8x8"], "card": "5x7", "envelope": "US A2 envelope"}, "card-past-the-envelope"),
        ({"paper": ["8x8"], "card": "4x5", "mat": "2"}, "mat-past-the-card"),
        ({"paper": ["8x8"], "card": "4x5", "border": "2"}, "border-past-the-card"),
        ({"paper": ["8x8"], "card": "4x5", "band": "4-3/4"}, "band-past-the-front"),
        ({"paper": ["8x8"], "card": "4x5", "gap": "5"}, "gap-past-the-card"),
        ({"paper": ["8x8"], "card": "4x5", "grid": "4"}, "step-past-the-card"),
        ({"paper": ["8x8"], "grid": "1/32"}, "finer-than-the-ruler"),
        ({"paper": ["150 x 150 mm"], "card": "105 x 148 mm", "grid": "0.25"}, "finer-than-the-ruler"),
        ({"paper": ["6x6"], "slack": "6"}, "slack-past-the-sheet"),
        ({"paper": ["8x8"], "pieces": "1-2", "kinds": "3"}, "kinds-past-the-pieces"),
        ({"paper": ["8x8"], "cards": "1", "designs": "2"}, "odd-cards-of-two-designs"),
        ({"paper": ["2 of 12x12"], "cards": "7", "designs": "2"}, "odd-cards-of-two-designs"),
        ({"paper": ["8x8", "8x8"], "share": "yes", "whole": "yes"}, "share-and-whole"),
        ({"paper": ["8x8"], "share": "yes"}, "share-of-one-paper"),
        ({"paper": ["8x8", "8x8", "8x8"], "whole": "yes", "cards": "2"}, "whole-past-the-cards"),
        ({"paper": ["6x6"], "punch": ["5-7/8 x 5-7/8"]}, "blank-past-every-sheet"),
        ({"paper": ["12x12"], "card": "4x5", "die": ["4 x 4"]}, "punch-past-the-card"),
        ({"paper": ["12x12"], "punch": ["2-1/16 x 2"]}, "punch-off-the-grid"),
        ({"paper": ["12x12"], "card": "5x7", "cards": "200"}, "cards-past-the-paper"),
        ({"paper": ["12x12"], "border": "0,1/16,1/8,3/16,1/4", "gap": "0,1/16,1/8"}, "too-many-ranges"),
        (
            {"paper": ["12x12"], "card": "5x7", "grid": "1/16", "kinds": "5", "border": "1/16,1/8,3/16,1/4", "gap": "0,1/16,1/8,3/16"},
            "too-many-layouts",
        ),
    ],
)
def test_what_is_refused_at_once(us, typed, code):
    assert codes(us, **typed) == [f"proposing.{code}"]


def test_all_that_contradicts_is_told_in_one_run(us):
    found = codes(us, paper=["6x6"], card="5x5", slack="7", share="yes", cards="1", designs="2", grid="1/32")
    assert {code.partition(".")[2] for code in found} == {
        "slack-past-the-sheet",
        "share-of-one-paper",
        "odd-cards-of-two-designs",
        "finer-than-the-ruler",
    }


def test_how_much_paper_is_lacking_is_told_in_sheets(us):
    """Nine fronts of 5 × 7, half covered but for a band of 1 × 4¾, take 136⅛ square inches, and a sheet of 10 × 12 has 120."""
    with pytest.raises(UserError) as told:
        read_question({"paper": ["10 x 12"], "card": "5x7", "cards": "9"}, us)
    assert told.value.values["takes"] == Fraction(1089, 8 * 120) and told.value.values["most"] == 7
    assert "9 cards take 1¼ sheets of 10 × 12 in" in told.value.problem and "7 cards" in told.value.remedy
