"""A page of one's own for everybody who has a part in a kit: deadlines on her clock with a calendar, what to show when, one download, what to post.

Lisbon is at UTC in January, Kolkata 5½ hours ahead of it, and Auckland, which has summer then, 13 hours (tz database).
"""

from __future__ import annotations

import datetime as dt
import html
import io
import re
import zipfile
from dataclasses import replace
from pathlib import Path

import icalendar
import pytest
from archive import town
from archive.finding import Index
from archive.rendered import ENVIRONMENT, made_of, page, site_of, words
from kitwright.archive.bundle import bundle_of
from kitwright.archive.helpers import bytes_text
from kitwright.archive.ics import calendar_text, her_calendar
from kitwright.archive.kinds import yours
from kitwright.archive.page import Site
from kitwright.archive.pages import filled, shared_by_all
from kitwright.release.team import findings, parts_of
from kitwright.work.working import work
from making import BATCH, CLUB, ID, changed
from release.bench import archive, at, edit, forget, kit_in, people_in
from sharing import once

SPEC = """\
reveal: 2030-01-05 18:00
moments:
  samples: {at: 2030-01-10 24:00, show: "cards; all, of you"}
  guest’s turn: 2030-01-20 12:00
links:
  - {for: river, address: "https://papers.example/river", earns: yes}
team:
  - {who: ada-bellwether, make: two cards, by: samples}
  - {who: moana-kererua, by: guest’s turn}
guests:
  - {who: quill-nobody, by: guest’s turn}
samples:
  - {by: moana-kererua, from: guest’s turn, used: [{kind: ink, words: a blue one, link: "https://inks.example/", earns: yes}]}
"""
TEAM = CLUB + "address: https://bench.example/cards/\nteam:\n  - ada-bellwether\n  - ida-idle\n".replace("- ", "- who: ")
MORE = {"moana-kererua": ("Moana Kererua", "Pacific/Auckland", "[name]"), "ida-idle": ("Ida Idle", "America/New_York", "[name]")}
THERE = "https://bench.example/cards/kits/2030-01-test-kit/index.html"
BEFORE = at("2029-12-01 12:00")


def people_added(kits: Path) -> Path:
    for key, (name, zone, to) in MORE.items():
        (kits / "people" / key).mkdir()
        (kits / "people" / key / "person.yaml").write_text(f"name: {name}\ntime zone: {zone}\nconsent: {{on: 2029-12-01, to: {to}}}\n")
    return kits


@pytest.fixture
def kits(tmp_path) -> Path:
    return people_added(archive(tmp_path, BATCH + SPEC, club=TEAM))


def site(kits: Path, **more) -> Site:
    return site_of(made_of(work(kit_in(kits))), people=people_in(kits), as_of=BEFORE, audience="team", **more)


def hers(kits: Path, **more) -> dict[str, str]:
    """Everybody's own page, by what it is called."""
    one = site(kits, **more)
    pages = list(yours.KIND.pages(one))
    shared = shared_by_all(one, {each.path for each in pages})
    return {each.title.partition(": for ")[2]: filled(ENVIRONMENT, yours.KIND, each, shared) for each in pages}


def calendars(kits: Path) -> dict[str, icalendar.Calendar]:
    kit, people = kit_in(kits), people_in(kits)
    return {
        p.person.key: icalendar.Calendar.from_ical(her_calendar(work(kit).kit, kit.club, p))
        for p in parts_of(work(kit).kit, kit.club, people)
    }


# --- the page -----------------------------------------------------------------------------------------


def test_everybody_reads_her_own_deadline_on_her_own_clock(kits):
    told = {name: words(text) for name, text in hers(kits).items()}
    assert list(told) == ["Ada Bellwether", "Moana Kererua", "you", "Ida Idle"], "one who did not agree to be named is not"
    assert "Two cards Ready by Thursday 10 January 2030, 05:30, Kolkata time" in told["Ada Bellwether"]
    assert "That is the end of Wednesday 9 January 2030 (midnight between Wednesday and Thursday), Lisbon time." in told["Ada Bellwether"]
    assert "Ready by Sunday 20 January 2030, 01:00 (the night from Saturday to Sunday), Auckland time" in told["Moana Kererua"]
    assert "Ready by Saturday 19 January 2030, 12:00 noon, Lisbon time" in told["you"] and "That is" not in told["you"]
    assert "the club’s own times, those of Lisbon. If you live elsewhere, tell us your city" in told["you"]
    assert "Nothing is asked of you for this kit" in told["Ida Idle"] and "13:00, New York time" in told["Ida Idle"]


def test_what_may_be_shown_names_the_moment_of_her_own_card(kits):
    told = {name: words(text) for name, text in hers(kits).items()}
    assert "Friday 11 January 2030, 05:30, Kolkata time The very start" in told["Ada Bellwether"]
    assert "Cards; all, of you; and what you made" in told["Ada Bellwether"] and "The kit itself" in told["Ada Bellwether"]
    # Her entry among the samples says from when on; a guest has her own turn.
    for name in ("Moana Kererua", "you"):
        assert "What you made" in told[name].partition("Guest’s turn")[2], name


def test_what_she_posts_has_the_whole_address_its_moment_and_what_earns_money(kits):
    pages = hers(kits)
    posts = {name: html.unescape(re.search("<code>(My card.*?)</code>", text)[1]) for name, text in pages.items()}
    assert posts["Ada Bellwether"] == (
        f"My card is made from “Nine strips”, a kit by Test bench. Cut along: {THERE} (Some links on the kit’s page earn the club money.)"
    )
    assert posts["Moana Kererua"] == posts["Ada Bellwether"] + " (Some links to what I used earn money.)"
    assert "Not before Friday 11 January 2030, 05:30, Kolkata time" in words(pages["Ada Bellwether"])
    shared = [html.unescape(each) for each in re.findall(r"<code>(https://[^<]*)</code>", pages["you"])]
    assert shared[0] == THERE and f"{THERE}#step-build" in shared and all(each.startswith(THERE) for each in shared)
    edit(kits, (", earns: yes}\nteam", "}\nteam"))
    assert "earn the club money" not in hers(kits)["Ada Bellwether"]


def test_without_an_address_that_is_said_and_nothing_made_up(kits):
    (kits / "club.yaml").write_text(
        changed((kits / "club.yaml").read_text(encoding="utf-8"), ("address: https://bench.example/cards/\n", ""))
    )
    for text in hers(kits).values():
        assert "https://" not in text.replace("https://…", "") and "has not said where its site stands" in text


def test_nothing_is_shown_before_the_reveal(kits):
    """A guest who is to be ready before the reveal shows with the samples, and nobody before the kit is there."""
    kit = edit(kits, ("  guest’s turn: 2030-01-20 12:00", "  guest’s turn: 2030-01-02 12:00"))
    turns = {part.person.key: part.turn.name for part in parts_of(kit, kit.club, people_in(kits))}
    assert turns == {"ada-bellwether": "samples", "moana-kererua": "reveal", "quill-nobody": "samples", "ida-idle": "samples"}


def test_an_address_stays_and_tells_no_name(kits):
    marks = {part.person.key: part.mark for part in parts_of(kit_in(kits), kit_in(kits).club, people_in(kits))}
    assert len(set(marks.values())) == 4 and all(re.fullmatch("[a-z2-9]{8}", mark) for mark in marks.values())
    file = kits / "people" / "ada-bellwether" / "person.yaml"
    file.write_text(file.read_text().replace("Ada Bellwether", "Ada Farthing").replace("name, link", "link"))
    kit = edit(kits, ("title: Nine strips", "title: Nine thin strips"))
    assert {part.person.key: part.mark for part in parts_of(kit, kit.club, people_in(kits))} == marks
    assert "Farthing" not in "".join(hers(kits).values()), "and she no longer agrees to be named"
    assert marks["ada-bellwether"] == "kth3mwx3", "links that were sent lead here"


def test_whoever_is_forgotten_has_no_page(kits, quick):
    forget(kits, "Moana Kererua")
    assert list(hers(kits)) == ["Ada Bellwether", "you", "Ida Idle"]


# --- her calendar (RFC 5545) ----------------------------------------------------------------------------


def test_her_calendar_has_her_deadline_as_an_instant_with_alarms(kits):
    for key, parsed in calendars(kits).items():
        events = parsed.walk("VEVENT")
        assert not parsed.errors and not any(e.errors for e in events) and parsed["REFRESH-INTERVAL"]
        due = [e for e in events if ", due" in e["SUMMARY"]]
        assert len(due) == (0 if key == "ida-idle" else 1) and len(events) == 3 + len(due)
        for event in due:
            assert event["DTSTART"].dt == (at("2030-01-10 00:00") if key == "ada-bellwether" else at("2030-01-19 12:00"))
            assert [a["TRIGGER"].dt for a in event.walk("VALARM")] == [dt.timedelta(days=-3), dt.timedelta(days=-1)]
        for alarm in parsed.walk("VALARM"):
            # An alarm that shows has an action, a trigger and a description (section 3.6.6).
            assert alarm["ACTION"] == "DISPLAY" and alarm["DESCRIPTION"] and not alarm.errors
    ada = calendars(kits)["ada-bellwether"].walk("VEVENT")
    assert any("Friday 11 January 2030, 05:30, Kolkata time" in e["DESCRIPTION"] for e in ada)
    assert any(e["DESCRIPTION"].endswith("From then on may be shown: cards; all, of you; and what you made") for e in ada)
    shown = [e for e in ada if e.walk("VALARM") and e.walk("VALARM")[0]["TRIGGER"].dt == dt.timedelta(0)]
    assert [str(e["SUMMARY"]) for e in shown] == ["Nine strips: reveal", "Nine strips: samples"]


def test_a_midnight_in_a_calendar_is_told_by_the_day_that_it_ends(kits):
    edit(
        kits,
        ("who: moana-kererua, by: guest’s turn", "who: moana-kererua"),
        ("who: quill-nobody, by: guest’s turn", "who: quill-nobody, by: samples"),
    )
    said = [str(e["SUMMARY"]) for e in calendars(kits)["quill-nobody"].walk("VEVENT")]
    assert "Nine strips, due by the end of Wednesday: a card of your own from this kit" in said


def test_a_deadline_that_moves_is_the_same_event(kits):
    def uids() -> list[str]:
        return [str(e["UID"]) for e in calendars(kits)["ada-bellwether"].walk("VEVENT") if ", due" in e["SUMMARY"]]

    before = uids()
    edit(kits, ("make: two cards, by: samples", "make: three cards, by: guest’s turn"), ("2030-01-20 12:00", "2030-02-20 12:00"))
    assert uids() == before


def test_in_the_teams_calendar_deadlines_alone_have_an_alarm(kits):
    kit = kit_in(kits)
    events = icalendar.Calendar.from_ical(calendar_text(kit.club, [kit])).walk("VEVENT")
    assert {str(e["SUMMARY"]): [a["TRIGGER"].dt.days for a in e.walk("VALARM")] for e in events} == {
        "Nine strips: reveal": [],
        "Nine strips: samples": [],
        "Nine strips: guest’s turn": [],
        "Nine strips: due, a day before samples": [-1],
        "Nine strips: due, a day before guest’s turn": [-1],
    }
    alarm = next(a for e in events for a in e.walk("VALARM") if "samples" in e["SUMMARY"])
    assert "the end of Wednesday 9 January 2030 (midnight between Wednesday and Thursday), Lisbon time" in alarm["DESCRIPTION"]
    kit = edit(
        kits,
        ("  guest’s turn: ", "  cards in: 2030-01-08 18:00\n  guest’s turn: "),
        ("make: two cards, by: samples", "make: two cards, by: cards in"),
    )
    events = icalendar.Calendar.from_ical(calendar_text(kit.club, [kit])).walk("VEVENT")
    assert [str(e["SUMMARY"]) for e in events if e.walk("VALARM")] == [
        "Nine strips: cards in",
        "Nine strips: due, a day before guest’s turn",
    ]


def test_nothing_is_due_only_when_it_shows(kits):
    """By the moment that is named where that comes before, else a day before; across a change of clocks at the same hour."""
    parts = {part.person.key: part for part in parts_of(kit_in(kits), kit_in(kits).club, people_in(kits))}
    assert all(due.at < part.turn.at for part in parts.values() for _, due in part.tasks)
    kit = edit(
        kits,
        ("samples: {at: 2030-01-10 24:00", "samples: {at: 2030-03-31 12:00"),
        ("moana-kererua, by: guest’s turn", "moana-kererua, by: reveal"),
    )
    (ada, *_) = parts_of(kit, kit.club, people_in(kits))
    assert [due.local.isoformat() for _, due in ada.tasks] == [
        "2030-03-30T12:00:00+00:00"
    ] and ada.turn.local.isoformat() == "2030-03-31T12:00:00+01:00"
    assert findings(kit, kit.club) == []
    kit = edit(
        kits,
        ("make: two cards, by: samples", "make: two cards, by: end of call"),
        ("  samples: {", "  end of call: 2030-05-01 12:00\n  samples: {"),
    )
    (told,) = findings(kit, kit.club)
    assert told.code == "calendar.due-after-shown" and "a day before “samples”" in told.remedy and told.place == kit.place("team", 0)
    (ada, *_) = parts_of(kit, kit.club, people_in(kits))
    assert [due.local.isoformat() for _, due in ada.tasks] == ["2030-03-30T12:00:00+00:00"]


# --- the built site -----------------------------------------------------------------------------------------


@pytest.fixture(scope="session")
def built(tmp_path_factory, worker_id: str) -> Path:
    """The team's site of the town, a second before a reveal; not to be changed."""
    return once(tmp_path_factory, worker_id, "town", town.build_all) / "team"


def test_one_tap_from_the_teams_home_to_ones_own_page(built: Path):
    folder = f"kits/{town.KIT}"
    for start, many in (("team.html", 3), (f"{folder}/team.html", 2)):
        text = (built / start).read_text(encoding="utf-8")
        links = set(re.findall(r'href="([^"]*for-[a-z2-9]{8}\.html)"', text))
        assert len(links) == many and all((built / start).parent.joinpath(link).is_file() for link in links), start
    for own in built.glob(f"{folder}/for-*.html"):
        text = own.read_text(encoding="utf-8")
        assert f'href="{own.stem}.ics"' in text and own.with_suffix(".ics").is_file() and f'href="{town.KIT}-everything.zip"' in text
        # A search over all kits does not find what is one person's.
        assert not any(own.name in file.read_text(encoding="utf-8") for file in (built / "search").iterdir())
        assert not any(own.stem in address for address in Index(built).addresses)
        icalendar.Calendar.from_ical(own.with_suffix(".ics").read_bytes())


RESERVED = {"con", "prn", "aux", "nul", *(f"{device}{n}" for device in ("com", "lpt") for n in range(1, 10))}
"""Names that Windows keeps for itself; from memory."""


def safe(names: list[str]) -> bool:
    """Whether every system takes these names."""
    parts = [part for name in names for part in name.split("/")]
    plain = all(re.fullmatch(r"[A-Za-z0-9]([A-Za-z0-9._-]*[A-Za-z0-9])?", part) and len(part) < 80 for part in parts)
    return plain and not {part.split(".")[0].casefold() for part in parts} & RESERVED and len({n.casefold() for n in names}) == len(names)


def test_the_one_download_unpacks_everywhere(built: Path):
    file = built / "kits" / town.KIT / f"{town.KIT}-everything.zip"
    with zipfile.ZipFile(file) as inside:
        assert inside.testzip() is None
        names = inside.namelist()
        said = inside.read(next(n for n in names if n.endswith("contents.txt"))).decode("utf-8")
        assert {i.date_time for i in inside.infolist()} == {(1980, 1, 1, 0, 0, 0)} and {i.compress_type for i in inside.infolist()} == {0}
        short = {n.partition("/")[2]: inside.read(n) for n in names}
    assert safe(names) and {"pictures/sketch.png", "pictures/guide-1.png", "pictures/photo-01.png"} <= set(short)
    assert all(n in said for n in short if n != "contents.txt")
    # Every printable that the kit's page offers, to the byte.
    pdfs = {f.name: f.read_bytes() for f in file.parent.glob("*.pdf")}
    assert pdfs and {n.partition("/")[2]: data for n, data in short.items() if n.endswith(".pdf")} == pdfs
    told = words(next(file.parent.glob("for-*.html")).read_text(encoding="utf-8"))
    pictures = sum(n.startswith("pictures/") for n in short)
    assert f"{len(pdfs)} printables and {pictures} pictures." in told and f"ZIP, {bytes_text(file.stat().st_size)}" in told
    later = built / "kits" / town.LATER / f"{town.LATER}-everything.zip"
    with zipfile.ZipFile(later) as inside:
        assert b"PREVIEW" in inside.read(f"{town.LATER}-everything/contents.txt"), "a kit that is not released says so"


def test_names_in_the_download_are_our_own_and_the_bytes_the_same(kits):
    (kits / ID / "photos").mkdir()
    for name in ("Größe eins.PNG", "ein; zwei.jpg"):
        (kits / ID / "photos" / name).write_bytes(b"")
    edit(
        kits, ("links:", "photos:\n  - {file: photos/Größe eins.PNG, alt: A card}\n  - {file: photos/ein; zwei.jpg, alt: Another}\nlinks:")
    )
    one = site(kits).made[0]
    files = {
        "x.pdf": b"one",
        "photos/Größe eins.PNG": b"a",
        "photos/ein; zwei.jpg": b"b",
        "samples/1.jpg": b"another's",
        "r1/x.pdf": b"an old one",
    }
    packed = [bundle_of(replace(one, files=each)) for each in (files, dict(reversed(files.items())))]
    assert packed[0] == packed[1] and (packed[0].printables, packed[0].pictures) == (1, 2)
    with zipfile.ZipFile(io.BytesIO(packed[0].data)) as inside:
        assert safe(inside.namelist())
        assert [n.partition("/")[2] for n in inside.namelist()] == [
            "contents.txt",
            "pictures/photo-01.png",
            "pictures/photo-02.jpg",
            "printables/x.pdf",
        ]


def test_long_after_the_kit_the_download_is_gone_and_the_page_stays(kits):
    late = site(kits)
    for days, there in ((89, True), (91, False)):
        when = at("2030-01-20 12:00") + dt.timedelta(days=days)
        old = Site(replace(late.archive, as_of=when), (replace(late.made[0], files={"x.pdf": b"%PDF"}),))
        text = page("yours.md", old)
        assert ("everything.zip" in text) == there and "What may be shown when" in text and ("has every printable" in text) != there
