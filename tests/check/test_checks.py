"""Every check: a good kit is silent, a kit broken in one place is caught there, and what is meant is silent."""

from typing import get_args

import pytest
from kitwright.check import errors
from kitwright.errors import UserError
from kitwright.kit.model import Meant
from kitwright.kit.read import read_club, read_kit
from kitwright.otherwise.checked import check
from kitwright.work.working import work
from making import BATCH, CLUB, TWO_PAPERS, changed, line_of, look_over, make_archive, make_kit, serious
from PIL import Image

OVER = changed(
    BATCH,
    ("  M:\n", "  S:\n    size: 3 x 1\n    for: sentiment strip\n    paper: cream\n    notch: {ends: both}\n  M:\n"),
    ("sentiment:\n", "  over:\n    - piece: S\n      on: band\nsentiment:\n"),
    ("  size: 2-1/2 x 3/4\n  on: band\n", "  size: 1-3/4 x 3/4\n  on: S\n"),
)
"""The batch with its sentiment on a notched strip over the band."""

PLACES = changed(
    BATCH,
    (
        "  rows:\n    - A\n    - B\n    - band\n    - B\n",
        "  places:\n    - {piece: A, top: 1/8}\n    - {piece: B, top: 1-1/2}\n    - {piece: B, bottom: 1/8}\n",
    ),
    ("  size: 2-1/2 x 3/4\n  on: band\n", "  size: 2-1/2 x 1/4\n  on: M\n"),
)
"""The same front, every piece by explicit position."""

GUIDE = BATCH[BATCH.index("guides:") :]
THREE = changed(
    PLACES,
    (GUIDE, ""),
    ("  gap: 1/8\n", "  gap: 3/16\n"),
    ("{piece: B, top: 1-1/2}", "{piece: B, top: 1-9/16}"),
    (
        "  A:\n    size: 3-3/4 x 1-1/4\n    for: tall strip\n    paper: river\n    per card: 1\n",
        "  A:\n    size: 1-1/8 x 1-1/4\n    for: tall strip\n    paper: river\n    per card: 3\n",
    ),
    (
        "    - {piece: A, top: 1/8}\n",
        "    - {piece: A, top: 1/8, left: 1/8}\n    - {piece: A, top: 1/8, left: 1-7/16}\n    - {piece: A, top: 1/8, right: 1/8}\n",
    ),
)
"""Three pieces side by side at the top, cut by auto."""

ONE_WAY = changed(BATCH, ("front: {look: stripes, colours: [sky, white]}", "front: {look: sprigs, colours: [sky, white], up: top}"))

GOOD = {
    "batch": BATCH,
    "strip over the band": OVER,
    "places": PLACES,
    "three in a row": THREE,
    "two papers": TWO_PAPERS,
    "one-way": ONE_WAY,
}


@pytest.mark.parametrize("text", GOOD.values(), ids=GOOD)
def test_a_good_kit_is_silent(tmp_path, text):
    assert serious(look_over(tmp_path, text)) == []


# name: (good text, edits, level, words on the line where it stands, words of the problem)
BROKEN = {
    "label used for two sizes": (
        BATCH,
        [("3 strips of 1-1/4 off the top: A", "3 strips of 1-3/8 off the top: A")],
        "error",
        "3 strips of 1-3/8",
        "A is 3¾ × 1¼ in, but the part cut here is 3¾ × 1⅜",
    ),
    "labels swapped on the guide": (
        BATCH,
        [
            ("3 strips of 1-1/4 off the top: A", "3 strips of 1-1/4 off the top: B"),
            ("6 strips of 7/8 off the top: B", "6 strips of 7/8 off the top: A"),
        ],
        "error",
        "3 strips of 1-1/4",
        "B is",
    ),
    "count wrong by one": (BATCH, [("    per card: 2\n", "    per card: 3\n")], "error", "per card: 3", "27 asked for, but 18 lie"),
    "count wrong by one the other way": (
        BATCH,
        [("    per card: 2\n", "    per card: 1\n")],
        "error",
        "    for: low strip|per card",
        "9 asked for, but 18 lie",
    ),
    "strip in the wrong paper": (
        TWO_PAPERS,
        [("    - B river\n    - band", "    - B cream\n    - band")],
        "error",
        "front:",
        "not cut from that paper",
    ),
    "no whole number": (BATCH, [("    per card: 1\n", "    per card: 1/2\n")], "error", "per card: 1/2", "no whole number"),
    "looks that do not make the batch": (
        TWO_PAPERS,
        [("{name: river, cards: 9}", "{name: river, cards: 8}")],
        "error",
        "looks:",
        "17 cards, the batch has 18",
    ),
    "a piece that is nowhere on the card": (
        BATCH,
        [("  M:\n", "  E:\n    size: 1 x 1\n    paper: cream\n  M:\n")],
        "error",
        "  E:",
        "asked for, but 0 lie",
    ),
    "too few from a sheet": (
        BATCH,
        [
            ("6 strips of 7/8 off the top: B", "5 strips of 7/8 off the top: B"),
            ("  - papers: river\n", "  - papers: river\n    sheets: 1\n"),
        ],
        "error",
        "    cuts:",
        "3 B too few",
    ),
    "more sheets than there are": (
        BATCH,
        [("    size: 12 x 12\n", "    size: 12 x 12\n    sheets: half\n")],
        "error",
        "sheets: half",
        "takes 1 sheet",
    ),
    "a piece larger than its sheet": (
        BATCH,
        [("name: Cream cardstock\n    size: Letter", "name: Cream cardstock\n    size: 4 x 5")],
        "error",
        "size: 4 x 5-1/4",
        "larger than the sheet",
    ),
    "not edge to edge": (
        BATCH,
        [("6 strips of 7/8 off the top: B", "6 strips of 7/8, 2 long, off the top: B")],
        "error",
        "2 long",
        "edge to edge",
    ),
    "past the sheet": (BATCH, [("3 columns of 3-3/4", "4 columns of 3-3/4")], "error", "4 columns", "past the 12 in in hand"),
    "too narrow to hold": (
        BATCH,
        [
            (
                "          - 6 strips of 7/8 off the top: B\n",
                "          - 6 strips of 7/8 off the top: B\n          - 3 strips of 3/4 off the top:\n              - 2 strips of 3/8 off the top: leftover\n",
            )
        ],
        "error",
        "    cuts:",
        "too narrow a piece to hold",
    ),
    "one-way cut turned": (
        ONE_WAY,
        [
            ("      - 3 columns of 3-3/4 off the left:\n", "      - 3 strips of 3-3/4 off the top:\n"),
            ("3 strips of 1-1/4 off the top", "3 strips of 1-1/4 off the left"),
            ("6 strips of 7/8 off the top", "6 strips of 7/8 off the left"),
        ],
        "error",
        "    cuts:",
        "one-way, and A, B would be cut turned",
    ),
    "one-way turned on the card": (
        ONE_WAY,
        [
            ("  A:\n    size: 3-3/4 x 1-1/4", "  A:\n    size: 1-1/4 x 3-3/4"),
            ("    - A\n", "    - A turned\n"),
            (
                "      - 3 columns of 3-3/4 off the left:\n          - 3 strips of 1-1/4 off the top: A\n          - 6",
                "      - 3 strips of 3-3/4 off the bottom:\n          - 3 columns of 1-1/4: A\n      - turn\n      - 1 column of 3/4: leftover\n      - 9",
            ),
        ],
        "error",
        "front:|- A turned",
        "would lie turned on the card",
    ),
    "rows too long": (BATCH, [("- band", "- band 1-3/4")], "error", "  rows:", "5⅜ in, not 5¼ in"),
    "rows too short": (BATCH, [("- band", "- band 1-1/2")], "error", "  rows:", "5⅛ in, not 5¼ in"),
    "a row too wide": (BATCH, [("  border: 1/8\n", "  border: 1/4\n")], "error", "  rows:", "not 4 in"),
    "opposite borders not equal": (
        PLACES,
        [("{piece: A, top: 1/8}", "{piece: A, top: 1/16}")],
        "warning",
        "  places:",
        "1⁄16 in at the top, but ⅛ in at the bottom",
    ),
    "borders at the sides not equal": (
        PLACES,
        [("{piece: A, top: 1/8}", "{piece: A, top: 1/8, left: 1/16}")],
        "warning",
        "  places:",
        "at the left",
    ),
    "a mat not in the middle": (
        BATCH,
        [("    - M\n", "    - {piece: M, left: 1/16}\n")],
        "warning",
        "{piece: M, left",
        "1⁄16 in at the left, but 3⁄16 in at the right",
    ),
    "gaps of one row not equal": (
        THREE,
        [("{piece: A, top: 1/8, left: 1-7/16}", "{piece: A, top: 1/8, left: 1-3/8}")],
        "warning",
        "  places:",
        "gaps in one row differ",
    ),
    "a mat larger than the card": (BATCH, [("size: 4 x 5-1/4", "size: 4-1/2 x 5-1/4")], "error", "    - M", "does not lie within the base"),
    "a sentiment that meets a notch": (OVER, [("  size: 1-3/4 x 3/4", "  size: 2-1/2 x 3/4")], "error", "2-1/2 x 3/4", "meets a notch"),
    "a sentiment that meets an edge": (BATCH, [("2-1/2 x 3/4", "2-1/2 x 1-3/4")], "error", "2-1/2 x 1-3/4", "meets an edge"),
    "a sentiment as long as its strip": (OVER, [("  size: 1-3/4 x 3/4", "  size: 3-1/4 x 3/4")], "error", "3-1/4 x 3/4", "meets an edge"),
    "an envelope too small": (BATCH, [("US A2 envelope", "5-1/2 x 4")], "error", "envelope:", "does not fit"),
    "an envelope without room": (BATCH, [("US A2 envelope", "5-17/32 x 4-3/8")], "warning", "envelope:", "less than a sixteenth"),
    "a piece past its layer": (
        PLACES,
        [("{piece: B, bottom: 1/8}", "{piece: B, bottom: 1/8, left: 1/2}")],
        "error",
        "bottom: 1/8, left: 1/2",
        "past the right edge",
    ),
    "a strip past the card": (
        OVER,
        [("      on: band\n", "      on: band\n      left: 3\n")],
        "error",
        "- piece: S",
        "past the right edge of the card",
    ),
    "pieces over each other": (
        PLACES,
        [("{piece: B, top: 1-1/2}", "{piece: B, top: 1-1/4}")],
        "error",
        "front:|piece: B, top: 1-1/4",
        "A and B lie over each other",
    ),
    "a size off the grid": (
        BATCH,
        [("size: 3-3/4 x 7/8", "size: 3-3/4 x 0.9")],
        "warning",
        "3-3/4 x 0.9",
        "not on a ruler marked in sixteenths",
    ),
    "a cut off the grid": (
        BATCH,
        [
            (
                "          - 6 strips of 7/8 off the top: B\n",
                "          - 6 strips of 7/8 off the top: B\n          - 1 strip of 1.3 off the top: leftover\n",
            )
        ],
        "warning",
        "    cuts:",
        "not on a ruler",
    ),
    "a score past the base": (BATCH, [("  fold: side\n", "  fold: side\n  score: 9\n")], "error", "score: 9", "past the base"),
    "an unknown look": (BATCH, [("look: stripes", "look: tartan")], "error", "look: tartan", "no look called tartan"),
    "a look with an up that nothing tells": (
        BATCH,
        [("look: stripes", "look: bunting")],
        "hint",
        "look: bunting",
        "which edge of the sheet is its top",
    ),
    "an unknown colour": (BATCH, [("colours: [sky, white]", "colours: [mauve]")], "error", "mauve", "no colour called mauve"),
    "a guide for a paper nobody wants": (
        TWO_PAPERS,
        [
            (
                "  B:\n    size: 3-3/4 x 7/8\n    for: low strip\n    per card: {river: 1, meadow: 1}\n",
                "  B:\n    size: 3-3/4 x 7/8\n    for: low strip\n    per card: {river: 1}\n",
            )
        ],
        "error",
        "    cuts:",
        "not asked for from Meadow",
    ),
    "sheets of different sizes by one guide": (
        TWO_PAPERS,
        [("    name: Meadow\n    size: 12 x 12", "    name: Meadow\n    size: 8 x 8")],
        "error",
        "papers: [river, meadow]",
        "different sizes",
    ),
    "a notch deeper than its strip": (
        changed(OVER, ("  on: S\n", "  on: A\n")),
        [("notch: {ends: both}", "notch: {ends: both, depth: 1-1/2}")],
        "error",
        "  S:|notch:",
        "notch",
    ),
    "notches that meet": (
        changed(OVER, ("  on: S\n", "  on: A\n")),
        [("size: 3 x 1\n", "size: 1 x 1\n")],
        "error",
        "  S:|notch:|size: 1 x 1",
        "notch",
    ),
    "a border off the grid": (BATCH, [("  border: 1/8\n", "  border: 0.13\n")], "warning", "border: 0.13", "not on a ruler"),
    "a score off the grid": (BATCH, [("  fold: side\n", "  fold: side\n  score: 4.23\n")], "warning", "score: 4.23", "not on a ruler"),
    "a piece larger than the piece it lies on": (
        OVER,
        [("      on: band\n", "      on: A\n"), ("size: 3 x 1\n", "size: 3 x 1-3/8\n")],
        "error",
        "- piece: S",
        "A",
    ),
    "decoration past the card": (
        BATCH,
        [("guides:\n", "decorations:\n  - {name: a leaf, size: 1 x 1, top: 0, left: 4}\nguides:\n")],
        "error",
        "a leaf",
        "past the edge of the card",
    ),
    "decoration over the words": (
        BATCH,
        [("guides:\n", "decorations:\n  - {name: a leaf, size: 1 x 1, on: band}\nguides:\n")],
        "warning",
        "a leaf",
        "covers the sentiment",
    ),
    "a circle of decoration that is none": (
        BATCH,
        [("guides:\n", "decorations:\n  - {name: paper circle, size: 1/2 x 3/4, top: 0, left: 0}\nguides:\n")],
        "warning",
        "paper circle",
        "paper circle is called a circle, but its place is ½ × ¾ in",
    ),
    "a sentiment over a window": (
        changed(BATCH, ("  on: band\n", "  on: A\n")),
        [("    for: tall strip\n", "    for: tall strip\n    shape: {window: {size: 1 x 1/2}}\n")],
        "error",
        "2-1/2 x 3/4",
        "2½ × ¾ in, meets the shaped edge or an opening of A",
    ),
    "an inside panel past the fold": (
        BATCH,
        [("  M:\n", "  P:\n    size: 4 x 5\n    paper: cream\n  M:\n"), ("  envelope:", "  inside: {piece: P, right: 1/2}\n  envelope:")],
        "error",
        "inside: {piece: P",
        "reaches ¼ in past the fold, and the card would not close",
    ),
    "an inside panel larger than the card": (
        BATCH,
        [("  M:\n", "  P:\n    size: 4-1/2 x 5\n    paper: cream\n  M:\n"), ("  envelope:", "  inside: P\n  envelope:")],
        "error",
        "inside: P",
        "larger than the card",
    ),
}


@pytest.mark.parametrize("name", BROKEN)
def test_what_is_broken_is_caught_where_it_stands(tmp_path, name):
    good, edits, level, needles, says = BROKEN[name]
    assert serious(look_over(tmp_path / "good", good)) == []
    text = changed(good, *edits)
    found = [f for f in look_over(tmp_path / "bad", text) if f.level == level and says in f.problem]
    assert found, [str(f) for f in look_over(tmp_path / "again", text)]
    lines = text.splitlines()
    for finding in found:
        assert finding.remedy and finding.place.file.name == "kit.yaml"
        assert any(needle in lines[finding.place.line - 1] for needle in needles.split("|")), f"points at: {lines[finding.place.line - 1]}"
    if level == "error":
        assert errors(found)


def test_a_photo_without_a_text_is_told(tmp_path):
    text = changed(BATCH, ("guides:\n", "photos:\n  - {file: photos/card.png}\nguides:\n"))
    folder = make_archive(tmp_path, text)
    (folder / "photos").mkdir()
    Image.new("RGB", (8, 8)).save(folder / "photos" / "card.png")
    (found,) = serious(check(work(read_kit(folder, read_club(folder.parent)))))
    assert found.level == "warning" and found.place.line == line_of(text, "photos/card.png")
    assert found.problem == "photos/card.png has no text for those who can't see it" and "alt" in found.remedy


# What looks odd and is meant: (good text, broken edits, what to say besides, words of the finding that must go)
MEANT = {
    "uneven borders": (
        PLACES,
        [("{piece: A, top: 1/8}", "{piece: A, top: 1/16}")],
        [("  gap: 1/8\n", "  gap: 1/8\n  meant: uneven\n")],
        "at the top, but",
    ),
    "uneven mat": (
        BATCH,
        [("    - M\n", "    - {piece: M, left: 1/16}\n")],
        [("{piece: M, left: 1/16}", "{piece: M, left: 1/16, meant: uneven}")],
        "at the left, but",
    ),
    "larger mat": (
        BATCH,
        [("size: 4 x 5-1/4", "size: 4-3/8 x 5-1/4"), ("  border: 1/8\n", "  border: 5/16\n")],
        [("    - M\n", "    - {piece: M, meant: larger}\n")],
        "does not lie within",
    ),
    "overhanging piece": (
        PLACES,
        [("{piece: B, bottom: 1/8}", "{piece: B, bottom: 1/8, left: 1/2}")],
        [("left: 1/2}", "left: 1/2, meant: overhang}")],
        "past the right edge",
    ),
    "overhanging strip": (
        OVER,
        [("      on: band\n", "      on: band\n      left: 3\n")],
        [("      left: 3\n", "      left: 3\n      meant: overhang\n")],
        "past the right edge",
    ),
    "short rows": (BATCH, [("- band", "- band 1-1/2")], [("  gap: 1/8\n", "  gap: 1/8\n  meant: uneven\n")], "not 5¼ in"),
    "short rows said at one entry": (
        BATCH,
        [("- band", "- band 1-1/2")],
        [("    - A\n", "    - {piece: A, meant: uneven}\n")],
        "not 5¼ in",
    ),
    "wide row said at the entry": (
        BATCH,
        [
            ("size: 3-3/4 x 7/8", "size: 4-1/8 x 7/8"),
            (GUIDE, ""),
            ("    - B\n    - band\n    - B\n", "    - piece: B\n      meant: []\n    - band\n    - piece: B\n      meant: [ ]\n"),
        ],
        [("meant: []\n", "meant: [overhang, uneven]\n"), ("meant: [ ]\n", "meant: [overhang, uneven]\n")],
        "past the",
    ),
    "decoration past the edge": (
        BATCH,
        [("guides:\n", "decorations:\n  - {name: a leaf, size: 1 x 1, top: 0, left: 4}\nguides:\n")],
        [("left: 4}", "left: 4, meant: overhang}")],
        "past the edge of the card",
    ),
    "larger inside panel": (
        BATCH,
        [("  M:\n", "  P:\n    size: 4-1/2 x 5\n    paper: cream\n  M:\n"), ("  envelope:", "  inside: P\n  envelope:")],
        [("inside: P", "inside: {piece: P, meant: larger}")],
        "larger than the card",
    ),
}


@pytest.mark.parametrize("name", MEANT)
def test_what_is_meant_is_silent(tmp_path, name):
    good, broken, said, words = MEANT[name]
    text = changed(good, *broken)
    assert [f for f in look_over(tmp_path / "odd", text) if words in f.problem], "odd without a word"
    left = [str(f) for f in serious(look_over(tmp_path / "said", changed(text, *said))) if words in f.problem]
    assert not left


def test_every_word_that_can_be_meant_is_heeded():
    """A word that the spec takes and nothing heeds would be a promise broken."""
    said = " ".join(new for _, _, edits, _ in MEANT.values() for _, new in edits)
    assert all(word in said for word in get_args(Meant))


# --- hints ----------------------------------------------------------------------------------------


def test_one_size_under_two_labels_is_a_hint(tmp_path):
    text = changed(BATCH, ("  M:\n", "  C:\n    size: 3-3/4 x 1-1/4\n    paper: river\n  M:\n"), ("    - A\n", "    - C\n"))
    (hint,) = [f for f in look_over(tmp_path, text) if "same size" in f.problem]
    assert hint.level == "hint" and hint.place.line == line_of(text, "  C:")


def test_a_guide_without_slack_is_a_hint(tmp_path):
    text = changed(
        BATCH,
        ("size: 3-3/4 x 1-1/4", "size: 4 x 1-1/4"),
        ("size: 3-3/4 x 7/8", "size: 4 x 7/8"),
        ("columns of 3-3/4", "columns of 4"),
        ("  border: 1/8\n", "  border: 0\n"),
    )
    hints = [f for f in look_over(tmp_path, text) if "hardly any slack" in f.problem and "River" in f.problem]
    assert [h.level for h in hints] == ["hint"] and "across" in hints[0].problem and "along" not in hints[0].problem
    assert not [f for f in look_over(tmp_path / "b", BATCH) if "River" in f.problem]


def test_a_photo_without_alt_text_is_a_warning(tmp_path):
    text = BATCH + "photos:\n  - file: photos/one.jpg\n"
    folder = make_archive(tmp_path, text)
    (folder / "photos").mkdir()
    (folder / "photos" / "one.jpg").write_bytes(b"not looked into")
    found = serious(check(work(read_kit(folder, read_club(tmp_path / "kits")))))
    assert [(f.level, f.place.line) for f in found] == [("warning", line_of(text, "photos/one.jpg"))]
    (folder / "kit.yaml").write_text(text + "    alt: a card on a table\n")
    assert not serious(check(work(read_kit(folder, read_club(tmp_path / "kits")))))


# --- the worked batch --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "edit, says",
    [
        (("    per card: 2\n", "    per card: 3\n"), "27 asked for, but 18 lie"),
        (("6 strips of 7/8", "5 strips of 7/8"), "B"),
        (("    - B\n    - band\n    - B\n", "    - B\n    - band\n"), "18 asked for, but 9 lie"),
        (("cards: 9\n", "cards: 10\n"), None),
    ],
)
def test_a_count_wrong_by_one(tmp_path, edit, says):
    # What the summary says of the batch is another check's: tests/check/test_figures.py.
    text = changed(BATCH, edit, ("summary: Nine cards from one sheet.", "summary: Cards from the bench."))
    found = look_over(tmp_path, text)
    if says is None:
        # Ten cards simply take another half sheet and more: nothing is wrong.
        assert not serious(found)
    elif "strips" in edit[0]:
        # Fewer a sheet means another sheet; with one sheet at hand it is an error.
        assert errors(look_over(tmp_path / "one", changed(text, ("    size: 12 x 12\n", "    size: 12 x 12\n    sheets: 1\n"))))
    else:
        assert [f for f in errors(found) if says in f.problem]


def test_two_labels_swapped_on_the_front(tmp_path):
    text = changed(BATCH, ("    - A\n    - B\n    - band\n    - B\n", "    - B\n    - A\n    - band\n    - A\n"))
    found = errors(look_over(tmp_path, text))
    assert [f for f in found if "A from River: 9 asked for, but 18 lie" in f.problem]
    assert [f for f in found if "B from River: 18 asked for, but 9 lie" in f.problem]


def test_two_labels_swapped_under_pieces(tmp_path):
    text = changed(BATCH, ("  A:\n    size", "  Z:\n    size"), ("  B:\n    size", "  A:\n    size"), ("  Z:\n    size", "  B:\n    size"))
    assert errors(look_over(tmp_path, text))


# --- names, a one-way inside, and places of findings ---------------------------------------------------


@pytest.mark.parametrize(
    "edit, needle, says",
    [
        (("    - A\n", "    - Q\n"), "- Q", "no piece Q"),
        (("    - A\n", "    - A lake\n"), "- A lake", "no paper lake"),
        (("    paper: cream\n", "    paper: creme\n"), "paper: creme", "no paper creme"),
        (("    - M\n", "    - N\n"), "    - N", "no piece N"),
        (("  on: band\n", "  on: bund\n"), "on: bund", "no place bund"),
        (("  - papers: river\n", "  - papers: rivers\n"), "papers: rivers", "no paper rivers"),
        (("    paper: white\n", "    paper: whit\n"), "paper: whit", "no paper whit"),
        (("US A2 envelope", "A2"), "envelope: A2", "does not say which envelope"),
        (("size: 12 x 12", "size: A6"), "size: A6", "does not say which sheet"),
        (("    - A\n", "    - A back\n"), "- A back", "no printed back"),
        (("  border: 1/8\n", "  border: 1/8\n  on: L\n"), "on: L", "no layer L"),
        (("    - B\n    - band\n", "    - inside: [B, Q]\n    - band\n"), "inside: [B, Q]", "no piece Q"),
        (("    - B\n    - band\n", "    - inside:\n        - B\n        - Q\n    - band\n"), "- Q", "no piece Q"),
    ],
)
def test_unknown_and_ambiguous_names(tmp_path, edit, needle, says):
    text = changed(BATCH, edit)
    with pytest.raises(UserError) as caught:
        make_kit(tmp_path, text)
    assert says in caught.value.problem and caught.value.remedy
    assert caught.value.place.line == line_of(text, needle)


def test_which_paper_must_be_said_where_there_are_several(tmp_path):
    text = changed(TWO_PAPERS, ("    - A river\n", "    - A\n"))
    with pytest.raises(UserError, match="does not say which"):
        make_kit(tmp_path, text)


@pytest.mark.parametrize(
    "places",
    [
        "  over:\n    - {piece: S, on: S}\n",
        "  over:\n    - {piece: S, on: T}\n    - {piece: T}\n",
        "  places:\n    - {piece: S, on: T}\n    - {piece: T}\n",
        "  places:\n    - {piece: S, on: T}\n  over:\n    - {piece: T}\n",
    ],
)
def test_nothing_lies_on_what_is_not_there_yet(tmp_path, places):
    """A piece on itself, or on one that is laid down after it, is a slip of the author's, not a fault of the program."""
    text = changed(
        BATCH,
        ("  M:\n", "  S: {size: 1 x 1, paper: cream}\n  T: {size: 2 x 2, paper: cream}\n  M:\n"),
        ("sentiment:\n", places + "sentiment:\n"),
    )
    with pytest.raises(UserError) as caught:
        look_over(tmp_path, text)
    assert caught.value.place.line and caught.value.remedy


def test_a_one_way_inside_panel_is_not_cut_turned(tmp_path):
    text = changed(
        BATCH,
        ("  M:\n", "  P:\n    size: 2 x 5\n    for: inside panel\n    paper: moss\n  M:\n"),
        ("  envelope:", "  inside: P\n  envelope:"),
        ("  cream:\n", "  moss:\n    kind: patterned\n    name: Moss\n    size: 5 x 5\n    front: {look: sprigs, up: top}\n  cream:\n"),
        ("guides:\n", "guides:\n  - papers: moss\n    cuts:\n      - 2 strips of 2 off the top: P\n"),
    )
    assert [f for f in errors(look_over(tmp_path, text)) if "one-way" in f.problem and "P" in f.problem]


def test_a_second_strip_of_one_label_has_its_own_say(tmp_path):
    """That one is meant to overhang says nothing of the other."""
    text = changed(
        OVER,
        (
            "    - piece: S\n      on: band\n",
            "    - {piece: S, on: band, left: 3, meant: overhang}\n    - {piece: S, on: M, left: 3, top: 0}\n",
        ),
        ("    size: 3 x 1\n", "    size: 3 x 1\n    per card: 2\n"),
        ("  on: S\n", "  on: band\n"),
    )
    found = [f for f in errors(look_over(tmp_path, text)) if "past the right edge" in f.problem]
    assert [f.place.line for f in found] == [line_of(text, "on: M, left: 3, top: 0")]


def test_a_finding_about_a_club_paper_stands_in_the_clubs_file(tmp_path):
    club = CLUB + "papers:\n  house:\n    kind: patterned\n    name: House dots\n    size: 6 x 6\n    front: {look: tartan}\n"
    text = changed(
        BATCH,
        ("    paper: river\n    per card: 1\n", "    paper: house\n    per card: 1\n"),
        ("          - 3 strips of 1-1/4 off the top: A\n", ""),
    )
    (found,) = [f for f in look_over(tmp_path, text, club=club) if "tartan" in f.problem]
    assert found.place.file.name == "club.yaml" and found.place.line == line_of(club, "tartan")


def test_a_kit_may_use_the_clubs_papers_alone(tmp_path):
    start, end = BATCH.index("papers:\n"), BATCH.index("pieces:\n")
    assert serious(look_over(tmp_path, BATCH[:start] + BATCH[end:], club=CLUB + BATCH[start:end])) == []


def test_findings_come_errors_first_then_by_line(tmp_path):
    text = changed(BATCH, ("size: 3-3/4 x 7/8", "size: 3-3/4 x 0.9"), ("US A2 envelope", "5-1/2 x 4"), ("look: stripes", "look: tartan"))
    found = look_over(tmp_path, text)
    levels = ["error", "warning", "hint"]
    keys = [(levels.index(f.level), f.place.line) for f in found]
    assert keys == sorted(keys) and len(set(found)) == len(found)


# --- more than one guide, turning, covering --------------------------------------------------------------

TWO_GUIDES = changed(
    BATCH,
    (
        GUIDE,
        """\
guides:
  - papers: river
    sheets: 1
    cuts:
      - 3 columns of 3-3/4 off the left:
          - 9 strips of 1-1/4 off the top: A
  - papers: river
    sheets: 1
    cuts:
      - 3 columns of 3-3/4 off the left:
          - 6 strips of 7/8 off the top: B
""",
    ),
)


def test_a_paper_may_have_two_guides(tmp_path):
    assert serious(look_over(tmp_path / "good", TWO_GUIDES)) == []
    text = TWO_GUIDES.replace("    sheets: 1\n", "", 1)
    found = errors(look_over(tmp_path / "bad", text))
    assert [f for f in found if "2 guides" in f.problem and f.remedy and f.place.line in (line_of(text, "guides:") + 1,)]


def test_a_block_inside_that_is_too_wide_is_a_row_that_does_not_add_up(tmp_path):
    text = changed(
        BATCH,
        (GUIDE, ""),
        ("    - A\n    - B\n    - band\n", "    - [C, D]\n    - B\n    - band\n"),
        ("  A:\n    size: 3-3/4 x 1-1/4\n", "  C:\n    size: 1-3/4 x 1-1/4\n    paper: river\n  D:\n    size: 1-7/8 x 1-1/4\n"),
    )
    assert serious(look_over(tmp_path / "good", text)) == []
    wide = changed(text, ("1-7/8 x 1-1/4", "2 x 1-1/4"))
    found = [f for f in errors(look_over(tmp_path / "wide", wide)) if "4⅛ in, not 4 in" in f.problem]
    assert found and found[0].place.line in (line_of(wide, "  rows:"), line_of(wide, "[C, D]"))
    said = changed(wide, ("    - [C, D]\n", "    - {inside: [C, D], meant: uneven}\n"))
    assert not [f for f in look_over(tmp_path / "said", said) if "4⅛ in, not 4 in" in f.problem]


def test_a_piece_that_may_not_turn_is_not_called_one_way(tmp_path):
    text = changed(
        BATCH,
        ("    for: tall strip\n", "    for: tall strip\n    may turn: no\n"),
        (
            GUIDE,
            "guides:\n  - papers: river\n    cuts:\n"
            "      - 2 rows of 3-3/4 off the top:\n          - 9 columns of 1-1/4 off the left: A\n      - 3 columns of 3-3/4 off the left:\n          - 5 strips of 7/8 off the top: B\n",
        ),
    )
    found = [f for f in errors(look_over(tmp_path, text)) if "turned" in f.problem]
    assert found and "one-way" not in found[0].problem


def test_paper_over_the_sentiment_is_pointed_out(tmp_path):
    text = changed(OVER, ("  size: 1-3/4 x 3/4\n  on: S\n", "  size: 1-3/4 x 3/4\n  on: band\n"))
    found = [f for f in serious(look_over(tmp_path, text)) if "sentiment" in f.problem]
    assert found and "S" in found[0].problem


def test_a_guide_that_says_more_sheets_than_it_takes_is_hinted_at(tmp_path):
    """Half a sheet of such a guide is enough; that it says one is her own choice, and told."""
    half = changed(BATCH, ("cards: 9\n", "cards: 3\n"))
    half = half[: half.index("guides:\n")] + (
        "guides:\n  - papers: river\n    sheets: {}\n    cuts:\n      - 1 strip of 6 off the top:\n          - 3 columns of 3-3/4 off the left:\n"
        "              - 1 strip of 1-1/4 off the top: A\n              - 2 strips of 7/8 off the top: B\n"
    )
    said = [f for f in look_over(tmp_path / "one", half.replace("{}", "1")) if "enough" in f.problem]
    assert [(f.level, f.problem) for f in said] == [("hint", "River: half a sheet cut by this guide is enough, and it says 1 sheet")]
    assert [f for f in look_over(tmp_path / "half", half.replace("{}", "half")) if "enough" in f.problem] == []


@pytest.mark.parametrize(
    "notes, line",
    [
        ("Cut [[size of A]].\nThen [[count of A\npieces.\n", 2),
        ("[[", 1),
        ("Cut [[size\nof A]].\n", None),
        ("Write `[[` or ``[[ size``.\n", None),
        ("```\n[[\n```\nand [[ so\n", 4),
    ],
)
def test_a_citation_that_never_ends(tmp_path, notes, line):
    found = [f for f in check(work(make_kit(tmp_path, BATCH, notes))) if "does not end" in f.problem]
    assert [(f.level, f.place.line, f.place.file.name) for f in found] == ([("warning", line, "notes.md")] if line else [])
