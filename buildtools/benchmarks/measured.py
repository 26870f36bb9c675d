"""A command in a fresh process, and what it took: by the clock, of the processors, of memory."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import threading
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
EVERY = 0.05
"""Seconds between two looks at the processes."""


@dataclass(frozen=True)
class Took:
    """What a command took, with all that it started."""

    wall: float
    """Seconds by the clock."""
    processor: float
    """Seconds of processor time, of itself and of the system for it."""
    main: float
    """Peak memory of its own process, MB of 10^6 bytes."""
    worker: float
    """Peak memory of the largest process that it started."""
    together: float
    """The most that all of them filled at one time; what they share counts in each."""
    output: str


def run(words: Sequence[str | Path], folder: Path, extra: Mapping[str, str] | None = None, may_fail: bool = False) -> Took:
    """Run a command to its end.

    Args:
        words: the command.
        folder: where it is typed.
        extra: more of its environment.
        may_fail: whether exit status 1 is an answer, too.

    Raises:
        RuntimeError: it failed, with what it said.
    """
    environment = os.environ | {"PYTHONPATH": str(TOP / "buildtools")} | dict(extra or {})
    started = time.monotonic()
    with open(folder / ".measured", "w+", encoding="utf-8") as said:
        process = subprocess.Popen([*map(str, words)], cwd=folder, env=environment, stdin=subprocess.DEVNULL, stdout=said, stderr=said)
        memory = _Memory(process.pid)
        # The one call that tells what this child took, with the children that it waited for, and nothing of earlier ones.
        _, status, used = os.wait4(process.pid, 0)
        wall = time.monotonic() - started
        memory.stop()
        process.returncode = os.waitstatus_to_exitcode(status)
        said.seek(0)
        output = said.read()
    (folder / ".measured").unlink()
    if process.returncode != 0 and not (may_fail and process.returncode == 1):
        raise RuntimeError(f"{' '.join(map(str, words))} ended with {process.returncode}\n{output}")
    # What the system noted is exact, but of the largest process alone, and a child begins with what its parent had.
    largest, own = (
        peak * (1 if sys.platform == "darwin" else 1024) / 1e6
        for peak in (used.ru_maxrss, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
    )
    main, worker = memory.main, memory.worker
    if largest > own:
        main, worker = (main, max(worker, largest)) if worker > main else (max(main, largest), worker)
    return Took(wall, used.ru_utime + used.ru_stime, main, worker, max(memory.together, main), output)


def kitwright(root: Path, *words: str | Path, may_fail: bool = False) -> Took:
    """A command of kitwright's, as it is typed in an archive."""
    return run([sys.executable, "-m", "kitwright", *words], root, may_fail=may_fail)


class _Memory(threading.Thread):
    """Looks at a process and at all below it until it is told to stop. Linux only: elsewhere nothing is seen."""

    def __init__(self, pid: int) -> None:
        super().__init__(daemon=True)
        self._pid, self._ended = pid, threading.Event()
        self.main = self.worker = self.together = 0.0
        self.start()

    def run(self) -> None:
        while not self._ended.wait(EVERY):
            total = 0.0
            for pid in _tree(self._pid):
                peak, now = _filled(pid)
                total += now
                if pid == self._pid:
                    self.main = max(self.main, peak)
                else:
                    self.worker = max(self.worker, peak)
            self.together = max(self.together, total)

    def stop(self) -> None:
        self._ended.set()
        self.join()


def _tree(pid: int) -> list[int]:
    found, at = [pid], 0
    while at < len(found):
        try:
            threads = os.listdir(f"/proc/{found[at]}/task")
        except OSError:
            threads = []
        for thread in threads:
            try:
                found += map(int, Path(f"/proc/{found[at]}/task/{thread}/children").read_text().split())
            except (OSError, ValueError):
                continue
        at += 1
    return found


def _filled(pid: int) -> tuple[float, float]:
    """The peak of a process's memory, and what it fills now, MB."""
    try:
        lines = dict(line.split(":", 1) for line in Path(f"/proc/{pid}/status").read_text().splitlines() if ":" in line)
        return int(lines["VmHWM"].split()[0]) * 1024 / 1e6, int(lines["VmRSS"].split()[0]) * 1024 / 1e6
    except (OSError, KeyError, ValueError):
        return 0.0, 0.0
