"""Kits that are due at one moment lead the home page together."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from archive.small import FIRST, OLD, SECOND
from kitwright.archive.gather import Archive
from kitwright.archive.kinds.overview import ALL_KITS, HOME, leading
from kitwright.archive.make import Made
from kitwright.archive.page import Site
from kitwright.archive.pages import filled, shared_by_all
from kitwright.archive.theme import environment
from kitwright.kit.theme import Theme


@pytest.fixture(scope="module")
def made(small_site: Path, drawn: dict[str, Made]) -> list[Made]:
    """The small archive's kits, oldest first, as the build made them."""
    return [drawn[name] for name in (OLD, FIRST, SECOND)]


def at(one: Made, other: Made, id: str = "") -> Made:
    """A kit at the reveal of another, and under another name perhaps."""
    kit = one.entry.kit
    spec = kit.spec.model_copy(update={"reveal": other.kit.reveal})
    return replace(one, entry=replace(one.entry, kit=replace(kit, spec=spec, id=id or kit.id)))


def home(made: list[Made]) -> str:
    """The home page as it is handed to the page generator."""
    club = next(one.kit.club for one in made if not one.past)
    archive = Archive(club, tuple(one.entry for one in made), tuple(one.kit for one in made), Path("kits"))
    site = Site(archive, tuple(made))
    (page,) = HOME.pages(site)
    return filled(environment(Theme()), HOME, page, shared_by_all(site, {"index.md"}))


def test_one_newest_kit_leads_alone(made):
    assert [one.kit.id for one in leading(made)] == [SECOND]
    text = home(made)
    assert text.count("<h2 id=") == 2 + (len(made) > 1) and "The newest kit" in text and "kw-lead" not in text


def test_two_and_three_due_at_one_moment_all_lead_and_none_stands_below_again(made):
    old, first, second = made
    both = [old, at(first, second), second]
    third = at(first, second, "2031-04-yarrow")
    for kits, wanted in ((both, [SECOND, FIRST]), ([*both, third], ["2031-04-yarrow", SECOND, FIRST])):
        assert [one.kit.id for one in leading(kits)] == wanted
        text = home(kits)
        led, below = text.split('id="earlier"')
        assert re.findall(r'<h2 id="newest(?:-\d)?"><a href="kits/([^/]+)/', led) == wanted
        offered = re.findall(r'class="kw-button[^"]*" href="kits/([^/]+)/[^"]*-(letter|a4)\.pdf"', led)
        assert offered == [(kit, edition) for kit in wanted for edition in ("letter", "a4")], "each has its own download, in either edition"
        assert not any(name in below for name in wanted) and OLD in below
        assert len(set(re.findall(r'id="([^"]+)"', text))) == len(re.findall(r'id="([^"]+)"', text))


def test_old_printables_of_one_month_do_not_lead_together_by_chance(made):
    old = made[0]
    twin = replace(old, entry=replace(old.entry, id="2030-05-older-boats"))
    assert leading([old, twin]) == (twin,)


def test_an_archive_of_many_years_has_a_row_of_them(made):
    """Where the contents don't stand beside the page: nine years are nine thousand pixels on a phone."""
    many = [replace(made[0], entry=replace(made[0].entry, id=f"{year}-05-boats")) for year in range(2027, 2030)]
    for kits, rows in ((many, 0), ([*many, made[0]], 1)):
        site = Site(Archive(made[-1].kit.club, tuple(one.entry for one in kits), (), Path("kits")), tuple(kits))
        (page,) = ALL_KITS.pages(site)
        text = filled(environment(Theme()), ALL_KITS, page, shared_by_all(site, {"archive.md"}))
        assert text.count("kw-years") == rows and text.count('<li><a href="#20') == 4 * rows


def test_an_old_printable_does_not_lead_before_a_kit_of_its_month(made):
    """An import that knows no day better than the first of this month stands in the way of nothing."""
    *_, second = made
    old = replace(made[0], entry=replace(made[0].entry, id=f"{second.kit.id[:7]}-zinnias"))
    new = at(second, old)
    assert leading([new, old]) == (new,)
    text = home([made[0], new, old])
    led, below = text.partition('aria-labelledby="newest"')[2].split('id="earlier"')
    assert "-zinnias" in below and "-zinnias" not in led
