"""Stepped front: one fold off the middle, so that the inside shows beside the front."""

from __future__ import annotations

from kitwright.folding.kinds.kind import STEP, Asked, Kind
from kitwright.folding.scored import Score
from kitwright.units import Length


def _scores(length: Length, asked: Asked) -> tuple[Score, ...]:
    step = STEP["mm" if asked.metric else "in"]
    return (Score(asked.score or asked.marked((length + step) / 2), "back"),)


KIND = Kind(2, "stepped", "outside up", ("back", "front"), "front", "back", _scores, takes_score=True)
