"""A scan is living: it may come, change or go at any time, and nothing that was published depends on it."""

import pytest
from kitwright.archive.pictures import pictures_of
from kitwright.drawing.svg import svg
from kitwright.release.guard import guard
from kitwright.release.history import copy_now
from kitwright.release.publish import named_people
from kitwright.release.revisions import as_it_stands, as_published, current
from kitwright.release.state import digest, preview_code
from kitwright.work.working import work
from release.bench import archive, at, edit, everything, kit_in, people_in, release
from scanned import RIVER, saved, sheet, worked_with

WHEN = at("2030-01-05 12:00")
TYPED = "front: {look: stripes, colours: [sky, white], scan: river.png, public: no, source: A mill}"


@pytest.mark.parametrize(
    "more", ["scan: river.png", "scan: river.png, shows: 6 x 6, turned: left, crop: {top: 1}, source: A mill, public: no"]
)
def test_it_is_no_part_of_the_state_and_no_path_differs(tmp_path, more):
    plain = worked_with(tmp_path / "plain", "front: {look: stripes, colours: [sky, white]}")
    other = worked_with(tmp_path / "scan", f"front: {{look: stripes, colours: [sky, white], {more}}}")
    assert digest(plain) == digest(other) and preview_code(plain) == preview_code(other)
    assert copy_now(plain).values == copy_now(other).values
    # Alone, it is as if nothing were said of how that side is drawn.
    bare, alone = worked_with(tmp_path / "bare", "sheets: 9"), worked_with(tmp_path / "alone", f"sheets: 9\n    front: {{{more}}}")
    assert digest(bare) == digest(alone) and copy_now(bare).values == copy_now(alone).values


def test_a_printed_back_counts_though_only_a_scan_shows_it(tmp_path):
    one = worked_with(tmp_path / "one", RIVER)
    two = worked_with(tmp_path / "two", RIVER + "\n    back: {scan: river.png}")
    assert digest(one) != digest(two)


def test_a_released_kit_takes_its_scan_from_the_kit_as_it_is(tmp_path, quick):
    kits = archive(tmp_path)
    folder = kit_in(kits).folder
    (folder / "river.png").write_bytes(saved(sheet()))
    made, _ = release(edit(kits, (RIVER, TYPED)), people_in(kits), WHEN)
    before = everything(made.folder)
    for name, data in before.items():
        assert b"river.png" not in data and b"A mill" not in data, name

    def shown() -> bool:
        worked = current(kit_in(kits), WHEN)
        assert worked is not None and guard(kit_in(kits)) is None
        return "data:image/jpeg" in svg(pictures_of(worked)["card"].wide)

    assert not shown(), "it stays off the public site"
    edit(kits, (", public: no", ""))
    assert shown()
    assert as_it_stands(kit_in(kits)).plans == as_published(kit_in(kits), made).plans
    (folder / "river.png").unlink()
    edit(kits, (TYPED.replace(", public: no", ""), RIVER))
    assert not shown() and everything(made.folder) == before


def test_a_paper_that_the_next_revision_drops_is_drawn_without(tmp_path, quick):
    kits = archive(tmp_path)
    folder = kit_in(kits).folder
    (folder / "river.png").write_bytes(saved(sheet()))
    release(edit(kits, (RIVER, "front: {scan: river.png}")), people_in(kits), WHEN)
    text = (folder / "kit.yaml").read_text(encoding="utf-8")
    (folder / "kit.yaml").write_text(
        text.replace("  river:\n", "  brook:\n").replace("paper: river", "paper: brook").replace("papers: river", "papers: brook")
    )
    worked = current(kit_in(kits), WHEN)
    assert worked.kit.papers["river"].front.picture is None and work(kit_in(kits)).kit.papers["brook"].front.picture
    assert "data:image/jpeg" not in svg(pictures_of(worked)["card"].wide)


def test_a_paper_may_be_from_somebody_on_file(tmp_path, quick):
    """Where it is from is frozen with nothing; on a line with what is frozen, a name stands in the way."""
    kits = archive(tmp_path)
    (kit_in(kits).folder / "river.png").write_bytes(saved(sheet()))
    kit = edit(kits, (RIVER, "front:\n      scan: river.png\n      source: Ada Bellwether\n      look: dots"))
    assert not [f for f in named_people(kit, people_in(kits)) if f.level == "error"]
    kit = edit(
        kits,
        (
            "front:\n      scan: river.png\n      source: Ada Bellwether\n      look: dots",
            "front: {scan: river.png, source: Ada Bellwether}",
        ),
    )
    assert [f.code for f in named_people(kit, people_in(kits)) if f.level == "error"] == ["releases.person-named"]
