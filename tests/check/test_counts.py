"""Counts on a guide that cost the batch a sheet: told at their line, with the count that would do."""

import re
import shutil
from pathlib import Path

import pytest
from kitwright.check import counts
from kitwright.kit.read import read_club, read_kit
from kitwright.work.working import work
from making import BATCH, TWO_PAPERS, changed, line_of, look_over

MATS = changed(
    BATCH,
    (
        "guides:\n",
        "guides:\n  - papers: cream\n    cuts:\n      - 2 columns of 4 off the left:\n          - 2 strips of 5-1/4 off the top: M\n",
    ),
)
STRIPS = ("3 strips of 1-1/4 off the top: A", "6 strips of 7/8 off the top: B", "3 columns of 3-3/4 off the left")


def told(root, text):
    return [f for f in look_over(root, text) if "would do" in f.problem]


@pytest.mark.parametrize(
    "text",
    [BATCH, TWO_PAPERS, MATS, changed(BATCH, ("cards: 9\n", "cards: 10\n")), changed(BATCH, ("cards: 9\n", "cards: 20\n"))],
    ids=["batch", "two papers", "mats", "ten cards", "twenty cards"],
)
def test_a_guide_with_the_right_counts_is_silent(tmp_path, text):
    assert told(tmp_path, text) == []


@pytest.mark.parametrize("good", [BATCH, TWO_PAPERS], ids=["one paper", "two papers"])
@pytest.mark.parametrize(
    "line, typed, meant", [(STRIPS[0], 2, 3), (STRIPS[0], 1, 3), (STRIPS[1], 5, 6), (STRIPS[1], 2, 6), (STRIPS[2], 2, 3), (STRIPS[2], 1, 3)]
)
def test_a_count_too_low_takes_another_sheet_and_is_told(tmp_path, good, line, typed, meant):
    short = line.replace(str(meant), str(typed), 1)
    text = changed(good, (line, short))
    (found,) = told(tmp_path, text)
    assert (found.level, found.place.line) == ("warning", line_of(text, short))
    assert f"write {meant} instead of {typed} here" in found.remedy and "1 sheet would do" in found.problem


def test_a_count_in_words_and_another_paper(tmp_path):
    text = changed(MATS, ("2 columns of 4 off the left", "one column of 4 off the left"))
    (found,) = told(tmp_path, text)
    assert "write 2 instead of 1 here" in found.remedy and found.place.line == line_of(text, "one column") and "2½ sheets" in found.problem


def test_two_counts_swapped(tmp_path):
    """More of one piece than needed beside too few of the other: both lines are named."""
    text = changed(BATCH, ("3 strips of 1-1/4", "6 strips of 1-1/4"), ("6 strips of 7/8", "3 strips of 7/8"))
    (found,) = told(tmp_path, text)
    assert (
        found.place.line == line_of(text, "3 strips of 7/8")
        and f"and 3 instead of 6 on line {line_of(text, '6 strips of 1-1/4')}" in found.remedy
    )
    assert "too few of another" in found.problem


def test_one_piece_given_to_the_wrong_line(tmp_path):
    text = changed(BATCH, ("3 strips of 1-1/4", "4 strips of 1-1/4"), ("6 strips of 7/8", "5 strips of 7/8"))
    (found,) = told(tmp_path, text)
    assert "write 6 instead of 5 here" in found.remedy and found.place.line == line_of(text, "5 strips")


def test_sheets_that_are_said_are_meant_unless_they_are_too_few(tmp_path):
    short = changed(BATCH, ("6 strips", "5 strips"))
    assert told(tmp_path / "two", changed(short, ("  - papers: river\n", "  - papers: river\n    sheets: 2\n"))) == []
    swapped = changed(
        BATCH,
        ("3 strips of 1-1/4", "6 strips of 1-1/4"),
        ("6 strips of 7/8", "3 strips of 7/8"),
        ("  - papers: river\n", "  - papers: river\n    sheets: 1\n"),
    )
    found = look_over(tmp_path / "one", swapped)
    (error,) = [f for f in found if f.level == "error"]
    assert "9 B too few" in error.problem and "9 A more than needed" in error.remedy
    (warning,) = [f for f in found if "would do" in f.problem]
    assert "write 6 instead of 3 here" in warning.remedy


# --- every count of the demo kits, one too low -------------------------------------------------------

KITS = Path(__file__).parents[2] / "kits"
COUNT = re.compile(r"(\s*- )(\d+)( (?:strips|columns|panels|pieces|rows) .*)")


@pytest.mark.parametrize("name", ["2026-02-room-keys", "2026-06-street-party", "2026-11-evening-post"])
def test_no_count_of_a_released_kit_can_slip_by_one_unnoticed(tmp_path, name):
    """Whatever takes another sheet is told at the very line; what takes none costs nobody anything."""
    club, kit = read_club(KITS), read_kit(KITS / name, read_club(KITS))
    text = (KITS / name / "kit.yaml").read_text(encoding="utf-8")
    start, before = text[: text.index("\nguides:")].count("\n") + 1, {p.paper: p.sheets for p in work(kit).plans}
    lines, costly = text.split("\n"), 0
    for i, line in enumerate(lines[start:], start):
        match = COUNT.fullmatch(line)
        if not match or int(match[2]) < 2:
            continue
        folder = tmp_path / str(i) / name
        shutil.copytree(KITS / name, folder)
        (folder / "kit.yaml").write_text(
            "\n".join([*lines[:i], f"{match[1]}{int(match[2]) - 1}{match[3]}", *lines[i + 1 :]]), encoding="utf-8"
        )
        worked = work(read_kit(folder, club))
        if any(p.sheets > before[p.paper] for p in worked.plans):
            costly += 1
            assert i + 1 in [f.place.line for f in counts.find(worked)], line
    assert costly > 2
