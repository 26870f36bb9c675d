"""A question in as many spellings as people have: each is read as it is meant, or refused once with what could be.

One table for the command line and a file; what a text says doesn't go by where it stands. The spellings are common
practice, no source; names of sheets are those of ISO 216 and ANSI/ASME Y14.1.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from kitwright.errors import UserError
from kitwright.kit.model import Club
from kitwright.proposing.asked import read_question
from kitwright.proposing.paper_typed import SheetsOf, sheets_typed
from kitwright.proposing.question import QuestionSpec
from kitwright.units import Size, parse_size
from making import in_both_regions

PAPERS = """\
papers:
  meadow: {kind: patterned, name: Meadow stripe, size: 12 x 12 in, front: {look: leaves, colours: [linen, sage], up: left}}
  no-7: {kind: patterned, name: Number 7, size: 6 x 8 in, front: {look: dots, colours: [linen, sage]}}
  street: {kind: patterned, name: One way street, size: 6 x 8 in, front: {look: dots, colours: [linen, sage]}}
  birds: {kind: patterned, name: 2 birds, size: 8 x 8 in, front: {look: dots, colours: [linen, sage]}}
"""


@pytest.fixture(scope="module")
def clubs(tmp_path_factory) -> dict[str, Club]:
    return in_both_regions(tmp_path_factory.mktemp("clubs"), PAPERS)


Sheets = list[tuple[int, str, str]]
"""How many of which size, and `>` where one-way."""

TWO_A4: Sheets = [(2, "210 x 297 mm", "")]
PAPER: dict[str, list[tuple[str, Sheets]]] = {
    "us": [
        *((text, TWO_A4) for text in ("2 A4", "2xA4", "2 x a4", "2 × A4", "A4 x 2", "A4x2", "2*A4", "two of A4", "two A4", "2 sheets A4")),
        *((text, TWO_A4) for text in ("2 sheets of A4 paper", "A4 (2)", "A4, 2 sheets", "a pair of A4", '"2 of A4"', "  2   of\tA4 ")),
        *(
            (text, [(1, "210 x 297 mm", ">")])
            for text in ("a4 oneway", "A4, one way", "one-way A4", "A4 (one-way)", "1-way A4", "directional A4", "A4, directional")
        ),
        *((text, [(1, "210 x 297 mm", "")]) for text in ("A4", "A4 paper", "a sheet of A4", "of A4", "21,0x29,7 cm", "210 by 297 mm")),
        *(
            (text, [(3, "8 x 8", "")])
            for text in (
                "3 of 8x8",
                "8x8 x3",
                "8x8 (3)",
                "3x 8x8",
                "3 x 8in x 8in",
                "3 sheets 8*8",
                "three 8x8",
                "three 8x8s",
                "8x8s x 3",
                "8x8, three sheets",
            )
        ),
        *((text, [(2, "12 x 12", "")]) for text in ("2 of 12 inch square", '2 of 12" square', "2 of 12-inch square", "2 12x12")),
        *((text, [(2, "8 x 8", ""), (1, "6 x 6", "")]) for text in ("2 of 8x8in, 1 of 6x6 in", "2 of 8x8 and 1 of 6x6", "2x 8x8; 6x6")),
        ("2 of 8x8, one way, 3 of 6x6", [(2, "8 x 8", ">"), (3, "6 x 6", "")]),
        ("3 of US Letter", [(3, "8-1/2 x 11", "")]),
        ("2 letter-sized sheets", [(2, "8-1/2 x 11", "")]),
        ("2 of 8,5x11", [(2, "8-1/2 x 11", "")]),
        ("3 1/2 x 8", [(1, "3-1/2 x 8", "")]),
        ("8½ x 11 x 2", [(2, "8-1/2 x 11", "")]),
        ("a dozen A5", [(12, "148 x 210 mm", "")]),
        # Papers of the club, with numbers and ways in their names.
        ("3 of 2 birds", [(3, "8 x 8", "")]),
        ("2 no-7", [(2, "6 x 8", "")]),
        ("number 7 x 2", [(2, "6 x 8", "")]),
        ("one way street", [(1, "6 x 8", "")]),
        ("2 of meadow and 1 of no-7", [(2, "12 x 12", ">"), (1, "6 x 8", "")]),
    ],
    "metric": [
        *((text, [(3, "210 x 297 mm", "")]) for text in ("3 x 210 x 297 mm", "3 of 210x297", "3 A4", "210 × 297 (3)", "3 of 21 x 29.7 cm")),
        ("3 of 12x12 in", [(3, "12 x 12", "")]),
        ("2 of 305 x 305, one way", [(2, "305 x 305 mm", ">")]),
    ],
}


SMALL = {"us": "3 x 4 in", "metric": "75 x 100 mm"}
"""A card that any of the sheets is large enough for."""


def said(text: str, club: Club) -> Sheets:
    """What a text of sheets says, each with the size in which it is known."""
    found = read_question({"paper": [text], "card": SMALL[club.region]}, club).stocks
    return [(one.sheets, one.sheet.size, ">" if one.one_way else "") for one in found]


def meant(sheets: Sheets) -> list[tuple[int, Any, str]]:
    return [(n, parse_size(size), way) for n, size, way in sheets]


@pytest.mark.parametrize(("region", "text", "sheets"), [(region, *one) for region, some in PAPER.items() for one in some])
def test_paper_is_read_as_it_is_typed(clubs, region: str, text: str, sheets: Sheets):
    lying = [(n, frozenset((size.width, size.height)), way) for n, size, way in said(text, clubs[region])]
    assert lying == [(n, frozenset((size.width, size.height)), way) for n, size, way in meant(sheets)]


Ways = tuple[tuple[tuple[int, str], ...], ...]


@pytest.mark.parametrize(
    ("text", "ways"),
    [
        ("3 8x8", (((3, "8x8"),), ((1, "38x8"),))),
        ("3 x 8 x 8", (((3, "8 x 8"),), ((8, "3 x 8"),))),
        ("8x8x3", (((8, "8x3"),), ((3, "8x8"),))),
        ("2 birds", (((1, "2 birds"),), ((2, "birds"),))),
        ("3 8 1/2 x 11", (((3, "8 1/2 x 11"),), ((1, "38 1/2 x 11"),))),
    ],
)
def test_what_may_mean_two_things_is_refused_with_both(clubs, text: str, ways: Ways):
    with pytest.raises(UserError) as told:
        read_question({"paper": [text]}, clubs["us"])
    (one,) = told.value.each
    assert (one.code, set(one.values["ways"])) == ("proposing.sheets-two-ways", set(ways))
    # Each of them is read, and as that.
    for way in ways:
        written = " and ".join(f"{n} of {sheet}" for n, sheet in way)
        assert written in one.remedy and [n for n, *_ in said(written, clubs["us"])] == [n for n, _ in way]


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("2A4", ((2, "A4"),)),
        ("A4 2", ((2, "A4"),)),
        ("3: A4", ((3, "A4"),)),
        ("-1 of A4", ((1, "A4"),)),
        ("A4 non-directional", ((1, "A4"),)),
        ("A4 not one-way", ((1, "A4"),)),
        ("A4 A5", ((1, "A4"), (1, "A5"))),
        ("6x6 8x8", ((1, "6x6"), (1, "8x8"))),
        ("12", ((1, "12 x 12"),)),
        ("2 of A4 as", ((2, "A4"),)),
        ("2 of", None),
        ("sheets", None),
        ("", None),
        ("1,000 of A4", None),
        ("x" * 500, None),
        (", ; and", None),
    ],
)
def test_what_cannot_be_read_is_told_with_what_of_it_can(clubs, text: str, instead: tuple[tuple[int, str], ...] | None):
    for club in clubs.values():
        with pytest.raises(UserError) as told:
            read_question({"paper": [text], "unit": "in"}, club)
        (one,) = told.value.each
        assert (one.code, one.values["meant"]) == ("proposing.no-sheets-of", instead)
        if instead:
            assert [n for n, *_ in said(" and ".join(f"{n} of {sheet}" for n, sheet in instead), clubs["us"])] == [n for n, _ in instead]


@pytest.mark.parametrize(
    ("text", "whole", "half"),
    [
        ("half A4", 0, "210 x 148.5 mm"),
        ("half a sheet of A4", 0, "210 x 148.5 mm"),
        ("1.5 of A4", 1, "210 x 148.5 mm"),
        ("2 1/2 A4", 2, "210 x 148.5 mm"),
        ("1/2 of 12x12", 0, "12 x 6"),
        ("½ letter", 0, "8-1/2 x 5-1/2"),
    ],
)
def test_of_half_a_sheet_the_measure_is_asked(clubs, text: str, whole: int, half: str):
    """A sheet may be halved across either way, so that nobody can know which."""
    with pytest.raises(UserError) as told:
        read_question({"paper": [text]}, clubs["us"])
    (one,) = told.value.each
    assert (one.code, one.values["sheets"], one.values["half"]) == ("proposing.part-of-a-sheet", whole, parse_size(half))


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("0 A4", "proposing.no-sheet"),
        ("2 A6", "papers.two-meanings"),
        ("2 of DL", "papers.two-meanings"),
        ("3 of 100x100", "papers.too-large"),
    ],
)
def test_what_is_no_sheet_on_a_desk_is_told_as_that(clubs, text: str, code: str):
    with pytest.raises(UserError) as told:
        read_question({"paper": [text]}, clubs["us"])
    assert [one.code for one in told.value.each] == [code]


OTHERS: list[tuple[str, tuple[str, ...], Any]] = [
    ("card", ("5x7", "5 by 7", "5*7", '5" x 7"', "5 x 7 card", "a 5x7 card"), "5 x 7"),
    ("card", ("5x7, 4x6", "5x7 and 4x6", "5x7; 4 by 6", "5x7 or 4x6"), "5 x 7, 4 x 6"),
    ("cards", ("8 cards", "eight", "Eight cards", "8"), "8"),
    ("cards", ("a dozen", "12 cards", "twelve"), "12"),
    ("border", ("1/8, 1/4", "⅛ or ¼", "1/8 and 1/4", "1/8; .25"), "1/8, 1/4"),
    ("border", ("none", "0", "no"), "0"),
    ("gap", ("0,1/8", "none and 1/8"), "0, 1/8"),
    ("band", ("1,5", "1½ in", "1-1/2", "1.5 inches", "1-1/2-inch"), "1-1/2"),
    ("slack", ("0,25", "1/4 in", "¼"), "1/4"),
    ("waste", ("10 percent", "10%", "10", "1/10", "10 per cent"), "10%"),
    ("waste", ("none", "0%"), "0%"),
    ("punch", ("2x2, 3x2", "2 by 2 and 3x2"), "2 x 2, 3 x 2"),
    ("punch", ("2 inch square", '2" square', "2x2 in"), "2 x 2"),
    ("pieces", ("3 to 5", "3-5 pieces", "3..5", "three to five", "3–5"), "3-5"),
    ("kinds", ("two", "2 sizes", "2 kinds"), "2"),
    ("designs", ("two", "2 designs"), "2"),
    ("grid", ("eighths", "1/8 in"), "1/8"),
    ("family", ("rows,grid", "rows and grid", "Rows, Grid", "rows; grid"), "rows, grid"),
]


@pytest.mark.parametrize(("key", "texts", "plain"), OTHERS)
def test_the_rest_of_a_question_is_read_as_it_is_typed(clubs, key: str, texts: tuple[str, ...], plain: str):
    many = {"card", "punch"}
    sheets = {"paper": ["4 of 12x12"]} | ({} if key == "card" else {"card": "5 x 7"})

    def wish(text: str) -> Any:
        return read_question({**sheets, key: [text] if key in many else text}, clubs["us"])

    for text in texts:
        assert wish(text) == wish(plain), text


def test_a_comma_between_two_whole_numbers_may_be_either(clubs):
    for key, text, before, after in (("border", "3,5", "3", "5"), ("gap", "0,5", "0", "5"), ("border", "3,5 mm", "3", "5 mm")):
        with pytest.raises(UserError) as told:
            read_question({"paper": ["A4"], key: text}, clubs["metric"])
        (one,) = told.value.each
        assert (one.code, one.values["before"], one.values["after"]) == ("proposing.comma-two-ways", before, after)


@pytest.mark.parametrize("key", ["border", "gap", "card", "punch", "die", "band", "mat", "slack", "grid"])
def test_a_slip_is_told_once_and_in_the_unit_that_bare_numbers_are_in(clubs, key: str):
    for region, lie in (("us", "mm"), ("metric", "in")):
        with pytest.raises(UserError) as told:
            read_question({"paper": ["4 of A4" if region == "metric" else "4 of 12x12"], key: "wide"}, clubs[region])
        (one,) = told.value.each
        first = one.remedy.partition(" or ")[0].partition(",")[0]
        assert f" {lie}" not in first, first


def test_a_card_whose_name_is_an_envelopes_too_is_told_as_both(clubs):
    with pytest.raises(UserError) as told:
        read_question({"paper": ["2 of 12x12"], "card": "A6"}, clubs["us"])
    (one,) = told.value.each
    assert (one.values["sheets"], one.values["envelopes"]) == (("ISO A6",), ("US A6 envelope",))


def test_a_file_and_the_command_line_read_the_same(clubs, tmp_path: Path):
    """The reader is one; here its ways into a question are held together."""
    texts = [text for text, _ in PAPER["us"]]
    for n, text in enumerate(texts):
        file = tmp_path / f"{n}.yaml"
        # JSON strings are YAML's too (YAML 1.2, 1.3).
        file.write_text(f"paper: {json.dumps(text)}\ncard: 3 x 4 in\n")
        assert read_question({}, clubs["us"], file).stocks == read_question({"paper": [text], "card": "3 x 4 in"}, clubs["us"]).stocks, text
    assert {key for key, *_ in OTHERS} < set(QuestionSpec.model_fields)


def test_where_no_sheet_is_known_a_name_goes_on_and_a_measure_is_refused():
    known: dict[str, Size | None] = {}
    assert sheets_typed("2 of A4", known.get, "in") == (SheetsOf(2, "A4"),)
    assert sheets_typed("foo", known.get, "in") == (SheetsOf(1, "foo"),)
    with pytest.raises(UserError) as told:
        sheets_typed("8x8", known.get, "in")
    assert told.value.code == "proposing.no-sheets-of"
