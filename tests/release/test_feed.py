"""Feed entries and kits.json: what is public and when, ids that stay, times that are true."""

import datetime as dt
import json
import re
import uuid

import pytest
from kitwright.archive.atom import entries, feed_id, stamp_text
from kitwright.archive.data import kits_data, kits_text
from kitwright.kit.project import page_of
from kitwright.release.errata import draft
from kitwright.release.public import is_public, shown_samples
from making import BATCH, ID
from release.bench import LIVING, archive, at, edit, kit_in, people_in, publish_erratum, release

SECOND = dt.timedelta(seconds=1)
REVEAL, SAMPLES, LATE = at("2030-01-05 18:00"), at("2030-01-10 18:00"), at("2030-01-20 18:00")


@pytest.fixture
def kits(tmp_path, quick):
    kits = archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\n" + LIVING)
    person = kits / "people" / "quill-nobody" / "person.yaml"
    person.write_text(person.read_text(encoding="utf-8").replace("to: []", "to: [samples]"), encoding="utf-8")
    release(kit_in(kits), people_in(kits), at("2030-01-04 12:00"))
    return kits


def told(kits, when):
    kit = kit_in(kits)
    return entries([kit], kit.club, people_in(kits), when)


def test_entries_come_to_the_second(kits):
    assert told(kits, REVEAL - SECOND) == []
    assert [e.kind for e in told(kits, REVEAL)] == ["reveal"] == [e.kind for e in told(kits, SAMPLES - SECOND)]
    assert [e.kind for e in told(kits, SAMPLES)] == ["samples", "reveal"]
    assert [(e.kind, e.words) for e in told(kits, LATE)][:2] == [
        ("samples", "1 card to look at, by a maker."),
        ("samples", "1 card to look at, by Ada Bellwether."),
    ]
    assert [e.published for e in told(kits, LATE)] == [LATE, SAMPLES, REVEAL]


def test_a_correction_is_an_entry(kits):
    kit = edit(kits, ("3-3/4 x 7/8", "3-3/4 x 3/4"), ("6 strips of 7/8", "6 strips of 3/4"))
    publish_erratum(draft(kit, people_in(kits)), at("2030-01-12 12:00"), "Trim them.")
    newest = told(kits, at("2030-01-12 12:00"))[0]
    assert newest.kind == "erratum" and newest.title == "Nine strips: a correction, revision 2" and newest.path == f"errata.html#{ID}-r2"
    assert (
        newest.words.startswith("B is 3¾ × ¾ in, not")
        and "Your copy is affected if" in newest.words
        and newest.words.endswith("Trim them.")
    )
    assert [e.kind for e in told(kits, at("2030-01-12 11:59"))] == ["samples", "reveal"]


def test_ids_are_iris_that_stay(kits):
    """RFC 4287, 4.2.6; URNs of UUIDs by RFC 4122."""
    before = {e.path + e.kind + e.title.split(":")[0]: e.id for e in told(kits, LATE)}
    kit = edit(kits, ("title: Nine strips", "title: Nine fine strips"))
    publish_erratum(draft(kit, people_in(kits)), at("2030-01-25 12:00"))
    ids = [e.id for e in told(kits, at("2031-01-01"))]
    assert set(before.values()) < set(ids) and len(set(ids)) == len(ids) == 4
    assert all(uuid.UUID(i.removeprefix("urn:uuid:")) for i in [*ids, feed_id(kit.club)])


def test_a_late_release_counts_from_its_release(tmp_path, quick):
    kits = archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\n" + LIVING)
    kit, people = kit_in(kits), people_in(kits)
    assert not is_public(kit, kit.club, at("2030-06-01")) and entries([kit], kit.club, people, at("2030-06-01")) == []
    release(kit, people, at("2030-01-15 12:00"))
    assert not is_public(kit, kit.club, at("2030-01-15 11:59")) and is_public(kit, kit.club, at("2030-01-15 12:00"))
    assert {since for _, since in shown_samples(kit, kit.club, people, at("2030-01-16"))} == {at("2030-01-15 12:00")}


def test_samples_need_consent(tmp_path, quick):
    kits = archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\n" + LIVING)
    kit, people = kit_in(kits), people_in(kits)
    release(kit, people, at("2030-01-04 12:00"))
    assert [s.person.key for s, _ in shown_samples(kit, kit.club, people, at("2031-01-01"))] == ["ada-bellwether"]


def test_kits_json(kits):
    kit, people = kit_in(kits), people_in(kits)
    assert kits_data([kit], kit.club, people, REVEAL - SECOND)["kits"] == []
    text = kits_text(kits_data([kit], kit.club, people, LATE))
    assert text == kits_text(kits_data([kit], kit.club, people, LATE))
    one = json.loads(text)["kits"][0]
    assert one["id"] == ID and one["page"] == page_of(ID) and one["revision"] == 1 and one["cards"] == 9
    assert one["pieces"]["A"] == {"size": ["15/4", "5/4"], "count": 9} and one["pieces"]["B"]["count"] == 18
    assert [p["sheets"] for p in one["papers"]] == ["1", "5/2", "9/2"]
    assert one["card"] == ["17/4", "11/2"] and one["envelope"] == "US A2 envelope" and one["published"] == "2030-01-05T18:00:00Z"
    assert all(re.fullmatch(r"[0-9a-f]{64}", p["sha256"]) for p in one["printables"])
    assert "bellwether" not in text.lower()


def test_stamps_are_rfc_3339():
    assert stamp_text(dt.datetime(2030, 7, 6, 10, tzinfo=dt.timezone(dt.timedelta(hours=1)))) == "2030-07-06T09:00:00Z"
