"""What members get: files that are never in the public site, which says only that there are some."""

from __future__ import annotations

from pathlib import Path

from kitwright.kit.model import Extra
from kitwright.kit.read import Kit, _inside


def extras_of(kit: Kit) -> list[tuple[Extra, Path]]:
    """Every file for members with where it lies.

    Raises:
        UserError: a file that is not there, or outside the kit's folder, with file and line.
    """
    return [(extra, _inside(kit.folder, extra.file, kit.place("members", i, "file"))) for i, extra in enumerate(kit.spec.members)]
