"""A time zone is a place: what is none, or an abbreviation, or a distance from Greenwich, is told at its line with what would be right."""

import datetime as dt
from zoneinfo import available_timezones

import pytest
from kitwright.errors import UserError
from kitwright.kit.clock import precise_zone, zone
from kitwright.kit.read import read_club
from kitwright.kit.typed import moment_meant, moment_typed, no_such_day
from kitwright.release.people import read_people
from making import BATCH, CLUB, changed, line_of, make_archive

IMPRECISE = [
    ("EST", "America/New_York"),
    ("EDT", "America/New_York"),
    ("EST5EDT", "America/New_York"),
    ("CST", "America/Chicago"),
    ("PST8PDT", "America/Los_Angeles"),
    ("est", "America/New_York"),
    ("GMT", "Europe/London"),
    ("BST", "Europe/London"),
    ("CET", "Europe/Berlin"),
    ("IST", "Europe/Dublin or Asia/Kolkata"),
    ("HST", "Pacific/Honolulu"),
    ("Etc/GMT", "Europe/London"),
    ("UTC+1", "Europe/Lisbon"),
    ("GMT-5", "Europe/Lisbon"),
    ("Etc/GMT+5", "Europe/Lisbon"),
    ("+02:00", "Europe/Lisbon"),
    ("utc +1", "Europe/Lisbon"),
    ("Z+1", "Europe/Lisbon"),
    ("Japan", "Asia/Tokyo"),
    ("GB", "Europe/London"),
    ("Zulu", "UTC"),
    ("Universal", "UTC"),
    ("NZ", "Pacific/Auckland"),
]
UNKNOWN = [
    ("europe/lisbon", "Europe/Lisbon"),
    ("EUROPE/LISBON", "Europe/Lisbon"),
    ("Lisbon", "Europe/Lisbon"),
    ("New York", "America/New_York"),
    ("America/New York", "America/New_York"),
    ("Europe/Lisbonn", "Europe/Lisbon"),
    ("Portugal/Lisbon", "Europe/Lisbon"),
    ("utc", "UTC"),
    ("Atlantis/Capital", "IANA"),
    ("../Europe/Lisbon", ""),
    ("/etc/localtime", ""),
    ("Europe", ""),
    ("Europe/", ""),
    ("a" * 100, "IANA"),
    ("Europe//Lisbon", ""),
    ("Eastern", "America/New_York"),
]


@pytest.mark.parametrize("name, right", IMPRECISE + UNKNOWN)
def test_what_is_no_place_is_told_at_its_line(tmp_path, name, right):
    text = changed(CLUB, ("Europe/Lisbon", f'"{name}"'))
    folder = make_archive(tmp_path, BATCH, club=text)
    with pytest.raises(UserError) as caught:
        read_club(folder.parent)
    error = caught.value
    assert (error.place.file.name, error.place.line) == ("club.yaml", line_of(text, "time zone"))
    assert (
        ("summer time" in error.problem or name == "Eastern") == ((name, right) in IMPRECISE or name == "Eastern")
        and right in error.remedy
        and len(str(error)) < 300
    )
    person = folder.parent / "people" / "ada-bell"
    person.mkdir(parents=True)
    (person / "person.yaml").write_text(f'name: Ada Bell\ntime zone: "{name}"\nconsent: {{on: 2029-12-01, to: []}}\n')
    with pytest.raises(UserError) as caught:
        read_people(folder.parent)
    assert (caught.value.place.file.name, caught.value.place.line, caught.value.problem) == ("person.yaml", 2, error.problem)


@pytest.mark.parametrize(
    "name",
    [
        "Europe/Lisbon",
        "America/Argentina/Buenos_Aires",
        "US/Eastern",
        "Asia/Kolkata",
        "UTC",
        "Etc/UTC",
        "Africa/Casablanca",
        "America/Indiana/Knox",
    ],
)
def test_places_are_silent(tmp_path, name):
    folder = make_archive(tmp_path, BATCH, club=changed(CLUB, ("Europe/Lisbon", name)))
    assert read_club(folder.parent).time_zone == name and precise_zone(name).key == name


def test_what_was_frozen_goes_on_meaning_what_it_meant(tmp_path):
    folder = make_archive(tmp_path, BATCH, club=changed(CLUB, ("Europe/Lisbon", "EST")))
    assert read_club(folder.parent, frozen=True).time_zone == "EST" and zone("EST").utcoffset(dt.datetime(2030, 7, 1)) == dt.timedelta(
        hours=-5
    )


def test_every_zone_is_read_or_told_well():
    """Against the list of the standard library: a region and a city is always a zone."""
    for name in sorted(available_timezones()):
        try:
            assert precise_zone(name).key == name and ("/" in name or name == "UTC") and (not name.startswith("Etc/") or name == "Etc/UTC")
        except UserError as error:
            assert error.problem and error.remedy and ("/" not in name or name.startswith("Etc/")), name


# --- as it is typed -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "typed, meant",
    [
        ("15.11.2026 10:00", "2026-11-15 10:00"),
        ("5. 3. 2027", "2027-03-05"),
        ("2026-11-15 10.00", "2026-11-15 10:00"),
        ("2026-11-15 10 am", "2026-11-15 10:00"),
        ("2026/11/15 12:30 p.m.", "2026-11-15 12:30"),
        ("2026-11-15, 18h30", "2026-11-15 18:30"),
        ("15.11.2026, 18 Uhr", "2026-11-15 18:00"),
        ("11/15/2026 6 pm", "2026-11-15 18:00"),
        ("15/11/2026", "2026-11-15"),
        ("04/03/2027", None),
        ("4/4/2027", "2027-04-04"),
        ("15 November 2026 at 9:30", "2026-11-15 09:30"),
        ("Nov 15th, 2026", "2026-11-15"),
        ("Ju 15, 2026", None),
        ("2026-11-15 25:00", None),
        ("2026-11-15 13 pm", None),
        ("2026-13-15", None),
        ("next Saturday", None),
    ],
)
def test_what_a_moment_typed_otherwise_meant(typed, meant):
    """What is offered is read, as itself; where day and month may be either, nothing is offered."""
    assert moment_typed(typed) is None and moment_meant(typed) == meant
    assert meant is None or moment_typed(meant) == moment_typed(moment_meant(meant))


@pytest.mark.parametrize(
    "typed, day", [("2026-11-31 10:00", (2026, 11, 31)), ("29.2.2027", (2027, 2, 29)), ("2028-02-29", None), ("2026-13-01", None)]
)
def test_a_day_that_its_month_has_not(typed, day):
    assert no_such_day(typed) == day
