"""What the planner answered in one test process, the others need not ask it again.

The demo's kits are built to a site in one process, asked about other sheets in the next, and put beside one another in the
third. A question is a digest of all that goes into its answer; whoever replaces the planner, or counts how often it is
asked, does so above this: only the search itself is spared.
"""

from __future__ import annotations

import builtins
import contextlib
import io
import os
import pickle
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TypeVar

from kitwright import cache
from kitwright.cache import kept

T = TypeVar("T")

FOLDER = "KITWRIGHT_TESTS_PLANNED"
"""The variable by which the processes of a run are told where answers lie."""
SEARCHED = ("batches", "plan", "sheets", "yields")
"""The kinds of answer that are searched for."""
DEAR = 0.02
"""Seconds of processor time below which to ask again is as quick."""


def share(folder: str) -> None:
    """Take answers from there, and put them there.

    Only this very process puts any there, and only while files are written as ever: a forked one, and a test that stands
    between the program and its files, counts every step or makes one fail, and these here are no step of the program's.
    """
    value, own = kept.value, os.getpid()

    def shared(kind: str, key: str, make: Callable[[], T]) -> T:
        return value(kind, key, partial(_once, own, Path(folder, f"{kind}-{key}"), make) if kind in SEARCHED else make)

    cache.value = kept.value = shared


def _as_ever() -> tuple[Callable, ...]:
    """By what a file is written."""
    return os.open, os.fdopen, os.write, os.replace, io.open, builtins.open


AS_EVER = _as_ever()


def _once(own: int, file: Path, make: Callable[[], T]) -> T:
    with contextlib.suppress(OSError):
        return pickle.loads(file.read_bytes())
    began = time.process_time()
    found = make()
    if time.process_time() - began > DEAR and os.getpid() == own and _as_ever() == AS_EVER:
        handle, aside = tempfile.mkstemp(dir=file.parent)
        with os.fdopen(handle, "wb") as whole:
            whole.write(pickle.dumps(found))
        os.replace(aside, file)
    return found
