"""Commands at work on a tiny archive, each with the state before it and the state after it."""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from archive.small import FIRST, SECOND, TITLES, write_small
from click.testing import CliRunner
from file_faults import steps
from ground import SECRET_WORD, digests
from kitwright.cli import cli

NAME, KEY = "Ada Bell", "ada-bell"
PERSON = f"name: {NAME}\nconsent: {{on: 2031-01-10, to: [name, link, thanks]}}\n"
AFTER_ALL = ["build", "--as-of", "2031-04-12 12:00"]


@dataclass(frozen=True)
class Scene:
    """A command, and what must be so before it and after it."""

    name: str
    command: tuple[str, ...]
    """The words after `kitwright --root …`; `ROOT` in one stands for the folder of the archive."""
    first: tuple[tuple[str, ...], ...] = ()
    """Commands that make the state before."""
    change: Callable[[Path], None] | None = None
    """What the author did between those and this one."""


def _reword(root: Path) -> None:
    file = root / "kits" / FIRST / "kit.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("for: panel", "for: front panel"), encoding="utf-8")


_RELEASE = ("release", FIRST, "--as-of", "2031-03-20 10:00")
SCENES = (
    Scene("build", ("build", "--as-of", "2031-04-12 12:00"), (("build", "--as-of", "2031-01-01 12:00"),)),
    Scene("build released", ("build", "--as-of", "2031-04-12 12:00"), (_RELEASE, ("build", "--as-of", "2031-01-01 12:00"))),
    Scene(
        "build team",
        ("build", "--for", "team", "--as-of", "2031-04-12 12:00"),
        (("build", "--for", "team", "--as-of", "2031-01-01 12:00"),),
    ),
    Scene(
        "build members",
        ("build", "--for", "members", "--as-of", "2031-04-12 12:00"),
        (("build", "--for", "members", "--as-of", "2031-04-11 12:00"),),
    ),
    Scene("release", _RELEASE),
    Scene("erratum", ("erratum", FIRST, "--yes", "--as-of", "2031-05-01 10:00"), (_RELEASE,), _reword),
    Scene("forget", ("forget", NAME, "--yes")),
    Scene("forget released", ("forget", NAME, "--yes"), (_RELEASE,)),
    Scene("new", ("new", "2031-07-fresh")),
    Scene(
        "calendar",
        ("calendar", "--ics", "ROOT/team.ics", "--as-of", "2031-01-01 12:00"),
        (("calendar", "--ics", "ROOT/team.ics", "--as-of", "2031-04-05 12:00"),),
    ),
    Scene("cutfiles", ("cutfiles", FIRST, "--out", "ROOT/cut")),
)


def words(scene_words: tuple[str, ...], root: Path) -> list[str]:
    """A command as it is typed for an archive."""
    return ["--root", str(root), *(word.replace("ROOT", str(root)) for word in scene_words)]


@dataclass
class Stage:
    """A scene set: the archive before the command, as a copy that nothing touches, and what each state looks like."""

    scene: Scene
    root: Path
    sound: Path
    before: dict[str, str]
    after: dict[str, str]
    seconds: float
    """How long the command takes, undisturbed, by the clock."""
    steps: int

    @property
    def command(self) -> list[str]:
        return words(self.scene.command, self.root)

    def set(self) -> None:
        """Back to the state before."""
        clear(self.root)
        shutil.copytree(self.sound, self.root, symlinks=True)


def clear(root: Path) -> None:
    """Take an archive away, whatever is left of it and beside it."""
    for each in root.parent.glob("*"):
        if each != root.parent / "tmp":
            shutil.rmtree(each) if each.is_dir() and not each.is_symlink() else each.unlink()


def stage(scene: Scene, folder: Path) -> Stage:
    """Set a scene up below a folder.

    Raises:
        RuntimeError: a command of it does not come through undisturbed.
    """
    root, sound = folder / "stage" / "archive", folder / "sound"
    root.parent.mkdir(parents=True)
    _archive(root)
    for each in scene.first:
        _run(words(each, root))
    if scene.change:
        scene.change(root)
    shutil.copytree(root, sound, symlinks=True)
    made = Stage(scene, root, sound, digests(root), {}, 0.0, 0)
    started = time.monotonic()
    _run(made.command)
    made.seconds = time.monotonic() - started
    made.after = digests(root)
    made.set()
    made.steps = steps(made.command)
    return made


def _run(command: list[str]) -> None:
    # In this process, so that what is drawn here is remembered for every child.
    done = CliRunner().invoke(cli, command)
    if done.exit_code != 0:
        raise RuntimeError(f"{command[2:]} ended with {done.exit_code}: {done.output} {done.exception!r}")


def _archive(root: Path) -> None:
    write_small(root)
    kits = root / "kits"
    for kit in (FIRST, SECOND):
        file = kits / kit / "kit.yaml"
        text = file.read_text(encoding="utf-8").replace("cards: 3\n", f"cards: 3\nby: {KEY}\n")
        file.write_text(text.replace(TITLES[SECOND], SECRET_WORD) if kit == SECOND else text, encoding="utf-8")
    person = kits / "people" / KEY
    person.mkdir(parents=True)
    (person / "person.yaml").write_text(PERSON, encoding="utf-8")
    (kits / FIRST / "notes.md").write_text("Cut with care.\n", encoding="utf-8")
