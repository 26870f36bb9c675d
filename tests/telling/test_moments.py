"""Moments in words: whoever reads one knows the day, the place, and which of two midnights is meant."""

import datetime as dt

import pytest
from kitwright.kit.clock import zone
from kitwright.telling.moments import city, in_place, night_text, until_text, when_text
from kitwright.telling.terminal import due


def local(text: str, where: str = "Europe/Lisbon", fold: int = 0) -> dt.datetime:
    return dt.datetime.fromisoformat(text).replace(tzinfo=zone(where), fold=fold)


def test_a_moment_names_its_weekday_and_its_city():
    assert when_text(local("2027-03-05 18:30")) == until_text(local("2027-03-05 18:30")) == "Friday 5 March 2027, 18:30, Lisbon time"
    assert when_text(local("2027-03-05 12:00", "America/New_York")) == "Friday 5 March 2027, 12:00 noon, New York time"
    assert when_text(local("2027-03-05 12:01", "UTC")) == "Friday 5 March 2027, 12:01, UTC"


def test_a_midnight_is_told_by_the_day_that_it_ends_or_begins():
    midnight = local("2027-03-06 00:00", "America/Denver")
    assert until_text(midnight) == "the end of Friday 5 March 2027 (midnight between Friday and Saturday), Denver time"
    assert when_text(midnight) == "the very start of Saturday 6 March 2027 (midnight between Friday and Saturday), Denver time"
    assert until_text(local("2028-01-01")).startswith("the end of Friday 31 December 2027 (midnight between Friday and Saturday)")
    assert until_text(local("2028-03-01")).startswith("the end of Tuesday 29 February 2028")


@pytest.mark.parametrize(
    "time, night",
    [
        ("00:00", "midnight between Friday and Saturday"),
        ("00:01", "the night from Friday to Saturday"),
        ("03:59", "the night from Friday to Saturday"),
        ("04:00", ""),
        ("12:00", ""),
        ("23:59", ""),
    ],
)
def test_the_small_hours_say_which_night(time, night):
    assert night_text(local(f"2027-03-06 {time}")) == night
    assert night in until_text(local(f"2027-03-06 {time}"))


def test_an_hour_that_clocks_show_twice_is_told_apart():
    """Denver goes back on 7 November 2027 at 2:00 (tz database, "US" rules)."""
    said = [when_text(local("2027-11-07 01:30", "America/Denver", fold)) for fold in (0, 1)]
    assert "the first of the two times" in said[0] and "the second of the two times" in said[1] and said[0].endswith(", Denver time")
    assert "two times" not in when_text(local("2027-11-08 01:30", "America/Denver"))


@pytest.mark.parametrize(
    "name, said",
    [
        ("Europe/Lisbon", "Lisbon"),
        ("America/Argentina/Buenos_Aires", "Buenos Aires"),
        ("America/St_Johns", "St John’s"),
        ("America/Port-au-Prince", "Port-au-Prince"),
        ("US/Eastern", "New York"),
        ("Canada/Newfoundland", "St John’s"),
        ("Australia/NSW", "Sydney"),
        ("Australia/Perth", "Perth"),
        ("Chile/EasterIsland", "Easter Island"),
        # An older name of a city stays that city, though it shares its clocks with another.
        ("Europe/Copenhagen", "Copenhagen"),
        ("UTC", "UTC"),
        ("Etc/UTC", "UTC"),
    ],
)
def test_a_zone_is_told_by_its_city(name, said):
    assert city(name) == said
    assert in_place(name) == ("UTC" if said == "UTC" else f"in {said}")


def test_the_calendar_says_which_midnight_of_what_is_to_come():
    at = dt.datetime(2027, 3, 6, tzinfo=zone("Europe/Lisbon"))
    assert due(at, False, "k", "samples", False).startswith("Sat 2027-03-06 00:00") and "midnight between Friday and Saturday" in due(
        at, False, "k", "samples", False
    )
    assert "midnight" not in due(at, True, "k", "samples", False)
