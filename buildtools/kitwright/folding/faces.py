"""The faces of a folded card, by the names that they are called by, and what of them is one to its reader.

Every panel has two: its outside goes by the panel's own name, its inside by `inside` and that
name. Three go by a plain word besides: `inside`, what lies before the reader of the open card;
`back`, what is seen of the closed one from behind; `doors`, the outsides of panels that make up
the front of the closed card together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

from kitwright.folding.closed import Closed
from kitwright.folding.closing import closed
from kitwright.folding.scored import Score, Scored, Side
from kitwright.units import ZERO, Length

INSIDE: Literal["inside"] = "inside"
BACK, DOORS = "back", "doors"
End = Literal["start", "end"]


@dataclass(frozen=True, slots=True)
class Part:
    """One face of one panel, as a part of what its reader sees as one."""

    panel: str
    side: Side
    start: Length
    """Where it begins along the whole, from its left or its top."""
    length: Length


@dataclass(frozen=True, slots=True)
class CardFace:
    """Something a design may stand on: a face of a panel, or doors together."""

    name: str
    """As it is typed."""
    parts: tuple[Part, ...]
    length: Length
    """Along the side that the score lines part."""
    creases: tuple[End, ...]
    """Its ends at which the base is folded."""
    closes: tuple[tuple[End, str], ...] = ()
    """Those of them where the fold lays it on its neighbour, each with the name of that panel: it lies inside the fold there."""

    @property
    def valleys(self) -> tuple[End, ...]:
        """The ends at which it lies inside a fold."""
        return tuple(end for end, _ in self.closes)

    def faced(self, end: End) -> tuple[str, Side]:
        """The face that such a fold lays on it: the panel, and its side."""
        return dict(self.closes)[end], self.parts[0].side


def doors_of(closed: Closed) -> tuple[str, ...]:
    """Panels whose outsides make up the front of the closed card together, the back apart; none where one panel does.

    A flap that shows a little beside the front which lies on it is no door: of a door half is seen at least.
    """
    seen: dict[str, Length] = {}
    for start, end, panel, side in closed.seen():
        if side == "outside" and panel != closed.base.back:
            seen[panel] = seen.get(panel, ZERO) + end - start
    found = tuple(panel for panel, length in seen.items() if length * 2 >= _length(closed, panel))
    return found if len(found) > 1 else ()


def leading(closed: Closed) -> str:
    """The face that the closed card is looked at by: its doors, or its front, whose inside it is where that is folded back over."""
    if doors_of(closed):
        return DOORS
    return f"{INSIDE} {closed.base.front}" if closed.leading_side == INSIDE else closed.base.front


def faces_of(closed: Closed) -> dict[str, CardFace]:
    """Every face of a card by each of its names, the leading one first."""
    base, found = closed.base, {}
    doors = doors_of(closed)
    if doors:
        spans = {panel: closed.on_closed(panel, "outside", ZERO, _length(closed, panel)) for panel in doors}
        first = min(start for start, _ in spans.values())
        parts = tuple(Part(panel, "outside", start - first, end - start) for panel, (start, end) in spans.items())
        last = max(part.start + part.length for part in parts)
        ends = tuple(end for part in parts for end in _creases(closed, part.panel, "outside") if _outer(part, end, last))
        found[DOORS] = CardFace(DOORS, parts, last, ends)
    for panel in (base.front, *(p for p in base.panels if p != base.front)):
        found[panel] = _one(closed, panel, panel, "outside")
        found[f"{INSIDE} {panel}"] = _one(closed, f"{INSIDE} {panel}", panel, INSIDE)
    front = leading(closed)
    found = {front: found[front], **found}
    behind = _behind(closed)
    if behind != (base.back, INSIDE):
        found[INSIDE] = _one(closed, INSIDE, base.back, INSIDE)
    if BACK not in found and behind:
        found[BACK] = _one(closed, BACK, *behind)
    return found


# --- of a base, worked out once: a card is asked for its faces wherever something lies on it ------------


@lru_cache(maxsize=512)
def closed_of(base: Scored) -> Closed | None:
    """How a base lies closed; None where a score line lies outside it, or can't be folded."""
    found = None if base.misplaced() else closed(base)
    return found if isinstance(found, Closed) else None


@lru_cache(maxsize=512)
def known_faces(base: Scored) -> Mapping[str, CardFace]:
    """Every face that a design may stand on, by each of its names, the leading one first; none of a base that can't be folded."""
    shut = closed_of(base)
    return MappingProxyType(faces_of(shut) if shut else {})


@lru_cache(maxsize=512)
def leads(base: Scored) -> str:
    """The face that its closed card is looked at by; its front panel where it can't be folded."""
    shut = closed_of(base)
    return leading(shut) if shut else base.front


def _outer(part: Part, end: End, last: Length) -> bool:
    return part.start == ZERO if end == "start" else part.start + part.length == last


def _behind(closed: Closed) -> tuple[str, Side] | None:
    """The face of the back panel that is seen from behind, if it is."""
    back = closed.base.back
    sides: tuple[Side, ...] = ("outside", "inside")
    for cell in closed.cells:
        lowest = cell.panels[0]
        if closed.base.panels[lowest] == back:
            return back, next(side for side in sides if side == closed.base.shown(not closed.lying[lowest].turned))
    return None


def _one(closed: Closed, name: str, panel: str, side: Side) -> CardFace:
    length = _length(closed, panel)
    return CardFace(name, (Part(panel, side, ZERO, length),), length, _creases(closed, panel, side), _closes(closed, panel, side))


def _length(closed: Closed, panel: str) -> Length:
    first, last = closed.base.span(panel)
    return last - first


def _creases(closed: Closed, panel: str, side: Side) -> tuple[End, ...]:
    """At which ends of a face, as it is read, the base is folded."""
    return tuple(end for end, _ in _folded(closed, panel, side))


def _folded(closed: Closed, panel: str, side: Side) -> list[tuple[End, Score]]:
    """The same, with the score line of each."""
    scores = {score.at: score for score in closed.base.scores}
    ends: tuple[tuple[End, Length], ...] = (("start", ZERO), ("end", _length(closed, panel)))
    flat = [(end, closed.on_flat(panel, side, at, at)[0]) for end, at in ends]
    return [(end, scores[at]) for end, at in flat if at in scores]


def _closes(closed: Closed, panel: str, side: Side) -> tuple[tuple[End, str], ...]:
    """At which of them a face lies inside the fold, and what is laid on it."""
    base, found = closed.base, []
    for end, score in _folded(closed, panel, side):
        if base.inside_of(score) == side:
            found.append((end, next(base.panels[i] for i in base.beside(score) if base.panels[i] != panel)))
    return tuple(found)
