"""What must hold of variables; by itself, since the library behind `linear` takes a while to load."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Constraint:
    """What must hold of a sum: `least` ≤ Σ multiplier · variable ≤ `most`."""

    terms: Mapping[int, int]
    """Multiplier by variable."""
    least: int | None = None
    most: int | None = None
