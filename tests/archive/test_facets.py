"""The facets of all kits: what each kit is by them, and what a tag leads to."""

import json
from pathlib import Path

import demo
import pytest
from kitwright.archive.facets import SHOWN, AllKits, all_kits
from kitwright.archive.gather import Archive
from kitwright.archive.like import likes
from kitwright.archive.make import Made
from kitwright.archive.page import Site
from kitwright.release.people import read_people
from kitwright.telling.facets import sizes_both
from kitwright.units import parse_size

KITS = ["2026-01-low-tide", "2026-04-kitchen-garden", "2026-05-on-the-green", "2026-08-rock-pool", "2026-11-weathervane"]


def listed(kits: list[str]):
    made = [Made(demo.worked(kit), {}, {}, {"full": ()}) for kit in kits]
    site = Site(Archive(demo.CLUB, tuple(one.entry for one in made), (), Path("kits"), people=read_people(demo.KITS)), tuple(made))
    return site.kits


def of(kits: list[str]) -> AllKits:
    return all_kits(listed(kits), demo.CLUB)


@pytest.fixture(scope="module")
def found() -> AllKits:
    return of(KITS)


def values(found: AllKits, facet: str) -> dict[str, int]:
    return {value.key: value.kits for one in found.facets if one.key == facet for value in one.values}


def test_a_kit_of_two_designs_is_of_both_shapes(found):
    assert values(found, "card") == {"square": 1, "tall": 3, "wide": 2, "slimline": 1}, "a slimline card stands too"
    assert values(found, "also")["designs"] == 1


def test_bounds_hold_for_all_that_is_less(found):
    assert values(found, "sheets") == {"2": 3, "4": 4, "8": 5}
    assert values(found, "short") == {"1-16": 2, "1-8": 2, "1-4": 2, "1-2": 2}
    assert values(found, "papers") == {"2": 2, "4": 3}


def test_pads_that_are_sold_as_one_are_one_and_exact_figures_are_shown(found):
    """A pad of 15.2 cm and one of 6 in; which is drawn for less has slack that tells."""
    assert values(found, "sheet") == {"6x6in": 2, "8x8in": 1, "12x12in": 3}
    labels = {value.key: value.label for one in found.facets if one.key == "sheet" for value in one.values}
    assert labels["6x6in"] == ("6 × 6 in", "152 × 152 mm") and labels["8x8in"] == ("8 × 8 in", "≈203 × 203 mm")


def test_a_sheet_with_a_name_goes_by_it():
    assert sizes_both((parse_size("8 x 8"),), ("A4",)) == ("8 × 8 in and A4", "≈203 × 203 mm and A4")
    assert sizes_both((), ("A4",)) == ("A4", "A4") and sizes_both(()) == ("", "")


def test_tags_stand_by_their_kind_and_what_values_say_leads_there(found):
    assert values(found, "is-season") == {"spring": 2} and values(found, "is-occasion")["birthday"] == 1
    technique = values(found, "technique")
    assert {"shaker", "pocket", "triangles", "swap"} <= set(technique)
    assert found.tags["landscape"] == ("card", "wide")
    assert found.tags["shaker"] == ("technique", "shaker") and found.tags["sea"] == ("is-theme", "sea")
    assert found.tags["cut-alike"] == ("technique", "cut-alike") and found.tags["two-designs"] == ("also", "designs"), (
        "what a number says leads there"
    )
    keys = {(facet.key, value.key) for facet in found.facets for value in facet.values}
    assert set(found.tags.values()) <= keys


def test_rows_come_newest_first_with_their_places(found):
    assert [row.id for row in found.rows] == KITS[::-1]
    assert [row.line for row in found.rows][:2] == ["12 cards · 4 papers, 2 sheets", "8 cards · 2 sheets"]
    by_id = {row.id: row for row in found.rows}
    sheets = sorted(KITS, key=lambda kit: by_id[kit].ranks[0])
    assert sheets[-1] == "2026-01-low-tide" and by_id["2026-04-kitchen-garden"].ranks[3] == 0, "nothing is left over of it"


def test_the_script_has_each_kit_with_the_values_that_the_form_shows(found):
    text = found.script.decode()
    assert text.startswith("kwFacts({") and text.endswith("})\n") and "</" not in text
    data = json.loads(text.removeprefix("kwFacts(").removesuffix(")\n"))
    order = [(facet.key, value.key) for facet in found.facets for value in facet.values]
    weathervane = [order[ord(c) - 0x100] for c in data["kits"][0][-1]]
    assert {("card", "square"), ("fold", "side"), ("also", "half-sheets"), ("up", "one-way-drawn")} <= set(weathervane)
    assert sum(value.kits for facet in found.facets for value in facet.values) == sum(len(kit[-1]) for kit in data["kits"])


def test_beyond_the_first_a_kit_is_a_line(found):
    many = AllKits(found.facets, found.rows * 12, found.tags)
    assert [(year, len(near), len(far)) for year, near, far in many.years] == [(2026, SHOWN, 60 - SHOWN)]


def test_kits_like_one_are_three_at_most_each_with_why():
    kits = [*KITS, "2026-03-window-boxes", "2026-02-room-keys", "2026-09-harbour-lights"]
    found = likes(listed(kits), demo.CLUB)
    boxes = {like.id: like.why for like in found["2026-03-window-boxes"]}
    assert boxes["2026-02-room-keys"] == ("The same card, 4¼ × 5½ in", "The same card, ≈108 × 139.5 mm")
    assert all(len(like) <= 3 and kit not in {one.id for one in like} for kit, like in found.items())
    tide = [like.id for like in found["2026-01-low-tide"]]
    assert tide == [], "another card, other sheets: nothing is like it"
    assert found["2026-11-weathervane"][0].why[0].startswith("2 sheets of 12 × 12 in too")
