"""The facts by which a kit is chosen, on kits of the demo whose sheets one can count by hand."""

from fractions import Fraction

import demo
import pytest
from kitwright.archive.facts import kit_facts, upright_of
from kitwright.archive.make import Made
from kitwright.units import Length, Size, parse_length, parse_size
from kitwright.work.traits import shape_of


def facts(kit: str):
    return kit_facts(Made(demo.worked(kit), {}, {}, {"full": ()}))


@pytest.mark.parametrize(
    ("size", "shape"),
    [
        ("5-1/4 x 5-1/4", "square"),
        ("4-1/4 x 5-1/2", "tall"),
        ("5-1/2 x 4-1/4", "wide"),
        ("3-1/2 x 8-1/2", "slimline"),
        ("99 x 210 mm", "slimline"),
        ("5 x 7", "tall"),
        ("4 x 8", "slimline"),
    ],
)
def test_the_shape_of_a_card(size, shape):
    assert shape_of(parse_size(size)) == shape
    assert shape_of(parse_size(size).turned) == {"tall": "wide", "wide": "tall"}.get(shape, shape)


def test_papers_are_not_sheets():
    weathervane = facts("2026-11-weathervane")
    assert (len(weathervane.patterned), weathervane.sheets) == (4, 2), "four papers, half a sheet of each"
    assert [paper.at_hand for paper in weathervane.patterned] == [1, 1, 1, 1]
    assert [(card.shape, card.fold, card.cards) for card in weathervane.made] == [("square", "side", 12)]
    assert facts("2026-06-street-party").sheets == Fraction(13, 2)


def test_several_designs_are_told_each():
    garden = facts("2026-04-kitchen-garden")
    assert [(card.shape, card.fold) for card in garden.made] == [("tall", "side"), ("wide", "top")]
    assert sum(card.cards for card in garden.made) == garden.cards
    assert (garden.leftover, garden.largest, garden.slack) == (0, None, Length(Fraction(0))), "its sheets are cut up whole"


def test_techniques_follow_from_values():
    assert facts("2026-08-rock-pool").techniques[:4] == ("shaker", "pocket", "window", "pull-out tag")
    assert facts("2026-05-on-the-green").techniques == ("raised pieces", "triangles", "rounded corners")
    assert {"banner", "punched pieces"} <= set(facts("2026-06-street-party").techniques)


def test_whether_a_paper_may_have_an_up():
    assert upright_of(demo.worked("2026-11-weathervane")) == "drawn"
    assert upright_of(demo.worked("2026-08-rock-pool")) == "more", "one of its guides lays pieces down"
    street = facts("2026-06-street-party")
    assert street.one_way and street.one_way_friendly


def test_cuts_and_what_a_sheet_may_lack():
    evening = facts("2026-11-evening-post")
    worked = demo.worked("2026-11-evening-post")
    assert evening.cuts == sum(run.layout.strokes * -(-run.sheets // 1) for plan in worked.plans for run in plan.runs)
    assert (evening.slack, evening.largest) == (parse_length("3/8"), Size(parse_length("3-3/4"), parse_length("3")))
    assert not (evening.corrected or evening.cut_files)
