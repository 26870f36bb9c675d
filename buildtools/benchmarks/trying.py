"""A command of kitwright tried in a process of its own, with its exit, its cost and whatever it should not have done.

A process of its own is forked (`forked.py`). It may use so much processor time and memory and no more, it may write below one folder
only, and it may neither start a program nor reach for the network.
"""

from __future__ import annotations

import os
import signal
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from forked import CRASHED, Ended, in_child, text_of

MOST_SECONDS = 20
"""Processor time after which a command counts as hanging."""
MOST_MEMORY = 900 << 20
"""Bytes beyond what it was born with; more is too much for any command."""
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

    ended: Ended
    outside: tuple[str, ...]
    """What it did outside of its folder."""

    @property
    def status(self) -> int:
        """The exit status; minus the signal where one ended it."""
        return self.ended.status

    @property
    def output(self) -> str:
        """What it printed."""
        return self.ended.output

    @property
    def faults(self) -> list[str]:
        """What no command may do, whatever it is given."""
        found = []
        if self.status == -signal.SIGXCPU or self.ended.seconds > MOST_SECONDS:
            found.append(f"hang: {self.ended.seconds:.0f} s of processor time")
        elif self.status < 0:
            found.append(f"ended by signal {-self.status}")
        elif self.status == CRASHED or "Traceback (most recent call last)" in self.output:
            found.append("traceback: " + (self.output.strip().splitlines() or ["nothing printed"])[-1])
        elif self.status not in (0, 1, 2):
            found.append(f"exit status {self.status}")
        elif self.status and not self.output.strip():
            found.append("it failed without a word")
        if self.ended.memory > MOST_MEMORY:
            found.append(f"memory: {self.ended.memory >> 20} MB")
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
    with tempfile.TemporaryFile() as told:

        def watched() -> int | None:
            tempfile.tempdir = os.environ["TMPDIR"] = str(temporary)
            watch(home, secrets, lambda words: os.write(told.fileno(), f"{words}\n".encode("utf-8", "replace")))
            return act()

        ended = in_child(watched, processor=MOST_SECONDS + 1)
        return Tried(ended, tuple(dict.fromkeys(text_of(told).splitlines())))


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
