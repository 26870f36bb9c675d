"""Moments: due to the second, right at daylight-saving edges, and the calendar file."""

import datetime as dt
from importlib.metadata import version
from zoneinfo import ZoneInfo, reset_tzpath

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.ics import calendar_text
from kitwright.errors import UserError
from kitwright.release import calendar
from kitwright.release.calendar import due, instant, moments, oddity, read_time, zone
from making import BATCH
from release.bench import UTC, archive, at, kit_in

ZONES = (
    "America/Denver",
    "Europe/Lisbon",
    "Australia/Lord_Howe",
    "Asia/Kolkata",
    "America/St_Johns",
    "Africa/Casablanca",
    "Pacific/Apia",
    "Europe/Dublin",
)


@pytest.fixture(autouse=True)
def pinned_zones():
    """The standard library reads the pinned tzdata package too, not whatever the machine carries."""
    assert version("tzdata")
    reset_tzpath(to=())
    ZoneInfo.clear_cache()
    yield
    reset_tzpath()
    ZoneInfo.clear_cache()


@given(st.sampled_from(ZONES), st.datetimes(dt.datetime(2000, 1, 1), dt.datetime(2037, 12, 31)))
def test_instants_are_those_of_the_standard_library(name, local):
    theirs = local.replace(tzinfo=ZoneInfo(name)).astimezone(UTC)
    assert instant(local, zone(name)) == theirs


@pytest.mark.parametrize(
    "local, utc, odd",
    [
        # United States, 2027: clocks go forward on 14 March and back on 7 November, at 2:00 local (tz database, "US" rules).
        ("2027-03-14 01:59", "2027-03-14 08:59", None),
        ("2027-03-14 02:00", "2027-03-14 09:00", "skipped"),
        ("2027-03-14 02:30", "2027-03-14 09:30", "skipped"),
        ("2027-03-14 03:00", "2027-03-14 09:00", None),
        ("2027-11-07 00:59", "2027-11-07 06:59", None),
        ("2027-11-07 01:00", "2027-11-07 07:00", "twice"),
        ("2027-11-07 01:59", "2027-11-07 07:59", "twice"),
        ("2027-11-07 02:00", "2027-11-07 09:00", None),
    ],
)
def test_the_edges_of_daylight_saving(local, utc, odd):
    """RFC 5545, 3.3.5: a time that clocks skip has the offset from before; of one shown twice the first is meant."""
    moment, denver = dt.datetime.fromisoformat(local), zone("America/Denver")
    assert instant(moment, denver) == at(utc)
    assert oddity(moment, denver) == odd


@given(st.sampled_from(ZONES), st.integers(2000, 2036), st.integers(0, 365 * 48))
def test_oddities_are_found_by_counting_instants(name, year, half_hours):
    """Against the definition: how many instants show this local time."""
    local = dt.datetime(year, 1, 1) + dt.timedelta(minutes=30) * half_hours
    where = ZoneInfo(name)
    around = [local.replace(tzinfo=UTC) + dt.timedelta(minutes=m) for m in range(-27 * 60, 27 * 60, 15)]
    shown = sum(i.astimezone(where).replace(tzinfo=None) == local for i in around)
    assert oddity(local, zone(name)) == {0: "skipped", 1: None, 2: "twice"}[shown]


def test_due_to_the_second(tmp_path):
    kits = archive(tmp_path, BATCH + "reveal: 2030-07-06 10:00\n")
    kit = kit_in(kits)
    reveal = at("2030-07-06 09:00")  # Lisbon is an hour ahead of UTC in summer
    assert not due(kit, kit.club, reveal - dt.timedelta(seconds=1))
    assert due(kit, kit.club, reveal) and due(kit, kit.club, reveal + dt.timedelta(days=900))
    with pytest.raises(ValueError):
        due(kit, kit.club, dt.datetime(2030, 7, 6, 10))


def test_moments_come_in_order_of_time(tmp_path):
    kit = kit_in(
        archive(
            tmp_path,
            BATCH
            + "reveal: 2030-01-05 18:00\nmoments:\n  late: 2030-02-01\n  samples: {at: 2030-01-07 18:00, show: all}\n  early: 2030-01-01\n",
        )
    )
    assert [d.name for d in moments(kit, kit.club)] == ["early", "reveal", "samples", "late"]
    assert [d.show for d in moments(kit, kit.club)] == ["", "", "all", ""]


def test_odd_moments_are_told(tmp_path):
    text = BATCH + "meant: reveal\nreveal: 2030-03-31 01:30\nmoments:\n  samples: 2030-01-01\n  call: 2030-10-27 01:30\n"
    kit = kit_in(archive(tmp_path, text))  # Lisbon: clocks forward 31 March 1:00, back 27 October 2:00 (tz database, "EU" rules)
    told = {f.problem.split(":")[0]: f.problem for f in calendar.findings(kit, kit.club)}
    assert "skip 01:30" in told["reveal"] and "twice" in told["call"] and "samples come before the reveal" in told
    assert [f.place.line for f in calendar.findings(kit, kit.club)] == [
        text.splitlines().index(line) + 1 for line in ("reveal: 2030-03-31 01:30", "  call: 2030-10-27 01:30", "  samples: 2030-01-01")
    ]


def test_times_after_as_of(tmp_path):
    club = kit_in(archive(tmp_path)).club
    assert (
        read_time("2030-07-06 10:00", club)
        == read_time("2030-07-06T10:00", club)
        == read_time("2030-07-06T09:00Z", club)
        == at("2030-07-06 09:00")
    )
    for wrong in ("tomorrow", "", "2030-13-01", "9999-99-99", "0001-01-01T00:00+14:00"):
        with pytest.raises(UserError):
            read_time(wrong, club)


def test_a_zone_that_does_not_exist():
    for wrong in ("Mars/Olympus", "", "../etc", "Europe", "Europe/Lisbon/x"):
        with pytest.raises(UserError):
            zone(wrong)


# --- the calendar file (RFC 5545) ---------------------------------------------------------------

AWKWARD = "Ends; commas, backslash \\ and “ümläüts” " * 3


@pytest.fixture
def text(tmp_path):
    spec = (
        BATCH.replace("title: Nine strips", f"title: '{AWKWARD[:110].strip()}'")
        + "reveal: 2030-07-06 10:00\nmoments:\n  guest’s turn: {at: 2030-07-08 10:00, show: 'one; two, three'}\n"
    )
    kit = kit_in(archive(tmp_path, spec))
    return calendar_text(kit.club, [kit]), kit


def test_it_parses_with_icalendar(text):
    said, kit = text
    parsed = icalendar.Calendar.from_ical(said)
    events = parsed.walk("VEVENT")
    assert [str(e["SUMMARY"]) for e in events] == [f"{kit.spec.title}: reveal", f"{kit.spec.title}: guest’s turn"]
    assert [e["DTSTART"].dt for e in events] == [d.at for d in moments(kit, kit.club)]
    assert "one; two, three" in str(events[1]["DESCRIPTION"])
    assert not parsed.errors and not any(e.errors for e in events)
    assert all(e.get("UID") and e.get("DTSTAMP") for e in events) and parsed["VERSION"] == "2.0" and parsed["PRODID"]


def test_lines_are_folded_and_end_as_the_standard_says(text):
    """RFC 5545, 3.1: lines end in CRLF and have at most 75 octets without it."""
    raw = text[0].encode()
    assert raw.endswith(b"\r\n") and b"\n" not in raw.replace(b"\r\n", b"") and b"\r" not in raw.replace(b"\r\n", b"")
    lines = raw.split(b"\r\n")
    assert max(map(len, lines)) <= 75 and any(line.startswith(b" ") for line in lines)
    for line in lines:
        line.decode()  # never cut inside a character


def test_events_keep_their_names_when_they_move(text, tmp_path):
    said, kit = text
    moved = kit_in(archive(tmp_path / "moved", BATCH + "reveal: 2031-01-06 10:00\nmoments:\n  guest’s turn: 2031-01-08\n"))

    def uids(t: str) -> list[str]:
        return [str(e["UID"]) for e in icalendar.Calendar.from_ical(t).walk("VEVENT")]

    assert uids(said) == uids(calendar_text(moved.club, [moved])) and len(set(uids(said))) == 2
    assert said == calendar_text(kit.club, [kit])


def test_the_reveal_leads_what_happens_at_its_own_moment(tmp_path):
    kit = kit_in(
        archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\nmoments:\n  after party: 2030-01-05 18:00\n  early bird: 2030-01-05 17:00\n")
    )
    assert [d.name for d in moments(kit, kit.club)] == ["early bird", "reveal", "after party"]


@pytest.mark.parametrize(
    "typed, meant",
    [
        ("2030-01-05 24:00", "2030-01-06"),
        ("2030-01-05T24:00", "2030-01-06"),
        ("2028-02-29 24:00", "2028-03-01"),
        ("2029-12-31 24:00", "2030-01-01"),
    ],
)
def test_twenty_four_hours_are_the_end_of_the_day(tmp_path, typed, meant):
    """ISO 8601 (2004; again since its amendment of 2022) writes the end of a day so; both from memory."""
    kit = kit_in(archive(tmp_path, BATCH + f"moments:\n  samples: {typed}\n"))
    assert kit.spec.moments["samples"].at == dt.datetime.fromisoformat(meant)
    assert read_time(typed, kit.club) == at(f"{meant} 00:00")


@pytest.mark.parametrize(
    "wrong", ["2030-01-05 24:01", "2030-01-05 25:00", "2030-02-30 24:00", "24:00", "2199-12-31 24:00", "9999-12-31 24:00"]
)
def test_and_nothing_else_is(tmp_path, wrong):
    with pytest.raises(UserError) as caught:
        kit_in(archive(tmp_path, BATCH + f"moments:\n  samples: {wrong}\n"))
    assert caught.value.place.line and caught.value.remedy
