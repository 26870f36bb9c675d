"""What lies in the envelope: the closed card with everything on it, its room, its thickness, its mass.

Whoever tells any of these reads them here. The frame is that of the closed card seen from
the front: x right, y down, origin at the top left corner, where the fold is. Behind the
front lies the back panel, from the same corner; a panel inside lies on the back, so that it
faces whoever opens the card.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from kitwright.card.band import USUAL_OVERLAP, Band
from kitwright.card.base import Base, Point
from kitwright.card.face import Face, Placed, everything
from kitwright.card.layout import inside_of
from kitwright.card.liner import liners_of
from kitwright.card.post import ENVELOPE, FOAM, GRAM_PER_SQUARE_INCH, Parcel, Stock, parcel, thickest
from kitwright.folding.faces import INSIDE
from kitwright.geometry import Rect
from kitwright.kit.kit import Kit
from kitwright.materials import Range
from kitwright.units import ZERO, Length, Size

Side = Literal["left", "right", "top", "bottom"]


@dataclass(frozen=True, slots=True)
class Reach:
    """Something that sticks out past the folded card."""

    name: str
    """The label of a piece, or what a decoration is called."""
    said: tuple[str | int, ...]
    """Where the spec places it: the path of its entry."""
    side: Side
    """Past which edge."""
    by: Length
    """How far."""


@dataclass(frozen=True, slots=True)
class Wrapped:
    """A belly band round the closed card, or round some that lie on one another."""

    label: str
    height: Length
    """How wide the strip is."""
    band: Band
    """Its length, and where it is scored."""
    stack: int
    """Round how many cards."""

    @property
    def cut(self) -> Size:
        """The strip to cut."""
        return Size(self.band.length, self.height)

    @property
    def score_lines(self) -> tuple[tuple[Point, Point], ...]:
        """Both ends of each score line, on the strip as it is cut."""
        return tuple(((at, ZERO), (at, self.height)) for at in self.band.scores)


@dataclass(frozen=True, slots=True)
class Enclosed:
    """The closed card in its envelope; it holds for every look of the batch."""

    folded: Size
    """The folded card alone: the larger of its two panels."""
    outline: Rect
    """The rectangle around everything, whatever overhangs included."""
    reaches: tuple[Reach, ...]
    """Whatever sticks out past the folded card, furthest first."""
    inside: Placed | None
    """The panel inside, where it lies on the back."""
    envelope: Size | None
    parcel: Parcel | None
    """Thickness and mass, sealed; None without an envelope."""
    bands: tuple[Wrapped, ...] = ()
    """Belly bands, which go round it before it goes into its envelope."""

    @property
    def size(self) -> Size:
        """Everything, across and along; what has to enter the envelope."""
        return self.outline.size

    @property
    def overhangs(self) -> bool:
        """Whether anything makes it larger than the folded card."""
        return self.size != self.folded

    @property
    def room(self) -> Size | None:
        """Room in the envelope, across and along the card as it lies; below zero where it is too large. None without an envelope."""
        return clearance(self.size, self.envelope) if self.envelope else None

    @property
    def enters(self) -> bool | None:
        """Whether it goes into its envelope; None without one."""
        return goes_in(self.size, self.envelope) if self.envelope else None


def clearance(card: Size, envelope: Size) -> Size:
    """Room beside a card in an envelope, lying whichever way it fits better."""

    def room(e: Size) -> Size:
        return Size(e.width - card.width, e.height - card.height)

    return max((room(envelope), room(envelope.turned)), key=lambda s: min(s.width, s.height))


def goes_in(card: Size, envelope: Size) -> bool:
    """Whether a card enters an envelope; one of its very size does not."""
    room = clearance(card, envelope)
    return room.width > ZERO and room.height > ZERO


def enclosed_of(kit: Kit, base: Base, faces: tuple[Face, ...]) -> Enclosed:
    """Everything that lies in the envelope.

    Args:
        kit: what the spec says.
        base: the card base.
        faces: every look of the batch.
    """
    inside, card = inside_of(kit, base), Rect.of(base.finished)
    lying = [(p.label, p.said, _shut(p.rect, on, base)) for face in faces for on, p in everything(face, inside)]
    lying += [
        (s.name, s.said or ("decorations", i), _shut(s.rect, side.on, base))
        for face in faces
        for side in face.every
        for i, s in enumerate(side.spots)
    ]
    reaches = dict.fromkeys(Reach(name, said, side, by) for name, said, rect in lying for side, by in past(card, rect).items())
    envelope = kit.spec.card.envelope
    found = Enclosed(
        folded=base.finished,
        outline=around([card, *(rect for _, _, rect in lying)]),
        reaches=tuple(sorted(reaches, key=lambda r: r.by, reverse=True)),
        inside=inside,
        envelope=envelope.size if envelope else None,
        parcel=_sealed(kit, base, faces, inside, envelope.size) if envelope else None,
    )
    return _wrapped(kit, base, faces, found) if any(piece.band for piece in kit.spec.pieces.values()) else found


def _shut(rect: Rect, on: str, base: Base) -> Rect:
    """Where something lies once the card is closed, on the closed card seen from its front."""
    if on == INSIDE and base.halves:
        return _creased(rect, base)
    return base.closed_at(on or base.leading, rect) if base.faces else rect


def _creased(rect: Rect, base: Base) -> Rect:
    """Where a panel lies once the card is closed: what reached past the fold comes round with the front."""
    if base.runs == "down" and rect.x < ZERO:
        return Rect(ZERO, rect.y, max(rect.right, -rect.x), rect.height)
    if base.runs == "across" and rect.y < ZERO:
        return Rect(rect.x, ZERO, rect.width, max(rect.bottom, -rect.y))
    return rect


def past(outer: Rect, inner: Rect) -> dict[Side, Length]:
    """How far a rectangle reaches past the edges of another; only where it does."""
    by: dict[Side, Length] = {
        "left": outer.x - inner.x,
        "right": inner.right - outer.right,
        "top": outer.y - inner.y,
        "bottom": inner.bottom - outer.bottom,
    }
    return {side: length for side, length in by.items() if length > ZERO}


def furthest(outer: Rect, inner: Rect) -> tuple[Side, Length]:
    """Past which edge a rectangle reaches furthest, and how far; it has to reach past one."""
    return max(past(outer, inner).items(), key=lambda p: p[1])


def around(rects: list[Rect]) -> Rect:
    """The rectangle around others."""
    x, y = min(r.x for r in rects), min(r.y for r in rects)
    return Rect(x, y, max(r.right for r in rects) - x, max(r.bottom for r in rects) - y)


# --- thickness and mass ---------------------------------------------------------------------------


def stocks_of(kit: Kit) -> dict[str, Stock]:
    """Every paper of a kit as the post feels it."""
    return {
        key: Stock.of(paper.weight.grammage if paper.weight else None, paper.thickness, paper.material) for key, paper in kit.papers.items()
    }


def lined(card: Parcel, kit: Kit, stocks: Mapping[str, Stock]) -> Parcel:
    """The same card in its envelope with a liner: at most one layer of it on each side, since it folds over with the flap."""
    thick, mass = card.thickness, card.mass
    for label, liner in liners_of(kit).items():
        if not liner.lines(card.envelope):
            continue
        papers = [stocks[paper] for paper in kit.spec.pieces[label].share]
        each = [paper.grammage * (liner.size.area * GRAM_PER_SQUARE_INCH) for paper in papers]
        mass = mass + Range(min(m.low for m in each), max(m.high for m in each))
        thick = thick + Range(min(p.calliper.low for p in papers), max(p.calliper.high for p in papers) * 2)
    return replace(card, thickness=thick, mass=mass)


def foam_of(kit: Kit) -> Range:
    """Millimetres that foam raises a layer of this kit."""
    return Range.exact(kit.spec.card.foam.millimetres) if kit.spec.card.foam else FOAM


def closed_card(base: Base, face: Face, inside: Placed | None) -> Face:
    """Everything of a card where it lies once it is closed, panels and what stands on all of them, as if it were one front."""
    first, *others = base.closed_panels() or (Rect.of(base.front), Rect.of(base.back))
    stock = replace(face.layers[0], rect=first, outline=(), edges=())
    panels = tuple(replace(stock, rect=rect) for rect in others)
    on_faces = tuple(shut_down(placed, on, base) for on, placed in everything(face, inside))
    spots = tuple(replace(spot, rect=_shut(spot.rect, side.on, base)) for side in face.every for spot in side.spots)
    return replace(face, layers=(stock,), pieces=panels + on_faces, over=(), spots=spots, sides=())


def shut_in(base: Base, face: Face, inside: Placed | None, score: int) -> Face:
    """Whatever lies between the two panels of a fold once the card is closed, panels and what stands on them, as if it were one front.

    Args:
        base: one that can be folded.
        face: what stands on the card, by the face that leads.
        inside: the piece that lies inside, on the back panel, where there is one.
        score: which of the score lines, in folding order.
    """
    shut, scored = base.closed, base.scored
    assert shut is not None, "only a base that can be folded has folds"
    between, rects = shut.between(score), base.closed_panels()
    beside, inner = scored.beside(scored.scores[score]), scored.inside_of(scored.scores[score])
    held = {(scored.panels[i], side) for i in between for side in ("outside", "inside")} | {(scored.panels[i], inner) for i in beside}

    def lies_in(on: str) -> bool:
        return any((part.panel, part.side) in held for part in base.faces[on or base.leading].parts)

    panels = tuple(replace(face.layers[0], rect=rects[i], outline=(), edges=()) for i in between)
    pieces = tuple(shut_down(placed, on, base) for on, placed in everything(face, inside) if lies_in(on))
    spots = tuple(replace(spot, rect=_shut(spot.rect, side.on, base)) for side in face.every for spot in side.spots if lies_in(side.on))
    return replace(face, layers=(), pieces=panels + pieces, over=(), spots=spots, sides=())


def shut_down(placed: Placed, on: str, base: Base) -> Placed:
    """A piece where it lies once the card is closed; `on`: the name of its face, empty for the one that leads."""
    if on == INSIDE and base.halves:
        return placed

    def point(at: Point) -> Point:
        there = _shut(Rect(*at, ZERO, ZERO), on, base)
        return there.x, there.y

    return placed.carried(_shut(placed.rect, on, base), point)


def _sealed(kit: Kit, base: Base, faces: tuple[Face, ...], inside: Placed | None, envelope: Size) -> Parcel:
    """Bounds that hold for every look of the batch."""
    wrap = Range.exact(kit.spec.card.envelope_weight.grammage) if kit.spec.card.envelope_weight else ENVELOPE
    stocks = stocks_of(kit)

    def sealed(face: Face) -> Parcel:
        shut = closed_card(base, face, inside)
        return lined(parcel(base, shut, stocks, None, envelope, foam=foam_of(kit), envelope_grammage=wrap), kit, stocks)

    each = [sealed(face) for face in faces]

    return replace(
        each[0],
        thickness=_bounds([p.thickness for p in each]),
        mass=_bounds([p.mass for p in each]),
        lumpy=any(p.lumpy for p in each),
        decorated=any(p.decorated for p in each),
        stiff=any(p.stiff for p in each),
    )


# --- belly bands ------------------------------------------------------------------------------------


def _wrapped(kit: Kit, base: Base, faces: tuple[Face, ...], found: Enclosed) -> Enclosed:
    """The same with its bands: as long as its size and thickness ask for, and on the scales with it."""
    stocks = stocks_of(kit)
    thick = max(thickest(closed_card(base, face, found.inside), stocks, foam_of(kit)).high for face in faces)
    bands, parcel = [], found.parcel
    for label, piece in kit.spec.pieces.items():
        said, unit = piece.band, kit.spec.unit
        if said is None:
            continue
        own = [stocks[paper] for paper in piece.share]
        band = Band(
            width=found.size.width if said.round == "width" else found.size.height,
            thick=Length.mm(thick * said.stack),
            own=Length.mm(max(stock.calliper.high for stock in own)),
            overlap=said.overlap or USUAL_OVERLAP[unit],
            unit=unit,
        )
        bands.append(Wrapped(label, said.height, band, said.stack))
        if parcel and said.stack == 1:
            # Once in front, and behind twice where it laps.
            lies, weighs = _bounds([stock.calliper for stock in own]), _bounds([stock.grammage for stock in own])
            area = bands[-1].cut.area * GRAM_PER_SQUARE_INCH
            parcel = replace(parcel, thickness=parcel.thickness + lies * Fraction(3), mass=parcel.mass + weighs * area)
    return replace(found, bands=tuple(bands), parcel=parcel)


def _bounds(ranges: list[Range]) -> Range:
    return Range(min(r.low for r in ranges), max(r.high for r in ranges))
