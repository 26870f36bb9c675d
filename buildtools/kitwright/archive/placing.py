"""A new site's folder, filled file by file: what stands unchanged in the old site is linked from there, and written once.

A file of the old site counts as it was noted only while its size and its time are those that were
noted when it was put there: what somebody edited or copied over is never carried on. Nothing is
ever written into a file of the old site, since the new one may share it.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from kitwright import cache
from kitwright.archive.content import Content, digest_of
from kitwright.archive.content import put as content_put
from kitwright.archive.finished import Finished
from kitwright.archive.report import BuildReport
from kitwright.archive.watched import Span

KIND = "standing"
"""What is noted of a site in its place."""
KEPT_FILES = (".gitignore", ".gitattributes")
"""Files of the folder that belong to its owner and outlive each build."""
STRAYS = frozenset((*KEPT_FILES, ".DS_Store", "Thumbs.db", "desktop.ini"))
"""What may lie in a built folder and is none of it."""


@dataclass(frozen=True)
class Stood:
    """A file of a site, as it was when it was put there."""

    size: int
    time: int
    """When it was written, in nanoseconds since 1970."""
    sha256: str


@dataclass(frozen=True)
class Standing:
    """A site in its place."""

    files: Mapping[str, Stood]
    key: str
    """Of all that it was made from; empty where that changed meanwhile."""
    span: Span
    """The moments for which it holds."""
    report: BuildReport
    """What was told of it."""


def noted(out: Path) -> Standing | None:
    """What was noted of the site in a place; None where that is not known."""
    found = cache.known(KIND, cache.digest(out))
    return found if isinstance(found, Standing) else None


def note(out: Path, standing: Standing) -> None:
    """Note what stands in a place now."""
    cache.note(KIND, cache.digest(out), standing)


class Placing:
    """A site in the making.

    Args:
        folder: where it is made, empty.
        out: where the old one stands.
        stood: what was noted of that.
    """

    def __init__(self, folder: Path, out: Path | None = None, stood: Mapping[str, Stood] | None = None) -> None:
        self.folder = folder
        self.files: dict[str, Stood] = {}
        """What was put there so far, by name."""
        self.pages: Mapping[str, Finished] = {}
        """Its pages, by their files, once they are made."""
        self.linked = 0
        """How many of them are the old site's."""
        self._out, self._stood = str(out), {} if out is None or stood is None else stood
        # Told as text: a path is put together for every file of the site.
        self._home, self._folders = str(folder), {""}

    def put(self, name: str, content: Content, *, fresh: bool = False) -> None:
        """Put a file there; a fresh one is never the old site's, so that its time is that of this build.

        Raises:
            Lost: it vanished, or is another by now.
            OSError: it can't be written.
        """
        sha256 = digest_of(content)
        if fresh or not self.carried(name, sha256):
            file = Path(self._place(name))
            # A name that is put twice must not be written through a link.
            file.unlink(missing_ok=True)
            content_put(content, file)
            state = os.lstat(file)
            self.files[name] = Stood(state.st_size, state.st_mtime_ns, sha256)

    def carried(self, name: str, sha256: str) -> bool:
        """Take a file from the old site, if it stands there with these bytes; whether it did."""
        was = self._stood.get(name)
        if was is None or was.sha256 != sha256:
            return False
        old, new = f"{self._out}/{name}", self._place(name)
        try:
            if not _same(os.lstat(old), was):
                return False
            os.link(old, new)
        except OSError:
            # Another disk, a system without links, or too many of one file.
            return False
        # Somebody may have been at it between the two.
        if not _same(os.lstat(new), was):
            os.unlink(new)
            return False
        self.files[name] = was
        self.linked += 1
        return True

    def _place(self, name: str) -> str:
        folder = name.rpartition("/")[0]
        if folder not in self._folders:
            os.makedirs(f"{self._home}/{folder}", exist_ok=True)
            self._folders.add(folder)
        return f"{self._home}/{name}"


def _same(state: os.stat_result, was: Stood) -> bool:
    return stat.S_ISREG(state.st_mode) and (state.st_size, state.st_mtime_ns) == (was.size, was.time)


def unchanged(out: Path, stood: Mapping[str, Stood]) -> bool:
    """Whether a site stands as it was noted, nothing touched, missing or added; what its owner has beside it counts for nothing.

    Args:
        out: its place.
        stood: what was noted.
    """
    left = len(stood)
    try:
        for above, _, names in os.walk(out, onerror=_raise):
            inside = os.path.relpath(above, out).replace(os.sep, "/")
            for name in names:
                if name in STRAYS:
                    continue
                was = stood.get(name if inside == "." else f"{inside}/{name}")
                if was is None or not _same(os.lstat(os.path.join(above, name)), was):
                    return False
                left -= 1
    except OSError:
        return False
    return left == 0


def _raise(error: OSError) -> None:
    raise error
