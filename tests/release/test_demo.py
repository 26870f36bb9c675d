"""The demo archive is released as it should be: what the issue of the release asks for is there and holds.

That its printables come back to the very bytes is looked at where they lie drawn: site/test_release.py.
"""

import datetime as dt
import re

import pytest
from demo import BY_ID, CLUB, KITS, OWN, READ, worked
from kitwright.archive.atom import entries
from kitwright.otherwise.edition import in_edition
from kitwright.release.calendar import findings as moment_findings
from kitwright.release.calendar import reveal_of
from kitwright.release.errata import errata
from kitwright.release.guard import guard
from kitwright.release.lookup import table
from kitwright.release.people import findings, read_people, samples_of
from kitwright.release.publish import named_people
from kitwright.release.record import FORM, released
from kitwright.release.revisions import sha256
from kitwright.release.whole import FILES, published
from kitwright.telling.answers import answers
from kitwright.telling.changes import words
from kitwright.telling.errata import to_do

RELEASED = [kit for kit in OWN if released(kit)]
PEOPLE = read_people(KITS)
LATE = dt.datetime(2026, 12, 1, tzinfo=dt.UTC)


@pytest.mark.parametrize("kit", RELEASED, ids=lambda k: k.id)
def test_every_revision_is_as_it_was_published(kit):
    assert guard(kit) is None
    assert all(r.record.tested and r.record.kitwright for r in released(kit))
    assert released(kit)[0].at < reveal_of(kit, CLUB)


def test_everything_published_is_in_the_ledger_and_whole():
    assert published(KITS) == {} and (KITS / "releases.yaml").is_file()


def test_seven_kits_were_corrected_in_every_way():
    found = sorted((e for kit in OWN for e in errata(kit, CLUB, PEOPLE, LATE)), key=lambda e: (e.public, e.kit), reverse=True)
    assert [(e.kit, e.grade) for e in found] == [
        ("2026-11-weathervane", "cosmetic"),
        ("2026-01-low-tide", "write in"),
        ("2026-09-harbour-lights", "write in"),
        ("2025-12-winter-shutters", "recut"),
        ("2025-10-lantern-walk", "recut"),
        ("2025-09-bud-vases", "recut"),
        ("2025-08-picnic-wicker", "recut"),
    ]
    notes, room, label, band, pane, size, rim = found
    assert words(pane.changes.told[0]).startswith("V is") and words(rim.changes.told[0]).startswith("R is 60")
    assert (
        label.spotted_by is not None
        and rim.spotted_by is not None
        and all("sizes and cuts unchanged" in words(c) for c in label.changes.told)
    )
    assert words(size.changes.told[0]).startswith("I is") and words(band.changes.told[0]).startswith("B is 11¼")
    assert band.spotted_by is not None
    assert [words(c) for c in room.changes.told] == ["the envelope leaves 3 × 14 mm of room, not 9 × 14 mm"]
    assert [words(c) for c in notes.changes.told] == ["the notes were reworded"]
    assert all(e.spotted_by is None for e in (notes, room, pane, size))
    assert all(e.advice and to_do(e) == e.advice for e in found)
    superseded = [a for a in table(OWN, CLUB, LATE).values() if a.kind == "revision" and not a.current and a.mended]
    assert sorted(a.kit for a in superseded) == sorted(e.kit for e in found)


def test_all_kits_have_the_form_of_today_and_one_keeps_what_it_was_before():
    forms = {(r.kit, r.number): r.record.form for kit in OWN for r in released(kit)}
    assert {one for one, form in forms.items() if form != FORM} == {("2026-03-window-boxes", 1)}
    first, second = released(BY_ID["2026-03-window-boxes"])
    # Its very bytes, of printables with many pages and without a workbook.
    assert first.code == "F9H6-76YT" and sha256((first.folder / FILES).read_bytes()) == first.record.frozen[FILES]
    assert not any("workbook" in name for name in first.files) and any("workbook" in name for name in second.files)
    assert second.record.redrawn and not second.record.erratum
    codes = table(OWN, CLUB, LATE)
    old, new = (codes[revision.code.replace("-", "")] for revision in (first, second))
    assert (old.revision, old.newest, old.mended, old.see) == (1, 2, None, "") and new.current
    assert not old.current and old.group is not None


def test_one_kit_in_inches_has_guides_of_its_own_for_a4():
    follows = {kit.id: note.follows for kit in RELEASED if (note := in_edition(worked(kit.id), "A4").note)}
    assert [kit for kit, own in follows.items() if own] == ["2026-11-evening-post"]
    assert sum(not own for own in follows.values()) > 1


def test_three_kits_are_upcoming_and_nothing_of_them_is_public():
    upcoming = [kit for kit in OWN if not released(kit)]
    assert [kit.id for kit in upcoming] == ["2026-12-round-robin", "2027-01-first-thaw", "2027-02-two-of-us"]
    assert all(reveal_of(kit, CLUB) > LATE and kit.spec.moments for kit in upcoming)
    assert len(upcoming[1].spec.moments) >= 3
    public = str(entries(READ, CLUB, PEOPLE, LATE)) + str(table(OWN, CLUB, LATE))
    assert not any(kit.id in public or kit.spec.title in public for kit in upcoming)


def test_a_team_of_four_with_samples_and_a_guest():
    team = {r.who for r in CLUB.team}
    assert len(team) == 4 and team <= set(PEOPLE)
    showing = {s.person.key for kit in RELEASED for s in samples_of(kit, PEOPLE)}
    guests = {t.who for kit in OWN for t in kit.spec.guests}
    assert team <= showing and guests and guests <= showing and not guests & team
    assert {e.kind for e in entries(READ, CLUB, PEOPLE, LATE)} == {"reveal", "samples", "erratum"}


@pytest.mark.parametrize("kit", OWN, ids=lambda k: k.id)
def test_everybody_and_every_question_is_known(kit):
    assert findings(kit, PEOPLE) == [] and moment_findings(kit, CLUB) == [] and named_people(kit, PEOPLE) == []
    assert all(a.answer for a in answers(worked(kit.id)))


def test_codes_are_all_different_and_tests_are_noted_by_code():
    codes = [r.code for kit in OWN for r in released(kit)] + [t.code for kit in OWN for t in kit.spec.tested]
    assert len(set(codes)) == len(codes) - 1 == len(set(codes))  # two people cut one state of window boxes
    assert all(re.fullmatch(r"[2-9A-Z]{4}-[2-9A-Z]{4}", code) for code in codes)


def test_the_private_list_is_never_tracked():
    assert "private.yaml" in (KITS / "people" / ".gitignore").read_text(encoding="utf-8").split()
