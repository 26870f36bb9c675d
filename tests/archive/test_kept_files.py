"""What readers download of a published kit is copied, and nothing of it drawn or planned; of what is not published it is drawn."""

import pytest
from kitwright.archive import offered
from kitwright.archive.gather import gather
from kitwright.archive.kinds.members import files_for_members
from kitwright.release.errata import draft
from kitwright.release.record import released
from kitwright.release.revisions import as_published, files_of
from kitwright.work import working
from making import BATCH, ID
from release.bench import archive, at, edit, kit_in, people_in, publish_erratum, quick, release  # noqa: F401

FIRST, SECOND, LATER = at("2030-01-04 12:00"), at("2030-01-09 12:00"), at("2030-02-01 12:00")


def never(*_, **__):
    raise AssertionError("drawn or planned again")


@pytest.fixture
def kits(tmp_path, quick, monkeypatch):  # noqa: F811
    """Two revisions, and from then on nothing can be drawn for download, nor this kit planned."""
    kits = archive(tmp_path, BATCH + "reveal: 2030-01-05 18:00\n")
    for person in (kits / "people").rglob("*.jpg"):
        person.unlink()
    for person in (kits / "people").glob("*/person.yaml"):
        person.write_text(person.read_text("utf-8").replace("photo: ada.jpg\n", ""), encoding="utf-8")
    release(kit_in(kits), people_in(kits), FIRST)
    publish_erratum(draft(edit(kits, ("title: Nine strips", "title: Nine fine strips")), {}), SECOND)
    for module, name in (
        (offered, "printables"),
        (offered, "workbook_pdf"),
        (offered, "contact_sheet_pdf"),
        (offered, "cut_files_of"),
        (working, "_work_out"),
    ):
        monkeypatch.setattr(module, name, never)
    return kits


def test_a_build_copies_what_each_revision_kept(kits):
    (entry,) = gather(kits.parent, LATER).entries
    kit = kit_in(kits)
    one, two = released(kit)
    assert entry == as_published(kit, two)
    kept = files_of(two)
    drawn = offered.kept_or_drawn(entry, two.stamp("UTC"), two)
    assert drawn == kept and offered.for_everybody(entry, drawn) == kept
    printables = [name for name in kept if "arrangements" not in name and name.endswith(".pdf")]
    assert len(printables) == 8 and files_of(one).keys() == kept.keys() and all(files_of(one)[n] != kept[n] for n in printables)


def test_members_get_the_cut_files_that_were_kept_and_everybody_else_does_not(kits):
    kit = edit(kits, ("title: Nine fine strips", "cut files: members\ntitle: Nine fine strips"))
    worked, revision = as_published(kit, released(kit)[-1]), released(kit)[-1]
    ((_, path, data),) = files_for_members(worked, revision)
    assert path == f"files/{ID}-cut-files.zip" and data == files_of(revision)[f"{ID}-cut-files.zip"]
    assert f"{ID}-cut-files.zip" not in offered.for_everybody(worked, files_of(revision))


def test_nothing_by_another_name_reaches_the_site(kits):
    kit = kit_in(kits)
    worked = as_published(kit, released(kit)[-1])
    strange = {"index.html": b"<script>", "sketch.svg": b"<svg/>", f"{ID}-letter.pdf": b"%PDF"}
    assert offered.for_everybody(worked, strange) == {f"{ID}-letter.pdf": b"%PDF"}
