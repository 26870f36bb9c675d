"""A kit that was published in an earlier form gets that of today, by its author's choice: a revision that says the same, and corrects nothing."""

import re
import shutil

import pytest
from click.testing import CliRunner
from kitwright.archive.atom import entries
from kitwright.archive.standing import standing
from kitwright.cli import cli
from kitwright.release import ledger
from kitwright.release.again import AsOf
from kitwright.release.errata import draft, errata
from kitwright.release.guard import guard
from kitwright.release.history import History
from kitwright.release.lookup import table
from kitwright.release.record import FORM, record_text, released
from kitwright.release.reform import reformed
from kitwright.release.revisions import as_published, current, files_of
from kitwright.release.whole import published
from kitwright.telling.lookup import do, says
from making import BATCH, ID
from release.bench import archive, at, edit, everything, keeps_its_drawing, kit_in, publish_erratum, quick_printables, release

OTHER, NEVER, UPCOMING = "2020-02-other", "2020-03-never", "2199-03-upcoming"
LOWER = (("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))
LATER = at("2198-06-01 12:00")


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """One kit public and corrected, one public and test-cut, one never released, one to come; what is published has the form of before."""
    with pytest.MonkeyPatch.context() as patch:
        quick_printables(patch)
        kits = archive(tmp_path_factory.mktemp("form"), BATCH + "meant: reveal\nreveal: 2020-01-05 18:00\n")
        for name in (OTHER, NEVER, UPCOMING):
            shutil.copytree(kits / ID, kits / name)
            edit(kits, ("title: Nine strips", f"title: {name}"), name=name)
        edit(kits, ("2020-01-05", "2199-03-05"), name=UPCOMING)
        release(kit_in(kits), {}, at("2020-01-04 12:00"))
        release(kit_in(kits, OTHER), {}, at("2020-02-04 12:00"))
        release(kit_in(kits, UPCOMING), {}, at("2026-02-04 12:00"))
        publish_erratum(draft(edit(kits, *LOWER), {}), at("2020-03-01 12:00"), "Trim them.")
    old_form(kits)
    return kits


def old_form(kits) -> None:
    """As an earlier kitwright published it: its records know no form."""
    bodies = {}
    for name in (ID, OTHER, UPCOMING):
        for revision in released(kit_in(kits, name)):
            old = revision.record.model_copy(update={"form": 1, "tested": name == OTHER, "before": "", "digest": ""})
            bodies[name, revision.number] = record_text(old)
    for file, data in ledger.resealed(kits, bodies).items():
        file.write_bytes(data)


@pytest.fixture
def kits(made, tmp_path, quick):
    return shutil.copytree(made, tmp_path / "kits")


def run(kits, *words: str, status: int = 0) -> str:
    result = CliRunner().invoke(cli, ["--root", str(kits.parent), *words])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == status, result.output
    return result.output


def test_one_kit_is_published_in_the_new_form_and_says_what_it_said(kits):
    before, was = everything(kits), released(kit_in(kits, OTHER))[-1]
    said = run(kits, "release", OTHER, "--new-form")
    assert f"{OTHER}, revision 2" in said and "no correction is told" in said and "older copies are as good" in said
    kit = kit_in(kits, OTHER)
    last = released(kit)[-1]
    assert guard(kit) is None and published(kits) == {} and keeps_its_drawing(kit, last)
    assert last.record.form == FORM and last.record.redrawn and last.record.erratum is None and not last.record.readdressed
    # The sign-off of the test cut carries over, and every text is the same to the byte.
    assert last.record.tested and last.code != was.code
    for name in was.record.frozen:
        if name != "files.tar.xz":
            assert (last.folder / name).read_bytes() == (was.folder / name).read_bytes()
    assert History(kit, released(kit)).between(1, 2).told == () and errata(kit, kit.club, {}, LATER) == []
    # Nothing of what was published changed, and what is kept of the old form is offered as it was.
    after = everything(kits)
    assert {name for name in before if after[name] != before[name]} == {"releases.yaml"}
    assert files_of(released(kit)[0]) == files_of(was)


def test_readers_of_an_older_copy_are_told_that_it_is_as_good(kits):
    kit = kit_in(kits)
    was = entries([kit], kit.club, {}, LATER)
    drawn = {f"{ID}-letter.pdf": b"new"}
    stamps = []

    def draw(worked, stamp):
        stamps.append(stamp)
        return drawn

    last = reformed(kit, AsOf(LATER, LATER), draw)
    assert files_of(last) == drawn and stamps[0].revision == 3 and stamps[0].corrects == ()
    kit = kit_in(kits)
    later = at("2198-06-02 12:00")
    assert entries([kit], kit.club, {}, later) == was and [e.revision.number for e in errata(kit, kit.club, {}, later)] == [2]
    state, files = standing(kit, current(kit, later), last)
    two, one = state.older
    assert two.told.do == "Your copy is fine to cut from: the newest says the same in a new form." and two.errata == ()
    assert one.told.do.startswith("Stop before you cut") and set(files) >= {f"r2/{ID}-letter.pdf", f"r1/{ID}-a4.pdf"}
    by_number = {a.revision: a for a in table([kit], kit.club, later).values() if a.became == "revision"}
    assert "Revision 3 replaces it" in says(by_number[2]) and "in a new form" in do(by_number[2]).do and by_number[3].current
    # A correction after it goes on as ever.
    edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    assert draft(kit_in(kits), {}).number == 4


def test_all_at_once_and_then_none_is_left(kits):
    said = run(kits, "release", "--new-form", "--as-of", "2020-04-01 12:00")
    assert "3 kits" in said and f"{ID}, revision 3" in said and f"{OTHER}, revision 2" in said and NEVER not in said
    assert [r.at for r in released(kit_in(kits))][-1] == at("2020-04-01 11:00")  # Lisbon in summer
    again = everything(kits)
    assert "nothing need be done" in run(kits, "release", "--new-form") and everything(kits) == again


@pytest.mark.parametrize(
    "words, told",
    [
        ([NEVER, "--new-form"], "was never released"),
        (["2020-09-nobody", "--new-form"], "2020-09-nobody"),
        ([ID, "--new-form", "--as-of", "2020-02-01 12:00"], "dated 2020-03-01 12:00 UTC, and the next comes after it"),
        ([ID, "--new-form", "--new-address"], "each ask for something else"),
        ([ID, "--new-form", "--take-back"], "each ask for something else"),
    ],
)
def test_what_can_not_be_is_one_clear_error_and_changes_nothing(kits, words, told):
    before = everything(kits)
    said = " ".join(run(kits, "release", *words, status=2).split())
    assert told in said and len(re.findall("error:", said, re.IGNORECASE)) <= 1 and everything(kits) == before


def test_what_has_the_new_form_is_not_published_twice(kits):
    run(kits, "release", OTHER, "--new-form")
    before = everything(kits)
    assert "has the form of today" in run(kits, "release", OTHER, "--new-form", status=2) and everything(kits) == before


def test_a_half_edited_kit_keeps_what_it_said(kits):
    edit(kits, ("title: Nine strips", "title: Not yet"))
    run(kits, "release", ID, "--new-form")
    kit = kit_in(kits)
    assert as_published(kit, released(kit)[-1]).kit.spec.title == "Nine strips"


@pytest.mark.parametrize("words", [(), ("--new-form",)])
def test_what_nobody_could_have_had_is_released_anew_in_its_place(kits, words):
    """Nothing of it changed but its form: that is enough to release it again."""
    (was,) = released(kit_in(kits, UPCOMING))
    run(kits, "release", UPCOMING, *words)
    (now,) = released(kit_in(kits, UPCOMING))
    assert (was.record.form, now.record.form, now.record.redrawn, now.code) == (1, FORM, False, was.code)
    assert published(kits) == {} and guard(kit_in(kits, UPCOMING)) is None
