"""A club that moves to another time zone: what was published keeps its dates, and what is to come moves when she agreed."""

import datetime as dt
import shutil
from dataclasses import replace
from unittest import mock

import pytest
from archive.small import PAST as PAST_KIT
from click.testing import CliRunner
from kitwright.archive.atom import entries
from kitwright.archive.gather import gather
from kitwright.archive.standing import standing
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.kit.read import read_club, read_kit
from kitwright.release import ledger, zonemove
from kitwright.release.calendar import due, moments, reveal_of
from kitwright.release.errata import draft, errata
from kitwright.release.lookup import table
from kitwright.release.record import released
from kitwright.release.revisions import current
from kitwright.release.takeback import take_back
from kitwright.release.upcoming import expected
from kitwright.release.whole import published
from kitwright.telling.lookup import says
from making import BATCH, CLUB, ID, changed
from release.bench import archive, at, edit, everything, kit_in, publish_erratum, quick_printables, release

LATER, OLD = "2199-02-other", "2019-05-boats"
LOWER = (("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))
NOW = at("2026-06-01 12:00")
AWAY = "America/New_York"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """One kit public and corrected, late in the evening by Lisbon's clocks, one to come, and a past one."""
    with pytest.MonkeyPatch.context() as patch:
        quick_printables(patch)
        kits = archive(tmp_path_factory.mktemp("zones"), BATCH + "meant: reveal\nreveal: 2020-01-05 18:00\n")
        shutil.copytree(kits / ID, kits / LATER)
        edit(
            kits,
            ("title: Nine strips", "title: Other"),
            ("reveal: 2020-01-05 18:00", "reveal: 2199-02-05 18:00\nmoments: {samples: 2199-02-07 10:00}"),
            name=LATER,
        )
        (kits / OLD).mkdir()
        (kits / OLD / "kit.yaml").write_text(PAST_KIT, encoding="utf-8")
        (kits / OLD / "old boats.pdf").write_bytes(b"%PDF-1.4\n%%EOF\n")
        release(kit_in(kits), {}, at("2020-01-05 00:30"))
        publish_erratum(draft(edit(kits, *LOWER), {}), at("2020-02-01 01:30"))
    return kits


@pytest.fixture
def kits(made, tmp_path, quick):
    return shutil.copytree(made, tmp_path / "kits")


def run(kits, *words: str, typed: str = "", status: int = 0) -> str:
    result = CliRunner().invoke(cli, ["--root", str(kits.parent), *words], input=typed)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == status, result.output
    return result.output


def moved_to(kits, place: str) -> None:
    club = kits / "club.yaml"
    was = read_club(kits).time_zone
    club.write_text(changed(club.read_text(encoding="utf-8"), (f"time zone: {was}", f"time zone: {place}")), encoding="utf-8")


def told(kits) -> list[object]:
    """Everything dated that readers see of what is public."""
    club, kit = read_club(kits), kit_in(kits)
    every = [kit, read_kit(kits / OLD, club)]
    revision = released(kit)[-1]
    state, _ = standing(kit, current(kit, NOW), revision)
    return [
        entries(every, club, {}, NOW),
        [(e.date, e.since, e.public) for e in errata(kit, club, {}, NOW)],
        [says(answer) for answer in table([kit], club, NOW).values()],
        state.line,
        [old.line for old in state.older],
        [reveal_of(each, club) for each in every],
        [expected(each.folder, club) for each in every],
    ]


def test_nothing_moves_before_she_agreed_and_then_only_what_is_to_come(kits):
    before, of_later = told(kits), moments(kit_in(kits, LATER), read_club(kits))
    moved_to(kits, AWAY)
    files = everything(kits.parent)
    for words, status in (
        (("build",), 2),
        (("release", LATER), 2),
        (("erratum", ID, "--yes"), 2),
        (("brief", LATER, "--for", "team"), 2),
        (("calendar",), 2),
        (("check", ID), 1),
    ):
        said = run(kits, *words, status=status)
        assert "time zone was Lisbon and is New York now: 2 moments to come would move" in said and "calendar --agree" in said, words
    said = run(kits, "calendar", status=2)
    (line,) = (line for line in said.splitlines() if f"{LATER}, reveal" in line)
    was, now = line.split(", would be ")
    assert all("Tuesday 5 February 2199, 18:00" in each for each in (was, now))
    assert "Lisbon" in was and "New York" in now and now.endswith(": 5 h later")
    assert everything(kits.parent) == files
    said = run(kits, "calendar", "--agree")
    assert "samples" in said and published(kits) == {}
    listed = said[said.index("By the clocks of Lisbon") :]
    assert listed.index(ID) < listed.index("By the clocks of New York") < listed.index(LATER)
    assert told(kits) == before
    club = read_club(kits)
    assert [d.at - was.at for d, was in zip(moments(kit_in(kits, LATER), club), of_later)] == [dt.timedelta(hours=5)] * 2
    assert not due(kit_in(kits, LATER), club, of_later[0].at)
    assert "nothing to agree to" in run(kits, "calendar", "--agree", status=2)
    run(kits, "calendar")
    assert "moments to come" not in run(kits, "check", ID)


def test_what_is_released_later_goes_by_the_new_clocks(kits):
    moved_to(kits, AWAY)
    run(kits, "calendar", "--agree")
    edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    publish_erratum(draft(kit_in(kits), {}), at("2026-05-02 02:30"))
    kit, club = kit_in(kits), read_club(kits)
    state, _ = standing(kit, current(kit, NOW), released(kit)[-1])
    # 02:30 UTC is the evening before in New York, as 01:30 was the same day in Lisbon.
    assert state.line == "Revision 3, released 1 May 2026" and [o.line for o in state.older] == [
        "Revision 2, released 1 February 2020",
        "Revision 1, released 5 January 2020",
    ]
    assert [str(e.date) for e in errata(kit, club, {}, NOW)] == ["2026-05-01", "2020-02-01"]
    assert reveal_of(kit, club) == at("2020-01-05 18:00")
    # And back again: what is public by then stays, whichever clocks it went by.
    moved_to(kits, "Europe/Lisbon")
    assert "5 h earlier" in run(kits, "calendar", status=2)
    run(kits, "calendar", "--agree")
    assert reveal_of(kit_in(kits, LATER), read_club(kits)) == at("2199-02-05 18:00") and published(kits) == {}
    assert [move.now for move in ledger.read_ledger(kits).zones] == [AWAY, "Europe/Lisbon"]


def test_she_is_asked_at_a_terminal(kits):
    moved_to(kits, "Asia/Tokyo")
    files = everything(kits)
    with mock.patch("kitwright.cli.calendar._at_a_terminal", lambda: True):
        assert "9 h earlier" in run(kits, "calendar", typed="n\n", status=1) and everything(kits) == files
        assert "Shall they move?" in run(kits, "calendar", typed="y\n")
    assert reveal_of(kit_in(kits, LATER), read_club(kits)) == at("2199-02-05 09:00")


def test_clocks_that_go_alike_are_no_move(kits):
    moved_to(kits, "Europe/London")
    assert zonemove.move(kits, read_club(kits), NOW) is None
    run(kits, "calendar")


def test_nothing_to_come_is_asked_about_too(kits):
    """What is past would be read anew otherwise."""
    shutil.rmtree(kits / LATER)
    before = told(kits)
    moved_to(kits, AWAY)
    assert "Nothing that is to come moves" in run(kits, "calendar", status=2)
    run(kits, "calendar", "--agree")
    assert told(kits) == before


def test_a_half_typed_kit_moves_too(kits):
    (kits / LATER / "kit.yaml").write_text("title: [\nreveal: 2199-02-05 18:00\n", encoding="utf-8")
    moved_to(kits, AWAY)
    assert [m.kit for m in zonemove.move(kits, read_club(kits), NOW).moved] == [LATER]


def test_a_move_lets_nothing_be_taken_back(kits):
    """A reveal that came by Lisbon's clocks, and is to come by New York's."""
    edit(kits, ("reveal: 2020-01-05 18:00", "reveal: 2026-06-01 12:00"))
    moved_to(kits, AWAY)
    with pytest.raises(UserError, match="time zone was Lisbon"):
        take_back(kit_in(kits), at("2026-06-01 12:30"))
    with pytest.raises(UserError, match="time zone was Lisbon"):
        gather(kits.parent, at("2026-06-01 12:30"))
    zonemove.agree(kits, zonemove.move(kits, read_club(kits), at("2026-06-01 12:30")), at("2026-06-01 12:30"))
    with pytest.raises(UserError, match="readers may have it"):
        take_back(kit_in(kits), at("2026-06-01 12:31"))


@pytest.mark.parametrize(
    "odd",
    [{"now": "Mars/Base"}, {"was": "../../etc"}, {"since": "soon"}, {"since": "2026-01-01"}, {"since": "2026-01-01T10:00:00"}],
    ids=str,
)
def test_a_line_that_a_stranger_sealed_is_no_trap(kits, odd):
    """With all digests right: it names no release, and moves nothing."""
    move = replace(ledger.ZoneMove(AWAY, "Europe/Lisbon", "2026-01-01T10:00:00+00:00"), **odd)
    for file, data in ledger.appended(kits, [move]).items():
        file.write_bytes(data)
    assert "no-line" in str(published(kits)[""])
    assert reveal_of(kit_in(kits, LATER), read_club(kits)) == at("2199-02-05 18:00")


def test_before_anything_is_published_she_may_move_as_she_likes(tmp_path, quick):
    kits = archive(tmp_path, club=CLUB.replace("Europe/Lisbon", AWAY))
    assert zonemove.move(kits, read_club(kits), NOW) is None
    run(kits, "calendar")


def test_the_line_is_guarded_like_the_others(kits):
    moved_to(kits, AWAY)
    run(kits, "calendar", "--agree")
    edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    publish_erratum(draft(kit_in(kits), {}), at("2026-05-02 02:30"))
    text = (kits / "releases.yaml").read_text(encoding="utf-8")
    for old, new in ((AWAY, "Asia/Tokyo"), ("was: Europe", "was: Africa"), ("since: 20", "since: 21")):
        assert old in text
        (kits / "releases.yaml").write_text(text.replace(old, new, 1), encoding="utf-8")
        assert "no-line" in str(published(kits))
    # As the last one too, that no other line follows.
    (kits / "releases.yaml").write_text("".join(text.splitlines(keepends=True)[:-1]).replace("since: 20", "since: 21"), encoding="utf-8")
    assert "no-line" in str(published(kits)[""])
