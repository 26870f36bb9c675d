"""A command of kitwright tried in a process of its own, with its exit, its cost and whatever it should not have done.

The process is forked from one that has kitwright loaded, so that a try costs what the command
costs. It may use so much processor time and memory and no more, it may write below one folder
only, and it may neither start a program nor reach for the network.
"""

from __future__ import annotations

import os
import resource
import signal
import sys
import tempfile
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

MOST_SECONDS = 20
"""Processor time after which a command counts as hanging."""
MOST_MEMORY = 1 << 30
"""Bytes; more is too much for any command."""
CRASHED = 70
"""The exit status of a child that ended with a traceback."""

_WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
_CHANGES = {
    "os.rename": (0, 1),
    "os.remove": (0,),
    "os.mkdir": (0,),
    "os.rmdir": (0,),
    "os.link": (0, 1),
    "os.symlink": (1,),
    "os.truncate": (0,),
    "os.chmod": (0,),
    "os.utime": (0,),
}
"""Events of the interpreter that change files, and which of their arguments name one."""
_DIRECTORY_OF = {"os.rename": 2, "os.remove": 1, "os.mkdir": 2, "os.rmdir": 1}
"""Where an event names the open folder that its path is relative to."""
_FORBIDDEN = {"subprocess.Popen", "os.exec", "os.posix_spawn", "os.system", "socket.connect", "socket.bind", "socket.getaddrinfo"}


@dataclass(frozen=True)
class Tried:
    """How one try went."""

    status: int
    """The exit status; minus the signal where one ended it."""
    output: str
    """What it printed, both streams together."""
    seconds: float
    """Processor time."""
    memory: int
    """Bytes at most."""
    outside: tuple[str, ...]
    """What it did outside of its folder."""

    @property
    def faults(self) -> list[str]:
        """What no command may do, whatever it is given."""
        found = []
        if self.status == -signal.SIGXCPU or self.seconds > MOST_SECONDS:
            found.append(f"hang: {self.seconds:.0f} s of processor time")
        elif self.status < 0:
            found.append(f"ended by signal {-self.status}")
        elif self.status == CRASHED or "Traceback (most recent call last)" in self.output:
            found.append("traceback: " + (self.output.strip().splitlines() or ["nothing printed"])[-1])
        elif self.status not in (0, 1, 2):
            found.append(f"exit status {self.status}")
        elif self.status and not self.output.strip():
            found.append("it failed without a word")
        if self.memory > MOST_MEMORY:
            found.append(f"memory: {self.memory >> 20} MB")
        return found + list(self.outside)


def attempt(act: Callable[[], int | None], home: Path, *, secrets: tuple[Path, ...] = ()) -> Tried:
    """Run `act` in a child process.

    Args:
        act: what is tried; returns the exit status. A SystemExit is its exit.
        home: the one folder below which it may write; its temporary files go to `home/tmp`.
        secrets: files that it may not even read.
    """
    temporary = home / "tmp"
    temporary.mkdir(exist_ok=True)
    with tempfile.TemporaryFile() as printed, tempfile.TemporaryFile() as told:
        child = os.fork()
        if child == 0:
            _child(act, home, temporary, secrets, printed.fileno(), told.fileno())
        _, how, used = os.wait4(child, 0)
        return Tried(
            os.waitstatus_to_exitcode(how),
            _text(printed),
            used.ru_utime + used.ru_stime,
            used.ru_maxrss * 1024,
            tuple(dict.fromkeys(_text(told).splitlines())),
        )


def _text(file) -> str:
    file.seek(0)
    return file.read().decode("utf-8", "replace")


def _child(act: Callable[[], int | None], home: Path, temporary: Path, secrets: tuple[Path, ...], printed: int, told: int) -> None:
    """Never returns."""
    status = CRASHED
    try:
        os.dup2(printed, 1)
        os.dup2(printed, 2)
        # Whatever stood in their place before, what is printed goes to the two files that are read.
        sys.stdout, sys.stderr = open(1, "w", encoding="utf-8", closefd=False), open(2, "w", encoding="utf-8", closefd=False)
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS + 1, MOST_SECONDS + 5))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        tempfile.tempdir = str(temporary)
        os.environ["TMPDIR"] = str(temporary)
        watch(home, secrets, lambda words: os.write(told, f"{words}\n".encode("utf-8", "replace")))
        try:
            status = act() or 0
        except SystemExit as stopped:
            status = stopped.code if isinstance(stopped.code, int) else 0 if stopped.code is None else CRASHED
        sys.stdout.flush()
        sys.stderr.flush()
    except BaseException:  # noqa: BLE001  whatever it is, it is what is being looked for
        os.write(2, traceback.format_exc().encode("utf-8", "replace"))
        status = CRASHED
    finally:
        os._exit(status)


def watch(home: Path, secrets: tuple[Path, ...], tell: Callable[[str], object]) -> None:
    """From now on tell of whatever this process changes outside of `home`, and of secrets that it reads."""
    inside, hidden = os.path.realpath(home), {os.path.realpath(file) for file in secrets}

    def real(path: object, folder: object = -1) -> str | None:
        if isinstance(path, int) or path is None:
            return None  # an open file: it was looked at when it was opened
        text = os.fsdecode(path)
        if isinstance(folder, int) and folder >= 0 and not os.path.isabs(text):
            text = os.path.join(os.readlink(f"/proc/self/fd/{folder}"), text)
        head, name = os.path.split(os.path.abspath(text))
        return os.path.join(os.path.realpath(head), name)

    def hook(event: str, given: tuple) -> None:
        if event == "open":
            path, _, flags = given
            named = real(path)
            if named is None:
                return
            if hidden and os.path.realpath(named) in hidden:
                tell(f"read a secret: {named}")
            if flags & _WRITING and not _within(os.path.realpath(named), inside) and named != os.devnull:
                tell(f"wrote outside: {named}")
        elif event in _CHANGES:
            folder = given[_DIRECTORY_OF[event]] if event in _DIRECTORY_OF and len(given) > _DIRECTORY_OF[event] else -1
            for which in _CHANGES[event]:
                named = real(given[which], folder)
                if named is not None and not _within(named, inside):
                    tell(f"{event} outside: {named}")
        elif event in _FORBIDDEN:
            tell(f"{event}: {given[:1]!r}")

    sys.addaudithook(hook)


def _within(path: str, folder: str) -> bool:
    return path == folder or path.startswith(folder + os.sep)
