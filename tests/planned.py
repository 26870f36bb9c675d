"""What the planner answered in one test process, the others need not ask it again.

The demo's kits are built to a site in one process, asked about other sheets in the next, and put beside one another in the
third. A question is a digest of all that goes into its answer; whoever replaces the planner, or counts how often it is
asked, does so above this: only the search itself is spared.
"""

from __future__ import annotations

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
    """Take answers from there, and put them there."""
    value = kept.value

    def shared(kind: str, key: str, make: Callable[[], T]) -> T:
        return value(kind, key, partial(_once, Path(folder, f"{kind}-{key}"), make) if kind in SEARCHED else make)

    cache.value = kept.value = shared


def _once(file: Path, make: Callable[[], T]) -> T:
    try:
        return pickle.loads(file.read_bytes())
    except FileNotFoundError:
        pass
    began = time.process_time()
    found = make()
    if time.process_time() - began > DEAR:
        handle, aside = tempfile.mkstemp(dir=file.parent)
        with os.fdopen(handle, "wb") as whole:
            whole.write(pickle.dumps(found))
        os.replace(aside, file)
    return found
