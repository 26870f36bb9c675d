"""`kitwright draw`: one kit's printables and pictures in a folder of their own."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from archive.small import left_in, tree_of
from click.testing import CliRunner
from kitwright import files
from kitwright.archive import apart, offered
from kitwright.archive.apart import OURS, write
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.kit.read import read_club, read_kit
from kitwright.release.stamp import PreviewStamp
from kitwright.release.state import preview_code
from kitwright.work.working import work
from making import BATCH, CLUB
from release.bench import quick_printables

ID = "2030-01-nine-strips"


@pytest.fixture
def root(tmp_path) -> Path:
    kit = tmp_path / "club" / "kits" / ID
    kit.mkdir(parents=True)
    (kit.parent / "club.yaml").write_text(CLUB, encoding="utf-8")
    (kit / "kit.yaml").write_text(BATCH, encoding="utf-8")
    return tmp_path / "club"


def run(root: Path, *words: str, status: int = 0) -> str:
    result = CliRunner().invoke(cli, ["--root", str(root), "draw", *words])
    assert result.exit_code == status, result.output
    return result.output


def test_a_kit_is_drawn_whole_and_again_only_where_it_differs(root, monkeypatch):
    quick_printables(monkeypatch)
    monkeypatch.chdir(root)
    assert f"to {ID}-drawn" in run(root, "nine-strips")
    home = root / f"{ID}-drawn"
    drawn = tree_of(home)
    worked = work(read_kit(root / "kits" / ID, read_club(root / "kits")))
    printables = offered.printables(worked, "a4", stamp=PreviewStamp(preview_code(worked)))
    assert drawn[f"{ID}-a4-light.pdf"] == printables["light"]
    assert {Path(name).suffix for name in drawn if name != OURS} == {".pdf", ".svg", ".png"}
    assert {"pictures/card.svg", "pictures/card.png", "pictures/guide-1-narrow.svg"} <= drawn.keys() and not any(
        "cut-files" in n for n in drawn
    )
    # Nothing has changed: nothing is drawn, and nothing is written.
    monkeypatch.setattr(apart, "drawn", lambda worked: pytest.fail("drawn again"))
    seen = seen_in(home)
    assert "Nothing has changed" in run(root, ID) and seen_in(home) == seen
    # What is kept may be damaged: then it is drawn again.
    monkeypatch.undo()
    quick_printables(monkeypatch)
    monkeypatch.chdir(root)
    for file in (root / ".made" / "bytes").rglob("*"):
        if file.is_file():
            file.write_bytes(bytes(file.stat().st_size))
    assert "Nothing has changed" in run(root, ID) and seen_in(home) == seen
    # What is kept may vanish: the folder itself is compared.
    monkeypatch.setattr(apart, "drawn", lambda worked: {n: d for n, d in drawn.items() if n != OURS} | {"pictures/card.svg": b"new"})
    files.clear(root / ".made")
    assert "Wrote 1 of " in run(root, ID)
    assert {name for name, was in seen_in(home).items() if was != seen[name]} == {OURS, "pictures/card.svg"}


def seen_in(folder: Path) -> dict[str, tuple[int, int]]:
    """Which files stand there, and since when."""
    return {name: ((folder / name).stat().st_ino, (folder / name).stat().st_mtime_ns) for name in tree_of(folder)}


def test_only_what_differs_is_a_new_file_and_what_she_put_beside_stays(tmp_path):
    home = tmp_path / "out"
    assert write(home, {"a.pdf": b"a", "b.pdf": b"b", "pictures/c.svg": b"c", "pictures/d.svg": b"d"}) == 4
    (home / "mine.txt").write_text("mine")
    (home / "trials").mkdir()
    (home / "trials" / "a.pdf").write_text("an old one")
    (home / "pictures" / "d.svg").write_text("redrawn by hand")
    before = {path: (home / path).stat().st_ino for path in ("a.pdf", "b.pdf", "mine.txt", "trials/a.pdf", "pictures/d.svg")}
    assert write(home, {"a.pdf": b"a", "b.pdf": b"B"}) == 1
    found = {name: data for name, data in tree_of(home).items() if name != OURS}
    assert found == {
        "a.pdf": b"a",
        "b.pdf": b"B",
        "mine.txt": b"mine",
        "trials/a.pdf": b"an old one",
        "pictures/d.svg": b"redrawn by hand",
    }, "what was drawn before and is not drawn any more is gone, unless somebody changed it"
    after = {path: (home / path).stat().st_ino for path in before}
    assert {path for path in before if before[path] != after[path]} == {"b.pdf"} and left_in(tmp_path) == []


@pytest.mark.parametrize("odd", ["something else", "a file", "a link", "pictures elsewhere", "no list"])
def test_a_folder_of_something_else_is_left_as_it_is(tmp_path, odd):
    home, away = tmp_path / "out", tmp_path / "away"
    away.mkdir()
    (away / "card.svg").write_text("hers")
    if odd == "a file":
        home.write_text("hers")
    elif odd == "a link":
        home.symlink_to(away)
    else:
        write(home, {"a.pdf": b"a"})
        if odd == "something else":
            (home / OURS).unlink()
        elif odd == "no list":
            (home / OURS).write_text("[" * 99)
        else:
            (home / "pictures").symlink_to(away)
    before = tree_of(tmp_path)
    with pytest.raises(UserError):
        write(home, {"a.pdf": b"b", "pictures/card.svg": b"ours"})
    assert tree_of(tmp_path) == before


@pytest.mark.parametrize("path", ["../hers", "/hers", "pictures/../../hers", "trials/hers", "", ".", "pictures//hers"])
def test_a_list_from_elsewhere_takes_nothing_away(tmp_path, path):
    home = tmp_path / "out"
    write(home, {"a.pdf": b"a"})
    for place in (tmp_path / "hers", home / "trials" / "hers"):
        place.parent.mkdir(exist_ok=True)
        place.write_bytes(b"hers")
    (home / OURS).write_text(json.dumps({path: apart._digest(b"hers"), "a.pdf": 3}))
    write(home, {"b.pdf": b"b"})
    assert (tmp_path / "hers").is_file() and (home / "trials" / "hers").is_file()


def test_a_disk_that_says_no_leaves_what_stood_there(tmp_path, monkeypatch):
    home = tmp_path / "out"
    write(home, {"a.pdf": b"a"})
    before = tree_of(tmp_path)
    real = Path.write_bytes

    def full(self, data):
        if self.name == "c.pdf":
            raise OSError(28, "No space left on device", str(self))
        return real(self, data)

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(UserError, match="can't be written") as caught:
        write(home, {"a.pdf": b"b", "c.pdf": b"c"})
    assert caught.value.code == "disk.drawn" and tree_of(tmp_path) == before and left_in(tmp_path) == []


def test_where_files_can_t_have_two_names_they_are_copied(tmp_path, monkeypatch):
    home = tmp_path / "out"
    write(home, {"a.pdf": b"a", "b.pdf": b"b"})
    os.utime(home / "a.pdf", (1, 1))
    monkeypatch.setattr(apart.os, "link", lambda *given, **named: (_ for _ in ()).throw(OSError(95, "not supported")))
    write(home, {"a.pdf": b"a", "b.pdf": b"B"})
    assert (home / "a.pdf").stat().st_mtime == 1 and (home / "b.pdf").read_bytes() == b"B"


def test_a_kit_with_errors_is_not_drawn_and_nothing_is_left(root, monkeypatch):
    monkeypatch.setattr(offered, "printables", lambda *given, **named: pytest.fail("drawn"))
    kit = root / "kits" / ID / "kit.yaml"
    kit.write_text(BATCH.replace("per card: 2", "per card: 7"), encoding="utf-8")
    before = tree_of(root)
    assert "kit.yaml" in run(root, ID, status=1) and tree_of(root) == before
    kit.write_text(BATCH.replace("cards: 9", "cards: many"), encoding="utf-8")
    assert "cards" in run(root, ID, status=2)
    assert "no kit" in run(root, "2030-01-nobody", status=2) and not (root / f"{ID}-drawn").exists()


def test_a_past_kit_is_not_drawn(root):
    past = root / "kits" / "2019-05-gone"
    past.mkdir()
    (past / "kit.yaml").write_text("past: yes\ntitle: Gone\nsummary: From the drawer.\nprintable: gone.pdf\n", encoding="utf-8")
    (past / "gone.pdf").write_bytes(b"%PDF-1.4")
    assert "there is nothing to draw" in run(root, "2019-05-gone", status=2)


def test_it_is_said_before_anything_is_drawn_that_the_folder_holds_something_else(root, monkeypatch, tmp_path):
    monkeypatch.setattr(apart, "drawn", lambda worked: pytest.fail("drawn"))
    (tmp_path / "hers").mkdir()
    (tmp_path / "hers" / "letter.txt").write_text("mine")
    assert "--out" in run(root, ID, "--out", str(tmp_path / "hers"), status=2)
    assert os.listdir(tmp_path / "hers") == ["letter.txt"]
