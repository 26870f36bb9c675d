"""Gate fold: two doors, each a quarter of the base, that meet in the middle of the front."""

from __future__ import annotations

from kitwright.folding.kinds.kind import Asked, Kind
from kitwright.folding.scored import Score
from kitwright.units import Length


def _scores(length: Length, asked: Asked) -> tuple[Score, ...]:
    # Down to the mark: doors that meet exactly where a quarter is on one, and a hair short where it is not.
    door = asked.score or length / 4 - length / 4 % asked.mark
    return Score(door, "forward"), Score(length - door, "forward")


KIND = Kind(3, "gate", "inside up", ("left door", "back", "right door"), "left door", "back", _scores, takes_score=True)
