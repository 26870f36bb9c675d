"""Half-typed kits: before its moment nothing of one stops or leaks, at its moment it stops the build."""

from __future__ import annotations

import datetime as dt
import os
import shutil
from pathlib import Path
from unittest import mock

import pytest
from archive.scanning import nowhere
from archive.small import CLUB, KIT, OLD, PAST, write_small
from click.testing import CliRunner
from kitwright.archive import gather as gathering
from kitwright.archive.gather import BuildRefused, gather
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.kit.read import read_club
from kitwright.release.upcoming import expected

UTC = dt.UTC
LATER = "2031-09-teasel-comb"
SOUND = KIT.format(title="Teasel comb", reveal="2031-09-20 10:00", tags="quick").split("photos:")[0]
BEFORE, AT = dt.datetime(2031, 9, 20, 8, 59, 59, tzinfo=UTC), dt.datetime(2031, 9, 20, 9, tzinfo=UTC)
"""A second before the reveal, and the reveal: Lisbon is an hour ahead in summer."""
FIRST_OF_MONTH = dt.datetime(2031, 8, 31, 23, tzinfo=UTC)


def written(data: str | bytes):
    return lambda folder: (folder / "kit.yaml").write_bytes(data if isinstance(data, bytes) else data.encode())


def a_folder(folder: Path) -> None:
    (folder / "kit.yaml").mkdir()


def a_pipe(folder: Path) -> None:
    os.mkfifo(folder / "kit.yaml")


def a_loop(folder: Path) -> None:
    (folder / "kit.yaml").symlink_to("kit.yaml")


HALF = {  # name: (how the kit is left, whether its reveal can still be read)
    "broken YAML": (written(SOUND + "guides: [\n"), True),
    "a broken quote first": (written('title: "Teasel\n' + SOUND), True),
    "unknown key": (written(SOUND + "hue: teal\n"), True),
    "windows line ends": (written((SOUND + "hue: teal\n").replace("\n", "\r\n")), True),
    "missing papers": (written(SOUND.replace("paper: field", "paper: meadow")), True),
    "quoted reveal": (written(SOUND.replace("2031-09-20 10:00", '"2031-09-20T10:00"  # at ten') + "x: 1\n"), True),
    "a flow mapping": (written("{title: T, reveal: 2031-09-20 10:00, cards: 3}\n"), True),
    "control characters": (written(SOUND.replace("Teasel", "Tea\x07sel")), True),
    "binary junk after it": (written(SOUND.encode() + bytes(range(128, 256))), True),
    "one citation of nothing": (written(SOUND.replace('title: "Teasel comb"', 'title: "Teasel [[size of Q]]"')), True),
    "no reveal, broken": (written(SOUND.replace("reveal: 2031-09-20 10:00\n", "") + "guides: [\n"), False),
    "a reveal of nonsense": (written(SOUND.replace("2031-09-20 10:00", "some day")), False),
    "an indented reveal": (written("card:\n  reveal: 2031-01-01\n"), False),
    "a commented reveal": (written("# reveal: 2031-01-01\ntitle: T\n"), False),
    "binary junk": (written(bytes(range(256)) * 20), False),
    "other encoding": (written(SOUND.encode("utf-16")), False),
    "empty": (written(""), False),
    "far too long": (written("# x\n" * 200_000), False),
    "one word": (written("soon"), False),
    "no kit.yaml": (lambda folder: None, False),
    "a folder in its place": (a_folder, False),
    "a pipe in its place": (a_pipe, False),
    "a link to itself": (a_loop, False),
    "past without its PDF": (written(PAST.replace("tags:", "reveal: 2031-09-20 10:00\ntags:").replace("old boats.pdf", "gone.pdf")), True),
}


@pytest.fixture(scope="module")
def small(tmp_path_factory) -> Path:
    """The small archive with the old kit alone, so that gathering is quick."""
    root = write_small(tmp_path_factory.mktemp("small"))
    for folder in (root / "kits").iterdir():
        if folder.is_dir() and folder.name != OLD:
            shutil.rmtree(folder)
    return root


@pytest.fixture
def root(small, tmp_path) -> Path:
    return Path(shutil.copytree(small, tmp_path / "archive"))


def leave(root: Path, make, name: str = LATER) -> Path:
    folder = root / "kits" / name
    folder.mkdir()
    make(folder)
    return folder


@pytest.mark.parametrize("name", HALF)
@pytest.mark.parametrize("audience", ["public", "team", "members"])
def test_a_half_typed_kit_stops_nothing_until_it_is_due(root, name, audience):
    make, readable = HALF[name]
    folder = leave(root, make)
    due = AT if readable else FIRST_OF_MONTH
    assert expected(folder, read_club(root / "kits")) == due
    found = gather(root, due - dt.timedelta(seconds=1), audience)
    assert [e.id for e in found.entries] == [OLD]
    (warning,) = found.left
    assert warning.level == "warning" and f"{LATER} is left out" in warning.problem and f"kitwright check {LATER}" in warning.remedy
    assert warning.place.file.parent.name == LATER or warning.place.file.name == LATER
    with pytest.raises(UserError) as stopped:
        gather(root, due, audience)
    assert not isinstance(stopped.value, BuildRefused) and LATER in str(stopped.value.place)
    with pytest.raises(UserError):
        gather(root)  # the author's own preview shows what she is typing, or says what is wrong with it


@pytest.mark.parametrize("audience", ["public", "team"])
def test_errors_in_a_kit_that_can_be_read_stop_nothing_either(root, audience):
    """A count that does not come out: found by the checks."""
    leave(root, written(SOUND.replace("3 strips of 1-1/2", "2 strips of 1-1/2").replace("cuts:", "sheets: 1\n    cuts:")))
    (warning,) = gather(root, BEFORE, audience).left
    assert (
        f"{LATER} is left out, and not due before 20 September 2031" in warning.problem
        and "too few" in warning.problem
        and warning.place.line
    )
    with pytest.raises(BuildRefused):
        gather(root, AT, audience)


def test_a_sound_one_is_in_the_teams_preview_alone(root):
    leave(root, written(SOUND))
    assert gather(root, BEFORE).left == () and [e.id for e in gather(root, BEFORE).entries] == [OLD]
    team = gather(root, BEFORE, "team")
    assert team.left == () and team.kits[0].id == LATER


def test_not_even_a_fault_of_kitwright_stops_what_is_due(root):
    leave(root, written(SOUND))
    with mock.patch.object(gathering, "as_it_stands", side_effect=ZeroDivisionError):
        (warning,) = gather(root, BEFORE).left
        assert "kitwright itself fails over this" in warning.problem
        with pytest.raises(ZeroDivisionError):
            gather(root, AT)


@pytest.mark.parametrize(
    "name, upcoming",
    [
        ("2031-11-Teasel Comb", True),
        ("2031-12", True),
        ("2032-1-teasel", True),
        ("2031-09-teasel_comb", False),
        ("2031-13-teasel", False),
        ("drafts", False),
        ("new kit", False),
    ],
)
def test_an_odd_folder_stops_the_build_unless_its_name_puts_it_off(root, name, upcoming):
    leave(root, lambda folder: None, name)
    at = dt.datetime(2031, 10, 1, tzinfo=UTC)
    if upcoming:
        (warning,) = gather(root, at).left
        assert name in warning.problem
    else:
        with pytest.raises(UserError, match="can't be a kit's id") as stopped:
            gather(root, at)
        assert name in str(stopped.value)


def test_an_odd_folder_with_a_sound_reveal_is_put_off_by_it(root):
    leave(root, written(SOUND), "drafts")
    assert gather(root, BEFORE).left
    with pytest.raises(UserError):
        gather(root, AT)


def test_the_reveal_counts_before_the_month_and_the_earlier_of_two(root):
    club = read_club(root / "kits")
    assert expected(leave(root, written("reveal: 2031-12-24\ntitle: [\n")), club) == dt.datetime(2031, 12, 24, tzinfo=UTC)
    assert expected(leave(root, written("reveal: 2031-12-24\nreveal: 2031-11-24 18:00\n"), "2031-09-b"), club) == dt.datetime(
        2031, 11, 24, 18, tzinfo=UTC
    )
    frozen = leave(root, lambda folder: None, "2031-09-c") / "published"
    for number, day in ((2, 2), (10, 3)):
        (frozen / f"r{number}" / "2031-09-c").mkdir(parents=True)
        (frozen / f"r{number}" / "2031-09-c" / "kit.yaml").write_text(f"reveal: 2031-09-0{day} 12:00\n")
    assert expected(frozen.parent, club) == dt.datetime(2031, 9, 3, 11, tzinfo=UTC), "what was frozen last"
    assert expected(leave(root, written("reveal: 1-1-1\n"), "misc"), club) is None


def test_the_zone_of_the_club_decides_the_month(root):
    for zone, hours in (("Pacific/Auckland", -12), ("America/Denver", 6)):
        (root / "kits" / "club.yaml").write_text(CLUB.replace("Europe/Lisbon", zone))
        folder = root / "kits" / LATER
        folder.mkdir(exist_ok=True)
        due = dt.datetime(2031, 9, 1, tzinfo=UTC) + dt.timedelta(hours=hours)
        assert expected(folder, read_club(root / "kits")) == due
        assert gather(root, due - dt.timedelta(seconds=1)).left


def test_two_that_are_due_and_broken_are_told_in_one_run(root):
    for name in (LATER, "2031-09-other"):
        leave(root, written(SOUND + "hue: teal\n"), name)
    with pytest.raises(UserError) as stopped:
        gather(root, AT)
    assert {error.place.file.parent.name for error in stopped.value.each} == {LATER, "2031-09-other"}


def test_with_nothing_due_at_all_what_is_wrong_is_said(root):
    shutil.rmtree(root / "kits" / OLD)
    leave(root, written(SOUND + "hue: teal\n"))
    with pytest.raises(UserError, match="“hue” is not a word"):
        gather(root, BEFORE)


def test_the_command_builds_warns_and_leaks_nothing(root, monkeypatch):
    monkeypatch.setattr("kitwright.cli.build.now", lambda: AT)
    leave(root, written(SOUND.replace("Teasel comb", "Teasel comb, wickerwork") + "hue: thistledown\n"))
    leave(root, written(bytes(range(256))), "2031-10-moonwort")
    done = CliRunner().invoke(cli, ["--root", str(root), "build", "--as-of", "2031-09-01", "--out", str(root / "site")])
    assert done.exit_code == 0, done.output
    for words in (LATER, "2031-10-moonwort", "warning", "“hue”", "kit.yaml"):
        assert words in done.output
    assert nowhere(root / "site", ["Teasel", "teasel", "wickerwork", "thistledown", "moonwort", "2031-09", "2031-10"]) == []


def test_the_calendar_tells_of_the_others(root):
    leave(root, written(SOUND + "hue: teal\n"))
    leave(root, written(SOUND.replace("2031-09-20", "2031-10-20")), "2031-10-sound")
    run = CliRunner()
    done = run.invoke(cli, ["--root", str(root), "calendar", "--as-of", "2031-09-01"])
    assert done.exit_code == 0 and "2031-10-20 10:00  to come" in done.output and f"{LATER} is left out" in done.output
    stopped = run.invoke(cli, ["--root", str(root), "calendar", "--as-of", "2031-09-21"])
    assert stopped.exit_code == 2 and "“hue”" in stopped.output


def test_one_kit_is_briefed_and_shown_whatever_the_others_are(root):
    leave(root, written(SOUND))
    leave(root, written("title: [\n"), "2031-10-broken")
    leave(root, lambda folder: None, "Not A Kit")
    run = CliRunner()
    for words in (["brief", LATER, "--for", "team"], ["show", LATER]):
        assert run.invoke(cli, ["--root", str(root), *words]).exit_code == 0
    missing = run.invoke(cli, ["--root", str(root), "show", "2031-09-teasel"])
    assert missing.exit_code == 2 and "there is no kit" in missing.output and LATER in missing.output
