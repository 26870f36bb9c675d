"""What members get, as the public page may say it."""

from __future__ import annotations

from kitwright.kit.kit import Kit
from kitwright.telling.formats import SPOKEN

CUT_FILES = f"cut files for electronic cutters, {SPOKEN} at true size"
"""What a kit's cut files are called where members alone get them."""


def names_for_members(kit: Kit) -> tuple[str, ...]:
    """What members get of a kit; no word of the files themselves."""
    return (*(extra.name for extra in kit.spec.members), *((CUT_FILES,) if kit.spec.cut_files == "members" else ()))
