"""How a role looks, at each level of ink.

Lines follow ISO 128 (continuous for edges and cuts, dashed for what lies hidden,
long-dash for folds and scores, thin for hatching) and ISO 129-1 (thin dimension and
extension lines).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kitwright.drawing.palette import Ink
from kitwright.exact import Exact as F

Level = Literal["full", "light", "outline"]
"""`full`: as designed; `light`: fills at a third, to save ink; `outline`: no fills, black on white."""


@dataclass(frozen=True, slots=True)
class LineStyle:
    """How a line is drawn."""

    colour: str
    """Palette name."""
    width: F
    """Points."""
    dash: tuple[F, ...] = ()
    """Drawn and left out in turn, points; empty for a continuous line."""


LINES = {
    "sheet": LineStyle("ink", F(11, 10)),
    "edge": LineStyle("ink", F(3, 4)),
    "new": LineStyle("ink", F(3, 5)),
    "paper-edge": LineStyle("line", F(3, 10)),
    "cut": LineStyle("accent", F(11, 10)),
    "fold": LineStyle("ink", F(9, 10), (F(10), F(3))),
    "score": LineStyle("accent", F(1), (F(10), F(3))),
    "hidden": LineStyle("soft", F(6, 10), (F(3), F(2))),
    "profile": LineStyle("ink", F(14, 10)),
    "inside": LineStyle("soft", F(8, 10), (F(8, 10), F(42, 10))),
    "dimension": LineStyle("soft", F(45, 100)),
    "extension": LineStyle("line", F(35, 100)),
    "leader-ground": LineStyle("paper", F(2)),
    "leader": LineStyle("soft", F(45, 100)),
    "waste": LineStyle("line", F(35, 100)),
    "glue": LineStyle("soft", F(1, 2)),
    "film": LineStyle("second", F(7, 10), (F(1), F(3, 2))),
    "ruler": LineStyle("soft", F(4, 10)),
    "ruler-fine": LineStyle("line", F(35, 100)),
    "tick": LineStyle("ink", F(1, 2)),
    "break": LineStyle("ink", F(7, 10)),
    "hatching": LineStyle("ink", F(1, 2)),
    "measure": LineStyle("ink", F(1, 2)),
    "measure-end": LineStyle("ink", F(3, 10)),
    "covered": LineStyle("ink", F(6, 10), (F(3), F(2))),
    "pointer-ground": LineStyle("white", F(2)),
    "pointer": LineStyle("ink", F(6, 10)),
    "spot": LineStyle("second", F(8, 10), (F(2), F(2))),
    "print": LineStyle("second", F(6, 10), (F(1), F(3, 2))),
    "print-light": LineStyle("on-accent", F(6, 10), (F(1), F(3, 2))),
    "accent": LineStyle("accent", F(12, 10)),
    "grain": LineStyle("second", F(9, 10)),
    "ring-ground": LineStyle("paper", F(44, 10)),
    "ring": LineStyle("accent", F(19, 10)),
    "frame": LineStyle("line", F(1, 2)),
}
"""Line roles."""

FILLS = {
    "paper": Ink("paper"),
    "white": Ink("white"),
    "patch": Ink("paper"),
    "surface": Ink("surface"),
    "tag": Ink("accent"),
    "number": Ink("ink"),
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
    "sentiment-black": "#000000",
    "sentiment-pale": "soft",
}
"""Text roles to palette names."""

_SOLID = {"paper", "white", "patch", "tag", "number", "mark", "ink"}
# Fills that carry meaning or keep a figure readable: they stay at every level.


def ground(level: Level = "full") -> Ink:
    """What the picture stands on: its own paper, or the white of the printer's."""
    return Ink("white" if level == "outline" else "paper")


def line(role: str) -> LineStyle:
    """The line of a role."""
    return LINES[role]


def fill(wanted: str | Ink, level: Level = "full") -> Ink | None:
    """The ink of a fill at a level, or None when the level leaves it out.

    At `outline` a paper is white but still covers what lies under it.
    """
    if level == "outline":
        return FILLS[wanted] if wanted in ("tag", "number", "mark", "ink") else None if wanted == "surface" else Ink("white")
    if isinstance(wanted, str) and wanted in _SOLID:
        return FILLS[wanted]
    ink = FILLS[wanted] if isinstance(wanted, str) else wanted
    return ink.weaker(F(1, 3)) if level == "light" else ink


def text(role: str, level: Level = "full") -> Ink:
    """The ink of a text; light words on a dark paper turn dark where the paper turns light."""
    return Ink("ink" if role == "sentiment-light" and level != "full" else TEXTS[role])
