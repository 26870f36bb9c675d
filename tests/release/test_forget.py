"""Forgetting: no byte is left, nothing else is lost, whole or not at all."""

import shutil
import zipfile
import zlib

import pytest
from kitwright.archive.atom import entries
from kitwright.check import errors
from kitwright.errors import UserError
from kitwright.otherwise.checked import check
from kitwright.release import atomic
from kitwright.release.errata import draft, errata
from kitwright.release.forget import Unchanged, find
from kitwright.release.guard import guard
from kitwright.release.members import extras_of
from kitwright.release.people import A_MAKER, anniversaries, findings, samples_of, team_of
from kitwright.release.record import released
from kitwright.release.revisions import files_of
from kitwright.release.whole import published
from kitwright.telling.people import kept
from kitwright.work.working import work
from making import BATCH, CLUB, ID
from PIL import Image
from PIL.PngImagePlugin import PngInfo
from release.bench import (
    LIVING,
    archive,
    at,
    edit,
    everything,
    forget,
    keeps_its_drawing,
    kit_in,
    people_in,
    plan,
    publish_erratum,
    release,
)
from release.killing import every_stop

TEAM = CLUB + "team:\n  - {who: ada-bellwether, role: leads}\n  - {who: quill-nobody}\n"
PRIVATE = "members:\n  - {name: Ada Bellwether, since: 2027-01-03}\n  - {name: Mona Farthing, since: 2025-01-20}\n"
HERS = (b"ada-bellwether", b"ada bellwether", b"bellwether.example", b"bellwether")


def filled(root):
    """An archive that names Ada everywhere a person can be named."""
    kits = archive(root, "# drawn up by Ada Bellwether\n" + BATCH + "reveal: 2030-01-05 18:00\n" + LIVING, club=TEAM)
    (kits / "people" / "private.yaml").write_text(PRIVATE, encoding="utf-8")
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    kit = edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    publish_erratum(draft(kit, people_in(kits)), at("2030-01-09 12:00"), "", "Ada Bellwether", True, kits, people_in(kits))
    return kits


def names_her(kits):
    return [name for name, data in everything(kits).items() if any(needle in (name.encode() + data).lower() for needle in HERS)]


def test_no_byte_is_left_and_revisions_stay(tmp_path, quick):
    kits = filled(tmp_path)
    assert len(names_her(kits)) >= 5
    frozen = {n: d for n, d in everything(kits).items() if "/published/" in n}
    done = forget(kits, "Ada Bellwether")
    assert names_her(kits) == [] and done.refrozen == ()
    assert {n: d for n, d in everything(kits).items() if "/published/" in n} == frozen
    kit, people = kit_in(kits), people_in(kits)
    assert (
        guard(kit) is None
        and all(keeps_its_drawing(kit, r) for r in released(kit))
        and [f for f in findings(kit, people) if f.level != "hint"] == []
    )
    assert errata(kit, kit.club, people, at("2031-01-01"))[0].spotted_by is None
    assert set(people) == {"quill-nobody"} and [p.key for p, _ in team_of(kit, people)] == []
    assert [m.name for m in anniversaries(kits).members] == ["Mona Farthing"]


def test_her_sample_stays_without_name_and_picture(tmp_path, quick):
    kits = filled(tmp_path)
    forget(kits, "ada-bellwether")
    kit, people = kit_in(kits), people_in(kits)
    shown = samples_of(kit, people)
    assert [(s.person, s.photo, s.sample.changed) for s in shown] == [(A_MAKER, None, "Another ink.")]
    told = [e.words for e in entries([kit], kit.club, people, at("2031-01-01")) if e.kind == "samples"]
    assert told == ["1 card to look at, by a maker."]


def test_nothing_else_changes(tmp_path, quick):
    kits = filled(tmp_path)
    before = everything(kits)
    forget(kits, "Ada Bellwether")
    after = everything(kits)
    assert set(before) - set(after) == {n for n in before if n.startswith("people/ada-bellwether/")} and set(after) <= set(before)
    assert {n for n in after if after[n] != before[n]} == {f"{ID}/kit.yaml", "club.yaml", "people/private.yaml"}
    # In the spec only the lines that named her.
    old, new = before[f"{ID}/kit.yaml"].decode().split("\n"), after[f"{ID}/kit.yaml"].decode().split("\n")
    assert len(old) == len(new) and all("bellwether" in a.lower() or "photo: card" in a for a, b in zip(old, new) if a != b)


def test_a_name_that_was_frozen_before_she_came_on_file(tmp_path, quick):
    kits = archive(tmp_path, notes="With thanks to Zelda Quimby.\n")
    made, _ = release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    (kits / "people" / "zelda-quimby").mkdir()
    (kits / "people" / "zelda-quimby" / "person.yaml").write_text(
        "name: Zelda Quimby\nconsent: {on: 2030-02-01, to: [name]}\n", encoding="utf-8"
    )
    done = forget(kits, "Zelda Quimby")
    assert done.refrozen == (ID,) and not any(b"quimby" in d.lower() for d in everything(kits).values())
    kit = kit_in(kits)
    again = released(kit)[0]
    assert (
        again.record.reworded
        and guard(kit) is None
        and keeps_its_drawing(kit, again)
        and not any(b"quimby" in data.lower() for data in files_of(again).values())
        and (again.code, again.at, again.number) == (made.code, made.at, 1)
    )


def test_parts_of_a_name_are_left_for_the_author(tmp_path, quick):
    kits = archive(tmp_path, notes="Ada and I cut nine.\nAdamant cuts.\n")
    done = forget(kits, "Ada Bellwether")
    assert [(p.file.name, p.line) for p in done.left] == [("notes.md", 1)]


def test_a_key_that_is_a_common_word_is_only_replaced_where_it_names_her(tmp_path, quick):
    kits = archive(tmp_path, BATCH + "by: river\n")
    (kits / "people" / "river").mkdir()
    (kits / "people" / "river").joinpath("person.yaml").write_text(
        "name: River Oakhurst\nconsent: {on: 2030-01-01, to: [name]}\n", encoding="utf-8"
    )
    forget(kits, "River Oakhurst")
    kit = kit_in(kits)
    assert kit.spec.by == "a maker" and "river" in kit.spec.papers and kit.spec.papers["river"].name == "River"


def test_nobody_of_that_name(tmp_path, quick):
    kits = archive(tmp_path)
    before = everything(kits)
    for wrong in ("Ada", "Nobody Here", "", "../people"):
        with pytest.raises(UserError, match="nobody called"):
            forget(kits, wrong)
    assert everything(kits) == before and find(kits, "ada  BELLWETHER").key == "ada-bellwether"


def test_all_ways_of_writing_references(tmp_path, quick):
    """Flow and block lists, quotes, and the key alone, in any YAML file."""
    kits = archive(tmp_path)
    file = kits / ID / "plans.yaml"
    file.write_text(
        "team: [ada-bellwether, {who: 'ada-bellwether', make: x}]\nguests:\n- \"ada-bellwether\"\nby: ada-bellwether # Ada\n"
        "samples:\n- by: ada-bellwether\n  photo: 'x.jpg'\n- {by: quill-nobody, photo: y.jpg}\n",
        encoding="utf-8",
    )
    forget(kits, "Ada Bellwether")
    assert file.read_text(encoding="utf-8") == (
        "team: [a maker, {who: a maker, make: x}]\nguests:\n- a maker\nby: a maker # Ada\nsamples:\n- by: a maker\n  photo: none\n"
        "- {by: quill-nobody, photo: y.jpg}\n"
    )


def test_an_interrupted_forgetting_is_whole_or_not_at_all(tmp_path, quick, monkeypatch):
    filled(tmp_path / "start")
    before = everything(tmp_path / "start" / "kits")
    kits, stops, outcomes = tmp_path / "work" / "kits", 0, set()

    def fresh():
        shutil.rmtree(tmp_path / "work", ignore_errors=True)
        shutil.copytree(tmp_path / "start", tmp_path / "work")

    fresh()
    # Planning writes nothing, so that it need not be done again for every stop.
    planned = plan(kits, find(kits, "Ada Bellwether"))
    assert everything(kits) == before
    for _ in every_stop(lambda: atomic.change(kits, planned.written, planned.removed), monkeypatch, fresh):
        stops += 1
        # What every command does first.
        atomic.finish(kits)
        now = everything(kits)
        outcomes.add(now == before)
        assert now == before or names_her(kits) == []
        assert not any(".change" in name for name in now)
        kit_in(kits)
    assert stops > 10 and outcomes == {True, False}


# --- every file, every spelling -------------------------------------------------------------------------


def bell(root, text=BATCH + "reveal: 2030-01-05 18:00\n", **more):
    """An archive with Ada Bell, and people whose names are like hers."""
    kits = archive(root, text, **more)
    for key, name in (("ada-bell", "Ada Bell"), ("ada-bellamy", "Ada Bellamy"), ("bella-ada", "Bella Ada"), ("ada-bell-2", "Ida Bell")):
        (kits / "people" / key).mkdir()
        (kits / "people" / key / "person.yaml").write_text(
            f"name: {name}\nconsent: {{on: 2029-12-01, to: [name, samples]}}\n", encoding="utf-8"
        )
    return kits


SAID = "Cut by Ada B\u00e9ll, Ada Bellamy and Bella; Ad\u00e1 Bell too.\r\n"
AFTER = "Cut by a maker, Ada Bellamy and Bella; a maker too.\r\n"


@pytest.mark.parametrize(
    "name",
    [
        "more.md",
        "list.csv",
        "data.json",
        "page.html",
        "party.ics",
        "drawing.svg",
        "CREDITS",
        "notes.md~",
        "kit.yaml.bak",
        "old.log",
        "photos/sub/x.txt",
    ],
)
@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "latin-1", "cp1252", "mac_roman", "cp850"]
)
def test_every_text_whatever_its_kind_and_encoding(tmp_path, name, encoding):
    kits = bell(tmp_path)
    file = kits / ID / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(SAID.encode(encoding))
    done = forget(kits, "Ada Bell")
    assert file.read_bytes() == AFTER.encode(encoding) and file not in {u.file for u in done.unchanged}
    assert set(people_in(kits)) == {"ada-bellwether", "quill-nobody", "ada-bellamy", "bella-ada", "ada-bell-2"}


def test_files_named_after_her_are_renamed_and_what_names_them_follows(tmp_path, quick):
    text = BATCH + (
        "reveal: 2030-01-05 18:00\nphotos:\n  - {file: photos/ada-bell.jpg, alt: A card by Ada Bell}\n  - {file: photos/AdaBell2.jpg}\n  - {file: photos/Ada Bell/one.jpg}\n  - {file: photos/ada-bell-2.jpg}\n"
        "samples:\n  - {by: quill-nobody, photo: with-ada_bell.jpg}\nmembers:\n  - {file: extras/ada.bell.txt, name: six lines}\n"
    )
    kits = bell(tmp_path, text, notes="See ![a card](photos/ada-bell.jpg), ![another](photos/Ada%20Bell/one.jpg).\n")
    for name in ("photos/ada-bell.jpg", "photos/AdaBell2.jpg", "photos/Ada Bell/one.jpg", "photos/ada-bell-2.jpg", "extras/ada.bell.txt"):
        (kits / ID / name).parent.mkdir(parents=True, exist_ok=True)
        (kits / ID / name).write_bytes(
            (kits / "people" / "ada-bellwether" / "ada.jpg").read_bytes() if name.endswith("jpg") else b"six lines by Ada Bell\n"
        )
    (kits / "people" / "quill-nobody" / "with-ada_bell.jpg").write_bytes((kits / "people" / "quill-nobody" / "q.jpg").read_bytes())
    people = people_in(kits)
    before = [(f.level, f.problem) for f in findings(kit_in(kits), people)]
    done = forget(kits, "ada-bell")
    kit = kit_in(kits)
    assert [p.file for p in kit.spec.photos] == [
        "photos/a-maker.jpg",
        "photos/AMaker2.jpg",
        "photos/a maker/one.jpg",
        "photos/ada-bell-2.jpg",
    ]
    assert kit.spec.samples[0].photo == "with-a_maker.jpg" and kit.spec.members[0].file == "extras/a.maker.txt"
    assert kit.notes == "See ![a card](photos/a-maker.jpg), ![another](photos/a%20maker/one.jpg).\n"
    # Every file that is named is there, with its bytes.
    assert [(f.level, f.problem) for f in findings(kit, people_in(kits))] == before and extras_of(kit)[0][
        1
    ].read_bytes() == b"six lines by a maker\n"
    assert not (kits / ID / "photos" / "Ada Bell").exists() and len(done.renamed) == 5
    assert not any(n in name for name in everything(kits) for n in ("ada-bell.", "AdaBell", "ada_bell", "ada.bell", "Ada Bell/"))


def test_two_files_of_one_new_name(tmp_path):
    text = (
        BATCH
        + "photos:\n  - {file: photos/ada-bell.jpg, alt: one}\n  - {file: photos/Ada-Bell.jpg, alt: two}\n  - {file: photos/a-maker.jpg, alt: three}\n"
    )
    kits = bell(tmp_path, text)
    for name, colour in (("ada-bell", "red"), ("Ada-Bell", "blue"), ("a-maker", "green")):
        (kits / ID / "photos").mkdir(exist_ok=True)
        Image.new("RGB", (4, 3), colour).save(kits / ID / "photos" / f"{name}.jpg")
    was = {p.alt: (kits / ID / p.file).read_bytes() for p in kit_in(kits).spec.photos}
    forget(kits, "Ada Bell")
    assert {p.alt: (kits / ID / p.file).read_bytes() for p in kit_in(kits).spec.photos} == was


def test_keys_named_after_her_stay_keys(tmp_path, quick):
    """A paper and a moment that are called after her: renamed everywhere alike, and the kit is what it was."""
    text = (
        BATCH.replace("river", "ada-bell").replace("name: River", "name: Ada Bell’s stripes")
        + "reveal: 2030-01-05\nmoments:\n  Ada Bell shows: 2030-01-10\n"
    )
    kits = bell(tmp_path, text)
    forget(kits, "Ada Bell")
    kit = kit_in(kits)
    assert (
        kit.papers["a-maker"].name == "a maker’s stripes" and list(kit.spec.moments) == ["a maker shows"] and not errors(check(work(kit)))
    )


def test_a_name_that_was_published_goes_from_every_seal(tmp_path, quick):
    """Two revisions and another kit beside: texts, checksums, seals and ledger follow; codes and times stay."""
    kits = archive(
        tmp_path,
        BATCH.replace("title: Nine strips", "title: Zelda Quimby’s strips").replace("text: thank you", "text: thank you, zelda quimby"),
        notes="By **Zelda** Quimby.\n",
    )
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    publish_erratum(draft(edit(kits, ("summary: Nine cards", "summary: The nine cards")), {}), at("2030-01-09 12:00"), "Ask Zelda_Quimby.")
    (kits / "people" / "zelda-quimby").mkdir()
    (kits / "people" / "zelda-quimby" / "person.yaml").write_text(
        "name: Zelda Quimby\nconsent: {on: 2030-02-01, to: [name]}\n", encoding="utf-8"
    )
    before = [(r.code, r.at, r.number) for r in released(kit_in(kits))]
    done = forget(kits, "Zelda Quimby")
    assert done.refrozen == (ID,) and not any(b"quimby" in d.lower() for d in everything(kits).values())
    kit = kit_in(kits)
    assert published(kits) == {} and guard(kit) is None and [(r.code, r.at, r.number) for r in released(kit)] == before
    assert (
        all(r.record.reworded and keeps_its_drawing(kit, r) for r in released(kit))
        and not any(b"quimby" in data.lower() for r in released(kit) for data in files_of(r).values())
        and released(kit)[1].record.erratum.advice == "Ask a_maker."
    )


def test_nothing_published_that_was_touched_is_noted_anew(tmp_path, quick):
    kits = archive(tmp_path, notes="By Zelda Quimby.\n")
    made, _ = release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    (kits / "people" / "zelda-quimby").mkdir()
    (kits / "people" / "zelda-quimby" / "person.yaml").write_text(
        "name: Zelda Quimby\nconsent: {on: 2030-02-01, to: [name]}\n", encoding="utf-8"
    )
    (made.folder / "facts.json").write_text("{}", encoding="utf-8")
    before = everything(kits)
    with pytest.raises(UserError, match="changed after its release"):
        forget(kits, "Zelda Quimby")
    assert everything(kits) == before


def test_the_id_of_a_kit_stays(tmp_path, quick):
    kits = bell(tmp_path)
    folder = kits / "2030-01-ada-bell-cards"
    (kits / ID).rename(folder)
    release(kit_in(kits, folder.name), {}, at("2030-03-01 12:00"))
    done = forget(kits, "Ada Bell")
    assert Unchanged(folder, "id") in done.unchanged and published(kits) == {} and guard(kit_in(kits, folder.name)) is None


def test_what_can_not_be_changed_is_listed(tmp_path):
    kits = bell(tmp_path)
    folder = kits / ID
    with zipfile.ZipFile(folder / "cards.zip", "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("inside.txt", "cut by Ada Bell\n" * 40)
    (folder / "old.pdf").write_bytes(
        b"%PDF-1.4\n1 0 obj <</Filter /FlateDecode>>\nstream\n" + zlib.compress(b"BT (Ada Bell) Tj ET" * 20) + b"\nendstream\n%%EOF"
    )
    (folder / "other.pdf").write_bytes(b"%PDF-1.4\n\x00\x01%%EOF")
    (folder / "blob.bin").write_bytes(b"\x00\x01\x02" + "Ada Bell".encode("utf-16-be") + b"\x00\x07")
    picture = folder / "card.png"
    meta = PngInfo()
    meta.add_text("Author", "Ada Bell")
    Image.new("RGB", (4, 3)).save(picture, pnginfo=meta)
    (folder / ".hidden").write_text("Ada Bell\n", encoding="utf-8")
    (folder / "ada-bell-link").symlink_to(tmp_path)
    (tmp_path / ".git").mkdir()
    before = everything(kits)
    unchanged = forget(kits, "Ada Bell").unchanged
    told = {u.file: u.why for u in unchanged}
    assert {told[folder / name] for name in ("cards.zip", "old.pdf", "blob.bin", "card.png")} == {"buried"}
    assert (told[folder / "other.pdf"], told[folder / ".hidden"], told[folder / "ada-bell-link"]) == ("no text", "hidden", "link")
    assert "history" in {u.why for u in unchanged if u.file == kits}
    assert all(kept(u.file, u.why, u.pictures) for u in unchanged)
    assert {n: d for n, d in everything(kits).items() if n.startswith(ID)} == {n: d for n, d in before.items() if n.startswith(ID)}


def test_old_printables_name_her_by_the_words_beside_them_and_stay_whole(tmp_path):
    """A PDF may be of plain letters throughout: written anew it would be broken. Of many, those are listed that name her."""
    kits = bell(tmp_path)
    page = b"%PDF-1.4\n1 0 obj <</Author (Ada Bell)>>\nendobj\nxref\n%%EOF\n"
    for name, words in (("2029-01-boats", "cut by Ada Bell\n"), ("2029-02-stars", "stars\n"), ("2029-03-scan", "\n")):
        (kits / name / "from-pdf").mkdir(parents=True)
        (kits / name / "kit.yaml").write_text("past: yes\ntitle: T\nprintable: p.pdf\n", encoding="utf-8")
        (kits / name / "from-pdf" / "words.txt").write_text(words, encoding="utf-8")
        (kits / name / "p.pdf").write_bytes(page if "boats" in name else page.replace(b"Ada", b"Eva"))
    unchanged = forget(kits, "Ada Bell").unchanged
    told = [(u.file.relative_to(kits).as_posix(), u.why, u.pictures) for u in unchanged if u.why in ("buried", "old printables", "no text")]
    assert told == [("2029-01-boats/p.pdf", "buried", 0), (".", "old printables", 2)]
    assert (kits / "2029-01-boats" / "p.pdf").read_bytes() == page
    assert (kits / "2029-01-boats" / "from-pdf" / "words.txt").read_text(encoding="utf-8") == "cut by a maker\n"
    assert all(kept(u.file, u.why, u.pictures) for u in unchanged)


def test_her_address_goes_and_specs_stay_readable(tmp_path):
    text = (
        BATCH
        + "links:\n  - {for: river, address: 'https://bellwether.example/river'}\nvideo: {address: https://www.bellwether.example}\nquestions:\n  - {ask: 'Where?', answer: 'See [her page](https://bellwether.example/) or bellwether.example.'}\n"
    )
    kits = archive(
        tmp_path,
        text,
        notes="[Ada Bellwether](https://bellwether.example/a?b=c) and https://bellwether.example.org/ and notbellwether.example\n",
    )
    forget(kits, "Ada Bellwether")
    kit = kit_in(kits)
    assert kit.notes == "a maker and https://bellwether.example.org/ and notbellwether.example\n"
    assert (kit.spec.links[0].address, kit.spec.video.address, kit.spec.questions[0].answer) == (
        "https://a-maker.invalid/",
        "https://a-maker.invalid/",
        "See her page or .",
    )


def test_a_file_that_would_mean_something_else_stops_it_all(tmp_path):
    kits = bell(tmp_path)
    (kits / ID / "more.yaml").write_text("Ada Bell: 1\nADA BELL: 2\n", encoding="utf-8")
    before = everything(kits)
    with pytest.raises(UserError, match="would not mean the same") as stopped:
        forget(kits, "Ada Bell")
    assert stopped.value.place.file.name == "more.yaml" and everything(kits) == before
