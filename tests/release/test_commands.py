"""The commands: what they ask, what they print, what they refuse."""

from fractions import Fraction
from pathlib import Path

import icalendar
import pytest
from click.testing import CliRunner
from kitwright.archive.build import BuildReport
from kitwright.archive.gather import gather
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.release import atomic
from kitwright.release.record import released
from making import BATCH, ID, changed
from release.bench import LIVING, archive, at, edit, everything, kit_in, people_in

LOWER = (("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))


@pytest.fixture
def kits(tmp_path, quick):
    return archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\n" + LIVING)


def run(kits, *words: str, typed: str = "", status: int = 0) -> str:
    result = CliRunner().invoke(cli, ["--root", str(kits.parent), *words], input=typed)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == status, result.output
    return result.output


def test_release_and_erratum(kits):
    said = run(kits, "release", ID, "--as-of", "2030-01-04 12:00")
    made = released(kit_in(kits))[0]
    assert f"revision 1, code {made.code}" in said and "nobody has test-cut this kit" in said and made.at == at("2030-01-04 12:00")
    edit(kits, *LOWER)
    said = run(kits, "erratum", ID, "--as-of", "2030-01-09 13:00+01:00", typed="Wanda Fennimore\ny\nTrim them.\ny\n")
    assert (
        "B is 3¾ × ¾ in, not 3¾ × ⅞ in" in said
        and "In all: cut again." in said
        and "Who spotted it?" in said
        and "agree to be thanked" in said
    )
    two = released(kit_in(kits))[1]
    assert two.at == at("2030-01-09 12:00") and two.record.erratum.advice == "Trim them."
    assert people_in(kits)["wanda-fennimore"].thanked(ID, 2)


def test_an_erratum_asks_only_what_it_does_not_know(kits):
    run(kits, "release", ID, "--as-of", "2030-01-04")
    edit(kits, *LOWER)
    said = run(
        kits, "erratum", ID, "--spotted-by", "Wanda Fennimore", "--no-thank", "--advice", "Trim.", "--as-of", "2030-01-09", typed="y\n"
    )
    assert "Who spotted" not in said and "agree" not in said and "already cut? " not in said and "Publish this as revision 2?" in said


def test_saying_no_writes_nothing(kits):
    run(kits, "release", ID, "--as-of", "2030-01-04")
    edit(kits, *LOWER)
    before = everything(kits)
    assert "Nothing was written." in run(kits, "erratum", ID, "--as-of", "2030-01-09", typed="\n\nn\n", status=1)
    assert "Nothing was changed." in run(kits, "forget", "Ada Bellwether", typed="n\n", status=1)
    assert everything(kits) == before


def test_yes_asks_nothing(kits):
    run(kits, "release", ID, "--as-of", "2030-01-04")
    edit(kits, *LOWER)
    assert "?" not in run(kits, "erratum", ID, "--as-of", "2030-01-09", "--yes")
    assert len(released(kit_in(kits))) == 2


@pytest.mark.parametrize(
    "words, status, told",
    [
        (("release", "2031-01-nothing"), 2, "there is no kit"),
        (("erratum", ID), 2, "never released"),
        (("release", "2031-01-nothing", "--carry-over"), 2, "there is no kit"),
        (("release", ID, "--as-drawn"), 2, "--as-drawn goes with --carry-over"),
        (("release", "--adopt", "--carry-over"), 2, "type one of them"),
        (("release", ID, "--carry-over", "--as-of", "2030-01-05 18:00"), 2, "type one of them"),
        (("release", ID, "--as-of", "soon"), 2, "not a time"),
        (("brief", ID, "--for", "viewers"), 2, "no revision yet"),
        (("forget", "Nobody"), 2, "nobody called"),
        (("brief", ID), 2, "--for"),
        (("calendar", "--as-of", "x"), 2, "not a time"),
    ],
)
def test_what_can_not_be_done_is_told_and_writes_nothing(kits, words, status, told):
    before = everything(kits.parent)
    assert told in run(kits, *words, status=status)
    assert everything(kits.parent) == before


def test_errors_refuse_a_release(kits):
    edit(kits, ("    per card: 2", "    per card: 3"))
    before = everything(kits)
    said = run(kits, "release", ID, status=1)
    assert "error:" in said and "was not released" in said and everything(kits) == before


@pytest.mark.parametrize("year", ["2029", "2031"])
def test_a_slip_in_the_year_of_the_reveal_refuses_a_release_unless_it_is_meant(kits, year):
    edit(kits, ("reveal: 2030-01-05", f"reveal: {year}-01-05"))
    before = everything(kits)
    said = run(kits, "release", ID, "--as-of", "2029-01-04", status=1)
    assert "the reveal is in January" in said and "was not released" in said and everything(kits) == before
    edit(kits, ("reveal: ", "meant: reveal\nreveal: "))
    assert "as revision 1" in run(kits, "release", ID, "--as-of", "2029-01-04")


def test_unknown_people_are_told_before_a_release(kits):
    edit(kits, ("by: ada-bellwether\nmoments", "by: ada-nobody\nmoments"))
    assert "there is nobody ada-nobody" in run(kits, "release", ID, "--as-of", "2030-01-04")


def test_check_looks_over_what_may_change_after_a_release(kits):
    edit(kits, ("by: ada-bellwether\nmoments", "by: ada-nobody\nmoments"))
    assert "there is nobody ada-nobody" in run(kits, "check", ID, status=1)
    # And it stops a build.
    said = run(kits, "build", "--as-of", "2030-01-06", "--out", str(kits.parent / "ahead"), status=1)
    assert "there is nobody ada-nobody" in said and "the site was not built" in said and not (kits.parent / "ahead").exists()


def test_each_audience_has_its_folder(kits, monkeypatch):
    """The team's and the members' never go where the public site goes."""
    built = []

    def stand_in(root, target, progress, *, as_of, audience, now, on):
        assert on is None
        built.append((audience, target.relative_to(root).as_posix()))
        return BuildReport(1, 1, 1, 1, Fraction(1), target / "index.html")

    monkeypatch.setattr("kitwright.archive.build.build_archive", stand_in)
    for words, password in (((), False), (("--for", "team"), True), (("--for", "members"), True)):
        assert ("a password guards it" in run(kits, "build", *words)) == password
    assert built == [("public", "site"), ("team", "site-team"), ("members", "site-members")]
    assert {f"/{folder}/" for _, folder in built[1:]} <= set((Path(__file__).parents[2] / ".gitignore").read_text().split())
    run(kits, "build", "--for", "nobody", status=2)


def test_a_kit_that_is_public_without_release_is_warned_of(kits, monkeypatch):
    archive = gather(kits.parent, at("2030-01-06"))
    (warning,) = archive.unreleased
    assert "was never released" in warning.problem and f"kitwright release {ID}" in warning.remedy
    run(kits, "release", ID, "--as-of", "2030-01-07")
    assert gather(kits.parent, at("2030-01-08")).unreleased == ()
    # Before its release it was not there to be seen.
    with pytest.raises(UserError, match="no kit is due yet"):
        gather(kits.parent, at("2030-01-06"))


def test_calendar(kits):
    said = run(kits, "calendar", "--as-of", "2030-01-06", "--ics", str(kits.parent / "team.ics"))
    lines = [line.split() for line in said.split("\n") if ID in line]
    assert [tuple(line[:4]) for line in lines] == [
        ("Sat", "2030-01-05", "18:00", "past"),
        ("Thu", "2030-01-10", "18:00", "to"),
        ("Sun", "2030-01-20", "18:00", "to"),
    ]
    assert "not released" in said
    events = icalendar.Calendar.from_ical((kits.parent / "team.ics").read_bytes()).walk("VEVENT")
    assert [str(e["SUMMARY"]) for e in events] == [
        "Nine strips: reveal",
        "Nine strips: due, a day before samples",
        "Nine strips: samples",
        "Nine strips: late turn",
    ]
    run(kits, "release", ID, "--as-of", "2030-01-04")
    assert "not released" not in run(kits, "calendar", "--as-of", "2030-01-06")


def test_the_calendar_never_goes_into_the_site(kits):
    (kits.parent / "site").mkdir()
    assert "can't go into the site" in run(kits, "calendar", "--ics", str(kits.parent / "site" / "team.ics"), status=2)
    assert list((kits.parent / "site").iterdir()) == []


def test_briefs_are_printed(kits):
    assert run(kits, "brief", ID, "--for", "team", "--plain").startswith("BRIEF FOR THE TEAM: NINE STRIPS\n")


def test_a_brief_without_an_address_says_what_to_write(kits):
    ran = CliRunner().invoke(cli, ["--root", str(kits.parent), "brief", ID, "--for", "guest"])
    assert "There is no public address to share yet" in ran.stdout and "https://bench" not in ran.stdout
    assert "club.yaml" in ran.stderr and "address: https://" in ran.stderr and "address:" not in ran.stdout


def test_forget(kits):
    assert "Forgotten; 1 more file changed" in run(kits, "forget", "Ada Bellwether", "--yes")
    assert not any(b"bellwether" in data.lower() for data in everything(kits).values())


def test_a_change_cut_short_is_finished_by_the_next_command(kits, monkeypatch):
    with monkeypatch.context() as patch:
        patch.setattr(atomic, "finish", lambda folder: False)
        run(kits, "forget", "Ada Bellwether", "--yes")
    assert (kits / atomic.READY).is_dir() and (kits / "people" / "ada-bellwether").is_dir()
    run(kits, "calendar")
    assert not (kits / atomic.READY).exists() and not (kits / "people" / "ada-bellwether").exists()


def test_past_kits_have_no_revisions(kits):
    folder = kits / "2019-07-boats"
    folder.mkdir()
    (folder / "boats.pdf").write_bytes(b"%PDF-1.4\n")
    (folder / "kit.yaml").write_text("past: yes\ntitle: Boats\nprintable: boats.pdf\n", encoding="utf-8")
    assert "past kit" in run(kits, "release", "2019-07-boats", status=2)
    assert "2019-07-boats  reveal\n" in run(kits, "calendar")


def test_carrying_over_finds_nothing_to_do(kits):
    run(kits, "release", ID, "--as-of", "2030-01-04")
    before = everything(kits)
    assert "nothing need be done" in run(kits, "release", "--carry-over") and "nothing need be done" in run(
        kits, "release", ID, "--carry-over"
    )
    assert everything(kits) == before


def test_a_spec_with_errors_stops_an_erratum(kits):
    run(kits, "release", ID, "--as-of", "2030-01-04")
    file = kits / ID / "kit.yaml"
    file.write_text(changed(file.read_text(encoding="utf-8"), ("    per card: 2", "    per card: 3")), encoding="utf-8")
    assert "was not released" in run(kits, "erratum", ID, "--yes", status=1)
    assert len(released(kit_in(kits))) == 1


# --- slips of a hurried hand --------------------------------------------------------------------------


def test_an_empty_time_is_not_now(kits):
    before = everything(kits)
    for words in (["release", ID], ["calendar"], ["build"], ["brief", ID, "--for", "team"]):
        assert "“” is not a time" in run(kits, *words, "--as-of", "", status=2)
    assert everything(kits) == before


def test_the_calendar_replaces_nothing_but_a_calendar(kits, tmp_path):
    before = everything(kits)
    assert "something other than a calendar" in run(kits, "calendar", "--ics", str(kits / "club.yaml"), status=2)
    assert "can't be written here" in run(kits, "calendar", "--ics", str(tmp_path / "nowhere" / "team.ics"), status=2)
    assert everything(kits) == before
    for _ in range(2):
        run(kits, "calendar", "--ics", str(tmp_path / "team.ics"))
    assert [f.name for f in tmp_path.iterdir() if "team" in f.name] == ["team.ics"]


def test_a_time_ahead_is_warned_of(kits):
    assert "still to come" in run(kits, "release", ID, "--as-of", "2199-01-01")
    assert released(kit_in(kits))[0].at.year == 2199


def test_a_time_gone_by_is_not_warned_of(kits):
    assert "still to come" not in run(kits, "release", ID, "--as-of", "2020-01-01")


@pytest.mark.parametrize(
    "more, told",
    [
        (["--advice", "Ask ada  bellwether."], "may ask one day to be forgotten"),
        (["--advice", "Ask Una Reedham.", "--spotted-by", "Una Reedham", "--no-thank"], "names who spotted it"),
        (["--advice", "x" * 5000], "2000 are the most"),
        (["--thank", "--spotted-by", "y" * 200], "120 letters at most"),
    ],
)
def test_what_an_erratum_does_not_take(kits, more, told):
    run(kits, "release", ID, "--as-of", "2030-01-04")
    edit(kits, *LOWER)
    before = everything(kits)
    assert told in run(kits, "erratum", ID, "--yes", "--as-of", "2030-01-09", *more, status=2)
    assert everything(kits) == before


def test_a_blank_name_is_nobody(kits):
    run(kits, "release", ID, "--as-of", "2030-01-04")
    edit(kits, *LOWER)
    people = {f.name for f in (kits / "people").iterdir()}
    run(kits, "erratum", ID, "--yes", "--thank", "--spotted-by", "  ", "--as-of", "2030-01-09")
    assert len(released(kit_in(kits))) == 2 and {f.name for f in (kits / "people").iterdir()} == people


@pytest.mark.parametrize("name", ["facts.json", "results.json", "files.tar.xz", "club.yaml", f"{ID}/kit.yaml"])
@pytest.mark.parametrize(
    "damage",
    [lambda file: file.unlink(), lambda file: file.write_bytes(b"\xff"), lambda file: file.write_bytes(file.read_bytes() + b"\n#")],
    ids=["gone", "no text", "one more line"],
)
def test_nothing_is_made_from_a_revision_that_was_touched(kits, name, damage):
    run(kits, "release", ID, "--as-of", "2030-01-04")
    damage(kits / ID / "published" / "r1" / name)
    edit(kits, *LOWER)
    before = everything(kits)
    for words in (
        ["erratum", ID, "--yes", "--as-of", "2030-01-09"],
        ["release", ID, "--carry-over"],
        ["brief", ID, "--for", "members", "--as-of", "2030-02-01"],
    ):
        said = run(kits, *words, status=2)
        assert name in said and "was changed after its release" in said
    assert "was changed after its release" in run(kits, "check", ID, status=1)
    assert everything(kits) == before


def test_a_record_without_its_checksums_is_told(kits):
    run(kits, "release", ID, "--as-of", "2030-01-04")
    record = kits / ID / "published" / "r1" / "release.yaml"
    text = record.read_text(encoding="utf-8")
    record.write_text(text[: text.index("frozen:")] + "frozen: {}\n", encoding="utf-8")
    assert "no checksum of facts.json" in run(kits, "check", ID, status=2)


def test_a_release_that_can_not_be_written_is_told(kits, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("kitwright.release.atomic.os.rename", full)
    before = everything(kits)
    assert "can't be written (No space left on device)" in run(kits, "release", ID, "--as-of", "2030-01-04", status=2)
    assert everything(kits) == before


def test_what_stands_where_revisions_should(kits):
    published = kits / ID / "published"
    published.write_text("in the way", encoding="utf-8")
    before = everything(kits)
    for words in (["release", ID], ["check", ID], ["calendar"], ["brief", ID, "--for", "members"]):
        assert "this is no folder" in run(kits, *words, status=2)
    assert everything(kits) == before
    published.unlink()
    (published / "r²").mkdir(parents=True)
    run(kits, "release", ID, "--as-of", "2030-01-04")
    assert [r.number for r in released(kit_in(kits))] == [1]
