"""The ways a card folds, in words."""

from __future__ import annotations

from collections.abc import Sequence

from kitwright.card.base import OWN, Base, runs_of
from kitwright.folding.faces import INSIDE
from kitwright.folding.scored import Direction, Runs
from kitwright.telling.words import listed
from kitwright.units import figure, length_text

DIRECTIONS: dict[Direction, str] = {"forward": "fold forward, towards you", "back": "fold back, away from you"}
"""What is done at a score line, as the base lies."""


def hinge_text(fold: str) -> str:
    """The edge that a fold in two makes."""
    return edge_text(runs_of(fold))


def edge_text(runs: Runs) -> str:
    """The edge that score lines are measured from, as the base lies."""
    return "left" if runs == "down" else "top"


def way_text(runs: Runs) -> str:
    """Which way score lines run."""
    return "up and down" if runs == "down" else "across"


def fold_text(base: Base) -> str:
    """What its fold is called: `gate fold`, `z-fold`; a fold of the author’s own goes by its score lines."""
    if base.fold == OWN:
        return f"fold at {len(base.scored.scores)} score lines"
    return name_text(base.fold)


def name_text(fold: str) -> str:
    """A fold that has a name, called so in a sentence: `gate fold`, `z-fold`."""
    return fold if fold.endswith("fold") else f"{fold} fold"


def scores_text(base: Base, unit: str) -> str:
    """Where its score lines are, the nearest to that edge first: `2⅛ in and 6⅜ in from the left`."""
    return f"{places_text(base, unit)} from the {edge_text(base.runs)}"


def places_text(base: Base, unit: str) -> str:
    """The same without the edge."""
    return listed([length_text(at, unit) for at in sorted(score.at for score in base.scored.scores)])


def figures_text(base: Base, unit: str) -> str:
    """The same in bare figures, with the unit said once."""
    places = sorted(score.at for score in base.scored.scores)
    return f"{listed([figure(at, unit) for at in places])} {unit} from the {edge_text(base.runs)}"


def folded_text(hinges: Sequence[str]) -> str:
    """At which edges of a front its card is folded."""
    return f"folded at the {listed(hinges)}" if hinges else "not folded"


def face_text(name: str) -> str:
    """A face of the card in a sentence: `the inside`, `the left door`, `the inside of the left door`, `the middle panel`."""
    panel = name.removeprefix(f"{INSIDE} ")
    called = f"{panel} panel" if panel in _WHERE else panel
    return f"the inside of the {called}" if panel != name else f"the {called}"


_WHERE = ("first", "second", "third", "middle", "last", "left", "right")
"""Names of panels that only say where one is."""
