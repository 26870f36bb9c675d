"""Side fold, and top fold: one score line, in the middle unless said."""

from __future__ import annotations

from kitwright.folding.kinds.kind import Asked, Kind
from kitwright.folding.scored import Score
from kitwright.units import Length


def _scores(length: Length, asked: Asked) -> tuple[Score, ...]:
    return (Score(asked.score or length / 2, "back"),)


KIND = Kind(1, "side", "outside up", ("back", "front"), "front", "back", _scores, across="top", takes_score=True)
