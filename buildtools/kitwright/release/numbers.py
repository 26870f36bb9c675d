"""Everything that follows from a kit as plain exact data: what `facts.json` of a revision holds.

Numbers and places only, no wording, so that a kitwright that says things better still
finds the same facts.
"""

from __future__ import annotations

import json
from typing import Any

from kitwright.card.base import Base
from kitwright.card.face import Face
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import leaves
from kitwright.geometry import Rect
from kitwright.units import Length, Size
from kitwright.work.worked import Worked

ROOM = "room in envelope"
"""The key of what the envelope leaves, across and along the closed card with everything on it."""


def numbers_of(worked: Worked) -> dict[str, Any]:
    """The computed facts of a kit; lengths are exact, in inches, as text."""
    return {
        **(_of_design(worked) if not worked.parts else {"designs": {one.kit.design: _of_design(one) for one in worked.designs}}),
        "pieces": {label: {"size": _size(size), "counts": worked.counts(label)} for label, size in worked.sizes.items()},
        "papers": [
            {
                "paper": plan.paper,
                "sheet": _size(plan.demand.sheet),
                "sheets": str(plan.sheets),
                "made": plan.made,
                "layouts": [worked.layouts.index(run.layout) for run in plan.runs],
            }
            for plan in worked.plans
        ],
        "layouts": [_layout(layout) for layout in worked.layouts],
    }


def _of_design(worked: Worked) -> dict[str, Any]:
    """What is each design's own."""
    base = worked.base
    return {
        "base": {"cut": _size(base.cut), "fold": base.fold, "score": _length(base.score), "finished": _size(base.finished)} | _scores(base),
        "fronts": [
            {
                "name": face.name,
                "cards": face.cards,
                "pieces": [[p.label, p.paper, p.face, p.turned, p.raised, *_rect(p.rect), *p.lies[1:]] for p in face.stack],
                "bands": [_rect(b) for b in face.bands],
                "sentiment": _rect(face.sentiment.rect) if face.sentiment else None,
                "spots": [[s.name, *_rect(s.rect)] for s in face.spots],
            }
            | ({"words": [_rect(said.rect) for said in face.words]} if face.words else {})
            | ({"sides": [_side(side) for side in face.sides]} if face.sides else {})
            for face in worked.faces
        ],
        ROOM: _size(worked.enclosed.room) if worked.enclosed.room else None,
    }


def numbers_text(worked: Worked) -> str:
    """The same as JSON text ending in a newline, the same bytes every time."""
    return json.dumps(numbers_of(worked), indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def _side(face: Face) -> list[Any]:
    """What stands on a face besides the one that leads."""
    pieces = [[p.label, p.paper, p.face, p.turned, p.raised, *_rect(p.rect)] for p in face.stack]
    return [face.on, pieces, [_rect(said.rect) for said in face.sentiments], [[s.name, *_rect(s.rect)] for s in face.spots]]


def _scores(base: Base) -> dict[str, Any]:
    """Every score line of a base that has others than the one of a fold in two."""
    return {} if base.halves else {"scores": [[_length(score.at), score.direction] for score in base.scored.scores]}


def _layout(layout: Layout) -> dict[str, Any]:
    return {
        "papers": list(layout.papers),
        "sheet": _size(layout.sheet),
        "cuts": [[c.number, c.axis, _length(c.at), _length(c.measure), c.off] for c in layout.cuts],
        "pieces": [[leaf.label, leaf.turned, *_rect(leaf.rect), *filter(None, [leaf.diagonal])] for leaf in leaves(layout.tree)],
    }


def _length(length: Length) -> str:
    return str(length.inches)


def _size(size: Size) -> list[str]:
    return [_length(size.width), _length(size.height)]


def _rect(rect: Rect) -> list[str]:
    return [_length(rect.x), _length(rect.y), _length(rect.width), _length(rect.height)]
