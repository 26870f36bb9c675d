"""Kits made on a cluster of Dask's, for a host that keeps the archives of many clubs.

Its client offers the standard executor interface, so nothing else knows that there is one. Every
worker must run this very program and see the archive where it lies here; both are looked at first.
"""

from __future__ import annotations

import contextlib
import logging
import secrets
from collections.abc import Iterator
from concurrent.futures import Executor
from pathlib import Path

from kitwright import cache
from kitwright.errors import UserError
from kitwright.kit.project import KITS

PATIENCE = 10
"""Seconds in which a scheduler must answer."""
AGAIN = 3
"""How often a kit is made again whose worker was lost."""


@contextlib.contextmanager
def executor_at(address: str, root: Path) -> Iterator[Executor]:
    """The workers of a cluster, for as long as they are needed.

    Args:
        address: of its scheduler, `tcp://host:8786`.
        root: the folder that holds `kits/`.

    Raises:
        UserError: there is no such cluster, none of its workers can do it, or Dask is not installed.
    """
    try:
        from distributed import Client
    except ImportError:
        raise UserError("cluster.no-engine") from None
    # What it has to say of lost workers is told in our own words, where it matters.
    for name in ("distributed", "distributed.client", "tornado"):
        logging.getLogger(name).setLevel(logging.CRITICAL)
    try:
        client = Client(address, timeout=PATIENCE, set_as_default=False)
    except (OSError, ValueError, ImportError) as error:
        raise UserError("cluster.none-there", address=address, why=str(error) or type(error).__name__) from None
    with client:
        _stop_unless_fit(client, address, root)
        # The same kit asked for on another day is another question: `pure` would let the scheduler answer with what it found then.
        yield client.get_executor(pure=False, retries=AGAIN)


def _stop_unless_fit(client, address: str, root: Path) -> None:
    sign = cache.keep(secrets.token_bytes(16))
    found = client.run(_seen, str(root), cache.handle(), sign)
    if not found:
        raise UserError("cluster.no-worker", address=address)
    for worker in sorted(found):
        code, sees = found[worker]
        if code != cache.code():
            raise UserError("cluster.another-program", worker=worker)
        if not sees:
            raise UserError("cluster.elsewhere", worker=worker, root=root)


def _seen(root: str, given: cache.Handle, sign: cache.Blob) -> tuple[str, bool]:
    """What a worker runs, and whether it sees the archive, and what was kept beside it a moment ago."""
    with cache.taken_up(given):
        return cache.code(), (Path(root) / KITS).is_dir() and cache.relied(sign)
