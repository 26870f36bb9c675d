"""Whatever lies below the folder of kits counts by its bytes, and each folder for itself."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from kitwright.archive.inputs import folder_digest, inputs

ONE, OTHER = "2031-04-zinnia", "2031-04-aster"


@pytest.fixture
def kits(tmp_path: Path) -> Path:
    for name in (
        f"{ONE}/kit.yaml",
        f"{ONE}/photos/a.png",
        f"{ONE}/published/r1/release.yaml",
        f"{OTHER}/kit.yaml",
        "people/ada/person.yaml",
    ):
        file = tmp_path / "kits" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(name.encode())
    (tmp_path / "kits" / "club.yaml").write_bytes(b"name: Bench")
    return tmp_path / "kits"


def renamed(kits: Path) -> None:
    (kits / ONE / "photos" / "a.png").rename(kits / ONE / "photos" / "b.png")


def same_size_and_time(kits: Path) -> None:
    file = kits / ONE / "kit.yaml"
    state = file.stat()
    file.write_bytes(file.read_bytes().swapcase())
    os.utime(file, ns=(state.st_atime_ns, state.st_mtime_ns))


def linked(kits: Path) -> None:
    (kits / ONE / "notes.md").symlink_to("kit.yaml")


def linked_out(kits: Path) -> None:
    (kits / ONE / "notes.md").symlink_to(kits / "club.yaml")


CHANGES = {
    "bytes alone, at the same size and time": same_size_and_time,
    "a name": renamed,
    "an empty folder": lambda kits: (kits / ONE / "published" / "r2").mkdir(),
    "a link": linked,
    "a link out": linked_out,
    "an empty file": lambda kits: (kits / ONE / "notes.md").touch(),
    "a hidden file in what was published": lambda kits: (kits / ONE / "published" / ".x").touch(),
    "an umlaut": lambda kits: (kits / ONE / "Grüße.txt").touch(),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_a_change_of_one_kit_counts_for_that_kit_alone(kits: Path, change):
    before = inputs(kits)
    change(kits)
    after = inputs(kits)
    assert folder_digest(kits / ONE) == after.kits[ONE] != before.kits[ONE] and after.whole != before.whole
    assert (after.kits[OTHER], after.people, after.files) == (before.kits[OTHER], before.people, before.files)


def test_people_club_and_new_kits_count_each_for_themselves(kits: Path):
    before = inputs(kits)
    (kits / "people" / "ada" / "person.yaml").write_bytes(b"other")
    (kits / "club.yaml").write_bytes(b"name: Desk")
    (kits / "people" / "private.yaml").write_bytes(b"members: []")
    (kits / "2031-05-new").mkdir()
    after = inputs(kits)
    assert after.people["ada"] != before.people["ada"] and after.files != before.files and after.private != before.private
    assert after.everybody != before.everybody
    assert {name: after.kits[name] for name in (ONE, OTHER)} == before.kits and "2031-05-new" in after.kits


def test_what_no_build_reads_counts_for_nothing(kits: Path):
    before = inputs(kits).whole
    (kits / "kit.schema.json").write_bytes(b"{}")
    (kits / ONE / ".kit.yaml.swp").write_bytes(b"an editor's own")
    (kits / ".git").mkdir()
    assert inputs(kits).whole == before


def test_what_is_seen_through_a_link_counts_though_it_is_hidden(kits: Path):
    (kits / ONE / ".drawer").mkdir()
    (kits / ONE / ".drawer" / "b.png").write_bytes(b"1")
    (kits / ONE / "more").symlink_to(".drawer", target_is_directory=True)
    before = inputs(kits).kits[ONE]
    (kits / ONE / ".drawer" / "b.png").write_bytes(b"2")
    assert inputs(kits).kits[ONE] != before


def test_a_link_to_itself_and_a_folder_that_is_not_there_are_digested_too(kits: Path, tmp_path: Path):
    before = inputs(kits).kits[ONE]
    (kits / ONE / "round").symlink_to("round")
    (kits / ONE / "up").symlink_to("..", target_is_directory=True)
    assert inputs(kits).kits[ONE] != before
    assert inputs(tmp_path / "nowhere").kits == {}
