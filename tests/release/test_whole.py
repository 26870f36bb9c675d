"""Published is guarded whole: nothing in it can be changed, removed, reordered, renamed or back-dated without being named."""

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner
from kitwright.archive.gather import BuildRefused, gather
from kitwright.archive.offered import offered
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.files import OURS
from kitwright.release import atomic, carry, ledger
from kitwright.release import guard as guarding
from kitwright.release.adopt import adopt
from kitwright.release.carry import carry_over
from kitwright.release.errata import draft
from kitwright.release.guard import guard
from kitwright.release.record import released
from kitwright.release.revisions import as_published
from kitwright.release.whole import published
from making import BATCH, CLUB, ID, make_archive
from release.bench import archive, at, edit, everything, kit_in, people_in, publish_erratum, quick_printables, release
from release.killing import every_stop

OTHER = "2030-02-other"
LATER = at("2031-01-01 00:00")
BEFORE = Path(__file__).parent / "before_ledger" / "kits"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Two kits: one of three revisions, one of two, published in turns."""
    with pytest.MonkeyPatch.context() as patch:
        quick_printables(patch)
        kits = archive(tmp_path_factory.mktemp("whole"))
        shutil.copytree(kits / ID, kits / OTHER)
        edit(kits, ("title: Nine strips", "title: Other strips"), ("2030-01-05", "2030-02-05"), name=OTHER)
        release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
        release(kit_in(kits, OTHER), people_in(kits), at("2030-02-04 12:00"))
        for when, name, *pairs in (
            ("2030-02-09", ID, ("title: Nine strips", "title: Nine fine strips")),
            ("2030-02-10", OTHER, ("title: Other", "title: All other")),
            ("2030-02-11", ID, ("title: Nine fine strips", "title: Nine finer strips")),
        ):
            publish_erratum(draft(edit(kits, *pairs, name=name), {}), at(f"{when} 12:00"))
    return kits


@pytest.fixture
def kits(made, tmp_path, quick):
    return shutil.copytree(made, tmp_path / "kits")


def lines_of(kits):
    return (kits / "releases.yaml").read_text(encoding="utf-8").splitlines(keepends=True)


def with_lines(kits, lines):
    (kits / "releases.yaml").write_text("".join(lines), encoding="utf-8")


def replaced(file, old, new):
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def told(kits) -> str:
    """What stops a build."""
    with pytest.raises(BuildRefused) as stopped:
        gather(kits.parent, LATER)
    assert all(f.level == "error" and "backup" in f.remedy or "folder" in f.remedy for f in stopped.value.findings)
    return "\n".join(map(str, stopped.value.findings))


def test_what_is_whole_is_silent(kits):
    before = everything(kits)
    assert published(kits) == {} and len(gather(kits.parent, LATER).kits) == 2
    assert len(lines_of(kits)) == 6 and [e["kit"] for e in yaml.safe_load("".join(lines_of(kits)))] == [ID, OTHER, ID, OTHER, ID]
    assert everything(kits) == before


@pytest.mark.parametrize("number", [1, 2, 3])
@pytest.mark.parametrize("name", ["facts.json", "club.yaml", f"{ID}/kit.yaml", f"{ID}/notes.md", "release.yaml"])
@pytest.mark.parametrize(
    "damage",
    [
        lambda f: f.write_bytes(f.read_bytes()[:-2] + b"\n"),
        lambda f: f.write_bytes(b"# x\n" + f.read_bytes()),
        lambda f: f.unlink(),
        lambda f: f.write_bytes(b""),
        lambda f: f.write_bytes(b"\xff\x00"),
    ],
    ids=["cut", "added", "gone", "empty", "no text"],
)
def test_every_file_of_every_revision(kits, number, name, damage):
    damage(kits / ID / "published" / f"r{number}" / name)
    said = told(kits)
    assert f"r{number}/{name}" in said and f"revision {number} of {ID}" in said


def test_line_ends_of_another_system_are_no_change(kits):
    for file in [kits / "releases.yaml", *(f for f in kits.glob("*/published/**/*") if f.is_file() and f.suffix != ".xz")]:
        file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    assert published(kits) == {} and guard(kit_in(kits)) is None


@pytest.mark.parametrize("number", [1, 2, 3])
@pytest.mark.parametrize(
    "old, new",
    [
        ("released: '2030", "released: '2029"),
        ("tested: false", "tested: true"),
        ("-letter.pdf: ", "-letter.pdf: 0"),
        ("code: ", "code: K7MW-4TX2 #"),
        ("# Written", "# Typed"),
    ],
)
def test_every_word_of_every_record(kits, number, old, new):
    replaced(ledger.record_file(kits, ID, number), old, new)
    assert f"published/r{number}/release.yaml" in told(kits)


def sealed_anew(kits, number, old, new):
    """Somebody who knows how a record is sealed."""
    file = ledger.record_file(kits, ID, number)
    now = ledger.opened(file.read_text(encoding="utf-8"))
    assert old in now.body
    file.write_text(ledger.sealed(now.body.replace(old, new, 1), now.before)[0], encoding="utf-8")


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_record_sealed_anew_is_not_the_one_in_the_ledger(kits, number):
    sealed_anew(kits, number, "released: '2030-0", "released: '2029-0")
    assert f"published/r{number}/release.yaml" in told(kits)


@pytest.mark.parametrize("number", [1, 2])
def test_a_record_sealed_anew_in_the_ledger_too(kits, number):
    """The chain tells: the next record, and the lines below, follow from what was."""
    before = ledger.opened(ledger.record_file(kits, ID, number).read_text(encoding="utf-8")).digest
    sealed_anew(kits, number, "tested: false", "tested: true")
    after = ledger.opened(ledger.record_file(kits, ID, number).read_text(encoding="utf-8")).digest
    replaced(kits / "releases.yaml", before, after)
    said = told(kits)
    assert f"the record of revision {number + 1} of {ID} does not follow" in said and "does not follow from what stands above it" in said


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_seal_taken_off(kits, number):
    file = ledger.record_file(kits, ID, number)
    file.write_text(ledger.opened(file.read_text(encoding="utf-8")).body, encoding="utf-8")
    assert f"record of revision {number} of {ID} has lost the digest" in told(kits)


def test_every_code_of_every_revision(kits, monkeypatch):
    """Though records and ledger agree, each code is that of what was frozen; not the newest alone."""
    for number in (1, 2, 3):
        code = released(kit_in(kits))[number - 1].code
        with monkeypatch.context() as patch:
            patch.setattr(guarding, "release_code", lambda worked, n, number=number: "K7MW-4TX2" if n == number else "", raising=True)
            found = guard(kit_in(kits))
        assert found is not None and "another code" in found.problem and code
    real = guarding.release_code
    for number in (1, 2, 3):
        with monkeypatch.context() as patch:
            patch.setattr(guarding, "release_code", lambda worked, n, number=number: "K7MW-4TX2" if n == number else real(worked, n))
            assert f"than revision {number} of {ID}" in guard(kit_in(kits)).problem


# --- the ledger ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("at_", range(1, 6))
def test_a_line_taken_out(kits, at_):
    lines = lines_of(kits)
    with_lines(kits, lines[:at_] + lines[at_ + 1 :])
    said = told(kits)
    entry = yaml.safe_load(lines[at_])[0]
    assert f"revision {entry['revision']} of {entry['kit']} stands in no line" in said


@pytest.mark.parametrize("at_", range(1, 5))
def test_lines_that_changed_places(kits, at_):
    lines = lines_of(kits)
    lines[at_], lines[at_ + 1] = lines[at_ + 1], lines[at_]
    with_lines(kits, lines)
    assert "releases.yaml" in told(kits) and "does not follow from what stands above it" in told(kits)


@pytest.mark.parametrize("at_", range(1, 6))
@pytest.mark.parametrize("key", ["kit", "revision", "released", "code", "record", "after"])
def test_every_word_of_every_line(kits, at_, key):
    lines = lines_of(kits)
    value = str(ledger.read_ledger(kits).entries[at_ - 1].__getattribute__(key))
    other = {"kit": OTHER if value == ID else ID, "revision": "7", "released": value.replace("2030", "2029"), "code": "K7MW-4TX2"}.get(
        key, "0" * 64
    )
    lines[at_] = lines[at_].replace(f"{key}: {value}", f"{key}: {other}")
    with_lines(kits, lines)
    assert f"releases.yaml:{at_ + 1}" in told(kits) or "release.yaml" in told(kits) or "missing" in told(kits)


@pytest.mark.parametrize(
    "change",
    [
        lambda ls: [*ls, ls[-1]],
        lambda ls: [*ls, "\n"],
        lambda ls: [*ls, "# a remark\n"],
        lambda ls: [ls[0], "# another remark\n", *ls[1:]],
        lambda ls: ls[1:],
        lambda ls: [*ls[:-1], ls[-1].rstrip("\n")],
        lambda ls: [*ls, "- {kit: x}\n"],
        lambda ls: ["# only this\n"],
        lambda ls: [""],
    ],
    ids=["twice", "empty line", "remark", "remark above", "no head", "no end", "no release", "remark alone", "empty"],
)
def test_other_changes_of_the_ledger(kits, change):
    with_lines(kits, change(lines_of(kits)))
    told(kits)


@pytest.mark.parametrize(
    "damage",
    [
        lambda f: f.unlink(),
        lambda f: (f.unlink(), f.mkdir()),
        lambda f: f.write_bytes(b"\xff\xfe\x00"),
        lambda f: f.rename(f.with_name("old.yaml")),
    ],
)
def test_a_ledger_that_is_gone_or_no_text(kits, damage):
    damage(kits / "releases.yaml")
    with pytest.raises(UserError) as stopped:
        gather(kits.parent, LATER)
    assert "releases.yaml" in str(stopped.value) or "releases.yaml" in str(stopped.value.findings)


def test_two_copies_of_an_archive_are_merged(made, tmp_path, quick):
    """Each appended a line; both stay, and what is published next follows from both."""
    one, two = (shutil.copytree(made, tmp_path / n / "kits") for n in "ab")
    publish_erratum(draft(edit(one, ("finer strips", "finest strips")), {}), at("2030-03-01 12:00"))
    publish_erratum(draft(edit(two, ("All other strips", "Quite other strips"), name=OTHER), {}), at("2030-03-02 12:00"))
    shutil.copytree(two / OTHER, one / OTHER, dirs_exist_ok=True)
    with_lines(one, [*lines_of(one), lines_of(two)[-1]])
    assert published(one) == {}
    publish_erratum(draft(edit(one, ("finest strips", "fine strips")), {}), at("2030-03-03 12:00"))
    assert published(one) == {}
    merged = lines_of(one)
    with_lines(one, [*merged[:-3], merged[-2], merged[-3], merged[-1]])
    assert "does not follow" in told(one)


# --- folders ------------------------------------------------------------------------------------------


def gone(kits):
    shutil.rmtree(kits / ID)


def unpublished(kits):
    shutil.rmtree(kits / ID / "published")


def emptied(kits):
    unpublished(kits)
    (kits / ID / "published").mkdir()


def renamed(kits):
    (kits / ID).rename(kits / "2030-01-another-name")


def last_taken(kits):
    shutil.rmtree(kits / ID / "published" / "r3")


def first_taken(kits):
    shutil.rmtree(kits / ID / "published" / "r1")


def swapped(kits):
    home = kits / ID / "published"
    for old, new in (("r1", "x"), ("r2", "r1"), ("x", "r2")):
        (home / old).rename(home / new)


def from_another_kit(kits):
    shutil.rmtree(kits / ID / "published" / "r2")
    shutil.copytree(kits / OTHER / "published" / "r2", kits / ID / "published" / "r2")


def all_from_another_kit(kits):
    unpublished(kits)
    shutil.copytree(kits / OTHER / "published", kits / ID / "published")


def now_past(kits):
    unpublished(kits)
    (kits / ID / "old.pdf").write_bytes(b"%PDF-1.4\n")
    (kits / ID / "kit.yaml").write_text("past: yes\ntitle: Old\nprintable: old.pdf\n", encoding="utf-8")


@pytest.mark.parametrize(
    "damage, names",
    [
        (gone, ID),
        (unpublished, "revisions 1, 2 and 3"),
        (emptied, "are gone"),
        (renamed, f"{ID} is gone"),
        (last_taken, "r3"),
        (first_taken, "r1"),
        (swapped, "r1"),
        (from_another_kit, "r2"),
        (all_from_another_kit, "r1"),
        (now_past, "are gone"),
    ],
)
def test_folders_that_vanished_or_moved(kits, damage, names):
    damage(kits)
    said = told(kits)
    assert ID in said and names in said
    status = CliRunner().invoke(cli, ["--root", str(kits.parent), "check", "-q"])
    assert status.exit_code in (1, 2) and not isinstance(status.exception, UserError)


def test_a_released_kit_of_another_name_is_told_its_own(kits):
    """The remedy is the name that printables and links have, not a backup."""
    renamed(kits)
    status = CliRunner().invoke(cli, ["--root", str(kits.parent), "check", "another-name"])
    assert status.exit_code == 2 and f"was published as {ID}" in status.output and f"call it {ID} again" in status.output


def test_a_revision_appended_by_hand(kits):
    home = kits / ID / "published"
    shutil.copytree(home / "r3", home / "r4")
    replaced(home / "r4" / "release.yaml", "revision: 3", "revision: 4")
    assert f"revision 4 of {ID} stands in no line of releases.yaml" in told(kits)


@pytest.mark.parametrize("name", ["notes.txt", f"{ID}/extra.md", "sub/x", f"{OTHER}/kit.yaml"])
def test_a_file_that_was_not_published(kits, name):
    file = kits / ID / "published" / "r2" / name
    file.parent.mkdir(exist_ok=True)
    file.write_text("x", encoding="utf-8")
    assert "was published without this file" in told(kits) and "r2" in told(kits)


def test_notes_put_into_a_revision_that_has_none(tmp_path, quick):
    kits = archive(tmp_path, notes="")
    one, _ = release(kit_in(kits), {}, at("2030-01-04 12:00"))
    for folder in (one.folder / ID, kits / ID):
        (folder / "notes.md").write_text("Cut ten.\n", encoding="utf-8")
    assert "was published without this file" in told(kits) and "without this file" in guard(kit_in(kits)).problem


def test_what_a_file_manager_leaves_is_passed_over(kits):
    for name in (".DS_Store", "Thumbs.db", f"{ID}/desktop.ini"):
        (kits / ID / "published" / "r2" / name).write_bytes(b"\x00")
    assert published(kits) == {}


@pytest.mark.parametrize("name", ["facts.json", "release.yaml", ID, "."])
def test_links_are_no_files(kits, tmp_path, name):
    place = kits / ID / "published" / "r2" / name
    shutil.move(place, tmp_path / "elsewhere")
    (kits / ID / "published" / "r2" / name).symlink_to(tmp_path / "elsewhere") if name != "." else place.parent.joinpath("r2").symlink_to(
        tmp_path / "elsewhere"
    )
    assert "a link stands in place" in told(kits)


def test_a_half_typed_kit_hides_no_damage(kits):
    (kits / ID / "kit.yaml").write_text("title: [", encoding="utf-8")
    (kits / ID / "published" / "r1" / "facts.json").write_text("{}", encoding="utf-8")
    assert "r1/facts.json" in told(kits)


def test_nothing_is_published_beside_damage(kits):
    edit(kits, ("title: Nine finer strips", "title: Nine plain strips"))
    (kits / ID / "published" / "r1" / "facts.json").write_text("{}", encoding="utf-8")
    before = everything(kits)
    for act in (lambda: draft(kit_in(kits), {}), lambda: carry_over(kits, offered)):
        with pytest.raises(UserError, match="changed after its release"):
            act()
    unpublished(kits)
    with pytest.raises(UserError, match="are gone"):
        release(kit_in(kits), {}, LATER)
    assert {n: d for n, d in before.items() if "/published/" not in n or OTHER in n} == everything(kits)


# --- noting anew --------------------------------------------------------------------------------------


def test_a_record_that_says_more_all_seals_follow(kits):
    before = everything(kits)
    body = ledger.opened(ledger.record_file(kits, ID, 1).read_text(encoding="utf-8")).body + "carried: 1.2.3\n"
    atomic.change(kits, ledger.resealed(kits, {(ID, 1): body}))
    changed = {n for n, d in everything(kits).items() if before[n] != d}
    assert changed == {"releases.yaml", *(f"{ID}/published/r{n}/release.yaml" for n in (1, 2, 3))}
    assert published(kits) == {} and guard(kit_in(kits)) is None and released(kit_in(kits))[0].record.carried == "1.2.3"
    assert [
        ledger.opened(before[f"{ID}/published/r{n}/release.yaml"].decode()).body
        == ledger.opened(ledger.record_file(kits, ID, n).read_text("utf-8")).body
        for n in (1, 2, 3)
    ] == [False, True, True]


def test_sealing_anew_is_whole_or_not_at_all(made, tmp_path, monkeypatch):
    kits, before, seen = tmp_path / "kits", everything(made), set()

    def fresh():
        shutil.rmtree(kits, ignore_errors=True)
        shutil.copytree(made, kits)

    body = ledger.opened(ledger.record_file(made, ID, 1).read_text(encoding="utf-8")).body + "# drawn anew\n"
    for _ in every_stop(lambda: atomic.change(kits, ledger.resealed(kits, {(ID, 1): body})), monkeypatch, fresh):
        atomic.finish(kits)
        assert published(kits) == {}
        seen.add({n: d for n, d in everything(kits).items() if OURS not in n} == before)
    assert seen == {True, False}


def test_a_record_of_a_newer_kitwright_is_one_clear_error(kits):
    body = ledger.opened(ledger.record_file(kits, ID, 2).read_text(encoding="utf-8")).body.replace(
        f"format: {ledger.FORMAT}", f"format: {ledger.FORMAT + 1}"
    )
    atomic.change(kits, ledger.resealed(kits, {(ID, 2): body + "more: {than: this one knows}\n"}))
    with pytest.raises(BuildRefused) as stopped:
        gather(kits.parent, LATER)
    (found,) = stopped.value.findings
    assert "a newer kitwright" in found.problem and "renew kitwright" in found.remedy
    with pytest.raises(UserError, match="a newer kitwright"):
        released(kit_in(kits))


def test_numbers_that_came_later_are_no_difference(kits, monkeypatch):
    real = carry.numbers_text

    def later(worked):
        data = json.loads(real(worked))
        return json.dumps(
            data | {"turns": 3, "base": data["base"] | {"weight": "1"}, "layouts": [each | {"waste": "0"} for each in data["layouts"]]}
        )

    monkeypatch.setattr(carry, "numbers_text", later)
    kit = kit_in(kits)
    assert [carry.other_numbers(r, as_published(kit, r)) for r in released(kit)] == [[], [], []]
    with pytest.raises(UserError, match="nothing to correct"):
        draft(kit, {})


@pytest.mark.parametrize(
    "change, key",
    [
        (lambda d: d.pop("papers"), "papers"),
        (lambda d: d["base"].pop("score"), "base"),
        (lambda d: d["base"].update(score="17/5"), "base"),
        (lambda d: d["layouts"][0]["cuts"].pop(), "layouts"),
        (lambda d: d["papers"][0].update(made=None), "papers"),
        (lambda d: d["layouts"].append(d["layouts"][0]), "layouts"),
        (lambda d: d["pieces"]["A"].update(counts=[]), "pieces"),
    ],
)
def test_a_published_number_that_is_another_or_gone(kits, monkeypatch, change, key):
    real = carry.numbers_text

    def otherwise(worked):
        data = json.loads(real(worked))
        change(data)
        return json.dumps(data)

    monkeypatch.setattr(carry, "numbers_text", otherwise)
    kit = kit_in(kits)
    assert carry.other_numbers(released(kit)[-1], as_published(kit, released(kit)[-1])) == [key]


# --- archives older than the ledger ---------------------------------------------------------------------


@pytest.fixture
def old(tmp_path):
    """The demo archive's records as they were before there was a ledger; kept for ever."""
    return shutil.copytree(BEFORE, tmp_path / "old" / "kits")


def test_an_old_archive_is_read_warned_of_and_taken_in(old):
    before = everything(old)
    (warning,) = published(old)[""]
    assert warning.level == "warning" and "release --adopt" in warning.remedy
    # Files that were touched stop a build there too.
    assert published(old).keys() == {""}
    result = CliRunner().invoke(cli, ["--root", str(old.parent), "release", "--adopt"])
    assert result.exit_code == 0 and "10 releases" in result.output, result.output
    assert published(old) == {} and lines_of(old)[1:] and len(lines_of(old)) == 11
    after = everything(old)
    assert set(after) == set(before) | {"releases.yaml"}
    assert all(
        data == before[name] or name.endswith("/release.yaml") and data.startswith(before[name])
        for name, data in after.items()
        if name in before
    )
    times = [e.released for e in ledger.read_ledger(old).entries]
    assert times == sorted(times)
    with pytest.raises(UserError, match="in the ledger of releases already"):
        adopt(old)
    assert everything(old) == after


def test_an_old_archive_publishes_nothing_before(old, quick):
    kit = kit_in(old, "2026-01-low-tide")
    for act in (lambda: draft(kit, {}), lambda: release(kit, {}, LATER)):
        with pytest.raises(UserError, match="no ledger of its releases") as stopped:
            act()
        assert "--adopt" in stopped.value.remedy


@pytest.mark.parametrize("name", ["facts.json", "2026-01-low-tide/kit.yaml"])
def test_an_old_archive_that_was_touched_is_not_taken_in(old, name):
    file = old / "2026-01-low-tide" / "published" / "r1" / name
    file.write_bytes(file.read_bytes() + b"\n")
    before = everything(old)
    with pytest.raises(UserError, match="changed after its release"):
        adopt(old)
    assert everything(old) == before and published(old)["2026-01-low-tide"][0].level == "error"


def test_a_wrong_code_is_not_taken_in(old):
    replaced(ledger.record_file(old, "2025-09-bud-vases", 1), "code: 29FF-H9F6", "code: K7MW-4TX2")
    with pytest.raises(UserError, match="another code"):
        adopt(old)


def test_a_ledger_that_was_lost_for_good_is_written_anew(kits):
    before = everything(kits)
    (kits / "releases.yaml").unlink()
    adopt(kits)
    assert {n: d for n, d in everything(kits).items() if n != "releases.yaml"} == {n: d for n, d in before.items() if n != "releases.yaml"}
    assert published(kits) == {} and everything(kits)["releases.yaml"] == before["releases.yaml"]


def test_a_kit_from_another_archive(kits, old):
    name = "2025-09-bud-vases"
    shutil.copytree(old / name, kits / name)
    (kits / "club.yaml").write_text((old / "club.yaml").read_text("utf-8"), encoding="utf-8")
    assert f"release {name} --adopt" in told(kits)
    assert [e.revision for e in adopt(kits, name)] == [1, 2] and published(kits) == {}
    home = kits / ID / "published"
    shutil.copytree(home / "r3", home / "r4")
    with pytest.raises(UserError, match="already"):
        adopt(kits, ID)


def test_nothing_to_take_in(tmp_path):
    make_archive(tmp_path, BATCH, club=CLUB)
    with pytest.raises(UserError, match="nothing was released"):
        adopt(tmp_path / "kits")
    assert CliRunner().invoke(cli, ["--root", str(tmp_path), "release"]).exit_code == 2


# --- somebody who knows how everything is sealed --------------------------------------------------------


def forged(kits, number, old, new, *, order=lambda entries: entries):
    """A record changed, with every seal and the whole ledger made anew to agree."""
    file = ledger.record_file(kits, ID, number)
    body = ledger.opened(file.read_text(encoding="utf-8")).body
    assert old in body
    for path, data in ledger.resealed(kits, {(ID, number): body.replace(old, new, 1)}).items():
        path.write_bytes(data)
    read = ledger.read_ledger(kits)
    entries = tuple(
        replace(e, released=e.released.replace(old.split("'")[-1], new.split("'")[-1])) if (e.kit, e.revision) == (ID, number) else e
        for e in read.lines
    )
    (kits / "releases.yaml").write_text(replace(read, lines=tuple(order(entries))).text, encoding="utf-8")


@pytest.mark.parametrize(
    "old, new, order, says",
    [
        ("released: '2030-02-09", "released: '2030-01-02", lambda e: e, "is dated before the revision that it corrects"),
        ("revision: 2", "revision: 3", lambda e: e, "this record is not that of revision 2"),
        ("tested: false", "tested: true", lambda e: (e[2], *e[1:2], e[0], *e[3:]), "in another order than they were published in"),
    ],
)
def test_what_is_sealed_anew_must_still_make_sense(kits, old, new, order, says):
    forged(kits, 2, old, new, order=order)
    assert says in told(kits)
