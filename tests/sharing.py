"""Something dear, made once for all test processes of a run."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path


def once(factory, worker: str, name: str, make: Callable[[Path], None]) -> Path:
    """A folder that whichever test process comes first fills, and that none may change.

    Args:
        factory: pytest's `tmp_path_factory`.
        worker: xdist's `worker_id`.
        name: of the folder.
        make: fills the folder, which exists and is empty.
    """
    shared = factory.getbasetemp() if worker == "master" else factory.getbasetemp().parent
    folder, mine, done, failed = (shared / f"{name}{end}" for end in ("", ".mine", ".done", ".failed"))
    try:
        os.close(os.open(mine, os.O_CREAT | os.O_EXCL))
    except FileExistsError:
        while not done.exists():
            assert not failed.exists(), f"{name} could not be made; another test process tells why"
            time.sleep(0.1)
        return folder
    try:
        folder.mkdir()
        make(folder)
    except BaseException:
        failed.touch()
        raise
    done.touch()
    return folder
