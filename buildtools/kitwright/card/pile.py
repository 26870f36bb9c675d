"""The closed card at its thickest place, layer by layer from below: what lies on what, and how thick each is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from kitwright.card.base import Base, Point
from kitwright.card.enclosed import closed_card, shut_down
from kitwright.card.face import Face, Placed, everything
from kitwright.card.post import Stock, lies_at, thickest_place
from kitwright.card.shaker import Shaker
from kitwright.folding import Closed
from kitwright.folding.scored import Side
from kitwright.materials import NOTHING, Range

FOAM = "foam"
"""Stands for the label of foam under a piece."""


@dataclass(frozen=True, slots=True)
class Ply:
    """One layer of the closed card."""

    label: str
    """Of the piece; of the base for one of its panels; the name of a decoration."""
    panel: str
    """The panel that it is, or lies on; empty for decoration."""
    paper: str
    """Key of its paper; empty for foam and for decoration."""
    thick: Range
    """Millimetres."""


def pile_of(base: Base, face: Face, inside: Placed | None, stocks: Mapping[str, Stock], foam: Range) -> tuple[Ply, ...]:
    """Every layer at the thickest place, the lowest first; empty where the base can't be folded.

    Args:
        base: the card base.
        face: the one that leads, with its sides.
        inside: the piece that lies inside, on the back panel, where there is one.
        stocks: every paper used, by key.
        foam: millimetres that foam raises a layer.
    """
    shut = base.closed
    if shut is None:
        return ()
    at = thickest_place(closed_card(base, face, inside), stocks, foam)
    stock = face.layers[0]
    along = at[0] if base.runs == "down" else at[1]
    cell = next((cell for cell in shut.cells if cell.start <= along < cell.end), None)
    found: list[Ply] = []
    for i in cell.panels if cell else ():
        panel = shut.base.panels[i]
        up, down = shut.base.shown(shut.lying[i].turned), shut.base.shown(not shut.lying[i].turned)
        found += reversed(_on(base, shut, face, inside, panel, down, at, stocks, foam))
        found.append(Ply(stock.label, panel, stock.paper, stocks[stock.paper].calliper))
        found += _on(base, shut, face, inside, panel, up, at, stocks, foam)
    return tuple(found)


def _on(
    base: Base, shut: Closed, face: Face, inside: Placed | None, panel: str, side: Side, at: Point, stocks: Mapping[str, Stock], foam: Range
) -> list[Ply]:
    """What lies on one face of one panel at a point, the one that touches the panel first."""
    found: list[Ply] = []
    held_up: set[Shaker] = set()
    for name, placed in everything(face, inside):
        on = name or base.leading
        there = shut_down(placed, name, base)
        if not any((part.panel, part.side) == (panel, side) for part in base.faces[on].parts) or not _holds(shut, panel, there, at, base):
            continue
        lies = lies_at(there, at)
        shaker = placed.hold.shaker if placed.hold else None
        if placed.raised and lies and not shaker or shaker and shaker not in held_up:
            # Foam round a window lies under its film, and holds up what lies over the window too.
            found.append(Ply(FOAM, panel, "", foam))
            held_up |= {shaker} if shaker else set()
        if lies:
            found.append(Ply(placed.label, panel, placed.paper, stocks[placed.paper].calliper))
    for stands in (face, *face.sides):
        on = stands.on or base.leading
        if any((part.panel, part.side) == (panel, side) for part in base.faces[on].parts):
            for spot in stands.spots:
                rect = base.closed_at(on, spot.rect)
                if spot.thickness is not None and rect.x <= at[0] <= rect.right and rect.y <= at[1] <= rect.bottom:
                    found.append(Ply(spot.name, "", "", Range.exact(spot.thickness.millimetres)))
    return found


def _holds(shut: Closed, panel: str, there: Placed, at: Point, base: Base) -> bool:
    """Whether a piece is over a point, and that point over the panel: what lies across doors is held by the one that is there."""
    lying = shut.panel(panel)
    along = at[0] if base.runs == "down" else at[1]
    r = there.rect
    return lying.start <= along < lying.end and r.x <= at[0] <= r.right and r.y <= at[1] <= r.bottom


def whole(plies: tuple[Ply, ...]) -> Range:
    """Millimetres of all of them together."""
    return sum((ply.thick for ply in plies), NOTHING)
