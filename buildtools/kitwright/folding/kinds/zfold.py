"""Z-fold: three panels, forth and back."""

from __future__ import annotations

from kitwright.folding.kinds.kind import Asked, Kind
from kitwright.folding.scored import Score
from kitwright.units import Length


def _scores(length: Length, asked: Asked) -> tuple[Score, ...]:
    panel = asked.marked(length / 3)
    return Score(panel, "back"), Score(panel * 2, "forward")


KIND = Kind(5, "z-fold", "outside up", ("front", "middle", "last"), "front", "last", _scores)
