"""The small archive, built once."""

from __future__ import annotations

import pickle
from dataclasses import replace
from pathlib import Path

import pytest
from archive.small import taken_over, write_small
from kitwright import cache
from kitwright.archive.build import build_archive
from kitwright.archive.content import data_of
from kitwright.archive.make import Made
from kitwright.archive.units import made_units
from release.bench import quick  # noqa: F401 - a fixture of this folder too
from sharing import once

DRAWN = "drawn.pickle"
"""A file beside the site, with its kits."""


def drawn_in(root: Path) -> dict[str, Made]:
    """The kits of an archive that was built, by their ids, with the bytes of all their files."""
    with cache.using(root / cache.FOLDER):
        kits = made_units(root, None, "public", lambda *said: None).kits
        return {one.id: replace(one.whole, files={name: data_of(data) for name, data in one.files.items()}) for one in kits}


@pytest.fixture(scope="session")
def small_site(tmp_path_factory, worker_id: str) -> Path:
    """The small archive's site, drawn once for all test processes; not to be changed."""

    def made(root: Path) -> None:
        build_archive(write_small(root), root / "site")
        (root / DRAWN).write_bytes(pickle.dumps(drawn_in(root)))

    return once(tmp_path_factory, worker_id, "small", made) / "site"


@pytest.fixture(scope="session")
def kept(small_site: Path) -> Path:
    """What was made for it, so that no other build draws it again."""
    return small_site.parent / cache.FOLDER


@pytest.fixture(scope="session")
def drawn(small_site: Path) -> dict[str, Made]:
    """Its kits, by their ids."""
    return pickle.loads((small_site.parent / DRAWN).read_bytes())


@pytest.fixture
def small(tmp_path: Path, kept: Path) -> Path:
    """A small archive of one's own."""
    return taken_over(write_small(tmp_path), kept)
