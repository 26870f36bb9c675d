"""What lies loose in the folder of kits: pages that were put there and belong to no kit."""

from __future__ import annotations

import os
from pathlib import Path

from kitwright.kit.folder import files_below

PDF = ".pdf"
PUBLISHED = "published"
"""The folder of what was released, in a kit's own."""
SCHEMA = ".schema.json"
"""Ends the names of what kitwright itself writes for editors, beside the kits."""
_OF_SYSTEMS = {"thumbs.db", "desktop.ini"}
"""What systems put into folders by themselves; hidden files are passed over anyway."""
PEOPLE = "people"
"""The folder of everybody on file."""
NOT_KITS = {PEOPLE}
"""Folders in `kits/` that are not kits."""


def is_loose(folder: Path) -> bool:
    """Whether a folder holds PDFs and nothing else, so that no kit was begun there."""
    if folder.is_symlink() or os.path.lexists(folder / "kit.yaml"):
        return False
    names = [f for f in files_below(folder) if f.name.lower() not in _OF_SYSTEMS and not f.name.startswith(".")]
    return bool(names) and all(f.suffix.lower() == PDF for f in names)


def loose_in(kits: Path) -> list[Path]:
    """PDFs that lie in the folder of kits itself, and folders there with nothing but PDFs, in order of their names."""
    there = [f for f in kits.iterdir() if not f.name.startswith(".") and f.name not in NOT_KITS] if kits.is_dir() else []
    return sorted((f for f in there if (f.is_file() and f.suffix.lower() == PDF) or (f.is_dir() and is_loose(f))), key=lambda f: f.name)
