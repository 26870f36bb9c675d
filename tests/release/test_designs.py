"""Corrections of a kit of several designs: each change at its path, told of its design, nothing told twice, none hiding another."""

import pytest
from kitwright.release.both import Copy
from kitwright.release.changes import changes
from kitwright.release.rekeyed import rekeyed
from kitwright.release.values import values_of
from kitwright.telling.changes import told_lines
from making import changed, make_worked
from several import DESIGNS, GUIDE, LYING, SEVERAL, SHEETS, STANDING, alone


@pytest.fixture(scope="module")
def copy_of(tmp_path_factory):
    found = {}

    def made(text: str) -> Copy:
        if text not in found:
            worked = make_worked(tmp_path_factory.mktemp("kit"), text)
            found[text] = Copy(worked, values_of(worked))
        return found[text]

    return made


def lying(pair: tuple[str, str]) -> str:
    """The kit with the lying design changed alone."""
    return SHEETS + "designs:\n" + STANDING + changed(LYING, pair) + GUIDE


@pytest.mark.parametrize(
    ("text", "grade", "path", "said"),
    [
        (lying(("envelope: US A2 envelope", "envelope: ISO C6 envelope")), "write in", "designs.Lying.card.envelope", "Lying: "),
        (lying(("{size: 5-1/2 x 8-1/2, paper", "{size: 5-1/2 x 8-3/8, paper")), "recut", "designs.Lying.card.base.size", "Lying base"),
        (lying(("fold: top", "fold: top\n      score: 4-1/8")), "recut", "designs.Lying.base.score", "Lying: "),
        (lying(("columns: [C moss turned, B shore turned, C moss turned]", "columns: [C moss turned, C moss turned, B shore turned]")), "write in", "designs.Lying.fronts[0].pieces", "Lying: "),
        (changed(SEVERAL, ("thinking of you", "thank you")), "cosmetic", "designs.Standing.sentiment.text", "Standing: "),
        (lying(("moss outside", "moss around")), "cosmetic", "designs.Lying.fronts[0].cards", "Lying: "),
        (changed(SEVERAL, ("title: Moss and shore", "title: Shore and moss")), "cosmetic", "title", "kit is called"),
    ],
)  # fmt: skip
def test_a_change_in_one_design_is_told_of_it_at_its_path(copy_of, text, grade, path, said):
    old, new = copy_of(SEVERAL), copy_of(text)
    found = changes(old, new)
    assert path in [change.path for change in found.told], [change.path for change in found]
    assert any(said in line for line in told_lines(found)) and len(told_lines(found)) == len(set(told_lines(found)))
    # What differs is told or listed, path by path, both ways.
    differs = {p for p in {*old.values, *new.values} if old.values.get(p) != new.values.get(p)}
    assert found.paths >= differs and changes(new, old).paths >= differs
    assert not any(change.design == "Standing" for change in found) or "Standing" in path


def test_more_cards_of_one_design_are_told_once(copy_of):
    more = lying(("cards: 8", "cards: 12")).replace("outside, cards: 4", "outside, cards: 6")
    found = changes(copy_of(SEVERAL), copy_of(more))
    told = [change.path for change in found.told]
    assert "designs.Lying.cards" in told and not any(p.startswith("counts.") for p in told) and found.grade == "recut"


def test_a_design_that_is_new_or_gone_is_one_change(copy_of):
    third = STANDING.replace("Standing:", "Third:").replace("thinking of you", "hello")
    found = changes(copy_of(SEVERAL), copy_of(SHEETS + DESIGNS + third + GUIDE))
    assert [c.path for c in found.told if c.kind.startswith("design")] == ["designs.Third"] and any(
        "Third" in line for line in told_lines(found)
    )
    back = changes(copy_of(SHEETS + DESIGNS + third + GUIDE), copy_of(SEVERAL))
    assert [c.kind for c in back.told if c.kind.startswith("design")] == ["design-gone"]


def test_a_design_with_another_name_is_told_as_that_and_nothing_is_to_be_cut(copy_of):
    old, new = copy_of(SEVERAL), copy_of(SEVERAL.replace("Lying:", "Flat one:"))
    for one, other in ((old, new), (new, old)):
        found = changes(one, other)
        assert {c.kind for c in found.told} <= {"design-renamed", "label-on-sheet", "sheet-name"} and found.grade == "write in"
        assert found.paths >= {p for p in {*one.values, *other.values} if one.values.get(p) != other.values.get(p)}
        assert len([line for line in told_lines(found) if "is called" in line and "design" in line]) == 1


def test_one_design_that_becomes_two_is_told_without_a_word_lost(copy_of):
    one, two = copy_of(alone(STANDING).replace("  C: {size: 4 x 2, papers: [moss, shore]}\n", "")), copy_of(SEVERAL)
    for old, new in ((one, two), (two, one)):
        found = changes(old, new)
        assert found.grade == "recut" and any("design" in line for line in told_lines(found))
        assert found.paths >= {p for p in {*old.values, *new.values} if old.values.get(p) != new.values.get(p)}


def test_a_paper_s_new_key_is_found_in_every_design(copy_of):
    renamed = SEVERAL.replace("moss:", "fern:").replace("[moss,", "[fern,").replace(" moss ", " fern ").replace("A moss", "A fern").replace("C moss", "C fern").replace(": moss}", ": fern}").replace("{moss", "{fern").replace("name: fern", "name: moss")  # fmt: skip
    old, new = copy_of(SEVERAL), copy_of(renamed)
    found = changes(old, new)
    assert {c.kind for c in found.told} == {"paper-key"} and not found.besides
    again = rekeyed(old, {"moss": "fern"})
    assert [d.kit.spec.pieces for d in again.worked.designs] == [d.kit.spec.pieces for d in new.worked.designs]
