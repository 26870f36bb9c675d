"""What members get: files that are never in the public site, which says only that there are some."""

from __future__ import annotations

from pathlib import Path

from kitwright.kit.folder import MB, own_file
from kitwright.kit.kit import Kit
from kitwright.kit.model import Extra

LARGEST = 500 * MB
"""Bytes of one file for members."""


def extras_of(kit: Kit) -> list[tuple[Extra, Path]]:
    """Every file for members with where it lies.

    Raises:
        UserError: a file that is not there, or outside the kit's folder, with file and line.
    """
    return [(extra, own_file(kit.folder, extra.file, kit.place("members", i, "file"), LARGEST)) for i, extra in enumerate(kit.spec.members)]
