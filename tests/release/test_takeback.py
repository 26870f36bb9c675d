"""What no reader could have had yet is taken back, without a correction; what anybody could have had never is."""

import shutil
from dataclasses import replace

import pytest
from click.testing import CliRunner
from kitwright.archive import offered
from kitwright.archive.atom import entries
from kitwright.archive.corrections import _view
from kitwright.archive.standing import standing
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.release import atomic, ledger, publish, whole
from kitwright.release.errata import draft, errata
from kitwright.release.guard import guard
from kitwright.release.lookup import table
from kitwright.release.record import released
from kitwright.release.revisions import current
from kitwright.release.takeback import take_back, unread
from kitwright.release.whole import published
from kitwright.telling.errata import asked_lines
from kitwright.telling.lookup import do, says
from making import BATCH, ID
from release.bench import archive, at, edit, everything, forget, kit_in, publish_erratum, release
from release.killing import outcomes, recorded

AHEAD, PAST = "2199-01-05 18:00", "2020-01-05 18:00"
"""Reveals on both sides of the clock that the commands go by."""
LOWER = (("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))
BEFORE, REVEAL, AFTER = at("2030-01-05 10:00"), at("2030-01-05 18:00"), at("2030-01-09 12:00")


@pytest.fixture
def kits(tmp_path, quick):
    """A kit that is not public by the clock."""
    return archive(tmp_path, BATCH + f"meant: reveal\nreveal: {AHEAD}\n")


def run(kits, *words: str, typed: str = "", status: int = 0) -> str:
    result = CliRunner().invoke(cli, ["--root", str(kits.parent), *words], input=typed)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == status, result.output
    return result.output


def plain(code: str) -> str:
    return code.replace("-", "")


def lines_of(kits) -> list[str]:
    return (kits / "releases.yaml").read_text(encoding="utf-8").splitlines(keepends=True)


def slip_before_the_reveal(kits, *, now=BEFORE):
    """Released, a slip found the evening before, and released again; the revision that went."""
    one, _ = release(kit_in(kits), {}, at("2030-01-04 12:00"))
    kit = edit(kits, *LOWER)
    publish.release(kit, {}, now, offered.offered, unread(kit, now))
    return one


def test_a_slip_found_the_evening_before(kits):
    run(kits, "release", ID)
    one = released(kit_in(kits))[0]
    edit(kits, *LOWER)
    (kits / ID / "notes.md").unlink()
    said = run(kits, "release", ID)
    (now,) = released(kit_in(kits))
    # Noted by whoever cut it, the code is still that of what was taken back.
    edit(kits, ("meant: reveal\n", f"meant: reveal\ntested: [{{by: a-maker, on: 2020-01-03, code: {one.code}}}]\n"))
    kit = kit_in(kits)
    assert table([kit], kit.club, at("2199-02-01 00:00"))[plain(one.code)].became == "taken back"
    assert now.number == 1 and now.code != one.code and now.record.erratum is None
    assert f"code {now.code}" in said and f"replaces revision 1, code {one.code}" in said and "Build again" in said
    assert published(kits) == {} and guard(kit_in(kits)) is None and [f.name for f in (kits / ID / "published").iterdir()] == ["r1"]
    # All three lines stay: released, taken back, released.
    assert [word in line for word, line in zip(("kit: ", "taken back: ", "kit: "), lines_of(kits)[1:], strict=True)] == [True] * 3
    assert [e.code for e in ledger.read_ledger(kits).entries] == [now.code]


def test_readers_see_one_revision_and_no_correction(tmp_path, quick):
    kits = archive(tmp_path)
    gone = slip_before_the_reveal(kits)
    kit = kit_in(kits)
    assert errata(kit, kit.club, {}, AFTER) == []
    assert [e.kind for e in entries([kit], kit.club, {}, AFTER)] == ["reveal"]
    (only,) = released(kit)
    state, files = standing(kit, current(kit, AFTER), only)
    assert "Revision 1, released 5 January 2030" in state.line and state.older == () and files == {}
    # Nothing before the reveal; then the code of what was handed out to be tested, as that.
    assert table([kit], kit.club, REVEAL.replace(hour=17)) == {}
    answers = table([kit], kit.club, REVEAL)
    told = answers[plain(gone.code)]
    assert "a test copy of revision 1, which was replaced before it was public" in says(told) and do(told).do == "Print the newest one."
    assert not told.current and not told.see and answers[plain(only.code)].current
    # The team is told before.
    assert plain(gone.code) in table([kit], kit.club, BEFORE, team=True)


def test_erratum_leads_there_by_itself(kits):
    run(kits, "release", ID)
    edit(kits, *LOWER)
    before = everything(kits)
    said = run(kits, "erratum", ID, typed="n\n", status=1)
    assert (
        "becomes public from Saturday 5 January 2199, 18:00, Lisbon time" in said
        and "--was-public" in said
        and "Nothing was written" in said
    )
    assert everything(kits) == before
    assert "as revision 1" in run(kits, "erratum", ID, "--yes") and len(released(kit_in(kits))) == 1


def test_what_is_known_to_be_out_is_corrected(kits):
    run(kits, "release", ID, "--as-of", "2020-01-04")
    edit(kits, *LOWER)
    run(kits, "erratum", ID, "--was-public", "--yes")
    one, two = released(kit_in(kits))
    assert two.record.erratum.was_public and published(kits) == {}
    # And the two are not taken for unread afterwards.
    edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    assert "kitwright erratum" in run(kits, "release", ID, status=2)
    said = run(kits, "erratum", ID, "--yes")
    assert "revision 2 mends revision 1" in said and f"replaces revision 2, code {two.code}" in said
    assert released(kit_in(kits))[1].record.erratum.was_public


def test_taken_back_and_not_released_again(kits):
    run(kits, "release", ID)
    code = released(kit_in(kits))[0].code
    assert f"Took back revision 1 of {ID}, code {code}" in run(kits, "release", ID, "--take-back")
    assert released(kit_in(kits)) == () and published(kits) == {} and not (kits / ID / "published").exists()
    assert "never released" in run(kits, "release", ID, "--take-back", status=2)
    run(kits, "release", ID)
    assert released(kit_in(kits))[0].code == code and published(kits) == {}
    # The very state again: its code is no test copy's.
    kit = kit_in(kits)
    assert table([kit], kit.club, at("2199-02-01 00:00"))[plain(code)].current


def test_nothing_is_released_twice_for_nothing(kits):
    run(kits, "release", ID)
    before = everything(kits)
    assert "released already, and nothing of it has changed" in run(kits, "release", ID, status=2)
    assert everything(kits) == before


@pytest.mark.parametrize("moved", ["", AHEAD], ids=["public", "public, and its reveal moved on since"])
def test_what_readers_could_have_had_stays(kits, moved):
    """The reveal that was noted counts beside the one that is typed now."""
    edit(kits, (AHEAD, PAST))
    run(kits, "release", ID, "--as-of", "2020-01-04")
    edit(kits, *LOWER, *([(PAST, moved)] if moved else []))
    before = everything(kits)
    assert "kitwright erratum" in run(kits, "release", ID, status=2)
    assert "readers may have it" in run(kits, "release", ID, "--take-back", status=2)
    assert everything(kits) == before
    assert "revision 2 mends revision 1" in run(kits, "erratum", ID, "--yes")


def test_what_was_never_public_stays_so_when_the_reveal_is_moved_before_it(kits):
    run(kits, "release", ID)
    edit(kits, *LOWER)
    run(kits, "release", ID)
    edit(kits, (AHEAD, PAST))
    assert published(kits) == {} and len(released(kit_in(kits))) == 1


def test_a_correction_dated_ahead_is_replaced_and_nothing_before_it(kits):
    edit(kits, (AHEAD, PAST))
    run(kits, "release", ID, "--as-of", "2020-01-04")
    edit(kits, *LOWER)
    assert "take it back with" in run(kits, "erratum", ID, "--yes", "--as-of", "2199-02-01")
    two = released(kit_in(kits))[1]
    edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    said = run(kits, "erratum", ID, "--yes")
    assert "revision 2 mends revision 1" in said and f"replaces revision 2, code {two.code}" in said
    now = released(kit_in(kits))
    assert [r.number for r in now] == [1, 2] and now[1].code != two.code and now[1].at.year < 2199 and published(kits) == {}


def test_both_go_that_an_earlier_kitwright_published_before_the_reveal(tmp_path, quick):
    kits = archive(tmp_path)
    one, _ = release(kit_in(kits), {}, at("2030-01-04 12:00"))
    two = publish_erratum(draft(edit(kits, *LOWER), {}), at("2030-01-05 09:00"))
    kit = kit_in(kits)
    assert [r.number for r in unread(kit, BEFORE).revisions] == [1, 2] and unread(kit, REVEAL).revisions == ()
    assert [r.code for r in take_back(kit, BEFORE)] == [one.code, two.code]
    assert released(kit) == () and published(kits) == {} and len(ledger.read_ledger(kits).taken_back(ID)) == 2


def test_such_a_correction_is_told_as_one_of_test_copies(tmp_path, quick):
    """Recorded as it was: its page and its entry in the feed stay, and no notice stands on the kit's page."""
    kits = archive(tmp_path)
    release(kit_in(kits), {}, at("2030-01-04 12:00"))
    publish_erratum(draft(edit(kits, *LOWER), {}), at("2030-01-05 09:00"))
    kit = kit_in(kits)
    (found,) = errata(kit, kit.club, {}, AFTER)
    assert found.early and "before the kit was public" in asked_lines(found)[0] and "downloaded" not in asked_lines(found)[0]
    view = _view(found, ())
    assert view.early and not view.since
    three = publish_erratum(draft(edit(kits, ("title: Nine strips", "title: Nine fine strips")), {}), AFTER)
    late = errata(kit_in(kits), kit.club, {}, three.at)
    assert [e.early for e in late] == [False, True]


def test_a_reveal_that_is_moved_after_it_came_makes_no_correction_an_early_one(kits):
    """Uploaded on its day, taken down, put off, and mended meanwhile: some have the first one."""
    edit(kits, (AHEAD, "2030-01-05 18:00"))
    release(kit_in(kits), {}, at("2030-01-04 12:00"))
    publish_erratum(draft(edit(kits, *LOWER, ("2030-01-05", "2030-01-20")), {}), at("2030-01-06 12:00"))
    kit = kit_in(kits)
    (found,) = errata(kit, kit.club, {}, at("2030-02-01 12:00"))
    assert not found.early and not _view(found, ()).since


# --- guarded ------------------------------------------------------------------------------------------


def told(kits) -> str:
    return "\n".join(str(f) for found in published(kits).values() for f in found)


def test_what_is_deleted_by_hand_is_not_taken_back(tmp_path, quick):
    kits = archive(tmp_path)
    gone = slip_before_the_reveal(kits)
    whole = everything(kits)
    shutil.rmtree(kits / ID / "published")
    assert "are gone" in told(kits)
    for name, data in whole.items():
        (kits / name).parent.mkdir(parents=True, exist_ok=True)
        (kits / name).write_bytes(data)
    assert published(kits) == {}
    # The line that says so, made to speak of what stands: of the newest, of a public one, moved, or taken out.
    read = ledger.read_ledger(kits)
    first, back, now = read.lines
    late = replace(back, code=now.code, record=now.record, at="2030-01-06T00:00:00+00:00", public="2030-01-05T18:00:00+00:00")
    for lines, wrong in (
        ((first, back, now, replace(late, line=4)), "when readers could have had it"),
        ((first, back, now, replace(back, line=4)), "which is not its newest"),
        ((first, now), "a second time"),
        ((back, first, now), "which is not its newest"),
        ((first, back), "was taken back, and its folder stands here again"),
    ):
        (kits / "releases.yaml").write_text(replace(read, lines=lines).text, encoding="utf-8")
        assert wrong in told(kits), wrong
    (kits / "releases.yaml").write_text("".join(lines_of(kits)).replace(gone.code, "K7MW-4TX2"), encoding="utf-8")
    assert told(kits)


def test_a_folder_that_was_taken_back_comes_from_no_backup(kits, tmp_path):
    run(kits, "release", ID)
    backup = shutil.copytree(kits / ID / "published", tmp_path / "backup")
    edit(kits, *LOWER)
    run(kits, "release", ID, "--take-back")
    shutil.copytree(backup, kits / ID / "published")
    assert "was taken back, and its folder stands here again" in told(kits)
    shutil.rmtree(kits / ID / "published")
    run(kits, "release", ID)
    shutil.copytree(backup, kits / ID / "published", dirs_exist_ok=True)
    assert "was changed after its release" in told(kits)


def test_it_is_whole_or_not_at_all(tmp_path, quick, monkeypatch):
    """Cut short anywhere: the revision with its line, or neither."""
    kits = archive(tmp_path)
    release(kit_in(kits), {}, at("2030-01-04 12:00"))
    shutil.rmtree(kits / "people")
    start = shutil.copytree(kits, tmp_path / "start")
    work = shutil.copytree(kits, tmp_path / "work" / "kits")
    change = recorded(lambda: take_back(kit_in(work), BEFORE), monkeypatch)
    seen = {}
    for found in outcomes(start, work, change, monkeypatch):
        if (key := repr(sorted(found.items()))) not in seen:
            assert published(work) == {}
            seen[key] = len(released(kit_in(work)))
    assert sorted(seen.values()) == [0, 1]


def test_only_what_the_ledger_says_is_taken_back_is_removed(kits):
    run(kits, "release", ID)
    before = everything(kits)
    with pytest.raises(UserError):
        atomic.change(kits, {}, [kits / ID / "published" / "r1"])
    line = lines_of(kits)[-1]
    with pytest.raises(UserError):
        atomic.change(kits, {kits / "releases.yaml": "".join([*lines_of(kits), line]).encode()}, [kits / ID / "published" / "r1"])
    assert everything(kits) == before


def test_a_person_who_is_forgotten_is_so_beside_it(tmp_path, quick):
    """Seals and ledger are noted anew, and what was taken back stays taken back."""
    kits = archive(tmp_path, notes="Nine of [[size of A]], as Wanda Fennimore likes it.\n")
    gone = slip_before_the_reveal(kits)
    (kits / "people" / "wanda").mkdir()
    (kits / "people" / "wanda" / "person.yaml").write_text("name: Wanda Fennimore\nconsent: {on: 2029-12-01, to: []}\n")
    forget(kits, "Wanda Fennimore")
    assert published(kits) == {} and ledger.read_ledger(kits).taken_back(ID)[0].code == gone.code
    assert "Fennimore" not in "".join(map(repr, everything(kits).values()))


def test_an_earlier_kitwright_refuses_it(kits, monkeypatch):
    run(kits, "release", ID)
    monkeypatch.setattr(ledger, "FORMAT", 2)
    monkeypatch.setattr(whole, "FORMAT", 2)
    assert "a newer kitwright" in told(kits) and "renew kitwright" in told(kits)
