"""The moment that a build may be told to take for its own (`SOURCE_DATE_EPOCH`, of reproducible-builds.org).

MkDocs takes it from the environment, which all threads of a process share: so it is changed, and read, in turns.
"""

from __future__ import annotations

import os
import threading

EPOCH = "SOURCE_DATE_EPOCH"
TURN = threading.RLock()
"""Held by whoever changes it for a while."""


def typed_epoch() -> str | None:
    """What whoever builds has typed; None where nothing was."""
    with TURN:
        return os.environ.get(EPOCH)
