"""Every step that a command takes on files, counted, so that it can be killed at one or made to fail there.

    steps(command) -> int                                     how many steps the command takes
    trace(command) -> [Step, ...]                             the same steps by kind and path
    run(command) -> (exit, output)                            undisturbed
    run_killed(command, k) -> exit                            SIGKILL just before step k, counted from 0; -9 when it came to that
    run_failing(command, k, errno, lasting=False) -> (exit, output)   step k raises OSError(errno); with `lasting` each later one does too
    run_killed_after(command, seconds) -> exit                SIGKILL at a moment instead of a step
    with remembered(): …                                      children draw no state again that this process has drawn before

A command is a list of the words typed after `kitwright`, such as ["--root", "/tmp/x", "build"].
Each runs in a forked child (`forked.py`) with the code of the command line around it, so that
an exit status is that of a real process: 0 to 3, minus the signal that ended it, or CRASHED
after a traceback. A child that does not end in time is killed, and counts as -9 with HUNG at
the end of its output.

A step is an opening to write, a write, a sync, and whatever else changes a folder: renaming,
making, removing, copying, linking, cutting short, changing rights or times. A write that is
killed puts half of its bytes on the disk first. Only the command's own process is counted
and disturbed, not the helping processes of a build; a child therefore draws all kits itself.
"""

from __future__ import annotations

import _io
import builtins
import io
import os
import signal
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from forked import in_child, load

HUNG = "did not end in time"
SECONDS = 120.0
"""After which a command counts as hanging, by the clock; PROCESSOR is the bound that measures kitwright itself."""
PROCESSOR = 60
"""Seconds of processor time."""
CHANGES = {"os.rename", "os.mkdir", "os.remove", "os.rmdir", "os.chmod", "os.chown", "os.utime", "os.truncate", "os.link", "os.symlink"}
"""Audit events of Python that change a folder or a file. `os.replace` tells of itself as `os.rename`."""
NO_FILES = ("pipe:[", "socket:[", "anon_inode:")
"""How Linux names what is open and lies on no disk (proc(5), /proc/pid/fd)."""
WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND


@dataclass(frozen=True)
class Step:
    """One step on files."""

    kind: str
    """open, write, fsync, rename, mkdir, remove, rmdir, chmod, utime, copy …"""
    path: str
    """The file; where something is renamed, where it comes from."""

    def __str__(self) -> str:
        return f"{self.kind} {self.path}"


def steps(command: Sequence[str], **more) -> int:
    """How many steps on files a command takes when nothing disturbs it."""
    return len(trace(command, **more))


def trace(command: Sequence[str], **more) -> list[Step]:
    """The steps on files that a command takes when nothing disturbs it, in their order."""
    with tempfile.TemporaryDirectory(prefix="file-faults-") as folder:
        told = os.open(Path(folder) / "steps", os.O_CREAT | os.O_RDWR)
        try:
            _child(
                command,
                lambda: _watch(lambda step, write: os.write(told, f"{step.kind}\0{step.path}\n".encode("utf-8", "surrogateescape"))),
                **more,
            )
        finally:
            os.close(told)
        lines = (Path(folder) / "steps").read_bytes().decode("utf-8", "surrogateescape").split("\n")
        return [Step(*line.split("\0", 1)) for line in lines if "\0" in line]


def run(command: Sequence[str], **more) -> tuple[int, str]:
    """A command, undisturbed: its exit status and all it said."""
    return _child(command, lambda: None, **more)


def run_killed(command: Sequence[str], k: int, **more) -> int:
    """A command killed just before its step `k`; -9, or its own status where it took no more than `k` steps."""

    def watching() -> None:
        seen = [0]

        def stop(step: Step, write: Callable[[], None] | None) -> None:
            seen[0] += 1
            if seen[0] > k:
                if write:
                    write()
                os.kill(os.getpid(), signal.SIGKILL)

        _watch(stop)

    return _child(command, watching, **more)[0]


def run_failing(command: Sequence[str], k: int, errno: int, lasting: bool = False, **more) -> tuple[int, str]:
    """A command whose step `k` fails as the system would, with `errno`; its exit status and all it said.

    With `lasting` every later step fails too, as on a disk that stays full or read-only. On
    a full disk things can still be removed.
    """

    def watching() -> None:
        from errno import EDQUOT, ENOSPC

        seen = [0]

        def fail(step: Step, write: Callable[[], None] | None) -> None:
            seen[0] += 1
            if seen[0] - 1 == k or (lasting and seen[0] > k and not (errno in (ENOSPC, EDQUOT) and step.kind in ("remove", "rmdir"))):
                raise OSError(errno, os.strerror(errno), step.path)

        _watch(fail)

    return _child(command, watching, **more)


def run_killed_after(command: Sequence[str], seconds: float, **more) -> int:
    """A command killed at a moment; -9, or its own status where it was done before."""
    return _child(command, lambda: None, kill_after=seconds, **more)[0]


@contextmanager
def remembered() -> Iterator[None]:
    """Draw each state with one stamp once: what this process drew inside, by a build or a release of its own, costs its children nothing.

    A whole build of a tiny archive then takes half a second of processor time instead of six.
    """
    from unittest import mock

    from kitwright.archive import make, offered, workers
    from kitwright.release.revisions import sha256
    from kitwright.release.state import canonical, state_of

    def once(draw: Callable) -> Callable:
        drawn: dict[bytes, object] = {}

        def drawing(worked, *with_it):
            key = canonical([state_of(worked), sha256(repr(with_it).encode()), str(worked.kit.spec)])
            if key not in drawn:
                drawn[key] = draw(worked, *with_it)
            return drawn[key]

        return drawing

    with (
        mock.patch.object(workers, "cpu_count", lambda: 1),
        mock.patch.object(make, "_kit", once(make._kit)),
        mock.patch.object(offered, "offered", once(offered.offered)),
    ):
        yield


# --- the child --------------------------------------------------------------------------------------


def _child(
    command: Sequence[str],
    watching: Callable[[], None],
    *,
    cwd: str | Path | None = None,
    typed: str = "",
    seconds: float = SECONDS,
    kill_after: float | None = None,
    before: Callable[[], None] | None = None,
) -> tuple[int, str]:
    """Run a command in a child of this process.

    Args:
        command: the words after `kitwright`.
        watching: called in the child, to begin watching.
        cwd: where it stands.
        typed: what it finds on its standard input.
        seconds: by the clock, after which it counts as hanging.
        kill_after: kill it after so many seconds.
        before: called in the child first, to change what a test wants changed.
    """
    load()

    def act() -> int:
        from kitwright import cli
        from kitwright.archive import workers

        if cwd is not None:
            os.chdir(cwd)
        sys.argv = ["kitwright", *command]
        workers.cpu_count = lambda: 1
        if before is not None:
            before()
        watching()
        cli.main()
        return 0

    ended = in_child(act, processor=PROCESSOR, seconds=kill_after if kill_after is not None else seconds, typed=typed)
    hung = ended.late and kill_after is None or ended.status == -signal.SIGXCPU
    return -signal.SIGKILL if ended.late else ended.status, ended.output + (f"\n{HUNG}" if hung else "")


# --- watching ---------------------------------------------------------------------------------------


def _watch(told: Callable[[Step, Callable[[], None] | None], None]) -> None:
    """From now on call `told` before every step on files of this process, never to be undone.

    For a write it is also given what puts half of the bytes on the disk.
    """
    own, within = os.getpid(), [False]

    def step(kind: str, path: object, write: Callable[[], None] | None = None) -> None:
        if os.getpid() != own or within[0]:
            return
        name = os.fsdecode(path) if isinstance(path, (str, bytes, os.PathLike)) else str(path)
        # A device is no file, nor is a pipe to another process; what lies in memory below /dev/shm is.
        if name.startswith(("/dev/", *NO_FILES)) and not name.startswith("/dev/shm/") or "__pycache__" in name:
            return
        within[0] = True
        try:
            told(Step(kind, name), write)
        finally:
            within[0] = False

    def heard(event: str, given: tuple) -> None:
        if event == "open":
            path, _, flags = given
            if isinstance(flags, int) and flags & WRITING and not isinstance(path, int):
                step("open", path)
        elif event in CHANGES:
            step(event.removeprefix("os."), given[0])

    sys.addaudithook(heard)

    class Watched(io.FileIO):
        """A file whose every write is a step."""

        @property
        def path(self) -> object:
            return _named(self.name) if isinstance(self.name, int) else self.name

        def write(self, data) -> int:
            step("write", self.path, lambda: io.FileIO.write(self, bytes(data)[: len(data) // 2]) and None)
            return super().write(data)

        def truncate(self, size=None) -> int:
            step("truncate", self.path)
            return super().truncate(size)

    real_open = io.open

    def opened(file, mode="r", buffering=-1, encoding=None, errors=None, newline=None, closefd=True, opener=None):
        if not set(mode) & set("wxa+") or isinstance(file, int) and file < 3:
            return real_open(file, mode, buffering, encoding, errors, newline, closefd, opener)
        raw = Watched(file, "".join(c for c in mode if c not in "bt"), closefd, opener)
        if buffering == 0:
            return raw
        size = buffering if buffering > 1 else io.DEFAULT_BUFFER_SIZE
        stream = (io.BufferedRandom if "+" in mode else io.BufferedWriter)(raw, size)
        if "b" in mode:
            return stream
        text = io.TextIOWrapper(stream, encoding, errors, newline, line_buffering=buffering == 1)
        text.mode = mode
        return text

    io.open = builtins.open = _io.open = opened

    def watched(name: str, kind: str, which: int) -> None:
        # Counted, not done: what a killed process wrote is in the machine's memory, and only a power failure takes that.
        real = getattr(os, name) if kind == "copy" else lambda *given: None

        def call(*given, **more):
            step(kind, _named(given[which]))
            return real(*given, **more)

        setattr(os, name, call)

    for name, kind, which in (("fsync", "fsync", 0), ("fdatasync", "fsync", 0), ("sendfile", "copy", 0), ("copy_file_range", "copy", 1)):
        if hasattr(os, name):
            watched(name, kind, which)
    if hasattr(os, "sync"):
        os.sync = lambda: None  # it never fails
    real_write = os.write

    def written(fd: int, data) -> int:
        if fd > 2:
            step("write", _named(fd), lambda: real_write(fd, bytes(data)[: len(data) // 2]) and None)
        return real_write(fd, data)

    os.write = written


def _named(fd: int) -> str:
    """A file that is known by its number; the link in /proc says its name where there is one."""
    try:
        return os.readlink(f"/proc/self/fd/{fd}")
    except OSError:
        return str(fd)
