"""Work out the card front from the rules in the spec.

Rows are read from the top, columns from the left; a block inside a block runs the other
way. The free band takes what the pieces, gaps and borders leave. Nothing is judged here:
sums that do not hold are reported by `check`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Literal

from kitwright.card.base import HALVES, OWN, Base, Edge
from kitwright.card.face import Face, Placed, Sentiment, Spot, Sum, Term
from kitwright.card.fixing import hold_of, plain_hold
from kitwright.card.hold import Hold
from kitwright.card.order import settings
from kitwright.card.ornaments import ornament
from kitwright.card.pinwheel import around
from kitwright.card.shapes import clear_of_notches, form_of, lying_size, notches_on_card, on_card
from kitwright.folding.faces import INSIDE
from kitwright.geometry import Rect
from kitwright.kit.faces import decorations, greetings, layers_on
from kitwright.kit.folds import scored_of
from kitwright.kit.kit import Kit
from kitwright.kit.model import At, Decoration, FaceSpec, Front, Item, Laid, Look, Lying, SentimentSpec
from kitwright.kit.names import Path, front_items, inner_path, laid_items, paper_of
from kitwright.labels import PINWHEEL, is_base
from kitwright.units import SIXTEENTH, ZERO, Length, Size, total

Rows = "rows"
Columns = "columns"


def base_of(kit: Kit) -> Base:
    """The card base, cut and folded; scored where its fold usually is unless said."""
    card = kit.spec.card
    lines, name = scored_of(card, kit.spec.unit), card.fold if isinstance(card.fold, str) else OWN
    first = lines.scores[0].at if lines.scores else ZERO
    return Base(card.base.size, name, first, None if name in HALVES else lines)


def faces_of(kit: Kit) -> tuple[Face, ...]:
    """The card front with whatever stands on its other faces, once for each look in the batch."""
    looks = kit.spec.front.looks
    first = _card(kit)
    if not looks:
        return (replace(first, cards=kit.spec.cards, sides=tuple(replace(side, cards=kit.spec.cards) for side in first.sides)),)
    return tuple(_swapped(first, look) for look in looks)


def _swapped(face: Face, look: Look) -> Face:
    def swap(placed: Placed) -> Placed:
        return replace(placed, paper=look.swap.get(placed.paper, placed.paper))

    return replace(
        face,
        name=look.name,
        cards=look.cards,
        pieces=tuple(map(swap, face.pieces)),
        over=tuple(map(swap, face.over)),
        settings=tuple(replace(s, placed=swap(s.placed)) for s in face.settings),
        sides=tuple(_swapped(side, look) for side in face.sides),
    )


def _card(kit: Kit) -> Face:
    """The front, and the other faces that anything stands on, with the words and the decoration of each."""
    base = base_of(kit)
    front, *sides = _front(kit, base), *(_side(kit, base, name) for name in _sides(kit, base))
    words = [(said, path, _home(said.on, (front, *sides), base)) for said, path in greetings(kit.spec)]
    spots = [(said, path, _home(said.on, (front, *sides), base)) for said, path in decorations(kit.spec)]

    def furnished(face: Face) -> Face:
        own = tuple(_sentiment(kit, face, base, said, path) for said, path, home in words if home == face.on)
        kept = tuple(_spot(face, base, said, path) for said, path, home in spots if home == face.on)
        face = replace(face, sentiment=own[0] if own else None, words=own[1:], spots=kept)
        return replace(face, settings=settings(face))

    return replace(furnished(front), sides=tuple(map(furnished, sides)))


def _front(kit: Kit, base: Base) -> Face:
    """The face that leads; where that is doors together, with what stands on each of them."""
    work = _Work(kit, kit.spec.front, ("front",), Rect.of(base.front), panels=base.panels_on(base.leading))
    for part in base.doors:
        if part.panel in kit.spec.faces:
            door = _Work(kit, kit.spec.faces[part.panel], ("faces", part.panel), base.part_at(part), part.panel)
            door.lay()
            # What lies on a door is no layer of both, however full.
            work.take(door, tuple(replace(layer, layer="piece") for layer in door.layers[1:]))
    work.lay()
    if base.doors:
        work.layers = (_parted(work.layers[0], [base.part_at(part) for part in base.doors]), *work.layers[1:])
    creased = () if base.halves or not base.faces else base.hinges(base.leading)
    return work.face("", base.front, base.fold, creased)


def _parted(base: Placed, doors: Sequence[Rect]) -> Placed:
    """The base under doors together, with the edges of each."""
    return replace(base, outline=base.rect.corners, edges=tuple(door.corners for door in doors))


def _side(kit: Kit, base: Base, name: str) -> Face:
    """Another face, as it is read."""
    size = base.face_size(name)
    work = _Work(kit, kit.spec.faces.get(name, FaceSpec()), ("faces", name), Rect.of(size), name)
    opened = base.faces.get(INSIDE)
    inside = inside_of(kit, base) if opened and opened.parts == base.faces[name].parts else None
    work.lay((inside,) if inside else ())
    return work.face(name, size, base.fold, base.hinges(name))


def inside_of(kit: Kit, base: Base) -> Placed | None:
    """The piece that lies inside, on the back panel; in the middle of it unless said."""
    said = kit.spec.card.inside
    if said is None:
        return None
    piece = kit.spec.pieces[said.piece]
    rect = position(piece.size, said, Rect.of(base.back))
    shape = on_card(piece, rect, False)
    outline, edges = (shape.one_polygon(), shape.rounded_off()) if shape else ((), ())
    return Placed(
        label=said.piece,
        paper=said.paper or next(iter(piece.share)),
        face="front",
        rect=rect,
        turned=False,
        outline=outline,
        raised=said.held == "foam",
        layer="layer",
        said=("card", "inside"),
        edges=edges,
        hold=plain_hold(said.held),
    )


def _sides(kit: Kit, base: Base) -> list[str]:
    """Names of the faces besides the leading one on which anything stands."""
    known, doors = base.faces, [part.panel for part in base.doors]
    stands = [*(said.on for said, _ in greetings(kit.spec)), *(said.on for said, _ in decorations(kit.spec))]
    inside = kit.spec.card.inside
    elsewhere = {item.piece for item, _ in front_items(kit)} | {laid.piece for laid, _ in laid_items(kit)}
    if inside and inside.piece in stands and inside.piece not in elsewhere:
        # What stands on the panel inside stands on that face.
        stands.append(INSIDE)
    found: list[str] = []
    for name in (*kit.spec.faces, *stands):
        if name in known and name not in (base.leading, *doors) and all(known[name].parts != known[other].parts for other in found):
            found.append(name)
    return found


def _home(on: str, faces: Sequence[Face], base: Base) -> str:
    """On which face something stands, by what it lies on; on the leading one where nothing tells."""
    if on in base.faces:
        parts = base.faces[on].parts
        return next((face.on for face in faces if face.on and base.faces[face.on].parts == parts), "")
    for face in faces:
        if on == PINWHEEL and any(PINWHEEL in placed.said for placed in face.pieces):
            return face.on
        if on == "band" and face.bands or any(placed.label == on for placed in face.stack if placed.layer != "base"):
            return face.on
    return ""


def standing_on(on: str, face: Face, base: Base) -> Rect:
    """Where what words or a decoration stand on is, on their face; the name of a face stands for all of it, that of a door for the door."""
    door = next((part for part in base.doors if part.panel == on), None) if not face.on else None
    if door:
        return base.part_at(door)
    return target_rect("front" if on in base.faces else on, face.field, face.layers, face.pieces + face.over, face.bands)


def _sentiment(kit: Kit, face: Face, base: Base, said: SentimentSpec, path: Path) -> Sentiment:
    rect = standing_on(said.on, face, base)
    strip = next((p for p in face.over + face.pieces if p.label == said.on), None)
    clear = clear_of_notches(rect, notches_on_card(kit.spec.pieces[strip.label], strip.turned, strip.upside_down)) if strip else rect
    x, y = clear.x + (clear.width - said.size.width) / 2, clear.y + (clear.height - said.size.height) / 2
    inset = said.inset if said.inset is not None else _DEFAULT_INSET
    if said.across != "centre":
        x = clear.x + inset if said.across == "left" else clear.right - inset - said.size.width
    if said.along != "centre":
        y = clear.y + inset if said.along == "top" else clear.bottom - inset - said.size.height
    return Sentiment(said.text, Rect(x, y, said.size.width, said.size.height), said.on, path)


def _spot(face: Face, base: Base, said: Decoration, path: Path) -> Spot:
    rect = position(said.size, said, standing_on(said.on, face, base))
    edges = ornament(said.shape, rect).rounded_off() if said.shape else ()
    return Spot(said.name, rect, said.thickness, said.optional, said.shape, edges, said.colour or "", path)


@dataclass(frozen=True)
class _Margins:
    """Named terms before and after a block's own, so that a sum runs from edge to edge."""

    along: tuple[Term, ...] = ()
    """The border at each end down the block's field."""
    across: tuple[Term, ...] = ()

    def of(self, direction: str) -> tuple[Term, ...]:
        return self.along if direction == Rows else self.across


@dataclass
class _Work:
    """One face while it is laid out."""

    kit: Kit
    said: Front
    """What stands on it."""
    path: Path
    """Where the spec says so."""
    area: Rect
    """The face itself, or the door of one."""
    called: str = ""
    """What its edges are called in sums where nothing lies on the base, if not by the base."""
    panels: dict[str, Rect] = field(default_factory=dict)
    """Where the panels of that face are."""
    layers: tuple[Placed, ...] = ()
    pieces: list[Placed] = field(default_factory=list)
    over: list[Placed] = field(default_factory=list)
    bands: list[Rect] = field(default_factory=list)
    sums: list[Sum] = field(default_factory=list)

    @property
    def ground(self) -> Rect:
        """What the pieces are laid out on."""
        return next(layer for layer in self.layers if layer.label == self.on).rect

    @property
    def on(self) -> str:
        """The label of that layer."""
        return self.kit.base if is_base(self.said.on) else self.said.on or self.layers[-1].label

    def lay(self, under: tuple[Placed, ...] = ()) -> None:
        """Lay everything down; `under`: full layers that lie there already."""
        said = self.said
        self.layers = self._layers(under)
        ground, border = self.ground, said.border
        on = self.called if self.called and is_base(self.on) else self.on
        items, direction = (said.columns, Columns) if said.columns is not None else (said.rows or [], Rows)
        if items:
            edge = (Term("border", border),) if border else ()
            self._block(items, ground.inset(border or ZERO), direction, said.gap or ZERO, _Margins(edge, edge), on, (*self.path, direction))
        for i, laid in enumerate(said.places):
            self.pieces.append(self._laid(laid, ground, self.layers, "piece", (*self.path, "places", i)))
        if not items and said.places:
            self._measured_sums(ground, on)
        over: list[Placed] = self.over
        for i, laid in enumerate(said.over):
            self._lay_over(over, laid, ground, self.layers, (*self.path, "over", i))

    def take(self, other: _Work, layers: tuple[Placed, ...]) -> None:
        """What was laid out on a part of this face, and the layers there."""
        self.pieces += (*layers, *other.pieces)
        self.over += other.over
        self.bands += other.bands
        self.sums += [line for line in other.sums if line not in self.sums]

    def face(self, name: str, size: Size, fold: str, creased: tuple[Edge, ...]) -> Face:
        """The face as it was laid out."""
        return Face(
            size=size,
            fold=fold,
            layers=self.layers,
            field=self.ground,
            pieces=tuple(self.pieces),
            over=tuple(self.over),
            bands=tuple(self.bands),
            sums=tuple(self.sums),
            border=self.said.border,
            gap=self.said.gap,
            cards=self.kit.spec.cards,
            creased=creased,
            on=name,
        )

    # Layers

    def _layers(self, under: tuple[Placed, ...]) -> tuple[Placed, ...]:
        said, path = layers_on(self.kit.spec, self.path)
        found = [Placed(self.kit.base, self.kit.spec.card.base.paper, "front", self.area, layer="base"), *under]
        for i, layer in enumerate(said):
            paper = paper_of(self.kit, layer.piece, layer.paper, self.kit.place(*path, i))
            rect = position(self.kit.spec.pieces[layer.piece].size, layer, found[-1].rect)
            placed = self._placed(layer.piece, paper, "front", rect, FLAT, layer.held == "foam", "layer", (*path, i))
            found.append(replace(placed, hold=plain_hold(layer.held)))
        return tuple(found)

    # Rows and columns

    def _block(self, items: list[Item], rect: Rect, direction: str, gap: Length, margins: _Margins, on: str, path: Path) -> None:
        along = rect.height if direction == Rows else rect.width
        lengths = [self._natural(item, direction, direction) for item in items]
        gaps = gap * (len(items) - 1)
        free = along - total(lengths) - gaps
        bands = [i for i, item in enumerate(items) if item.band == "free"]
        if bands and free > ZERO:
            lengths = [n + free / len(bands) if i in bands else n for i, n in enumerate(lengths)]
        # A length that is no fraction never fills a row to the end: a hair goes into its gaps, more stands at both ends of it, evenly.
        loose = free if not bands and free > ZERO and any(item.point for item in items) else ZERO
        spread = loose / (len(items) - 1) if gap and len(items) > 1 and loose.inches < SIXTEENTH else ZERO
        over = ZERO if spread else loose / 2
        ends = [Term("free", over)] if over else []
        terms: list[Term] = list(ends)
        at = (rect.y if direction == Rows else rect.x) + over
        for i, (item, length) in enumerate(zip(items, lengths)):
            if i and gap:
                terms.append(Term("gap", gap + spread))
            terms.append(Term(self._name(item), length))
            cell = Rect(rect.x, at, rect.width, length) if direction == Rows else Rect(at, rect.y, length, rect.height)
            self._cell(item, cell, direction, gap, margins, on, (*path, i))
            at += length + gap + spread
        edge = margins.of(direction)
        target = along + total(t.length for t in edge) * 2
        self._add_sum(Sum("along" if direction == Rows else "across", on, (*edge, *terms, *ends, *edge), target))

    def _cell(self, item: Item, cell: Rect, direction: str, gap: Length, margins: _Margins, on: str, path: Path) -> None:
        other = Columns if direction == Rows else Rows
        if item.band is not None:
            self.bands.append(cell)
        elif item.inside is not None:
            inner_gap = gap if item.gap is None else item.gap
            inner = _Margins(margins.along if other == Rows else (), margins.across if other == Columns else ())
            self._block(item.inside, cell, other, inner_gap, inner, on, inner_path(self.kit, path))
        elif item.piece is not None:
            size = lying_size(self.kit.spec.pieces[item.piece], item.turned, item.point)
            rect = _in_cell(size, cell, direction, item.place)
            paper = paper_of(self.kit, item.piece, item.paper, self.kit.place(*path))
            placed = self._placed(item.piece, paper, item.face, rect, item, item.fixing == "foam", "piece", path)
            self.pieces.append(replace(placed, hold=plain_hold(item.fixing)))
            self._cross_sum(item.piece, item.place, size, cell, direction, margins, on)
        elif item.pinwheel is not None:
            size = self._round(item.pinwheel)
            self._pinwheel(item.pinwheel, _in_cell(size, cell, direction, item.place), (*path, "pinwheel"))
            self._cross_sum(self._name(item), item.place, size, cell, direction, margins, on)

    def _round(self, items: list[Item]) -> Size:
        """What a pinwheel takes: twice a triangle's size."""
        size = self.kit.spec.pieces[items[0].piece or ""].size
        return Size(size.width * 2, size.height * 2)

    def _pinwheel(self, items: list[Item], home: Rect, path: Path) -> None:
        way = self.kit.spec.pieces[items[0].piece or ""].diagonal or "falling"
        for i, (rect, turned, upside_down) in enumerate(around(home, way)):
            item, at = items[i % len(items)], (*path, i % len(items))
            paper = paper_of(self.kit, item.piece or "", item.paper, self.kit.place(*at))
            lies = Lying(turned=turned, upside_down=upside_down)
            self.pieces.append(self._placed(item.piece or "", paper, item.face, rect, lies, False, "piece", at))

    def _cross_sum(self, label: str, place: str | None, size: Size, cell: Rect, direction: str, margins: _Margins, on: str) -> None:
        """How a piece fills its row the other way."""
        other = Columns if direction == Rows else Rows
        room, has = (cell.width, size.width) if direction == Rows else (cell.height, size.height)
        edge = margins.of(other)
        terms = [Term(label, has)]
        if place and has < room:
            terms.insert(0 if place in ("right", "bottom") else 1, Term("free", room - has))
            if place == "centre":
                terms = [Term("free", (room - has) / 2), Term(label, has), Term("free", (room - has) / 2)]
        self._add_sum(Sum("across" if other == Columns else "along", on, (*edge, *terms, *edge), room + total(t.length for t in edge) * 2))

    def _measured_sums(self, ground: Rect, on: str) -> None:
        """For pieces by position: what a line near the left edge, and one near the top edge, meets."""
        first = min(self.pieces, key=lambda p: (p.rect.y, p.rect.x)).rect
        row = [p for p in self.pieces if p.rect.y < first.centre[1] < p.rect.bottom]
        self._measured("across", on, ground.x, ground.right, [(p.label, p.rect.x, p.rect.right) for p in row])
        first = min(self.pieces, key=lambda p: (p.rect.x, p.rect.y)).rect
        column = [p for p in self.pieces if p.rect.x < first.centre[0] < p.rect.right]
        self._measured("along", on, ground.y, ground.bottom, [(p.label, p.rect.y, p.rect.bottom) for p in column])

    def _measured(
        self, direction: Literal["across", "along"], on: str, start: Length, end: Length, met: list[tuple[str, Length, Length]]
    ) -> None:
        terms: list[Term] = []
        at = start
        for label, near, far in sorted(met, key=lambda m: m[1]):
            if near < at:
                return
            if near > at:
                terms.append(Term("gap" if terms else "border", near - at))
            terms.append(Term(label, far - near))
            at = far
        if at > end:
            return
        if at < end:
            terms.append(Term("border", end - at))
        self._add_sum(Sum(direction, on, tuple(terms), end - start))

    def _add_sum(self, new: Sum) -> None:
        # A sum of one term that fills its place says nothing.
        if new not in self.sums and (len(new.terms) > 1 or not new.holds):
            self.sums.append(replace(new, said=self.path))

    def _natural(self, item: Item, axis: str, direction: str) -> Length:
        """What an entry takes along an axis by itself; a free band takes nothing."""
        if item.band is not None:
            return item.band if isinstance(item.band, Length) and axis == direction else ZERO
        if item.piece is not None:
            size = lying_size(self.kit.spec.pieces[item.piece], item.turned, item.point)
            return size.height if axis == Rows else size.width
        if item.pinwheel is not None:
            size = self._round(item.pinwheel)
            return size.height if axis == Rows else size.width
        inner = Columns if direction == Rows else Rows
        each = [self._natural(i, axis, inner) for i in item.inside or []]
        if axis != inner:
            return max(each, default=ZERO)
        gap = item.gap if item.gap is not None else self.said.gap or ZERO
        return total(each) + gap * (len(each) - 1)

    def _name(self, item: Item) -> str:
        if item.band is not None:
            return "band"
        if item.piece is not None:
            return item.piece
        if item.pinwheel is not None:
            return PINWHEEL
        return "/".join(dict.fromkeys(self._name(i) for i in item.inside or []))

    # Explicit positions

    def _laid(
        self,
        laid: Laid,
        ground: Rect,
        layers: tuple[Placed, ...],
        kind: Literal["piece", "over"],
        path: Path,
        over: tuple[Placed, ...] = (),
    ) -> Placed:
        piece = self.kit.spec.pieces[laid.piece]
        size = lying_size(piece, laid.turned, laid.point)
        target = target_rect(laid.on, ground, layers, tuple(self.pieces) + over, tuple(self.bands))
        paper = paper_of(self.kit, laid.piece, laid.paper, self.kit.place(*path))
        rect = position(size, laid, target)
        placed = self._placed(laid.piece, paper, laid.face, rect, laid, laid.held == "foam", kind, path)
        below = (*layers, *self.pieces, *over)
        return replace(placed, hold=hold_of(laid, piece, rect, self.kit.spec.unit, self.panels, below))

    def _lay_over(self, over: list[Placed], laid: Laid, ground: Rect, layers: tuple[Placed, ...], path: Path) -> None:
        """Lay a piece on top; what goes into a pocket lies below that, and a shaker's film below its frame."""
        placed = self._laid(laid, ground, layers, "over", path, tuple(over))
        hold = placed.hold
        if hold and hold.into:
            at = next(i for i in reversed(range(len(over))) if over[i].label == hold.into)
            below = over[at].hold
            home = below.pocket.home(placed.rect.size) if below and below.pocket else over[at].rect
            moved = self._placed(placed.label, placed.paper, placed.face, home, laid, False, "over", path)
            over.insert(at, replace(moved, hold=hold))
            return
        if hold and hold.shaker and path in self.kit.films:
            film = self.kit.films[path]
            paper = next(iter(self.kit.spec.pieces[film].share))
            under = self._placed(film, paper, "front", hold.shaker.film, Lying(turned=laid.turned), False, "over", path)
            over.append(replace(under, hold=Hold("film", shaker=hold.shaker, behind=placed.label)))
        over.append(placed)

    def _placed(
        self, label: str, paper: str, face: str, rect: Rect, lies: Lying, raised: bool, layer: Literal["layer", "piece", "over"], path: Path
    ) -> Placed:
        piece = self.kit.spec.pieces[label]
        shape = on_card(piece, rect, lies.turned, lies.upside_down, lies.point)
        outline, edges = (shape.one_polygon(), shape.rounded_off()) if shape else ((), ())
        return Placed(
            label,
            paper,
            face,
            rect,
            turned=lies.turned,
            upside_down=lies.upside_down,
            point=lies.point or "",
            outline=outline,
            raised=raised,
            layer=layer,
            said=path,
            edges=edges,
            form=form_of(piece),
        )


FLAT = Lying()
"""As its size is written."""
_DEFAULT_INSET = Length(Fraction(1, 8))
"""A sentiment to one side stands an eighth in, unless said."""


def _in_cell(size: Size, cell: Rect, direction: str, place: str | None) -> Rect:
    """A piece in its row or column: at the start along it, and centred or as said the other way."""
    if direction == Rows:
        x = {"left": cell.x, "right": cell.right - size.width}.get(place or "", cell.x + (cell.width - size.width) / 2)
        y = cell.bottom - size.height if place == "bottom" else cell.y
    else:
        y = {"top": cell.y, "bottom": cell.bottom - size.height}.get(place or "", cell.y + (cell.height - size.height) / 2)
        x = cell.right - size.width if place == "right" else cell.x
    return Rect(x, y, size.width, size.height)


def position(size: Size, at: At, on: Rect) -> Rect:
    """Where something of this size lies on a rectangle; centred where nothing is said."""
    x, y = on.x + (on.width - size.width) / 2, on.y + (on.height - size.height) / 2
    if at.left is not None:
        x = on.x + at.left
    elif at.right is not None:
        x = on.right - at.right - size.width
    if at.top is not None:
        y = on.y + at.top
    elif at.bottom is not None:
        y = on.bottom - at.bottom - size.height
    return Rect(x, y, size.width, size.height)


def _around(rects: list[Rect]) -> Rect:
    """The rectangle around some."""
    x, y = min(r.x for r in rects), min(r.y for r in rects)
    return Rect(x, y, max(r.right for r in rects) - x, max(r.bottom for r in rects) - y)


def target_rect(on: str, ground: Rect, layers: tuple[Placed, ...], placed: tuple[Placed, ...], bands: tuple[Rect, ...]) -> Rect:
    """The rectangle that a name on the card stands for."""
    if on == "front":
        return ground
    if on == PINWHEEL:
        return _around([p.rect for p in placed if PINWHEEL in p.said])
    if on == "band":
        return bands[0]
    # A name that is on nothing is the face's own.
    return next((p.rect for p in (*reversed(placed), *layers) if p.label == on or (is_base(on) and is_base(p.label))), ground)
