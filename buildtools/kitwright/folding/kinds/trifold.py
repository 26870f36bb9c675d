"""Tri-fold: the flap is rolled in first, then the front lies on it; so the flap is a little shorter."""

from __future__ import annotations

from kitwright.folding.kinds.kind import Asked, Kind
from kitwright.folding.scored import Score
from kitwright.units import Length


def _scores(length: Length, asked: Asked) -> tuple[Score, ...]:
    panel = asked.marked((length + asked.room) / 3)
    return Score(panel * 2, "forward"), Score(panel, "forward")


KIND = Kind(4, "tri-fold", "inside up", ("front", "back", "flap"), "front", "back", _scores)
