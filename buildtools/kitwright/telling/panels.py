"""What the panels of a folded base are called, and what the drawings of a fold say."""

from __future__ import annotations

from collections.abc import Sequence

from kitwright.folding import Closed, Direction, Runs, Scored, Side
from kitwright.folding.faces import faces_of
from kitwright.telling.words import listed
from kitwright.units import Length, Size, figure, length_text, size_text

FOLDS: dict[Direction, str] = {"forward": "fold forward", "back": "fold back"}
"""What is done at a score line: towards you or away, as the base lies."""
SCORE = "score, then fold in this order"
HIDDEN = "edge that lies hidden"
INSIDE = "an inside"
CLOSED = "Closed"
FOLD_EDGE = "a fold"
_OPEN: dict[Runs, str] = {"down": "Standing open", "across": "Opened"}
_FROM: dict[Runs, str] = {"down": "from below", "across": "from the side"}
_FIRST: dict[Runs, str] = {"down": "left", "across": "top"}


def face_name(closed: Closed, panel: str, side: Side) -> str:
    """A face as its kit calls it, by the plainest of its names: an outside by its panel; `inside` for that of the back."""
    names = (name for name, face in faces_of(closed).items() if [(part.panel, part.side) for part in face.parts] == [(panel, side)])
    return min(names, key=len, default=panel)


def flat_text(closed: Closed) -> str:
    """How the base lies while it is scored."""
    return f"Flat, {closed.base.lies}"


def closed_text(closed: Closed, breadth: Length, unit: str) -> str:
    """The closed card and its size."""
    return f"{CLOSED} · {size_text(closed_size(closed, breadth), unit)}"


def open_text(runs: Runs) -> str:
    """The card opened part of the way."""
    return _OPEN[runs]


def layers_text(closed: Closed) -> str:
    """How many layers of paper lie on one another, seen from the end."""
    return f"{_FROM[closed.base.runs]}: {_layers(closed)}"


def _layers(closed: Closed) -> str:
    return f"{closed.layers} {'layer' if closed.layers == 1 else 'layers'}"


def mark_text(base: Scored, at: Length, unit: str) -> str:
    """Where a score line is, from the edge at which measuring begins."""
    return f"at {length_text(at, unit)} from the {_FIRST[base.runs]}"


def grain_text(grain: str) -> str:
    """Which way the grain of the base should run."""
    return f"grain runs {grain}"


def up_text(upright: bool) -> str:
    """Where the top of a face points."""
    return "↑ top" if upright else "↓ top"


def too_narrow(names: Sequence[str]) -> str:
    """Faces with no room for their names."""
    return f"too narrow to name here: {', '.join(names)}"


def closed_size(closed: Closed, breadth: Length) -> Size:
    """Width × height of the closed card."""
    return Size(closed.length, breadth) if closed.base.runs == "down" else Size(breadth, closed.length)


def flat_size(base: Scored, breadth: Length) -> Size:
    """Width × height of the flat base."""
    return Size(base.length, breadth) if base.runs == "down" else Size(breadth, base.length)


def fold_title(closed: Closed, breadth: Length, unit: str, name: str = "") -> str:
    """The heading of the three drawings of a fold."""
    return " · ".join(filter(None, (name, size_text(flat_size(closed.base, breadth), unit))))


def fold_alt(closed: Closed, breadth: Length, unit: str, grain: str | None = None) -> str:
    """The flat base, the closed card and the open one, for those who can't see them."""
    base = closed.base
    scores = "; ".join(
        f"{i}. {FOLDS[score.direction]} at {figure(score.at, unit)} {unit} from the {_FIRST[base.runs]}"
        for i, score in enumerate(base.scores, 1)
    )
    shown: Side = base.shown(False)
    spans = ", ".join(
        f"{face_name(closed, panel, shown)} {figure(last - first, unit)} {unit}" for panel, (first, last) in zip(base.panels, base.spans())
    )
    seen = list(dict.fromkeys(face_name(closed, panel, side) for _, _, panel, side in closed.seen()))
    return (
        f"Card base of {size_text(flat_size(base, breadth), unit)}, {base.lies}, scored {'up and down' if base.runs == 'down' else 'across'}. "
        f"In order: {scores}. Panels from the {_FIRST[base.runs]}: {spans}. "
        f"Closed it is {size_text(closed_size(closed, breadth), unit)} with {_layers(closed)}, and shows {listed(seen)}."
    ) + (f" The grain runs {grain}." if grain else "")
