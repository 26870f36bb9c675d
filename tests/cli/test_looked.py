"""`kitwright check` looks anew at what changed, and remembers of the rest what was found."""

import shutil
from pathlib import Path

import kitwright.api
import pytest
from click.testing import CliRunner
from kitwright.cli import cli
from making import BATCH, ID, make_archive

OTHER = "2031-05-other-strips"
PERSON = "name: Ada Bell\nconsent:\n  on: 2027-01-02\n  to: [name]\n"


@pytest.fixture
def root(tmp_path):
    make_archive(tmp_path, BATCH, "Cut [[count of A]].\n")
    shutil.copytree(tmp_path / "kits" / ID, tmp_path / "kits" / OTHER)
    (tmp_path / "kits" / "people" / "ada-bell").mkdir(parents=True)
    (tmp_path / "kits" / "people" / "ada-bell" / "person.yaml").write_text(PERSON)
    return tmp_path


@pytest.fixture
def looked(monkeypatch):
    """The kits that were looked at anew."""
    seen: list[str] = []
    own = kitwright.api.check
    monkeypatch.setattr(kitwright.api, "check", lambda kit, people: (seen.append(kit.id), own(kit, people))[1])
    return seen


def check(root: Path, *words: str) -> tuple[str, int]:
    result = CliRunner().invoke(cli, ["--root", str(root), "check", *words])
    return result.output, result.exit_code


def put(file: Path, old: str, new: str) -> None:
    text = file.read_text()
    assert old in text
    file.write_text(text.replace(old, new))


def test_what_has_not_changed_is_not_looked_at_again_and_is_told_alike(root, looked):
    put(root / "kits" / ID / "kit.yaml", "summary: Nine cards", "summary: Ten cards")
    first = check(root)
    assert looked == [ID, OTHER] and first[1] == 1
    assert check(root) == first and check(root, ID)[0] in first[0]
    assert looked == [ID, OTHER]


BOTH = [ID, OTHER]
CHANGES = {
    "the spec": (lambda root: put(root / "kits" / ID / "kit.yaml", "Nine strips", "Nine more strips"), [ID]),
    "the notes": (lambda root: put(root / "kits" / ID / "notes.md", "Cut", "Do cut"), [ID]),
    "a picture": (
        lambda root: (root / "kits" / OTHER / "photos").mkdir() or (root / "kits" / OTHER / "photos" / "a.jpg").write_bytes(b"?"),
        [OTHER],
    ),
    "the club": (lambda root: put(root / "kits" / "club.yaml", "Test bench", "Best bench"), BOTH),
    "a consent": (lambda root: put(root / "kits" / "people" / "ada-bell" / "person.yaml", "[name]", "[name, photo]"), BOTH),
    "the program": (lambda root: None, BOTH),
    "nothing but a time of a file": (lambda root: (root / "kits" / ID / "kit.yaml").touch(), []),
    "what is kept": (lambda root: shutil.rmtree(root / ".made"), BOTH),
}


@pytest.mark.parametrize("what", CHANGES)
def test_what_depends_on_a_change_is_looked_at_again_and_nothing_else(root, looked, monkeypatch, what):
    change, again = CHANGES[what]
    check(root)
    looked.clear()
    change(root)
    if what == "the program":
        monkeypatch.setattr("kitwright.cache.digests.code", lambda: "another program")
    warm = check(root)
    assert looked == again
    shutil.rmtree(root / ".made")
    assert check(root) == warm, "as without anything that was kept"


def test_a_kit_with_errors_is_looked_at_each_time(root, looked):
    put(root / "kits" / ID / "kit.yaml", "size: 3-3/4 x 1-1/4", "size: 3-3/4 x 9")
    first = check(root)
    assert check(root) == first and "error" in first[0] and looked == [ID, OTHER, ID]


def test_from_another_folder_the_files_are_told_as_they_are_typed_there(root, looked, monkeypatch):
    put(root / "kits" / ID / "kit.yaml", "summary: Nine cards", "summary: Ten cards")
    told = check(root)[0]
    monkeypatch.chdir(root / "kits")
    assert f"{ID}/kit.yaml" in check(root)[0] and f"kits/{ID}/kit.yaml" not in check(root)[0] and told != check(root)[0]


def test_a_refusal_leaves_nothing_behind(root):
    put(root / "kits" / ID / "kit.yaml", "cards: 9", "cards: nine")
    assert check(root)[1] == 2 and not (root / ".made").exists()
