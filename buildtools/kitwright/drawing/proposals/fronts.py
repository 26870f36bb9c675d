"""The front of a proposed card, as pictures know fronts: what lies where, and of which paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from kitwright.card import pointed
from kitwright.card.face import Face, Placed, Sentiment
from kitwright.drawing.proposals.dress import BASE, MAT
from kitwright.geometry import Rect
from kitwright.proposing.papered import dealt
from kitwright.proposing.records import Kind, Proposal, Side, Spot
from kitwright.proposing.wish import Wish
from kitwright.units import ZERO, Length, Size


def fronts_of(wish: Wish, proposal: Proposal, greeting: str) -> tuple[Face, ...]:
    """One card of each design.

    Args:
        wish: what was asked, with papers as they are drawn (`papered.sheet_by_sheet`).
        proposal: the layout, likewise.
        greeting: what stands in the band that is left free for one.
    """
    kinds = {kind.label: kind for kind in proposal.kinds}
    return tuple(_front(side, kinds, papers, greeting) for side, papers in zip(proposal.sides, papers_of(wish, proposal)))


def papers_of(wish: Wish, proposal: Proposal) -> tuple[tuple[str, ...], ...]:
    """Of each design, the paper of each piece on its first card, as a kit that is written of the proposal has it."""
    hands = dealt(proposal, wish)
    if hands is None:
        # A kit can't be written of it; it is shown in one paper.
        first = proposal.cuts[0].stocks[0][0]
        return tuple((first,) * len(side.spots) for side in proposal.sides)
    return tuple(tuple(hand.looks[0].papers[group] for group in hand.groups) for hand in hands)


def _front(side: Side, kinds: dict[str, Kind], papers: Sequence[str], greeting: str) -> Face:
    panels = _panels(side)
    layers = [Placed("base", BASE, "front", panel, layer="base") for panel in panels]
    field = Rect.of(side.card.closed)
    if side.card.mat:
        mats = [_inset(panel, side.card.mat) for panel in panels]
        layers += [Placed("mat", MAT, "front", mat, layer="layer") for mat in mats]
        field = _inset(field, side.card.mat)
    pieces = [_placed(spot, kinds[spot.label], paper) for spot, paper in zip(side.spots, papers)]
    return Face(
        size=side.card.closed,
        fold=side.card.fold,
        layers=tuple(layers),
        field=field,
        pieces=tuple(p for p in pieces if p.layer == "piece"),
        over=tuple(p for p in pieces if p.layer == "over"),
        bands=(side.band,) if side.band else (),
        sums=(),
        border=side.border,
        gap=side.gap,
        sentiment=Sentiment(greeting, _inset(side.band, min(side.band.width, side.band.height) / 8), "band") if side.band else None,
        cards=side.cards,
    )


def _panels(side: Side) -> list[Rect]:
    """What of the base is seen: its front, or the two doors of a gate fold."""
    whole = Rect.of(side.card.closed)
    if side.card.fold != "gate":
        return [whole]
    half = whole.width / 2
    return [Rect(ZERO, ZERO, half, whole.height), Rect(half, ZERO, half, whole.height)]


def _placed(spot: Spot, kind: Kind, paper: str) -> Placed:
    layer: Literal["over", "piece"] = "over" if spot.over else "piece"
    if kind.halved is None or spot.point is None:
        return Placed(spot.label, paper, "front", spot.rect, spot.turned, layer=layer)
    legs = Size(kind.size.width, kind.size.height)
    ring = pointed.outline(legs, kind.halved, spot.point).moved(spot.rect.x, spot.rect.y).one_polygon()
    form = (("triangle", (kind.halved,)),)
    return Placed(spot.label, paper, "front", spot.rect, spot.turned, ring, layer=layer, edges=(ring,), form=form, point=spot.point)


def _inset(rect: Rect, by: Length) -> Rect:
    return Rect(rect.x + by, rect.y + by, rect.width - by * 2, rect.height - by * 2)
