"""Draws, in a process of its own, what was put off."""

from __future__ import annotations

import contextlib
from pathlib import Path

from kitwright import cache
from kitwright.archive.units import made_units
from kitwright.errors import UserError


def make_ready(root: Path, keep: Path) -> None:
    """Make every kit of an archive that is not made yet, so that the next build finds it; what is wrong is told by that build.

    Args:
        root: the folder that holds `kits/`.
        keep: where what is made is kept.
    """
    with contextlib.suppress(UserError, OSError), cache.using(keep):
        made_units(root, None, "public", lambda what, done, total: None)
