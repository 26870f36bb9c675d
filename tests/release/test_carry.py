"""Records of before results and files were kept: read, guarded, and carried over in one step that loses nothing.

`before_kept` is what the demo archive was then: several revisions, a wrong label, a wrong size,
a number that kitwright itself had wrong, a kit in millimetres, cut files for members alone.
"""

import datetime as dt
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from kitwright.archive import offered
from kitwright.archive.gather import gather
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.kit.read import kit_folders
from kitwright.release import ledger
from kitwright.release.adopt import adopt
from kitwright.release.carry import carry_over
from kitwright.release.errata import errata
from kitwright.release.guard import guard
from kitwright.release.record import FORM, published_numbers, record_text, released
from kitwright.release.revisions import as_published, files_of, frozen, sha256
from kitwright.release.whole import published
from kitwright.work.working import work
from release.bench import at, everything, keeps_its_drawing, kit_in, quick_printables
from release.killing import outcomes, recorded

BEFORE = Path(__file__).parent / "before_kept" / "kits"
TIDE = "2026-01-low-tide"
REVISIONS = [(folder.name, n) for folder in sorted(BEFORE.glob("20*")) for n in range(1, len(list(folder.glob("published/r*"))) + 1)]
NOW = at("2026-12-31 12:00")


@pytest.fixture
def old(tmp_path):
    return shutil.copytree(BEFORE, tmp_path / "kits")


def carried(kits: Path, *words: str, status: int = 0) -> str:
    """What the command says."""
    result = CliRunner().invoke(cli, ["--root", str(kits.parent), "release", *words, "--carry-over"])
    assert result.exit_code == status, result.output
    return result.output


# --- as they are ---------------------------------------------------------------------------------------


def test_old_records_are_read_and_guarded(old):
    assert len(REVISIONS) == 7 and published(old) == {}
    for name, _ in REVISIONS:
        kit = kit_in(old, name)
        assert guard(kit) is None and not any(r.keeps for r in released(kit))
        assert [len(e.changes.told) > 0 for e in errata(kit, kit.club, {}, NOW)] == [True] * (len(released(kit)) - 1)
    file = old / TIDE / "published" / "r1" / TIDE / "kit.yaml"
    file.write_bytes(file.read_bytes() + b"\n")
    assert "changed after its release" in guard(kit_in(old, TIDE)).problem
    with pytest.raises(UserError, match="changed after its release"):
        carry_over(old, offered.offered)


def test_printables_of_the_form_of_before_can_not_be_drawn_any_more_and_are_named(old):
    """What readers have is no longer what would be drawn: nothing is carried over unless that is said."""
    name = "2026-11-evening-post"
    before, (revision,) = everything(old), released(kit_in(old, name))
    said = carried(old, name, status=2)
    assert revision.record.form == 1 < FORM and all(file in said for file in revision.record.printables)
    assert "nothing was carried over" in said and "--as-drawn" in said and everything(old) == before


# --- carried over ------------------------------------------------------------------------------------------


@pytest.fixture
def quick(monkeypatch):
    """Drawn by a kitwright that draws everything otherwise."""
    quick_printables(monkeypatch)


@pytest.fixture
def drawn_alike(old, tmp_path, quick):
    """An archive whose records name the very printables that are drawn now, as those of the form of before were named then."""
    kits = shutil.copytree(old, tmp_path / "drawn" / "kits")
    carry_over(kits, offered.offered, TIDE, as_drawn=True)
    bodies = {}
    for was, now in zip(released(kit_in(old, TIDE)), released(kit_in(kits, TIDE))):
        named = {name: now.files[name] for name in was.record.printables}
        bodies[TIDE, was.number] = record_text(was.record.model_copy(update={"printables": named, "before": "", "digest": ""}))
    for file, data in ledger.resealed(old, bodies).items():
        file.write_bytes(data)
    return old


def test_one_kit_is_carried_over_with_its_very_printables(drawn_alike):
    old = drawn_alike
    before = everything(old)
    was = released(kit_in(old, TIDE))
    said = carried(old, TIDE)
    assert "2 revisions" in said and "room in envelope" in said, "what was published otherwise than it is worked out now is named"
    after = everything(old)
    assert {n for n in before if after[n] != before[n]} == {"releases.yaml", *(f"{TIDE}/published/r{n}/release.yaml" for n in (1, 2))}
    assert set(after) - set(before) == {f"{TIDE}/published/r{n}/{kept}" for n in (1, 2) for kept in ("results.json", "files.tar.xz")}
    kit, now = kit_in(old, TIDE), released(kit_in(old, TIDE))
    assert published(old) == {} and guard(kit) is None
    for one, two in zip(was, now):
        assert two.keeps and (one.code, one.at, one.number, one.record.kitwright) == (two.code, two.at, two.number, two.record.kitwright)
        assert two.record.carried and two.record.lost == {} and two.record.erratum == one.record.erratum
        assert one.record.printables.items() <= two.files.items() and len(two.files) == 11
        assert {name: sha256(data) for name, data in files_of(two).items()} == two.files
        assert as_published(kit, two) == work(frozen(kit, two)) and published_numbers(one) == published_numbers(two)
    assert published_numbers(now[0])["room in envelope"] != published_numbers(now[1])["room in envelope"]
    # Done once, and the others are as they were.
    assert "nothing need be done" in carried(old, TIDE) and everything(old) == after
    assert not any(r.keeps for r in released(kit_in(old, "2026-11-evening-post")))


def test_what_is_drawn_otherwise_is_told_by_name_and_changes_nothing(old, quick):
    before = everything(old)
    said = carried(old, status=2)
    assert "2025-09-bud-vases-letter.pdf" in said and "nothing was carried over" in said and "--as-drawn" in said
    assert everything(old) == before


def test_what_is_drawn_otherwise_is_kept_when_that_is_said_and_what_it_was_is_noted(old, quick):
    was = {(name, n): released(kit_in(old, name))[n - 1] for name, n in REVISIONS}
    assert "7 revisions" in carried(old, "--as-drawn")
    for (name, n), one in was.items():
        kit = kit_in(old, name)
        two = released(kit)[n - 1]
        assert two.record.lost == one.record.printables and two.files.keys() > one.files.keys() and keeps_its_drawing(kit, two)
        assert guard(kit) is None
    assert published(old) == {} and "nothing need be done" in carried(old)


def test_carrying_over_is_whole_or_not_at_all(old, tmp_path, quick, monkeypatch):
    for name in ("2025-09-bud-vases", "2026-09-harbour-lights", TIDE):
        shutil.rmtree(old / name)
    rest = ledger.read_ledger(old)
    (old / "releases.yaml").write_bytes(replace(rest, lines=tuple(e for e in rest.lines if e.kit == "2026-11-evening-post")).text.encode())
    kits = shutil.copytree(old, tmp_path / "again" / "kits")
    before = everything(old)
    change = recorded(lambda: carry_over(kits, offered.offered, as_drawn=True), monkeypatch)
    assert everything(kits) == before
    carry_over(kits, offered.offered, as_drawn=True)
    after = everything(kits)
    found = list(outcomes(old, kits, change, monkeypatch))
    assert len(found) > 15 and all(each in (before, after) for each in found) and found[0] == before and found[-1] == after


def test_a_build_of_an_old_archive_names_the_command(old):
    for folder in kit_folders(old):
        if folder.name != TIDE:
            shutil.rmtree(folder)
    rest = ledger.read_ledger(old)
    (old / "releases.yaml").write_bytes(replace(rest, lines=tuple(rest.of(TIDE))).text.encode())
    for who in ("ilse-tarnow", "marit-ellingrove", "odile-quennell", "teo-marchbank"):
        (old / "people" / who).mkdir(parents=True)
        (old / "people" / who / "person.yaml").write_text(f"name: {who.title()}\nconsent: {{on: 2025-01-01, to: []}}\n", encoding="utf-8")
    (told,) = gather(old.parent, dt.datetime(2027, 1, 1, tzinfo=dt.UTC)).unreleased
    assert told.level == "warning" and TIDE in told.problem and "--carry-over" in told.remedy


def test_an_archive_older_than_its_ledger_is_carried_over_and_then_taken_in(tmp_path, quick):
    """Both steps, in the order in which nobody would type them."""
    kits = shutil.copytree(BEFORE.parents[1] / "before_ledger" / "kits", tmp_path / "kits")
    for folder in kit_folders(kits):
        if folder.name != TIDE:
            shutil.rmtree(folder)
    assert "kept" in carried(kits, "--as-drawn") and all(r.keeps and not r.record.digest for r in released(kit_in(kits, TIDE)))
    adopt(kits)
    assert published(kits) == {} and all(r.keeps and r.record.digest for r in released(kit_in(kits, TIDE)))
    assert guard(kit_in(kits, TIDE)) is None and "nothing need be done" in carried(kits)
