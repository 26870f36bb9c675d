"""The card front: what lies where, measured on the finished card.

Coordinates are those of the finished front, upright: x right, y down, origin at its top
left corner. This module holds what a worked-out front *is*; `card.layout` works it out.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Literal

from kitwright.card.base import Edge, Point
from kitwright.card.hold import Hold
from kitwright.card.outlines import share_area, within
from kitwright.folding.faces import INSIDE
from kitwright.geometry import Diagonal, Rect
from kitwright.kit.model.front import OrnamentShape
from kitwright.units import Length, Size, total

Form = tuple[tuple[str, tuple[str, ...]], ...]
"""What makes a piece other than a rectangle: `notch`, `rounded`, `snipped`, `arch`, `tag`, `window` or `frame`, each with its ends or corners."""
_DIAGONALS: dict[str, Diagonal] = {"falling": "falling", "rising": "rising"}
SLANTED = frozenset({"triangle", "trapezoid", "parallelogram"})
"""Forms that leave corners of the rectangle around them free, by straight cuts alone."""
BACK_UP = "back up"
"""How it is said that a piece lies with the printed back of its paper up."""


@dataclass(frozen=True, slots=True)
class Placed:
    """One piece of paper on the card front."""

    label: str
    """Label of the piece; `base` for the card base itself."""
    paper: str
    """Key of the paper it is cut from."""
    face: str
    """Which printed face shows: `front` or `back` of the paper."""
    rect: Rect
    """Its bounding rectangle on the finished front; may reach past the edge."""
    turned: bool = False
    """Whether it lies a quarter turn from its own width × height."""
    outline: tuple[Point, ...] = ()
    """Its true outline when it is not a rectangle, on the finished front: one polygon, arcs as chords, openings joined by a slit."""
    raised: bool = False
    """Whether it stands on foam."""
    layer: Literal["base", "layer", "piece", "over"] = "piece"
    """The base, a full layer over it, a piece of the front, or one laid over the pieces."""
    said: tuple[str | int, ...] = ()
    """Where the spec places it: the path of its entry."""
    edges: tuple[tuple[Point, ...], ...] = ()
    """The edges to draw of such an outline, without slits: its own, then those of its openings."""
    form: Form = ()
    """What makes it other than a rectangle; empty for one."""
    upside_down: bool = False
    """Whether it lies half a turn from that."""
    point: str = ""
    """Of a triangle set on its point, where its right angle is: down, left, up or right; empty of any other."""
    hold: Hold | None = None
    """How it is held, where that is more than glue all over or foam."""

    @property
    def lies(self) -> tuple[bool | str, ...]:
        """Whether it is turned, and how it lies besides; no more than the first of most."""
        return self.turned, *(["upside down"] if self.upside_down else []), *([f"point {self.point}"] if self.point else [])

    @property
    def diagonal(self) -> Diagonal | None:
        """Of a triangle, the diagonal of its rectangle as its size is written."""
        return next((_DIAGONALS[ways[0]] for kind, ways in self.form if kind == "triangle"), None)

    @property
    def ring(self) -> tuple[Point, ...]:
        """Its corners where all its edges are straight and none reaches in; those of the rectangle around it otherwise."""
        return self.outline if self.outline and self.slanted else self.rect.corners

    @property
    def slanted(self) -> bool:
        """Whether slanted cuts leave corners of the rectangle around it free, and nothing else is cut out of it."""
        return bool(self.form) and {kind for kind, _ in self.form} <= SLANTED

    def lies_over(self, other: Placed) -> bool:
        """Whether the two share any place; two triangles may lie in one rectangle side by side."""
        return self.covers_some(other.rect) and (not (self.slanted or other.slanted) or share_area(self.ring, other.ring))

    def covers_some(self, rect: Rect) -> bool:
        """Whether it lies on any of a rectangle; not where all of that shows in one of its openings."""
        if not self.rect.overlaps(rect):
            return False
        if any(all(within(opening, corner) for corner in rect.corners) for opening in self.edges[1:]):
            return False
        return not self.slanted or share_area(self.ring, rect.corners)

    def carried(self, rect: Rect, point: Callable[[Point], Point]) -> Placed:
        """The same elsewhere: in another rectangle, every corner of its outline where `point` puts it."""
        edges = tuple(tuple(map(point, ring)) for ring in self.edges)
        return replace(self, rect=rect, outline=tuple(map(point, self.outline)), edges=edges)

    @property
    def back(self) -> str:
        """`back up` where its printed back shows; empty where its front does."""
        return BACK_UP if self.face == "back" else ""


@dataclass(frozen=True, slots=True)
class Sentiment:
    """The printed greeting."""

    text: str
    """Its words."""
    rect: Rect
    """The printed area on the finished front."""
    on: str
    """The label of what it is printed on, or `band`."""
    said: tuple[str | int, ...] = ("sentiment",)
    """Where the spec places it: the path of its entry."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place kept clear for decoration."""

    name: str
    """What goes there."""
    rect: Rect
    """The area kept clear."""
    thickness: Length | None = None
    """How far it stands up, when known."""
    optional: bool = False
    """Whether the card is complete without it."""
    shape: OrnamentShape | None = None
    """What it is, where it is drawn as such."""
    edges: tuple[tuple[Point, ...], ...] = ()
    """The edges of that shape, openings after its own, on the finished front; empty where it has none."""
    colour: str = ""
    """What colour it is drawn in; empty where none is said."""
    said: tuple[str | int, ...] = ()
    """Where the spec places it: the path of its entry; empty where that was not kept."""


@dataclass(frozen=True, slots=True)
class Term:
    """One term of a sum along an edge of the front."""

    name: str
    """`border`, `gap`, `band`, or a label such as `A`."""
    length: Length
    """Its share of the edge."""


@dataclass(frozen=True, slots=True)
class Sum:
    """Terms that must add up to an edge."""

    direction: Literal["across", "along"]
    """`across`: left to right; `along`: top to bottom."""
    on: str
    """Whose edge: the label of the layer that the pieces lie on."""
    terms: tuple[Term, ...]
    """In order from the left or the top."""
    target: Length
    """What they must add up to."""
    said: tuple[str | int, ...] = field(default=("front",), compare=False)
    """Where the spec lays out what is added up: the path of its block."""

    @property
    def reached(self) -> Length:
        """What they do add up to."""
        return total(term.length for term in self.terms)

    @property
    def holds(self) -> bool:
        return self.reached == self.target


Inward = Literal["top", "bottom", "left", "right", "over"]


@dataclass(frozen=True, slots=True)
class FieldEdge:
    """An edge of the layer that the pieces lie on."""

    side: Literal["top", "bottom", "left", "right"]
    of: str
    """The label of that layer; the name of the face, where that is not the one that leads and nothing covers it."""


@dataclass(frozen=True, slots=True)
class Setting:
    """One move while building a front."""

    placed: Placed
    """What is set down."""
    against: Placed | FieldEdge
    """What to measure from, up or down: a piece set before, or an edge."""
    distance: Length
    """How far from it."""
    beside: Placed | FieldEdge
    """The same, sideways."""
    aside: Length
    """How far from that."""
    inward: Inward
    """From which edge of the front this piece is reached; `over` for one laid on last."""


@dataclass(frozen=True, slots=True)
class Face:
    """A worked-out card front."""

    size: Size
    """The finished front."""
    fold: str
    """What the fold of its card is called: `side`, `top`, `gate` …"""
    layers: tuple[Placed, ...]
    """The base and the full layers on it, lowest first."""
    field: Rect
    """What the pieces are laid out on: the topmost layer, on the finished front."""
    pieces: tuple[Placed, ...]
    """The pieces of the front, in reading order."""
    over: tuple[Placed, ...]
    """Pieces laid over those, lowest first."""
    bands: tuple[Rect, ...]
    """Free bands, top to bottom."""
    sums: tuple[Sum, ...]
    """The sums that show how it adds up."""
    border: Length | None
    """The border asked for, if any."""
    gap: Length | None
    """The gap asked for, if any."""
    sentiment: Sentiment | None = None
    spots: tuple[Spot, ...] = ()
    settings: tuple[Setting, ...] = ()
    """A placing order that works from the edges inward."""
    name: str = ""
    """Which look of the batch this is, when there are several."""
    cards: int = 0
    """How many cards of the batch look like this."""
    on: str = ""
    """Which face of the card this is, by its name; empty for the one that leads."""
    words: tuple[Sentiment, ...] = ()
    """Further sentiments on it."""
    sides: tuple[Face, ...] = ()
    """The other faces on which anything stands, in this look; only of the face that leads."""
    creased: tuple[Edge, ...] = ()
    """The edges at which the base is folded, where they are not the one that a side or top fold makes."""

    @property
    def sentiments(self) -> tuple[Sentiment, ...]:
        """All that is stamped or printed on it."""
        return ((self.sentiment,) if self.sentiment else ()) + self.words

    @property
    def every(self) -> tuple[Face, ...]:
        """Itself and the other faces on which anything stands; of the one that leads."""
        return (self, *self.sides)

    @property
    def stack(self) -> tuple[Placed, ...]:
        """Everything of paper, lowest first."""
        return self.layers + self.pieces + self.over

    @property
    def hinges(self) -> tuple[Edge, ...]:
        """The edges at which the base is folded."""
        return self.creased or _HINGE.get(self.fold, ())


_HINGE: dict[str, tuple[Edge, ...]] = {"side": ("left",), "top": ("top",)}
"""The one edge of a front that a fold in two makes."""


def lying_with(face: Face, placed: Placed) -> tuple[Placed, ...]:
    """Everything of the face, of the one that leads or of its sides, that a piece lies on, lowest first."""
    return next((side.stack for side in face.every if placed in side.stack), (placed,))


def everything(face: Face, inside: Placed | None) -> tuple[tuple[str, Placed], ...]:
    """Every piece of paper on a card, each with the name of its face, empty for the one that leads; the base apart.

    Args:
        face: the one that leads, with its sides.
        inside: the piece that lies inside, on the back panel, where there is one.
    """
    found = [(side.on, placed) for side in face.every for placed in side.stack if placed.layer != "base"]
    if inside and all(placed.said != inside.said for _, placed in found):
        found.append((INSIDE, inside))
    return tuple(found)
