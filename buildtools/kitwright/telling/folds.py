"""The ways a card folds, in words."""

from __future__ import annotations

from kitwright.card.face import HINGE, runs_down
from kitwright.kit.model.card import Fold


def hinge_text(fold: Fold) -> str:
    """The edge that the fold makes."""
    return HINGE[fold]


def way_text(fold: Fold) -> str:
    """Which way the score line runs."""
    return "up and down" if runs_down(fold) else "across"
