"""Something done in a child of this process, with its exit, its output and its cost.

The child is forked, so that what is loaded here costs it nothing; `load` loads all that
commands load. Needs `os.fork`, so Linux or macOS.
"""

from __future__ import annotations

import os
import resource
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import IO

CRASHED = 70
"""The exit status of a child that ended with a traceback of its own."""


@dataclass(frozen=True)
class Ended:
    """How a child ended."""

    status: int
    """The exit status; minus the signal where one ended it."""
    output: str
    """What it printed, both streams together."""
    seconds: float
    """Processor time."""
    memory: int
    """Bytes at most, beyond what it was born with: a child of a large process is large."""
    late: bool
    """Whether it was killed because its time by the clock was over."""


def load() -> None:
    """Load whatever commands load when they are called."""
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    import kitwright.archive.pictures  # noqa: F401
    import kitwright.otherwise.checked  # noqa: F401
    import kitwright.release.lookover  # noqa: F401
    import mkdocs.commands.build  # noqa: F401
    import mkdocs.config  # noqa: F401
    from kitwright.cli import cli

    assert dict(cli.commands)


def in_child(act: Callable[[], int | None], *, processor: int, seconds: float | None = None, typed: str = "") -> Ended:
    """Do something in a child of this process.

    Args:
        act: what is done; returns the exit status. A SystemExit is its exit.
        processor: seconds of processor time after which the system stops it.
        seconds: by the clock, after which it is killed; None for no such bound.
        typed: what it finds on its standard input.
    """
    with tempfile.TemporaryFile() as heard, tempfile.TemporaryFile() as given, tempfile.TemporaryFile() as begun:
        given.write(typed.encode())
        given.seek(0)
        sys.stdout.flush()
        sys.stderr.flush()
        child = os.fork()
        if child == 0:
            # Its own, not its parent's: pages of files are not handed on.
            os.write(begun.fileno(), str(resident()).encode())
            _child(act, processor, given.fileno(), heard.fileno())
        how, used, late = _wait(child, seconds)
        taken = max(used.ru_maxrss * 1024 - int(text_of(begun) or 0), 0)
        return Ended(os.waitstatus_to_exitcode(how), text_of(heard), used.ru_utime + used.ru_stime, taken, late)


def resident() -> int:
    """Bytes of memory that this process fills now; 0 where the system does not tell."""
    try:
        return int(Path("/proc/self/statm").read_text().split()[1]) * resource.getpagesize()
    except OSError:
        return 0


def text_of(file: IO[bytes]) -> str:
    """All that stands in a file which somebody else wrote."""
    file.seek(0)
    return file.read().decode("utf-8", "replace")


def _wait(child: int, seconds: float | None) -> tuple[int, resource.struct_rusage, bool]:
    if seconds is None:
        return *os.wait4(child, 0)[1:], False
    until, pause = time.monotonic() + seconds, 0.0005
    while True:
        done, how, used = os.wait4(child, os.WNOHANG)
        if done:
            return how, used, False
        if time.monotonic() >= until:
            os.kill(child, signal.SIGKILL)
            return *os.wait4(child, 0)[1:], True
        time.sleep(pause)
        pause = min(pause * 1.5, 0.01)


def _child(act: Callable[[], int | None], processor: int, given: int, heard: int) -> None:
    """Never returns."""
    status = CRASHED
    try:
        for number, stream in ((0, given), (1, heard), (2, heard)):
            os.dup2(stream, number)
        # Whatever stood in their place before, what is printed goes to the file that is read.
        sys.stdin = open(0, encoding="utf-8", closefd=False)
        sys.stdout, sys.stderr = (open(n, "w", encoding="utf-8", closefd=False, buffering=b) for n, b in ((1, -1), (2, 1)))
        signal.signal(signal.SIGINT, signal.default_int_handler)
        signal.signal(signal.SIGTERM, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_CPU, (processor, processor + 5))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        sys.dont_write_bytecode = True
        try:
            status = act() or 0
        except SystemExit as stopped:
            status = stopped.code if isinstance(stopped.code, int) else 0 if stopped.code is None else CRASHED
    except BaseException:  # whatever it is, it is what is being looked for
        os.write(2, traceback.format_exc().encode("utf-8", "replace"))
        status = CRASHED
    finally:
        try:
            sys.stdout.flush()
            sys.stderr.flush()
        except OSError:
            pass
        os._exit(status)
