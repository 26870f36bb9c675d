"""What lies on the faces of a card, panel by panel."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from kitwright.card.base import Base, Point
from kitwright.card.face import Placed, everything
from kitwright.drawing.folds.plate import OnPanel
from kitwright.folding.faces import Part
from kitwright.geometry import Rect
from kitwright.units import ZERO, Length
from kitwright.work.worked import Worked


def lying_on(worked: Worked) -> tuple[tuple[str, Placed], ...]:
    """Everything of paper on a card, with the name of its face, empty for the one that leads; the base apart."""
    return everything(worked.face, worked.enclosed.inside)


def on_panels(base: Base, lying: Iterable[tuple[str, Placed]]) -> Iterator[OnPanel]:
    """Every piece with the panel that carries it: what lies across doors is on the one that it is glued to, or on which its middle lies.

    Args:
        base: one that can be folded.
        lying: each piece with the name of its face, empty for the one that leads; lowest first.
    """
    for name, placed in lying:
        parts = base.faces[name or base.leading].parts
        panel = placed.hold.panel if placed.hold else ""
        part = next((part for part in parts if part.panel == panel), None) or under(base, parts, placed.rect)
        yield OnPanel(part.panel, part.side, _moved(base, placed, part.start))


def under(base: Base, parts: tuple[Part, ...], rect: Rect) -> Part:
    """The part of a face on which the middle of a rectangle lies."""
    across, down = rect.centre
    along = across if base.runs == "down" else down
    return next((part for part in parts if part.start <= along < part.start + part.length), parts[0])


def _moved(base: Base, placed: Placed, start: Length) -> Placed:
    """The same, measured from where its panel begins."""
    if start == ZERO:
        return placed
    down = base.runs == "down"

    def point(at: Point) -> Point:
        return (at[0] - start, at[1]) if down else (at[0], at[1] - start)

    x, y = point((placed.rect.x, placed.rect.y))
    return placed.carried(Rect(x, y, placed.rect.width, placed.rect.height), point)
