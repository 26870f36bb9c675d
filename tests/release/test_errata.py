"""Errata: drafted from the differences, published whole, told to those who are affected."""

import datetime as dt
import shutil

import pytest
from kitwright.errors import UserError
from kitwright.kit.model import Thanks
from kitwright.release.errata import draft, errata, thanks_noted
from kitwright.release.guard import guard
from kitwright.release.history import corrected
from kitwright.release.publish import NotReady
from kitwright.release.record import released
from kitwright.release.revisions import as_published, current
from kitwright.telling.errata import affected, draft_lines, to_do
from kitwright.telling.printed import correction_text
from making import CLUB, ID
from release.bench import archive, at, edit, everything, keeps_its_drawing, kit_in, people_in, publish_erratum, release
from release.killing import outcomes, recorded

FIRST, SECOND, THIRD, LATER = at("2030-01-04 12:00"), at("2030-01-09 12:00"), at("2030-01-19 12:00"), at("2030-03-01 00:00")
LOWER = (("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))


def since(made) -> int:
    """The first revision whose copies have something to do."""
    return min(group.number for group in made.groups if group.affected)


def started(tmp_path):
    kits = archive(tmp_path)
    release(kit_in(kits), people_in(kits), FIRST)
    return kits


def test_a_size_that_was_wrong(tmp_path, quick):
    kits = started(tmp_path)
    kit = edit(kits, *LOWER)
    made = draft(kit, people_in(kits))
    assert made.number == 2 and made.grade == "recut" and since(made) == 1
    assert draft_lines(made)[0] == "B is 3¾ × ¾ in, not 3¾ × ⅞ in: ⅛ in lower; pieces already cut can be trimmed. (cut again)"
    revision = publish_erratum(made, SECOND, "Trim  the strips.", "Ada Bellwether", True, kits, people_in(kits))
    assert revision.number == 2 and guard(kit) is None
    people = people_in(kits)
    told = errata(kit, kit.club, people, LATER)[0]
    assert (
        affected(told)
        == "Your copy is affected if it says revision 1 or PREVIEW, or names no revision and was downloaded before 9 January 2030."
    )
    assert to_do(told) == "Trim the strips." and told.spotted_by.key == "ada-bellwether" and told.grade == "recut"
    assert told.since == at("2030-01-05 18:00")  # the reveal, for the release came before it
    assert told.old.sizes["B"] != told.new.sizes["B"] and told.changes == made.changes
    assert all(d.old and d.new for d in told.changes.told)
    assert all(keeps_its_drawing(kit, r) for r in released(kit))
    # What its printable says of it is what was found; the first corrects nothing.
    assert [corrected(kit, r, as_published(kit, r)) for r in released(kit)] == [(), made.changes.told]
    assert correction_text(made.changes.told, 2) == (
        "Corrected in revision 2",
        "B is 3¾ × ¾ in, not 3¾ × ⅞ in: ⅛ in lower; pieces already cut can be trimmed. On sheet 1, River, cuts 13 to 30 are at ¾ in, not ⅞ in.",
    )
    assert correction_text(made.changes.told * 3, 2).text.endswith(" The kit’s page has 4 other changes.")


def test_errata_show_when_they_are_public(tmp_path, quick):
    kits = started(tmp_path)
    kit = edit(kits, *LOWER)
    publish_erratum(draft(kit, people_in(kits)), at("2030-01-04 18:00"))
    reveal = at("2030-01-05 18:00")
    assert errata(kit, kit.club, {}, reveal - dt.timedelta(seconds=1)) == []
    assert len(errata(kit, kit.club, {}, reveal)) == 1
    assert current(kit, at("2030-01-04 17:59")).kit.spec.pieces["B"].size != current(kit, reveal).kit.spec.pieces["B"].size


def test_a_fault_of_several_revisions_says_so(tmp_path, quick):
    kits = started(tmp_path)
    kit = edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    publish_erratum(draft(kit, {}), SECOND)
    kit = edit(kits, *LOWER)
    made = draft(kit, {})
    assert since(made) == 1 and made.number == 3
    publish_erratum(made, THIRD)
    newest, older = errata(kit, kit.club, {}, LATER)
    assert affected(newest).startswith("Your copy is affected if it says revision 1 or 2 or PREVIEW") and newest.first == 1
    assert older.grade == "cosmetic" and to_do(older) == "Nothing need be done."
    assert to_do(newest).startswith("Print the new one, and cut")
    # Whatever revision 1 had, it is not what the newest has: its copies are affected too.
    kit = edit(kits, ("3-3/4 x 3/4", "3-3/4 x 13/16"), ("6 strips of 3/4", "6 strips of 13/16"))
    assert since(draft(kit, {})) == 1
    # A fault that came in with revision 3 is nothing to revisions 1 and 2, which had it right.
    kit = edit(kits, ("3-3/4 x 13/16", "3-3/4 x 7/8"), ("6 strips of 13/16", "6 strips of 7/8"))
    assert since(draft(kit, {})) == 3


def test_ids_stay_and_the_newest_leads(tmp_path, quick):
    kits = started(tmp_path)
    kit = edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    publish_erratum(draft(kit, {}), SECOND)
    first = errata(kit, kit.club, {}, LATER)[0].id
    kit = edit(kits, *LOWER)
    publish_erratum(draft(kit, {}), THIRD)
    listed = errata(kit, kit.club, {}, LATER)
    assert [e.revision.number for e in listed] == [3, 2] and listed[1].id == first and listed[0].id != first


@pytest.mark.parametrize("pairs, told", [((), "nothing to correct"), ((("    per card: 2", "    per card: 3"),), "error")])
def test_nothing_or_errors_are_refused(tmp_path, quick, pairs, told):
    kits = started(tmp_path)
    kit = edit(kits, *pairs)
    with pytest.raises((UserError, NotReady), match=told):
        draft(kit, {})
    assert len(released(kit)) == 1


def test_never_released(tmp_path, quick):
    with pytest.raises(UserError, match="never released"):
        draft(kit_in(archive(tmp_path)), {})


def test_a_correction_comes_after_what_it_corrects(tmp_path, quick):
    kits = started(tmp_path)
    made = draft(edit(kits, *LOWER), {})
    for when in (FIRST, FIRST - dt.timedelta(days=1)):
        with pytest.raises(UserError, match="comes after"):
            publish_erratum(made, when)


def test_new_terms_alone_can_be_published(tmp_path, quick):
    kits = started(tmp_path)
    (kits / "club.yaml").write_text(CLUB.replace("For the tests alone.", "For everybody."), encoding="utf-8")
    made = draft(kit_in(kits), {})
    assert made.grade == "cosmetic" and draft_lines(made) == [
        "The terms of use are new: read them before you share the printable. (nothing to do)"
    ]
    publish_erratum(made, SECOND)
    assert current(kit_in(kits), SECOND).kit.club.terms == "For everybody."


def test_thanks_only_with_consent(tmp_path, quick):
    kits = started(tmp_path)
    before = everything(kits / "people")
    publish_erratum(draft(edit(kits, *LOWER), {}), SECOND, "", "Wanda Fennimore", False, kits, people_in(kits))
    assert everything(kits / "people") == before
    assert not any(b"Fennimore" in data for data in everything(kits).values())
    kit = edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    publish_erratum(draft(kit, people_in(kits)), THIRD, "", "Wanda Fennimore", True, kits, people_in(kits))
    people = people_in(kits)
    assert people["wanda-fennimore"].spec.consent.on == dt.date(2030, 1, 19) and set(people["wanda-fennimore"].spec.consent.to) == {
        "name",
        "thanks",
    }
    newest, older = errata(kit, kit.club, people, LATER)
    assert newest.spotted_by.name == "Wanda Fennimore" and older.spotted_by is None
    # Named by whom she is thanked, but never in the revision.
    assert not any(b"Fennimore" in data for data in everything(kits / ID).values())


@pytest.mark.parametrize("name, thank", [("Wanda Fennimore", False), ("Una Reedham", True)])
def test_thanks_of_a_try_cut_short_do_not_come_back(tmp_path, quick, name, thank):
    """As an earlier kitwright could leave them: thanked for a revision that was never published."""
    kits = started(tmp_path)
    kit = edit(kits, *LOWER)
    for file, data in thanks_noted(kits, {}, "Wanda Fennimore", Thanks(kit=ID, revision=2), dt.date(2030, 1, 9)).items():
        file.parent.mkdir()
        file.write_bytes(data)
    assert people_in(kits)["wanda-fennimore"].thanked(ID, 2)
    publish_erratum(draft(kit, people_in(kits)), SECOND, "", name, thank, kits, people_in(kits))
    people = people_in(kits)
    assert not people["wanda-fennimore"].thanked(ID, 2)
    assert [e.spotted_by and e.spotted_by.name for e in errata(kit, kit.club, people, LATER)] == [name if thank else None]


def test_a_try_that_fails_thanks_nobody(tmp_path, quick, monkeypatch):
    kits = started(tmp_path)
    made = draft(edit(kits, *LOWER), people_in(kits))
    before = everything(kits)
    with monkeypatch.context() as patch:
        patch.setattr("kitwright.archive.offered.printables", lambda *_, **__: (_ for _ in ()).throw(OSError("full")))
        with pytest.raises(UserError, match="full"):
            publish_erratum(made, SECOND, "", "Wanda Fennimore", True, kits, people_in(kits))
    assert everything(kits) == before


def test_a_name_in_the_advice_is_refused(tmp_path, quick):
    kits = started(tmp_path)
    with pytest.raises(UserError, match="names who spotted"):
        publish_erratum(draft(edit(kits, *LOWER), {}), SECOND, "As Wanda  Fennimore says, trim.", "Wanda Fennimore", True, kits, {})
    assert len(released(kit_in(kits))) == 1


def test_an_interrupted_erratum_leaves_the_kit_as_it_was(tmp_path, quick, monkeypatch):
    """Revision, ledger and thanks: all of it or nothing."""
    start = started(tmp_path / "start")
    edit(start, *LOWER)
    kits = shutil.copytree(start, tmp_path / "kits")
    before, people = everything(kits), people_in(kits)

    def act():
        publish_erratum(draft(kit_in(kits), people), SECOND, "Trim.", "Ada Bellwether", True, kits, people)

    change = recorded(act, monkeypatch)
    assert everything(kits) == before
    act()
    kit, after = kit_in(kits), everything(kits)
    assert guard(kit) is None and errata(kit, kit.club, people_in(kits), LATER)[0].spotted_by.key == "ada-bellwether"
    assert {n for n in after if after[n] != before.get(n) and "/published/r2" not in n} == {
        "releases.yaml",
        "people/ada-bellwether/person.yaml",
    } and set(before) < set(after)
    found = list(outcomes(start, kits, change, monkeypatch))
    assert len(found) > 20 and all(each in (before, after) for each in found) and found[0] == before and found[-1] == after


def test_new_words_beside_a_fault_do_not_hide_how_old_it_is(tmp_path, quick):
    """The size was wrong from the first revision on; the title changes each time."""
    kits = started(tmp_path)
    publish_erratum(draft(edit(kits, ("title: Nine strips", "title: Nine fine strips")), {}), SECOND)
    assert since(draft(edit(kits, ("title: Nine fine strips", "title: Nine finer strips"), *LOWER), {})) == 1
