"""How paper folds: a flat base with its score lines, closed exactly, panel by panel.

`scored` holds what a flat base is, `closing` folds it, `closed` answers for the closed card,
`standing` opens it again part of the way; `kinds/` holds the folds that have a name, a module each.
Score lines run side by side, so all this happens along one axis: across the base where they run up
and down, down it where they run across.
"""

from __future__ import annotations

from kitwright.folding.closed import Cell, Closed, Enclosure
from kitwright.folding.closing import Blocked, closed
from kitwright.folding.scored import Direction, Lies, Misplaced, Runs, Score, Scored, Side
from kitwright.folding.standing import Stood, standing

__all__ = [
    "Blocked",
    "Cell",
    "Closed",
    "Direction",
    "Enclosure",
    "Lies",
    "Misplaced",
    "Runs",
    "Score",
    "Scored",
    "Side",
    "Stood",
    "closed",
    "standing",
]
