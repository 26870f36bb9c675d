"""Proposed layouts for other programs: plain data, every length exact."""

from __future__ import annotations

from typing import Any

from kitwright.cutting.tree import leaves
from kitwright.geometry import Rect
from kitwright.proposing.records import Answer, Measured, Proposal
from kitwright.proposing.wish import CardWish
from kitwright.telling.layout_names import what
from kitwright.telling.proposals import reason
from kitwright.units import Length, Size


def plain_data(answer: Answer) -> dict[str, Any]:
    """The answer as plain data; lengths are exact, in inches, as text, and so are parts."""
    wish = answer.wish
    return {
        "question": {
            "unit": wish.unit,
            "step": _length(wish.step),
            "even": _length(wish.even) if wish.even else None,
            "paper": [
                {"key": s.key, "name": s.name, "sheet": _size(s.sheet.size), "sheets": s.sheets, "one-way": s.one_way} for s in wish.stocks
            ],
            "cards": wish.cards,
            "card": [_card_json(card) for card in wish.cards_of],
            "border": [_length(each) for each in wish.borders],
            "gap": [_length(each) for each in wish.gaps],
            "designs": wish.designs,
            "family": list(wish.families),
            "pieces": list(wish.pieces) if wish.pieces else None,
            "kinds": wish.kinds,
            "band": _length(wish.band) if wish.band else None,
            "made": [{"tool": m.tool, "size": _size(m.size), "blank": _size(m.blank)} for m in wish.made],
            "sharing": wish.sharing,
            "waste": str(wish.waste),
            "slack": _length(wish.slack) if wish.slack else None,
        },
        "layouts": [_proposal(one, wish.unit) for one in answer.proposals],
        "looked at": {
            "scopes": [
                {
                    "family": s.family,
                    "card": _card_json(s.card),
                    "border": _length(s.border),
                    "gap": _length(s.gap),
                    "layouts": s.layouts,
                    "whole": s.whole,
                }
                for s in answer.scopes
            ],
            **{name: getattr(answer.counted, name) for name in ("candidates", "distinct", "tested", "front", "steps")},
        },
        "stopped": answer.stopped,
        "spent": answer.spent,
        "why": [note.words for note in answer.why],
    }


def _proposal(one: Proposal, unit: str) -> dict[str, Any]:
    return {
        "number": one.number,
        "what": what(one),
        "why": reason(one, unit),
        "cards": one.cards,
        "designs": [
            {
                "family": side.family,
                "card": _card_json(side.card),
                "cards": side.cards,
                "border": _length(side.border),
                "gap": _length(side.gap),
                "band": _rect(side.band) if side.band else None,
                "pieces": [
                    {"label": s.label, **_rect(s.rect), "turned": s.turned, "point": s.point, "lot": s.lot, "over": s.over}
                    for s in side.spots
                ],
            }
            for side in one.sides
        ],
        "sizes": [
            {
                "label": kind.label,
                "size": _size(kind.size),
                "cut": _size(kind.cut),
                "each": kind.each,
                "corner to corner": kind.halved,
                "tool": kind.tool,
            }
            for kind in one.kinds
        ],
        "sheets": [
            {
                "papers": dict(cut.stocks),
                "parts": [
                    {
                        "label": leaf.label,
                        **_rect(leaf.rect),
                        "turned": leaf.turned,
                        **({"corner to corner": leaf.diagonal} if leaf.diagonal else {}),
                    }
                    for leaf in leaves(cut.tree)
                ],
            }
            for cut in one.cuts
        ],
        **_measured(one.measured),
        "twins": [{"sizes": {label: _size(size) for label, size in twin.sizes}, **_measured(twin.measured)} for twin in one.twins],
    }


def _measured(m: Measured) -> dict[str, Any]:
    return {
        "waste": str(m.waste),
        "left": str(m.left),
        "slack": _length(m.slack),
        "measures": m.measures,
        "strokes": m.strokes,
        "alike": m.alike,
    }


def _card_json(card: CardWish) -> dict[str, Any]:
    return {
        "closed": _size(card.closed),
        "fold": card.fold,
        "envelope": card.envelope.name or _size(card.envelope.size) if card.envelope else None,
        "mat": _length(card.mat) if card.mat else None,
        "cardstock": card.cardstock.name or _size(card.cardstock.size),
    }


def _length(length: Length) -> str:
    return str(length.inches)


def _size(size: Size) -> dict[str, str]:
    return {"width": _length(size.width), "height": _length(size.height)}


def _rect(rect: Rect) -> dict[str, str]:
    return {"x": _length(rect.x), "y": _length(rect.y), **_size(rect.size)}
