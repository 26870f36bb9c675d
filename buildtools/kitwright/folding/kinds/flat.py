"""Flat: no fold at all, for what is one panel with two faces: a postcard, a tag, a band, a liner."""

from __future__ import annotations

from kitwright.folding.kinds.kind import Asked, Kind
from kitwright.folding.scored import Score
from kitwright.units import Length


def _scores(length: Length, asked: Asked) -> tuple[Score, ...]:
    return ()


KIND = Kind(7, "flat", "outside up", ("front",), "front", "front", _scores)
"""Both faces are one panel's: its outside is the front."""
