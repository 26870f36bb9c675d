"""Forgetting: no byte is left, nothing else is lost, whole or not at all."""

import shutil

import pytest

from kitwright.errors import UserError
from kitwright.release import atomic
from kitwright.release.errata import draft, errata, publish_erratum
from kitwright.release.feed import entries
from kitwright.release.forget import find, forget, refreeze_drawings, without
from kitwright.release.people import A_MAKER, anniversaries, findings, samples_of, team_of
from kitwright.release.revisions import guard, misprinted, release, released
from making import BATCH, CLUB, ID
from release.bench import LIVING, archive, at, edit, everything, kit_in, people_in
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
    assert guard(kit) is None and all(misprinted(kit, r) == [] for r in released(kit)) and [f for f in findings(kit, people) if f.level != "hint"] == []
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
    (kits / "people" / "zelda-quimby" / "person.yaml").write_text("name: Zelda Quimby\nconsent: {on: 2030-02-01, to: [name]}\n", encoding="utf-8")
    done = forget(kits, "Zelda Quimby")
    refreeze_drawings(kits, done)
    assert done.refrozen == (ID,) and not any(b"quimby" in d.lower() for d in everything(kits).values())
    kit = kit_in(kits)
    again = released(kit)[0]
    assert again.record.reworded and guard(kit) is None and misprinted(kit, again) == [] and (again.code, again.at, again.number) == (made.code, made.at, 1)


def test_parts_of_a_name_are_left_for_the_author(tmp_path, quick):
    kits = archive(tmp_path, notes="Ada and I cut nine.\nAdamant cuts.\n")
    done = forget(kits, "Ada Bellwether")
    assert [(p.file.name, p.line) for p in done.left] == [("notes.md", 1)]


def test_a_key_that_is_a_common_word_is_only_replaced_where_it_names_her(tmp_path, quick):
    kits = archive(tmp_path, BATCH + "by: river\n")
    (kits / "people" / "river").mkdir()
    (kits / "people" / "river").joinpath("person.yaml").write_text("name: River Oakhurst\nconsent: {on: 2030-01-01, to: [name]}\n", encoding="utf-8")
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


def test_all_ways_of_writing_references():
    """Flow and block lists, quotes, and the key alone."""
    class Her:
        key = "ada-bellwether"
        spec = type("Spec", (), {"name": "Ada Bellwether", "link": None})
    text = "team: [ada-bellwether, {who: 'ada-bellwether', make: x}]\nguests:\n- \"ada-bellwether\"\nby: ada-bellwether # Ada\nsamples:\n- by: ada-bellwether\n  photo: 'x.jpg'\n- {by: quill-nobody, photo: y.jpg}\n"
    assert without(text, Her, references=True) == ("team: [a maker, {who: a maker, make: x}]\nguests:\n- a maker\nby: a maker # Ada\nsamples:\n- by: a maker\n  photo: none\n"
                                                   "- {by: quill-nobody, photo: y.jpg}\n")


def test_an_interrupted_forgetting_is_whole_or_not_at_all(tmp_path, quick, monkeypatch):
    filled(tmp_path / "start")
    before = everything(tmp_path / "start" / "kits")
    kits, stops, outcomes = tmp_path / "work" / "kits", 0, set()

    def fresh():
        shutil.rmtree(tmp_path / "work", ignore_errors=True)
        shutil.copytree(tmp_path / "start", tmp_path / "work")
    for _ in every_stop(lambda: forget(kits, "Ada Bellwether"), monkeypatch, fresh):
        stops += 1
        # What every command does first.
        atomic.finish(kits)
        now = everything(kits)
        outcomes.add(now == before)
        assert now == before or names_her(kits) == []
        assert not any(".change" in name for name in now)
        kit_in(kits)
    assert stops > 10 and outcomes == {True, False}
