"""The small archive, built once."""

from __future__ import annotations

from pathlib import Path

import pytest
from archive.small import write_small
from kitwright.archive.build import build_archive
from kitwright.archive.make import Kept
from release.bench import quick  # noqa: F401 - a fixture of this folder too


@pytest.fixture(scope="session")
def kept() -> Kept:
    """What the builds of a test run made, so that each kit is drawn once."""
    return {}


@pytest.fixture(scope="session")
def small_site(tmp_path_factory, kept: Kept) -> Path:
    """The small archive's site; not to be changed."""
    root = write_small(tmp_path_factory.mktemp("small"))
    build_archive(root, root / "site", kept=kept)
    return root / "site"


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A small archive of one's own."""
    return write_small(tmp_path)
