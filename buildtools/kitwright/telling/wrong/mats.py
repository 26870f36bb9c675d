"""What is wrong with a cutting mat."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.units import Length, Size, length_text, size_text


def all_rim(rim: Length, mat: Size, unit: str) -> Said:
    return (
        f"a rim of {length_text(rim, unit)} leaves nothing of a mat of {size_text(mat, unit)}",
        "choose a larger mat or a narrower margin",
    )
