"""How a role looks, at each level of ink.

Lines follow ISO 128 (continuous for edges and cuts, dashed for what lies hidden,
long-dash for folds and scores, thin for hatching) and ISO 129-1 (thin dimension and
extension lines).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction as F
from typing import Literal

from kitwright.drawing.palette import Ink

Level = Literal["full", "light", "outline"]
"""`full`: as designed; `light`: fills at a third, to save ink; `outline`: no fills, black on white."""


@dataclass(frozen=True, slots=True)
class Line:
    """How a line is drawn."""

    colour: str
    """Palette name."""
    width: F
    """Points."""
    dash: tuple[F, ...] = ()
    """Drawn and left out in turn, points; empty for a continuous line."""


LINES = {
    "sheet": Line("ink", F(11, 10)),
    "edge": Line("ink", F(3, 4)),
    "new": Line("ink", F(3, 5)),
    "paper-edge": Line("line", F(3, 10)),
    "cut": Line("accent", F(11, 10)),
    "fold": Line("ink", F(9, 10), (F(10), F(3))),
    "score": Line("accent", F(1), (F(10), F(3))),
    "hidden": Line("soft", F(6, 10), (F(3), F(2))),
    "dimension": Line("soft", F(45, 100)),
    "extension": Line("line", F(35, 100)),
    "leader-ground": Line("paper", F(2)),
    "leader": Line("soft", F(45, 100)),
    "waste": Line("line", F(35, 100)),
    "ruler": Line("soft", F(4, 10)),
    "ruler-fine": Line("line", F(35, 100)),
    "spot": Line("second", F(8, 10), (F(2), F(2))),
    "print": Line("second", F(6, 10), (F(1), F(3, 2))),
    "print-light": Line("on-accent", F(6, 10), (F(1), F(3, 2))),
    "accent": Line("accent", F(12, 10)),
    "grain": Line("second", F(9, 10)),
    "ring-ground": Line("paper", F(44, 10)),
    "ring": Line("accent", F(19, 10)),
    "frame": Line("line", F(1, 2)),
}
"""Line roles."""

FILLS = {
    "paper": Ink("paper"),
    "white": Ink("white"),
    "patch": Ink("paper"),
    "surface": Ink("surface"),
    "tag": Ink("accent"),
    "mark": Ink("second"),
    "ink": Ink("ink"),
}
"""Fill roles."""

SHADOW = "shadow"
"""The one see-through fill: a faint darkening, laid several times for a soft edge."""
SHADOW_INK, SHADOW_ALPHA = Ink("ink"), F(35, 1000)

TEXTS = {
    "figure": "ink",
    "label": "ink",
    "note": "soft",
    "title": "ink",
    "accent": "accent",
    "second": "second",
    "tag": "on-accent",
    "sentiment": "ink",
    "sentiment-light": "white",
    "sentiment-pale": "soft",
}
"""Text roles to palette names."""

_SOLID = {"paper", "white", "patch", "tag", "mark", "ink"}
# Fills that carry meaning or keep a figure readable: they stay at every level.


def ground(level: Level = "full") -> Ink:
    """What the picture stands on: its own paper, or the white of the printer's."""
    return Ink("white" if level == "outline" else "paper")


def line(role: str) -> Line:
    """The line of a role."""
    return LINES[role]


def fill(wanted: str | Ink, level: Level = "full") -> Ink | None:
    """The ink of a fill at a level, or None when the level leaves it out.

    At `outline` a paper is white but still covers what lies under it.
    """
    if level == "outline":
        return FILLS[wanted] if wanted in ("tag", "mark", "ink") else None if wanted == "surface" else Ink("white")
    if isinstance(wanted, str) and wanted in _SOLID:
        return FILLS[wanted]
    ink = FILLS[wanted] if isinstance(wanted, str) else wanted
    return ink.weaker(F(1, 3)) if level == "light" else ink


def text(role: str, level: Level = "full") -> Ink:
    """The ink of a text; light words on a dark paper turn dark where the paper turns light."""
    return Ink("ink" if role == "sentiment-light" and level != "full" else TEXTS[role])
