"""The small archive, built once."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest
from archive.small import write_small
from kitwright.archive.build import build_archive
from kitwright.archive.make import Kept
from release.bench import quick  # noqa: F401 - a fixture of this folder too
from sharing import once

DRAWN = "drawn.pickle"
"""A file beside the site, with what goes between the processes of a build anyway."""


@pytest.fixture(scope="session")
def small_site(tmp_path_factory, worker_id: str) -> Path:
    """The small archive's site, drawn once for all test processes; not to be changed."""

    def made(root: Path) -> None:
        drawn: Kept = {}
        build_archive(write_small(root), root / "site", kept=drawn)
        (root / DRAWN).write_bytes(pickle.dumps(drawn))

    return once(tmp_path_factory, worker_id, "small", made) / "site"


@pytest.fixture(scope="session")
def kept(small_site: Path) -> Kept:
    """What was made for it, so that no other build draws it again."""
    return pickle.loads((small_site.parent / DRAWN).read_bytes())


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A small archive of one's own."""
    return write_small(tmp_path)
