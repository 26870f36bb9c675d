"""Revisions: frozen, read back to the same bytes, guarded, and whole or not at all."""

import datetime as dt
import io
import lzma
import shutil
import tarfile
from dataclasses import replace

import pypdf
import pytest
import yaml
from kitwright.archive import offered
from kitwright.errors import UserError
from kitwright.files import OURS
from kitwright.release import atomic, kept, ledger
from kitwright.release.errata import draft
from kitwright.release.guard import club_drift, guard
from kitwright.release.numbers import numbers_text
from kitwright.release.packed import LARGEST, packed
from kitwright.release.publish import NotReady
from kitwright.release.record import released, revision_at
from kitwright.release.revisions import as_it_stands, as_published, current, files_of, frozen, sha256
from kitwright.release.state import digest, preview_code
from kitwright.work import worked as worked_module
from kitwright.work import working
from kitwright.work.working import work
from making import BATCH, CLUB, ID, changed
from release.bench import LIVING, archive, at, edit, everything, keeps_its_drawing, kit_in, people_in, publish_erratum, release, take_back
from release.killing import Killed, outcomes, recorded, stopping_before

WHEN = at("2030-01-04 12:00")


def test_the_very_files_come_back(tmp_path):
    """With the real ones: every edition and ink, with the checksums that were noted, whatever became of the kit."""
    kits = archive(tmp_path)
    made, _ = release(kit_in(kits), people_in(kits), WHEN)
    kit = edit(kits, ("cards: 9", "cards: 18"))
    (kits / ID / "notes.md").write_text("All is new.\n", encoding="utf-8")
    files = files_of(made)
    assert {name: sha256(data) for name, data in files.items()} == made.record.files
    printables = {f"{ID}-{edition}{ink}.pdf" for edition in ("letter", "a4") for ink in ("", "-light", "-outline")}
    workbooks = {f"{ID}-workbook-{edition}.pdf" for edition in ("letter", "a4")}
    assert set(files) == {
        *printables,
        *workbooks,
        *(f"{ID}-arrangements-{edition}.pdf" for edition in ("letter", "a4")),
        f"{ID}-cut-files.zip",
    }
    text = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(files[f"{ID}-letter.pdf"])).pages)
    assert made.code in text and "Revision 1" in text and "4 January 2030" in text
    # Whoever unpacks them needs no kitwright.
    with tarfile.open(made.folder / "files.tar.xz") as archived:
        assert {entry.name: archived.extractfile(entry).read() for entry in archived} == files
    # What is kept is enough to draw every one of them again.
    assert keeps_its_drawing(kit, made)


def test_a_frozen_kit_is_the_kit(tmp_path, quick):
    kits = archive(tmp_path)
    kit = kit_in(kits)
    before = work(kit)
    made, _ = release(kit, people_in(kits), WHEN)
    changed_kit = edit(
        kits,
        ("title: Nine strips", "title: Other"),
        ("  - papers: river\n    cuts:\n", "  - papers: river\n    name: A new name\n    cuts:\n"),
    )
    read = frozen(changed_kit, made)
    assert read.spec.title == "Nine strips" and digest(work(read)) == digest(before) and numbers_text(work(read)) == numbers_text(before)
    assert [r.number for r in released(changed_kit)] == [1] and made.at == WHEN


def test_nothing_of_people_is_frozen(tmp_path, quick):
    kits = archive(tmp_path, BATCH + "reveal: 2030-01-05\n" + LIVING)
    made, _ = release(kit_in(kits), people_in(kits), WHEN)
    for name, data in everything(made.folder).items():
        assert b"ada" not in data.lower() and b"bellwether" not in data.lower() and b"quill" not in data.lower(), name
    assert not {"samples", "team", "guests", "by", "moments", "reveal"} & set(
        yaml.safe_load((made.folder / ID / "kit.yaml").read_text(encoding="utf-8"))
    )


def test_what_may_change_is_taken_from_the_kit_as_it_is(tmp_path, quick):
    kits = archive(tmp_path)
    release(kit_in(kits), people_in(kits), WHEN)
    kit = edit(kits, ("reveal: 2030-01-05 18:00\n", "reveal: 2030-02-01\n" + LIVING))
    read = current(kit, WHEN).kit
    assert read.reveal == dt.datetime(2030, 2, 1) and len(read.spec.samples) == 2 and read.folder == kit.folder
    assert guard(kit) is None


def test_before_its_release_a_kit_has_no_current_state(tmp_path, quick):
    kits = archive(tmp_path)
    kit = kit_in(kits)
    assert current(kit, WHEN) is None and guard(kit) is None and released(kit) == ()
    release(kit, people_in(kits), WHEN)
    assert revision_at(kit, WHEN - dt.timedelta(seconds=1)) is None and revision_at(kit, WHEN).number == 1


# --- refusing and warning --------------------------------------------------------------------------


def test_errors_refuse_a_release(tmp_path, quick):
    kits = archive(tmp_path, changed(BATCH, ("    per card: 2", "    per card: 3")))
    before = everything(kits)
    with pytest.raises(NotReady) as refused:
        release(kit_in(kits), people_in(kits), WHEN)
    assert refused.value.findings and everything(kits) == before


def test_a_second_release_is_refused(tmp_path, quick):
    kits = archive(tmp_path)
    release(kit_in(kits), people_in(kits), WHEN)
    before = everything(kits)
    with pytest.raises(UserError, match="released already"):
        release(kit_in(kits), people_in(kits), WHEN)
    assert everything(kits) == before


def test_untested_states_are_warned_of(tmp_path, quick):
    kits = archive(tmp_path)
    kit = kit_in(kits)
    assert [w.problem for w in release(kit, people_in(kits), WHEN)[1]] == ["nobody has test-cut this kit"]
    assert not released(kit)[0].record.tested
    kits = archive(tmp_path / "tested")
    kit = edit(kits, ("reveal: 2030", f"tested:\n  - {{by: quill-nobody, on: 2030-01-02, code: {preview_code(work(kit))}}}\nreveal: 2030"))
    made, warnings = release(kit, people_in(kits), WHEN)
    assert warnings == [] and made.record.tested
    take_back(kits)
    kit = edit(kits, ("cards: 9", "cards: 8"))
    assert ["changed since" in w.problem for w in release(kit, people_in(kits), WHEN)[1]] == [True]


@pytest.mark.parametrize("where", ["notes", "spec"])
def test_a_name_is_never_frozen(tmp_path, quick, where):
    kits = archive(
        tmp_path,
        BATCH if where == "notes" else changed(BATCH, ("summary: Nine cards from one sheet.", "summary: Nine cards by Ada  Bellwether.")),
        "Hello\n\nby ADA BELLWETHER\n" if where == "notes" else "",
    )
    with pytest.raises(NotReady) as refused:
        release(kit_in(kits), people_in(kits), WHEN)
    found = refused.value.findings[0]
    assert (
        "Ada Bellwether" in found.problem and found.place.line == (3 if where == "notes" else 2) and not (kits / ID / "published").exists()
    )


def test_a_part_of_a_name_is_warned_of_and_comments_are_not(tmp_path, quick):
    kits = archive(tmp_path, "# Ada Bellwether asked for this\n" + BATCH + LIVING, "Ada likes it.\n")
    _, warnings = release(kit_in(kits), people_in(kits), WHEN)
    assert [w.place.line for w in warnings if "may name" in w.problem] == [1]


# --- guarding --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "pair, stops",
    [
        (("cards: 9", "cards: 8"), "cards"),
        (("title: Nine strips", "title: Nine  strips   # same"), None),
        (("3-3/4 x 1-1/4", "3.75 x 1.25"), None),
        (("    for: tall strip", "    for: strip"), "pieces"),
        (("  text: thank you", "  text: hello"), "sentiment"),
        (("3 strips of 1-1/4 off the top", "3 strips of 1-1/4 off the bottom"), "guides"),
    ],
)
@pytest.mark.parametrize("public, command", [(True, "erratum"), (False, "release")], ids=["public", "to come"])
def test_the_guard_stops_a_changed_spec(tmp_path, quick, monkeypatch, pair, stops, public, command):
    """What readers may have is corrected; what nobody could have had yet is released again."""
    day = dt.timedelta(days=1)
    monkeypatch.setattr("kitwright.release.guard.public_from", lambda *_: dt.datetime.now(dt.UTC) + (-day if public else day))
    kits = archive(tmp_path)
    release(kit_in(kits), people_in(kits), WHEN)
    found = guard(edit(kits, pair))
    assert (found is None) == (stops is None)
    if stops:
        assert stops in found.problem and found.level == "error" and f"kitwright {command} " in found.remedy and found.place.line


def test_the_guard_stops_changed_notes(tmp_path, quick):
    kits = archive(tmp_path)
    release(kit_in(kits), people_in(kits), WHEN)
    (kits / ID / "notes.md").write_text("Nine of\n[[size of A]].\n\n<!-- a remark -->\n", encoding="utf-8")
    assert guard(kit_in(kits)) is None
    (kits / ID / "notes.md").write_text("Ten of [[size of A]].\n", encoding="utf-8")
    assert guard(kit_in(kits)).place.file.name == "notes.md"


def test_the_club_may_change_and_is_hinted_at(tmp_path, quick):
    kits = archive(tmp_path)
    release(kit_in(kits), people_in(kits), WHEN)
    assert club_drift(kit_in(kits)) is None
    (kits / "club.yaml").write_text(CLUB.replace("For the tests alone", "For everybody"), encoding="utf-8")
    kit = kit_in(kits)
    assert guard(kit) is None and club_drift(kit).level == "hint" and current(kit, WHEN).kit.club.terms == "For the tests alone."


@pytest.mark.parametrize("name", ["facts.json", "results.json", "club.yaml", f"{ID}/kit.yaml", f"{ID}/notes.md"])
def test_a_touched_revision_is_told(tmp_path, quick, name):
    kits = archive(tmp_path)
    made, _ = release(kit_in(kits), people_in(kits), WHEN)
    file = made.folder / name
    # Line ends of another system are no change.
    file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    assert guard(kit_in(kits)) is None
    file.write_bytes(file.read_bytes() + b"\n# more\n")
    assert file.name in str(guard(kit_in(kits)).place)
    file.unlink()
    assert "changed after its release" in guard(kit_in(kits)).problem


def test_a_record_with_another_code_is_told(tmp_path, quick):
    kits = archive(tmp_path)
    made, _ = release(kit_in(kits), people_in(kits), WHEN)
    # Sealed and noted in the ledger as if it were the right one.
    body = ledger.opened((made.folder / "release.yaml").read_text(encoding="utf-8")).body.replace(made.code, "K7MW-4TX2")
    atomic.change(kits, ledger.resealed(kits, {(ID, 1): body}))
    (kits / "releases.yaml").write_text(
        (kits / "releases.yaml").read_text(encoding="utf-8").replace(made.code, "K7MW-4TX2"), encoding="utf-8"
    )
    found = guard(kit_in(kits))
    assert found.level == "error" and found.place.file.name == "release.yaml" and "another code" in found.problem


def test_a_missing_or_broken_record_is_one_clear_error(tmp_path, quick):
    kits = archive(tmp_path)
    made, _ = release(kit_in(kits), people_in(kits), WHEN)
    record = made.folder / "release.yaml"
    for broken in ("revision: 2\n", "code: x\n", record.read_text(encoding="utf-8").replace("released: '2030", "released: 'soon"), ""):
        record.write_text(broken, encoding="utf-8")
        with pytest.raises(UserError):
            released(kit_in(kits))
    record.unlink()
    with pytest.raises(UserError, match="no such file"):
        released(kit_in(kits))


def test_files_that_were_touched_are_told(tmp_path, quick):
    kits = archive(tmp_path)
    made, _ = release(kit_in(kits), people_in(kits), WHEN)
    file = made.folder / "files.tar.xz"
    file.write_bytes(file.read_bytes() + b"\n")
    assert guard(kit_in(kits)).place.file.name == file.name and "changed after its release" in guard(kit_in(kits)).problem
    file.write_bytes(packed({f"{ID}-letter.pdf": b"another"}))
    with pytest.raises(UserError, match="not those that its record names"):
        files_of(made)
    for other in (b"", b"no archive", lzma.compress(b"no archive"), lzma.compress(bytes(LARGEST + 1), preset=0)):
        file.write_bytes(other)
        with pytest.raises(UserError, match="not those that its record names"):
            files_of(made)


def test_a_kitwright_that_plans_and_draws_otherwise_needs_no_correction(tmp_path, quick, monkeypatch):
    """Nothing is planned, laid out or drawn for a published kit, nor does anything ask for it."""
    kits = archive(tmp_path)
    made, _ = release(kit_in(kits), people_in(kits), WHEN)
    kit, worked, files = kit_in(kits), as_published(kit_in(kits), made), files_of(made)

    def never(*_, **__):
        raise AssertionError("worked out again")

    # Undone by itself: what is quick here stays so.
    with monkeypatch.context() as kept_from:
        for module, name in ((working, "plan_paper"), (working, "faces_of"), (worked_module, "enclosed_of"), (offered, "printables")):
            kept_from.setattr(module, name, never)
        kept.read_results.cache_clear()
        assert as_published(kit, made) == worked and as_published(kit, made).enclosed == worked.enclosed and files_of(made) == files
        assert (
            guard(kit) is None
            and club_drift(kit) is None
            and replace(as_it_stands(kit), kit=worked.kit) == worked
            and current(kit, WHEN) == worked
        )
    # Though the same kit, planned anew, comes out otherwise.
    plan = working.plan_paper

    def otherwise(demand, name):
        (run,) = plan(demand, name).runs
        return replace(plan(demand, name), runs=(replace(run, sheets=run.sheets + 1),))

    monkeypatch.setattr(working, "plan_paper", otherwise)
    assert work(kit) != worked and guard(kit) is None and as_published(kit, made) == worked
    # A mended word brings no other cuts; another size does.
    kit = edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    two = publish_erratum(draft(kit, {}), WHEN + dt.timedelta(days=1))
    assert as_published(kit, two).plans == worked.plans and as_published(kit, two).layouts == worked.layouts
    kit = edit(kits, ("size: 4 x 5-1/4", "size: 4 x 5-1/8"))
    assert draft(kit, {}).new.plans != worked.plans


# --- whole or not at all -----------------------------------------------------------------------------


def test_an_interrupted_release_leaves_the_kit_as_it_was(tmp_path, quick, monkeypatch):
    start = archive(tmp_path / "start")
    kits = shutil.copytree(start, tmp_path / "kits")
    before = everything(kits)
    change = recorded(lambda: release(kit_in(kits), people_in(kits), WHEN), monkeypatch)
    assert everything(kits) == before
    release(kit_in(kits), people_in(kits), WHEN)
    kit, after = kit_in(kits), everything(kits)
    assert guard(kit) is None and keeps_its_drawing(kit, released(kit)[0])
    assert {n: d for n, d in after.items() if "/published/" not in n and n != "releases.yaml"} == before
    found = list(outcomes(start, kits, change, monkeypatch))
    assert len(found) > 20 and all(each in (before, after) for each in found) and found[0] == before and found[-1] == after
    # And after a stop it can be done again.
    shutil.rmtree(kits)
    shutil.copytree(start, kits)
    with pytest.raises(Killed), stopping_before(6, monkeypatch):
        release(kit_in(kits), people_in(kits), WHEN)
    release(kit_in(kits), people_in(kits), WHEN)
    assert everything(kits) == after


def test_a_failing_release_clears_up(tmp_path, quick, monkeypatch):
    kits = archive(tmp_path)
    before = everything(kits)

    def broken(worked, edition, *, stamp):
        raise OSError("disk full")

    monkeypatch.setattr(offered, "printables", broken)
    with pytest.raises(UserError, match="disk full"):
        release(kit_in(kits), people_in(kits), WHEN)
    assert everything(kits) == before and not list((kits / ID).glob(f"{OURS}*"))


def test_every_revision_keeps_its_own_files(tmp_path, quick):
    kits = archive(tmp_path)
    kit = kit_in(kits)
    one, _ = release(kit, people_in(kits), WHEN)
    first = files_of(one)
    kit = edit(kits, ("cards: 9", "cards: 18"))
    two = publish_erratum(draft(kit, {}), WHEN + dt.timedelta(days=1))
    assert files_of(one) == first and set(files_of(two)) == set(first) and not set(files_of(two).values()) & set(first.values())


@pytest.mark.parametrize("name", ["../../secret.txt", "/etc/hostname", "C:\\secret.txt", "~/secret", "facts.json\0", "a/../../b"])
@pytest.mark.parametrize("part", ["frozen", "files"])
def test_a_record_names_nothing_outside_its_own_folder(tmp_path, quick, part, name):
    kits = archive(tmp_path)
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    file = kits / ID / "published" / "r1" / "release.yaml"
    data = yaml.safe_load(file.read_text(encoding="utf-8"))
    data[part][name] = "0" * 64
    file.write_text(yaml.safe_dump(data), encoding="utf-8")
    with pytest.raises(UserError) as caught:
        released(kit_in(kits))
    assert ("name" in caught.value.problem or "no text" in caught.value.problem) and caught.value.place.file.name == "release.yaml"


@pytest.mark.parametrize("link", ["published", "published/r1"])
def test_published_is_no_link_to_elsewhere(tmp_path, quick, link):
    kits = archive(tmp_path)
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    folder = kits / ID / link
    shutil.move(folder, tmp_path / "elsewhere")
    folder.symlink_to(tmp_path / "elsewhere")
    with pytest.raises(UserError, match="link"):
        released(kit_in(kits))
