"""The closed card at its thickest place, layer by layer from below: what lies on what, and how thick each is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from kitwright.card.base import Base, Point
from kitwright.card.enclosed import closed_card, shut_down
from kitwright.card.face import Face, Placed, everything
from kitwright.card.post import Stock, lies_at, thickest_place
from kitwright.card.shaker import Shaker
from kitwright.folding.faces import Part
from kitwright.folding.scored import Side
from kitwright.geometry import Rect
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
    along = at[0] if base.runs == "down" else at[1]
    cell = next((cell for cell in shut.cells if cell.start <= along < cell.end), None)
    if cell is None:
        return ()
    here = {shut.base.panels[i] for i in cell.panels}
    lying = _lying(base, here, face, inside, at, stocks, foam)
    stock, found = face.layers[0], list[Ply]()
    for i in cell.panels:
        panel, turned = shut.base.panels[i], shut.lying[i].turned
        found += reversed(lying.get((panel, shut.base.shown(not turned)), ()))
        found.append(Ply(stock.label, panel, stock.paper, stocks[stock.paper].calliper))
        found += lying.get((panel, shut.base.shown(turned)), ())
    return tuple(found)


def _lying(
    base: Base, here: set[str], face: Face, inside: Placed | None, at: Point, stocks: Mapping[str, Stock], foam: Range
) -> dict[tuple[str, Side], list[Ply]]:
    """What lies at a point on each face of the panels that are there, what touches the panel first; across doors, on the one that is there."""
    found: dict[tuple[str, Side], list[Ply]] = {}
    held_up: set[Shaker] = set()

    def below(name: str) -> Part | None:
        return next((part for part in base.faces[name or base.leading].parts if part.panel in here), None)

    for name, placed in everything(face, inside):
        there, part = shut_down(placed, name, base), below(name)
        if part is None or not _over(there.rect, at):
            continue
        pile = found.setdefault((part.panel, part.side), [])
        lies, shaker = lies_at(there, at), placed.hold.shaker if placed.hold else None
        if placed.raised and lies and not shaker or shaker and shaker not in held_up:
            # Foam round a window lies under its film, and holds up what lies over the window too.
            pile.append(Ply(FOAM, part.panel, "", foam))
            held_up |= {shaker} if shaker else set()
        if lies:
            pile.append(Ply(placed.label, part.panel, placed.paper, stocks[placed.paper].calliper))
    for stands in face.every:
        part = below(stands.on)
        if part is None:
            continue
        for spot in stands.spots:
            if spot.thickness is not None and _over(base.closed_at(stands.on or base.leading, spot.rect), at):
                ply = Ply(spot.name, "", "", Range.exact(spot.thickness.millimetres))
                found.setdefault((part.panel, part.side), []).append(ply)
    return found


def _over(rect: Rect, at: Point) -> bool:
    return rect.x <= at[0] <= rect.right and rect.y <= at[1] <= rect.bottom


def whole(plies: tuple[Ply, ...]) -> Range:
    """Millimetres of all of them together."""
    return sum((ply.thick for ply in plies), NOTHING)
