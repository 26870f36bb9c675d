"""Half z: folded in the middle, and the front folded back over itself, so that half of the inside shows beside it."""

from __future__ import annotations

from kitwright.folding.kinds.kind import Asked, Kind
from kitwright.folding.scored import Score
from kitwright.units import Length


def _scores(length: Length, asked: Asked) -> tuple[Score, ...]:
    # Up to the mark: the flap never reaches past the fold that it is turned towards.
    return Score(length / 2, "back"), Score(asked.marked(length * 3 / 4), "forward")


KIND = Kind(6, "half z", "outside up", ("back", "middle", "flap"), "flap", "back", _scores)
"""What leads is the inside of the flap."""
