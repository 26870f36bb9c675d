"""What members get: files that are never in the public site, which says only that there are some."""

from __future__ import annotations

from pathlib import Path

from kitwright.kit.folder import MB, own_file
from kitwright.kit.model import Extra
from kitwright.kit.read import Kit

LARGEST = 500 * MB
"""Bytes of one file for members."""
CUT_FILES = "cut files for electronic cutters, SVG and DXF at true size"
"""What a kit's cut files are called where members alone get them."""


def names_for_members(kit: Kit) -> tuple[str, ...]:
    """What members get of a kit, as the public page may say it; no word of the files themselves."""
    return (*(extra.name for extra in kit.spec.members), *((CUT_FILES,) if kit.spec.cut_files == "members" else ()))


def extras_of(kit: Kit) -> list[tuple[Extra, Path]]:
    """Every file for members with where it lies.

    Raises:
        UserError: a file that is not there, or outside the kit's folder, with file and line.
    """
    return [(extra, own_file(kit.folder, extra.file, kit.place("members", i, "file"), LARGEST)) for i, extra in enumerate(kit.spec.members)]
