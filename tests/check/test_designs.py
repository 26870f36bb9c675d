"""A kit of several designs is looked over design by design, and what is the kit's once."""

import pytest
from making import changed, look_over
from several import BY_AUTO, SEVERAL


def line(text: str, design: str, part: str) -> int:
    return text[: text.index(part, text.index(f"  {design}:"))].count("\n") + 1


def test_what_is_sound_apart_is_sound_together(tmp_path):
    assert [(f.level, f.code) for f in look_over(tmp_path, SEVERAL)] == [("hint", "sheets.hardly-any-slack")]


@pytest.mark.parametrize(
    ("design", "pair", "code", "at"),
    [
        ("Lying", ("      columns: [C moss turned, B", "      columns: [C moss, B"), "front.past-the-edge", "columns:"),
        ("Lying", ("      envelope: US A2 envelope\n    front:\n      border: 1/8\n      gap: 1/8\n      columns", "      envelope: ISO C7 envelope\n    front:\n      border: 1/8\n      gap: 1/8\n      columns"), "envelope.card-too-large", "ISO C7"),
        ("Lying", ("shore outside, cards: 4", "shore outside, cards: 3"), "pieces.looks-make-another-batch", "looks:"),
        ("Standing", ("swap: {moss: shore, shore: moss}}\n    sentiment", "swap: {moss: white}}\n    sentiment"), "pieces.not-cut-from", "    front:"),
        ("Lying", ("border: 1/8\n      gap: 1/8\n      columns", "border: 1/8\n      gap: 3/25\n      columns"), "pieces.measure-off-the-ruler", "gap: 3/25"),
    ],
)  # fmt: skip
def test_a_slip_of_one_design_is_told_at_its_line_and_once(tmp_path, design, pair, code, at):
    text = changed(BY_AUTO, pair)
    found = [(f.code, f.place.line) for f in look_over(tmp_path, text)]
    assert found.count((code, line(text, design, at))) == 1 and len({one for one, _ in found if one.startswith("guide")}) == 0


@pytest.mark.parametrize(
    ("said", "wrong"), [("eight standing cards", 0), ("16 cards", 0), ("nine standing cards", 1), ("4¼ × 5½ in", 0), ("5½ × 4¼ in", 0)]
)
def test_a_figure_of_the_summary_may_be_one_design_s(tmp_path, said, wrong):
    found = [
        f.code
        for f in look_over(tmp_path, SEVERAL.replace("eight standing cards and eight lying ones", said))
        if f.code.startswith("figures")
    ]
    assert len(found) == wrong
