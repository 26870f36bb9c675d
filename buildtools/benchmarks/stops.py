"""Commands killed, and commands whose disk gives out: what must hold afterwards."""

from __future__ import annotations

import errno
import os
import random
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator

from file_faults import run, run_failing, run_killed, run_killed_after
from ground import Ground, Result, digests
from kitwright.files import OURS
from scenes import SCENES, stage, words
from trying import watch

ERRORS = (errno.ENOSPC, errno.ENOSPC, errno.EROFS, errno.EACCES, errno.EIO, errno.EDQUOT)
PLACES = ("kits", "site", "site-team", "site-members", "cut")
"""What is whole or not as one: each is as before the command, or as after it."""


class Stopping:
    """One scene, set up once, and what is asked of each try."""

    def __init__(self, ground: Ground, number: int) -> None:
        self.stage = stage(SCENES[number], ground.home / f"scene-{number}")
        self.temporary = self.stage.root.parent / "tmp"
        self.outside: list[str] = []

    def prepare(self) -> None:
        """Back to the state before."""
        self.stage.set()
        shutil.rmtree(self.temporary, ignore_errors=True)
        self.temporary.mkdir()

    def before(self) -> Callable[[], None]:
        """What a child does first: its temporary files go where they are looked for, and it is watched."""
        told, home, temporary = self.stage.root.parent / "tmp" / ".told", self.stage.root.parent, str(self.temporary)

        def act() -> None:
            tempfile.tempdir = temporary
            out = os.open(told, os.O_CREAT | os.O_WRONLY | os.O_APPEND)
            watch(home, (), lambda said: os.pwrite(out, f"{said}\n".encode(), os.fstat(out).st_size))

        return act

    def told(self) -> list[str]:
        """What children did outside."""
        file = self.temporary / ".told"
        said = file.read_text(encoding="utf-8").splitlines() if file.is_file() else []
        file.unlink(missing_ok=True)
        return list(dict.fromkeys(said))

    # --- what must hold ---------------------------------------------------------------------------

    def torn(self) -> list[str]:
        """Places that are neither as before nor as after; one that is away for the moment comes back with the next command."""
        now, made = digests(self.stage.root), self.stage
        found = []
        for place in PLACES:
            if place == "kits":
                continue  # a change of several files may be half done until the next command
            states = [_part(state, place) for state in (now, made.before, made.after)]
            if states[0] and states[0] not in states[1:]:
                found.append(f"half a {place}/")
        return found

    def settled(self, swept: bool = True) -> list[str]:
        """After any next command: the kits are as before or as after, and nothing lies about in them.

        Args:
            swept: whether leftovers under names of ours could be removed; where nothing can be
                removed any more, the next command does it.
        """
        now = {path: there for path, there in _part(digests(self.stage.root), "kits").items() if swept or f"/{OURS}" not in path}
        if now in (_part(self.stage.before, "kits"), _part(self.stage.after, "kits")):
            return []
        odd = [
            path
            for path in now.keys() | self.stage.after.keys()
            if now.get(path) != self.stage.after.get(path) and path.startswith("kits/")
        ]
        return [f"half a state: {sorted(odd)[:3]}"]

    def done(self) -> list[str]:
        """After the command was given again: all is as after an undisturbed one, and nothing is left over."""
        now, after = digests(self.stage.root), self.stage.after
        odd = sorted(path for path in now.keys() | after.keys() if now.get(path) != after.get(path))
        found = [f"not as it should be in the end: {odd[:3]}"] if odd else []
        found += [f"left behind: {f.name}" for f in self.stage.root.parent.iterdir() if f not in (self.stage.root, self.temporary)]
        if self.stage.scene.name.startswith("build"):
            found += [f"left behind in the folder for temporary files: {f.name}" for f in self.temporary.iterdir() if f.name != ".told"]
        return found

    def again(self, chance: random.Random) -> list[str]:
        """The next commands, and what must hold after each."""
        found = []
        if chance.random() < 0.5:
            status, output = run(words(("check",), self.stage.root), before=self.before())
            found += _faults("check afterwards", status, output) + self.settled()
        status, output = run(self.stage.command, before=self.before())
        found += _faults("again", status, output)
        return found + self.done() + self.told()


def _part(state: dict[str, str], place: str) -> dict[str, str]:
    return {path: digest for path, digest in state.items() if path.startswith(f"{place}/")}


def _faults(what: str, status: int, output: str) -> list[str]:
    if "Traceback (most recent call last)" in output:
        return [f"{what}: traceback: {output.strip().splitlines()[-1]}"]
    if status not in (0, 1, 2):
        return [f"{what}: exit status {status}"]
    return [f"{what}: it failed without a word"] if status and not output.strip() else []


def _stopping(ground: Ground, chance: random.Random) -> Stopping:
    # A build has a thousand steps, most of them alike, and costs the most.
    number = chance.choices(range(len(SCENES)), [1 if scene.command[0] == "build" else 2 for scene in SCENES])[0]
    kept = ground.kept
    if number not in kept:
        kept[number] = Stopping(ground, number)
    return kept[number]


def kills(ground: Ground, seed: str) -> Iterator[Result]:
    """One command killed at a step on files, or at any moment."""
    chance = random.Random(seed)
    one = _stopping(ground, chance)
    one.prepare()
    if chance.random() < 0.75:
        k = chance.randrange(one.stage.steps)
        status, what = run_killed(one.stage.command, k, before=one.before()), f"step {k}"
    else:
        moment = chance.random() * one.stage.seconds
        status, what = run_killed_after(one.stage.command, moment, before=one.before()), f"after {moment:.3f} s"
    faults = [] if status in (-9, 0) else [f"killed, but ended with {status}"]
    faults += one.torn() + one.again(chance)
    yield Result("kills", f"{one.stage.scene.name} killed at {what} ({seed})", tuple(faults))


def disks(ground: Ground, seed: str) -> Iterator[Result]:
    """One command whose disk is full, read-only or broken from some step on, or for one step."""
    chance = random.Random(seed)
    one = _stopping(ground, chance)
    one.prepare()
    if chance.random() < 0.3 and _may_mount():
        status, output, what = _on_small_disk(one, chance)
    else:
        k, code, lasting = chance.randrange(one.stage.steps), chance.choice(ERRORS), chance.random() < 0.6
        status, output = run_failing(one.stage.command, k, code, lasting, before=one.before())
        what = f"{errno.errorcode[code]} {'from' if lasting else 'at'} step {k}"
    faults = _faults("while the disk failed", status, output)
    if status == 2 and one.stage.root.name not in output and not any(place in output for place in (*PLACES, "team.ics", "tmp")):
        faults.append(f"no file is named: {output.strip()[:200]}")
    faults += one.torn()
    if status == 0 and chance.random() < 0.5:
        faults += [f"it said all was well: {words}" for words in one.settled(swept=False)]
    faults += one.again(chance)
    yield Result("disks", f"{one.stage.scene.name}, {what} ({seed})", tuple(faults), output)


def _may_mount() -> bool:
    return os.geteuid() == 0 and shutil.which("mount") is not None


def _on_small_disk(one: Stopping, chance: random.Random) -> tuple[int, str, str]:
    """The command on a real disk of its own with little room, or that only can be read; then everything is carried back."""
    root, used = one.stage.root, sum(f.stat().st_size for f in one.stage.root.rglob("*") if f.is_file())
    read_only = chance.random() < 0.3
    room = used + 4096 * chance.randrange(20, 900)
    away = root.with_name("away")
    os.rename(root, away)
    root.mkdir()
    mounted = (
        subprocess.run(
            ["mount", "-t", "tmpfs", "-o", f"size={max(room // 4096, 1) * 4096 + (1 << 19)}", "tmpfs", str(root)], capture_output=True
        ).returncode
        == 0
    )
    try:
        shutil.copytree(away, root, symlinks=True, dirs_exist_ok=True)
        if mounted and read_only:
            subprocess.run(["mount", "-o", "remount,ro", str(root)], check=True, capture_output=True)
        status, output = run(one.stage.command, before=one.before())
        shutil.rmtree(away)
        shutil.copytree(root, away, symlinks=True)
    finally:
        if mounted:
            subprocess.run(["umount", "-l", str(root)], check=True, capture_output=True)
        shutil.rmtree(root, ignore_errors=True)
    os.rename(away, root)
    return status, output, "a read-only disk" if read_only else f"a disk with {room - used} bytes of room"
