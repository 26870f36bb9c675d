"""The nearest change: offered as it is only where the kit typed anew with it really works."""

from __future__ import annotations

from pathlib import Path

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.auto import plan_paper
from kitwright.cutting.stock import from_sheet
from kitwright.kit.model import Question
from kitwright.labels import BASE
from kitwright.otherwise.changed import fitting, name_of, two_bases
from kitwright.otherwise.checked import check
from kitwright.otherwise.planned import other_stock, planned
from kitwright.telling.answers import _other_fold
from kitwright.telling.cutplan import as_json as plan_json
from kitwright.telling.cutplan import as_text
from kitwright.telling.questions import as_json, change_text, other_text
from kitwright.units import Size, length_text, parse_size
from making import BATCH, changed, make_worked


def typed(size: Size) -> str:
    return f"{size.width.inches} in x {size.height.inches} in"


def clear(text: str, folder: Path) -> bool:
    return not [f for f in check(make_worked(folder, text)) if f.level != "hint"]


def retyped(text: str, paper_sheet: tuple[str, str], sizes: dict[str, tuple[str, Size]]) -> str:
    """The spec as the author would type it: another sheet, other sizes; the score in the middle."""
    return changed(text, paper_sheet, *[(old, f"size: {typed(new)}") for old, new in sizes.values()])


# name: (edits, what must be said, whether the whole kit works)
MAT = "    name: Cream cardstock\n    size: Letter\n"
CASES = {
    "a mat with a free band over it": ([], "4 x 5", "at 4 × 5 in it fits", True),
    "a mat with a band of its own height": ([("    - band\n", "    - band 1-5/8\n")], "4 x 5", "at 4 × 5 in it fits, but then", False),
    "a mat too narrow for its strips": ([], "3-7/8 x 6", "at 3⅞ × 5¼ in it fits, but then", False),
    "a metric sheet, by the ruler": ([], "101.6 mm x 130 mm", "at 4 × 5 1⁄16 in it fits", True),
}


@pytest.mark.parametrize("name", CASES)
def test_a_size_that_fits_the_sheet_is_tried_on_the_kit(tmp_path, name):
    edits, sheet, words, works = CASES[name]
    text = changed(BATCH, *edits)
    worked = make_worked(tmp_path / "own", text)
    other = from_sheet(worked.plan("cream").demand, sheet, parse_size(sheet), plan_paper)
    change, said = fitting(worked, other), other_text(worked, other)
    assert words in said and change.works is works and (", but then" in said) is not works, said
    line = next(line.strip() for line in text.splitlines() if line.strip().startswith("size: 4") and "x 5-" in line)
    again = retyped(text, (MAT, MAT.replace("Letter", sheet)), {"M": (line, change.sizes["M"])})
    assert clear(again, tmp_path / "again") is works


def test_the_command_says_it_too(tmp_path):
    worked = make_worked(tmp_path, BATCH)
    found = planned(worked, papers={"cream": parse_size("3-7/8 x 6")})
    assert any(line.strip().startswith("But then") for line in as_text(worked, found))
    (cream,) = [p for p in plan_json(worked, found)["papers"] if p["paper"] == "cream"]
    assert cream["but then"] and cream["does not fit"][0]["fits at"]
    assert "But then" not in "\n".join(as_text(worked, planned(worked, cards=3)))


def test_iso_a6_is_offered_plainly_only_where_it_goes_into_the_envelope(tmp_path):
    """148 mm does not go into the 5¾ in (146 mm) of a US A2 envelope; an ISO C6 envelope is 162 × 114 mm (ISO 269)."""
    for envelope, works in (("US A2 envelope", False), ("ISO C6 envelope", True)):
        worked = make_worked(tmp_path / envelope, changed(BATCH, ("US A2 envelope", envelope), ("cards: 9\n", "cards: 6\n")))
        (a4,) = other_stock(worked, worked.plan("white"))
        plain, iso = two_bases(worked, a4)
        assert plain.sizes == {BASE: parse_size("8-1/4 x 5-1/2")} and name_of(iso) == "ISO A6"
        assert iso.works is works and plain.works
        assert ("does not fit US A2 envelope" in change_text(worked, a4)) is not works
        told = as_json(worked)["other paper"]["white"]
        assert any("nearest change" in row for row in told)


def test_a_base_that_the_mat_does_not_bear_says_so(tmp_path):
    """A mat of 4¼ in on a base that would fold to 4⅛."""
    worked = make_worked(
        tmp_path,
        changed(
            BATCH,
            ("cards: 9\n", "cards: 6\n"),
            ("size: 4 x 5-1/4", "size: 4-3/16 x 5-3/8"),
            ("  border: 1/8\n", "  meant: uneven\n  border: 1/8\n"),
        ),
    )
    (a4,) = other_stock(worked, worked.plan("white"))
    said = change_text(worked, a4)
    assert (
        "with a base of 8¼ × 5½ in a sheet gives two" in said
        and "but then" in said
        and "M, 4 3⁄16 × 5⅜ in, does not lie within the base" in said
    )


def test_another_fold_is_answered_with_what_it_takes(tmp_path):
    """A one-way base paper of which the turned base does not stand upright on its sheet is one thing; an envelope is another."""
    worked = make_worked(tmp_path / "plain", BATCH)
    assert _other_fold(worked).startswith("Yes: cut the base 4¼ × 11 in")
    uneven = make_worked(
        tmp_path / "long",
        changed(
            BATCH,
            ("  fold: side\n", "  fold: side\n  inside: {piece: P, right: 0, top: 0}\n"),
            ("  M:\n", "  P:\n    size: 4-1/8 x 5-1/2\n    for: panel\n    paper: cream\n  M:\n"),
        ),
    )
    assert _other_fold(uneven).startswith(
        "Not without another change: cut the base 4¼ × 11 in"
    ) and "reaches right into the fold" in _other_fold(uneven)
    assert Question(ask="Other fold?", computed="other fold").computed == "other fold"


@tried(12)
@given(st.integers(0, 3), st.integers(0, 3), st.integers(30, 40), st.integers(36, 46), st.booleans())
def test_whatever_is_offered_plainly_works_when_it_is_typed(tmp_path_factory, wide, high, across, along, placed):
    """Mats a little larger or smaller, from sheets a little too small: typed anew, the kit is clear of findings, and otherwise not."""
    mat = f"{4 - wide / 16} x {5.25 - high / 16}"
    text = changed(BATCH, ("size: 4 x 5-1/4", f"size: {mat}"))
    if placed:
        text = changed(
            text,
            (
                "  border: 1/8\n  gap: 1/8\n  rows:\n    - A\n    - B\n    - band\n    - B\n",
                "  places:\n    - {piece: A, top: 1/8}\n    - {piece: B, top: 1-1/2}\n    - {piece: B, bottom: 1/8}\n",
            ),
            ("  size: 2-1/2 x 3/4\n  on: band\n", "  size: 2-1/2 x 1/4\n  on: M\n"),
        )
    folder = tmp_path_factory.mktemp("offered")
    worked, sheet = make_worked(folder / "own", text), f"{across / 10} x {along / 10}"
    other = from_sheet(worked.plan("cream").demand, sheet, parse_size(sheet), plan_paper)
    change = fitting(worked, other)
    if change is None:
        return
    before = [(f.level, f.place.line) for f in check(worked) if f.level != "hint"]
    again = make_worked(folder / "again", retyped(text, (MAT, MAT.replace("Letter", sheet)), {"M": (f"size: {mat}", change.sizes["M"])}))
    after = [(f.level, f.place.line) for f in check(again) if f.level != "hint"]
    assert change.works == (not [f for f in after if f not in before]), (length_text(change.sizes["M"].width, "in"), before, after)
