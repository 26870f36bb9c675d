"""How the cards go together, in a few lines: complete, in both units, from records."""

import re

import demo
import pytest
from kitwright.labels import is_base
from kitwright.telling.briefly import briefly
from kitwright.units import ABOUT, both_text
from making import make_worked
from oddkits import kit
from several import SEVERAL

KITS = list(demo.BY_ID)


@pytest.mark.parametrize("kit", KITS)
def test_every_piece_and_every_greeting_is_told(kit):
    worked = demo.worked(kit)
    told = " ".join(briefly(worked))
    for label in filter(lambda label: not is_base(label), worked.sizes):
        assert re.search(rf"\b{label}\b", told), label
    for design in worked.designs:
        assert all(f"“{said.text}”" in told for side in design.face.every for said in side.sentiments)
        if design.base.scored.scores:
            assert re.search(rf"Score each [^.]*\b{design.kit.base}\b", told)
        for score in design.base.scored.scores:
            assert both_text(score.at, design.kit.spec.unit) in told


@pytest.mark.parametrize("kit", KITS)
def test_there_are_about_five_lines_and_none_is_long(kit):
    lines = briefly(demo.worked(kit))
    assert 3 <= len(lines) <= 8
    assert all(60 * 7 > len(line) > 20 and line.endswith(".") and "  " not in line for line in lines)


@pytest.mark.parametrize("kit", [kit for kit in KITS if demo.BY_ID[kit].spec.unit == "mm"])
def test_a_maker_in_millimetres_meets_no_bare_inch(kit):
    told = " ".join(briefly(demo.worked(kit)))
    assert re.search(rf"\({ABOUT}?[^()]* in\)", told)
    assert not re.search(r"[\d½¼¾⅛⅜⅝⅞] in\b", re.sub(r"\([^()]* in\)", "", told))


def test_every_length_of_an_inch_kit_is_in_millimetres_too():
    told = " ".join(briefly(demo.worked("2026-08-rock-pool")))
    lengths = re.findall(r"[\d½¼¾⅛⅜⅝⅞] in\b(.{4})", told)
    assert len(lengths) > 5 and all(re.match(rf" \({ABOUT}?\d", after) for after in lengths)


def test_what_is_drawn_is_told_by_what_it_is():
    pool = briefly(demo.worked("2026-08-rock-pool"))
    assert pool[3] == "For barnacles below (4 cards), Tide lines and Barnacles change places."
    assert "Stick Film behind the window of F and foam, ¼ in (≈6.5 mm) wide, all round it without a gap" in pool[4]
    assert "It is a pocket: glue only ¼ in (≈6.5 mm) along its bottom, left and right; the top stays open. Slip T into K" in pool[5]
    gate = briefly(demo.worked("2025-12-winter-shutters"))
    assert gate[1] == "Score each base, its inside up, at 2⅝ in (≈66.5 mm) and 7⅞ in (≈200 mm) from the left edge; fold both lines forward."
    assert gate[4].endswith("Glue it to the left door only, so that the card opens.")
    assert gate[-1].startswith("Score B at ") and gate[-1].endswith("stick its end to the band alone.")
    lock = briefly(demo.worked("2026-07-lock-by-lock"))
    assert "fold back at the first, then forward at the second." in lock[1]
    low = briefly(demo.worked("2026-01-low-tide"))
    assert low[-1] == "S goes on foam, across the middle of M and reaches 3 mm (≈⅛ in) over the card on both sides."


def test_an_author_s_own_words_for_a_stage_stand_for_what_would_be_derived():
    vases = demo.worked("2025-09-bud-vases")
    lines = briefly(vases)
    assert sum("vase" in line for line in lines) >= 2 and "[[" not in " ".join(lines)
    assert not any(line.startswith(("Lay ", "For ")) for line in lines)


def test_of_several_designs_each_is_told_under_its_name_and_all_are_stamped_and_scored_before(tmp_path):
    lines = briefly(make_worked(tmp_path, SEVERAL))
    assert lines == (
        "Stamp “thinking of you” in the middle of the free band of each Standing base; let the ink dry.",
        "Score each Standing base at 4¼ in (≈108 mm) from the left edge and fold it. "
        "Score each Lying base at 4¼ in (≈108 mm) from the top edge and fold it.",
        "Standing: Lay A and B on the front of each base as drawn, ⅛ in (≈3 mm) from the edges and from each other. "
        "For shore above (4 cards), Moss and Shore change places.",
        "Lying: Lay B and two C on the front of each base as drawn, ⅛ in (≈3 mm) from the edges and from each other. "
        "For shore outside (4 cards), Moss and Shore change places.",
    )


def test_a_piece_that_touches_an_edge_is_not_told_to_be_the_same_from_all(tmp_path):
    lines = briefly(make_worked(tmp_path, kit(mat=False)))
    assert lines[-1] == "Lay A on the front of each base as drawn."
