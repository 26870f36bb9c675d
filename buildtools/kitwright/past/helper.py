"""A helping process that reads one PDF after another, within bounds; it loads no more than that takes."""

from __future__ import annotations

import contextlib
import os
import signal
from multiprocessing.connection import Connection

MEMORY = 1_200_000_000
"""Bytes that a helper may fill; a page scanned at 600 dots to the inch takes a quarter of them."""
PROCESSOR = 20
"""Seconds of processor time for one file; a large scan takes one or two."""


def help_reading(pipe: Connection) -> None:
    """What a helper does until nobody asks any more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # What the library says of a broken file is told by us; its own words go nowhere.
    silence = os.open(os.devnull, os.O_WRONLY)
    os.dup2(silence, 2)
    # Loaded here, since whoever asks a helper imports this module too.
    from kitwright.past.pdf import found

    with contextlib.suppress(EOFError, OSError):
        while True:
            data = pipe.recv_bytes()
            _bounded()
            try:
                pipe.send(found(data))
            except MemoryError:
                os._exit(1)


def _bounded() -> None:
    """Bound what the next file may take, where the system can."""
    try:
        import resource
    except ImportError:  # Windows
        return
    used = resource.getrusage(resource.RUSAGE_SELF)
    for what, most in (
        (resource.RLIMIT_CORE, 0),
        (resource.RLIMIT_CPU, int(used.ru_utime + used.ru_stime) + 1 + PROCESSOR),
        (resource.RLIMIT_AS, MEMORY),
    ):
        hard = resource.getrlimit(what)[1]
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(what, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard))
