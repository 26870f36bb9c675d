"""Every command that writes, killed at a file step or with a disk that gives out there: a sample of the steps.

`buildtools/benchmarks/trouble.py` does all steps with whole builds; here a site is a few
files, so that what is tried is how it is put in place.
"""

from __future__ import annotations

import datetime as dt
import errno
import os
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import file_faults
import pytest
from archive.small import FIRST, KIT, PAST
from kitwright.archive import build, offered, unit
from kitwright.archive.audience import FOLDERS
from kitwright.archive.downloads import Download
from kitwright.archive.make import Made
from kitwright.archive.placing import Placing
from kitwright.cache import FOLDER
from kitwright.cli import build as build_command
from kitwright.files import OURS
from kitwright.release import atomic
from making import CLUB
from release.bench import quick_files

DAY, LATER = "2031-04-03 12:00", "2031-05-03 12:00"
ADA = "name: Ada Bell\nconsent: {on: 2029-12-01, to: [name, thanks]}\n"
RELEASE = ("release", FIRST, "--as-of", "2031-03-20 10:00")


def light() -> None:
    """In the child: printables of a few bytes, and a site of a few files that names its kits; the days of the commands have come."""
    build_command.now = lambda: dt.datetime(2032, 1, 1, tzinfo=dt.UTC)
    for name, stand_in in quick_files().items():
        setattr(offered, name, stand_in)

    unit.make = lambda kit, entry, *more: Made(entry, {}, {}, {"full": (Download("A4", "x.pdf", 1),)})

    def site(shop, archive, made, address, root, theme, out):
        site = Placing(shop / "site")
        site.folder.mkdir()
        for page in ("index.html", "a/page.html", "b/page.html"):
            site.put(page, f"{archive.audience} {archive.as_of} {[one.id for one in made]}\n".encode())
        site.put(build.MARKER, build.MARKS[archive.audience].encode())
        return site, len(made)

    build._write_site = site


def mend_kit(root: Path) -> None:
    file = root / "kits" / FIRST / "kit.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("for: panel", "for: front panel"), encoding="utf-8")


COMMANDS: dict[str, tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]] = {
    "build": (("build", "--as-of", DAY), (("build", "--as-of", "2031-01-01 12:00"),)),
    "first build elsewhere": (("build", "--as-of", DAY, "--out", "ROOT/new/tomorrow"), ()),
    "release": (RELEASE, ()),
    "erratum": (("erratum", FIRST, "--spotted-by", "Ada Bell", "--thank", "--yes", "--as-of", LATER), (RELEASE, ())),
    "forget": (("forget", "Ada Bell", "--yes"), ()),
    "new": (("new", "2031-07-fresh"), ()),
    "calendar": (("calendar", "--ics", "ROOT/team.ics", "--as-of", DAY), ()),
    "cutfiles": (("cutfiles", FIRST, "--out", "ROOT/cut", "--mat", "12x12"), (("cutfiles", FIRST, "--out", "ROOT/cut", "--mat", "A4"),)),
}
"""What is tried, and the commands before it; the empty one is a change by hand."""


@dataclass
class Scene:
    root: Path
    sound: Path
    command: list[str]
    before: dict[str, bytes]
    after: dict[str, bytes]
    steps: list[file_faults.Step]

    def reset(self) -> None:
        shutil.rmtree(self.root)
        shutil.copytree(self.sound, self.root)

    def sample(self, count: int) -> list[int]:
        """Steps all along the way, and those around each that decides."""
        n = len(self.steps)
        deciding = [i for i, s in enumerate(self.steps) if s.kind == "rename"][:3]
        return sorted({*(i + 1 for i in deciding), *deciding, *(round(j * (n - 1) / count) for j in range(count + 1))})


def state(root: Path) -> dict[str, bytes]:
    return {
        f.relative_to(root).as_posix(): f.read_bytes()
        for f in sorted(root.rglob("*"))
        if f.is_file() and not f.name.endswith(".schema.json") and f.relative_to(root).parts[0] != FOLDER
    }


def part(files: dict[str, bytes], top: str) -> dict[str, bytes]:
    return {name: data for name, data in files.items() if name.split("/")[0] == top}


@pytest.fixture(scope="module", params=COMMANDS)
def scene(request, tmp_path_factory) -> Iterator[Scene]:
    home = tmp_path_factory.mktemp("hard")
    root, sound = home / "archive", home / "sound"
    kits = root / "kits"
    (kits / FIRST).mkdir(parents=True)
    text = KIT.format(title="Zinnia", reveal="2031-04-02 10:00", tags="quick")
    (kits / FIRST / "kit.yaml").write_text(text[: text.index("photos:")] + "by: ada-bell\n", encoding="utf-8")
    (kits / "2030-05-old-boats").mkdir()
    (kits / "2030-05-old-boats" / "kit.yaml").write_text(PAST, encoding="utf-8")
    (kits / "2030-05-old-boats" / "old boats.pdf").write_bytes(b"%PDF-1.4\n%%EOF\n")
    (kits / "people" / "ada-bell").mkdir(parents=True)
    (kits / "people" / "ada-bell" / "person.yaml").write_text(ADA)
    (kits / "club.yaml").write_text(CLUB, encoding="utf-8")
    (kits / "notes by ada.txt").write_text("Ada Bell was here\n")
    words, first = COMMANDS[request.param]

    def typed(words: tuple[str, ...]) -> list[str]:
        return ["--root", str(root), *(w.replace("ROOT", str(root)) for w in words)]

    for each in first:
        if each:
            told = file_faults.run(typed(each), before=light)
            assert told[0] == 0, told[1]
        else:
            mend_kit(root)
    shutil.copytree(root, sound)
    made = Scene(root, sound, typed(words), state(root), {}, [])
    made.steps = file_faults.trace(made.command, before=light)
    made.after = state(root)
    assert made.after != made.before and not any(OURS in name for name in made.after)
    with pytest.MonkeyPatch.context() as patch:
        temporary = home / "tmp"
        temporary.mkdir()
        patch.setattr(tempfile, "tempdir", str(temporary))
        yield made
        assert list(temporary.iterdir()) == []


def whole(scene: Scene, what: str, settled: bool) -> None:
    """Every folder that is put in place at one stroke is as before or as after; the kits too, once the next command came by."""
    now = state(scene.root)
    for top in {*FOLDERS.values(), "cut", "new", "team.ics", *(["kits"] if settled else [])}:
        assert part(now, top) in (part(scene.before, top), part(scene.after, top)), f"{what}: half a {top}"


def test_killed_at_a_step_the_last_good_state_is_whole_and_the_next_command_recovers(scene: Scene):
    for turn, k in enumerate(scene.sample(2)):
        scene.reset()
        what = f"killed before step {k}, {scene.steps[min(k, len(scene.steps) - 1)]}"
        assert file_faults.run_killed(scene.command, k, before=light) in (-9, 0), what
        whole(scene, what, False)
        # What every command does first.
        atomic.finish(scene.root / "kits")
        whole(scene, what, True)
        if turn in (1, 3):
            status, said = file_faults.run(scene.command, before=light)
            assert status in (0, 1, 2) and "Traceback" not in said, f"{what}: {said}"
            assert state(scene.root) == scene.after, f"{what}: {sorted(state(scene.root).keys() ^ scene.after.keys())}"


@pytest.mark.parametrize(("code", "lasting"), [(errno.ENOSPC, True), (errno.EROFS, True), (errno.EACCES, False), (errno.EIO, False)])
def test_a_disk_that_gives_out_is_one_clear_error_or_none_at_all(scene: Scene, code: int, lasting: bool):
    last = len(scene.steps) - 1
    for k in sorted({last * code % (last // 2 + 1), last - code % (last // 2)}):
        scene.reset()
        what = f"{errno.errorcode[code]} at step {k}, {scene.steps[k]}"
        status, said = file_faults.run_failing(scene.command, k, code, lasting, before=light)
        assert status in (0, 2) and "Traceback" not in said and "Exception ignored" not in said, f"{what}: {said}"
        if status == 2:
            assert os.strerror(code) in said and str(scene.root) in said, f"{what}: {said}"
        whole(scene, what, False)
        atomic.finish(scene.root / "kits")
        whole(scene, what, True)
        if status == 0:
            now = {name: data for name, data in state(scene.root).items() if OURS not in name}
            assert now == scene.after, f"{what}: it said that all was well"


def at_once(*commands: list[str]) -> list[int]:
    """Commands in processes side by side; their exit statuses, 99 for a traceback."""
    children = []
    for command in commands:
        pid = os.fork()
        if pid == 0:
            status, said = file_faults.run(command, before=light)
            os._exit(99 if "Traceback" in said else status)
        children.append(pid)
    return [os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]) for pid in children]


def test_two_at_once_stay_apart(scene: Scene):
    """Two processes with one command: each ends well, or one says plainly why not; the outcome is that of one."""
    scene.reset()
    ended = sorted(at_once(scene.command, scene.command))
    assert ended[0] == 0 and ended[1] in (0, 1, 2)
    assert state(scene.root) == scene.after


def test_builds_stay_apart_from_a_command_that_writes_the_kits(scene: Scene):
    """A build reads the kits as they are before or after it, and waits for its turn."""
    if "kits" not in {name.split("/")[0] for name in scene.after.keys() ^ scene.before.keys()}:
        return  # a command that leaves the kits alone
    scene.reset()
    out = scene.root.parent / "built"
    build_it = [*scene.command[:2], "build", "--as-of", "2031-06-01 12:00", "--out", str(out)]
    ended = at_once(build_it, scene.command, build_it)
    # A kit that differs from its last revision stops a build, and erratum begins with one.
    assert ended[1] == 0 and ended[0] in (0, 1) and ended[2] in (0, 1)
    assert state(scene.root) == scene.after and not list(scene.root.parent.glob(f"{OURS}*"))
    assert not out.exists() or len(list(out.rglob("*.html"))) == 3
    shutil.rmtree(out, ignore_errors=True)
