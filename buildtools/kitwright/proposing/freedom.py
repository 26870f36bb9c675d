"""Which sizes of a kit may change together: every border, gap, band and side of a piece is a dial, and each sum of a face ties some of them.

A dial is told by what it is and whose: `("width", "A")`, `("border", "", "front")`. Nothing is
laid out here: what is wanted is only how a sum moves when a dial does, and that follows from the
entries alone. A sum that did not hold keeps missing by as much.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations
from typing import Literal

from kitwright.card.face import Face, Placed
from kitwright.card.shapes import lying_size
from kitwright.geometry import Rect
from kitwright.kit.faces import fronts, layers_on
from kitwright.kit.kit import Kit
from kitwright.kit.model import At, Front, Item, Laid, Piece
from kitwright.kit.names import items_of, laid_on
from kitwright.units import ZERO, Length, total
from kitwright.work.worked import Worked

Dial = tuple[str | int, ...]
Shift = dict[Dial, Fraction]
"""How something moves when dials do: so many times each of them."""
Way = Literal["rows", "columns"]
Why = Literal["punch", "die", "drawn", "follows", "held", "placed"]
"""Why a piece keeps its size: a tool makes it; its outline is drawn for it; it follows from something else; it lies where its size
has to suit more than a sum, on its point, in a pocket, over a shaker, on the panel inside; or it is placed by hand on something."""

FREE = Length(Fraction(1, 2))
"""A place as wide as this between two pieces is left free for something, and may become wider or narrower."""


@dataclass
class Freedom:
    """The dials of a kit, and what ties them."""

    now: dict[Dial, Length] = field(default_factory=dict)
    """What each dial stands at; those that never move are not in it."""
    ties: list[Shift] = field(default_factory=list)
    """Each adds up to nothing."""
    halved: list[Shift] = field(default_factory=list)
    """What is parted evenly to both sides: half of each has to be on the ruler too."""
    kept: dict[str, Why] = field(default_factory=dict)
    """Labels whose size never moves."""


def freedom(worked: Worked) -> Freedom:
    """What may change of a kit as a whole, all its designs together, without spoiling a sum of any face."""
    found = Freedom()
    for design in worked.designs:
        for label, piece in design.kit.spec.pieces.items():
            if (why := _kept(piece, label, worked)) is not None:
                found.kept[label] = why
            else:
                found.now[("width", label)], found.now[("height", label)] = piece.size.width, piece.size.height
    for design in worked.designs:
        for said, path in fronts(design.kit.spec):
            face = next((one for one in design.face.every if _is_of(one, path)), None)
            tied = _Tied(design.kit, face or design.face, said, path, found)
            tied.tie() if face else tied.keep()
    for label in {str(dial[1]) for dial in found.now if dial[0] in ("width", "height")}:
        if all({(what, label): Fraction(1)} in found.ties for what in ("width", "height")):
            found.kept[label] = "placed"
    found.ties, found.halved = ([shift for shift in map(_moving, each) if shift] for each in (found.ties, found.halved))
    return found


def _is_of(face: Face, path: tuple[str | int, ...]) -> bool:
    return face.on == ("" if path == ("front",) else str(path[1]))


def _moving(tie: Shift) -> Shift:
    return {dial: times for dial, times in tie.items() if times}


def _kept(piece: Piece, label: str, worked: Worked) -> Why | None:
    """Why a piece's size is not its own to change; None where it is."""
    shape, notch = piece.shape, piece.notch
    if piece.made_with:
        return piece.made_with.tool
    if notch and notch.made_with != "scissors":
        return "punch"
    if piece.band or piece.liner or piece.pocket:
        return "follows"
    if shape is not None and shape.rounded is None and shape.snipped is None and shape.tag is None:
        return "drawn"
    return "held" if any(_held(design, label) for design in worked.designs) else None


def _held(design: Worked, label: str) -> bool:
    """Whether it lies where its size has to suit more than a sum: on its point, in a pocket, over a shaker, on the panel inside."""
    inside = design.kit.spec.card.inside
    held = [placed for face in design.face.every for placed in face.stack if placed.label == label]
    return bool(inside and inside.piece == label) or any(placed.point or placed.hold for placed in held)


def _plus(*shifts: tuple[Shift, Fraction | int]) -> Shift:
    found: Shift = {}
    for shift, times in shifts:
        for dial, each in shift.items():
            found[dial] = found.get(dial, Fraction(0)) + each * times
    return found


@dataclass
class _Tied:
    """One face, while what ties its dials is found."""

    kit: Kit
    face: Face
    said: Front
    path: tuple[str | int, ...]
    into: Freedom

    def dial(self, what: str, at: tuple[str | int, ...], now: Length | None) -> Shift:
        """A dial of this face; nothing moves where nothing is said, or none is left there."""
        if not now:
            return {}
        name = (what, self.kit.design, *at)
        self.into.now[name] = now
        return {name: Fraction(1)}

    def side(self, label: str, turned: bool, across: bool) -> Shift:
        """How a piece's side across or along the card moves."""
        name: Dial = ("width" if across != turned else "height", label)
        return {name: Fraction(1)} if name in self.into.now else {}

    def ties(self, *shifts: tuple[Shift, Fraction | int]) -> None:
        self.into.ties.append(_plus(*shifts))

    def tie(self) -> None:
        """Note what ties the dials of this face."""
        self.layers()
        on = next((layer for layer in self.face.layers if layer.rect == self.face.field), None)
        ground = {across: self.side(on.label, on.turned, across) if on else {} for across in (True, False)}
        border, gap = self.dial("border", self.path, self.said.border), self.dial("gap", self.path, self.said.gap)
        room = {across: _plus((shift, 1), (border, -2)) for across, shift in ground.items()}
        for way in ("rows", "columns"):
            if items := getattr(self.said, way):
                self.block(items, way, room, gap, (*self.path, way))
        self.positions(ground, border, gap)
        for laid in self.said.over:
            self.even(laid.piece, next((one for one in self.face.over if one.label == laid.piece), None))

    def keep(self) -> None:
        """What stands on a part of a face, a door among doors, keeps its sizes."""
        for item, _ in items_of(self.kit, self.said, self.path):
            self.fixed(item.piece or "")
        for laid, _ in laid_on(self.said, self.path):
            self.fixed(laid.piece)

    def layers(self) -> None:
        """A full layer that shows evenly all round goes on doing so."""
        said, _ = layers_on(self.kit.spec, self.path)
        for below, layer in zip(self.face.layers, self.face.layers[1:]):
            self.evenly(below, layer)
        for typed in said:
            if any(getattr(typed, edge) is not None for edge in ("left", "right", "top", "bottom")):
                self.fixed(typed.piece)

    def evenly(self, below: Placed, above: Placed) -> None:
        over, under = above.rect, below.rect
        for across in (True, False):
            of_one, of_other = (self.side(one.label, one.turned, across) for one in (below, above))
            self.into.halved.append(_plus((of_one, 1), (of_other, -1)))
        if under.width - over.width == under.height - over.height:
            self.ties(
                *(
                    (self.side(one.label, one.turned, across), times * (1 if across else -1))
                    for one, times in ((below, 1), (above, -1))
                    for across in (True, False)
                )
            )
        else:
            self.fixed(above.label)

    def fixed(self, label: str) -> None:
        """A piece that keeps its size."""
        for what in ("width", "height"):
            if (what, label) in self.into.now:
                self.ties(({(what, label): Fraction(1)}, 1))

    def even(self, label: str, placed: Placed | None) -> None:
        """What lies over one other piece with an even border goes on doing so; elsewhere it is free."""
        if placed is None:
            return
        under = next((one for one in reversed((*self.face.layers, *self.face.pieces)) if one.rect.contains(placed.rect)), None)
        if under and under.layer == "piece" and under.rect.width - placed.rect.width == under.rect.height - placed.rect.height:
            self.evenly(under, placed)

    # --- rows and columns ---------------------------------------------------------------------------

    def block(self, items: list[Item], way: Way, room: dict[bool, Shift], gap: Shift, path: tuple[str | int, ...]) -> None:
        """Rows or columns fill their room along; each of their entries fills it the other way."""
        along, each = way == "columns", []
        for i, item in enumerate(items):
            length = self.natural(item, way, along, gap, (*path, i))
            each.append((length, 1))
            self.entry(item, way, {along: length, not along: room[not along]}, gap, (*path, i))
        if not any(item.band == "free" for item in items):
            self.ties(*each, (gap, len(items) - 1), (room[along], -1))

    def entry(self, item: Item, way: Way, room: dict[bool, Shift], gap: Shift, path: tuple[str | int, ...]) -> None:
        across = way == "rows"
        if item.inside is not None:
            inner: Way = "columns" if way == "rows" else "rows"
            self.block(item.inside, inner, room, self.own_gap(item, gap, path), path)
        elif item.piece is not None and not item.place:
            self.ties((self.side(item.piece, item.turned, across), 1), (room[across], -1))
        elif item.pinwheel is not None and not item.place:
            self.ties((self.side(item.pinwheel[0].piece or "", False, across), 2), (room[across], -1))

    def own_gap(self, item: Item, gap: Shift, path: tuple[str | int, ...]) -> Shift:
        return gap if item.gap is None else self.dial("gap", path, item.gap)

    def natural(self, item: Item, way: Way, across: bool, gap: Shift, path: tuple[str | int, ...]) -> Shift:
        """How the length of an entry along its block moves; of a block within, that of what is longest there."""
        if item.band is not None:
            return self.dial("band", path, item.band) if isinstance(item.band, Length) else {}
        if item.piece is not None:
            return self.side(item.piece, item.turned, across)
        if item.pinwheel is not None:
            return _plus((self.side(item.pinwheel[0].piece or "", False, across), 2))
        inner: Way = "columns" if way == "rows" else "rows"
        inside = item.inside or []
        own = self.own_gap(item, gap, path)
        if across == (inner == "columns"):
            each = [(self.natural(one, inner, across, own, (*path, i)), 1) for i, one in enumerate(inside)]
            return _plus(*each, (own, len(inside) - 1))
        longest = max(range(len(inside)), key=lambda i: self.now(inside[i], inner, across, item.gap))
        return self.natural(inside[longest], inner, across, own, (*path, longest))

    def now(self, item: Item, way: Way, across: bool, gap: Length | None) -> Length:
        """The length that an entry has."""
        if item.piece is not None:
            size = lying_size(self.kit.spec.pieces[item.piece], item.turned, item.point)
            return size.width if across else size.height
        if item.pinwheel is not None:
            size = self.kit.spec.pieces[item.pinwheel[0].piece or ""].size
            return (size.width if across else size.height) * 2
        if item.band is not None:
            return item.band if isinstance(item.band, Length) and across == (way == "columns") else ZERO
        inner: Way = "columns" if way == "rows" else "rows"
        each = [self.now(one, inner, across, gap) for one in item.inside or []]
        along = across == (inner == "columns")
        return total(each) + (gap or self.said.gap or ZERO) * (len(each) - 1) if along else max(each, default=ZERO)

    # --- positions ----------------------------------------------------------------------------------

    def positions(self, ground: dict[bool, Shift], border: Shift, gap: Shift) -> None:
        """Pieces by position keep the distances that they have, to their neighbours and to the edges."""
        placed = [one for one in self.face.pieces if "places" in one.said]
        for laid in self.said.places:
            if laid.on != "front":
                self.fixed(laid.piece)
        lies = {one.said: (one, self.said.places[int(one.said[-1])]) for one in placed}
        rects = [one.rect for one in placed]
        for across in (True, False):
            ends = {one.said: self.ends(one, laid, across, ground, border) for one, laid in lies.values()}
            for one, other in combinations(placed, 2):
                for near, far in ((one, other), (other, one)):
                    apart = _apart(near.rect, far.rect, across)
                    if apart is None or apart >= FREE or _between(near.rect, far.rect, across, rects):
                        continue
                    follows = gap if apart == self.said.gap else {}
                    self.ties((ends[far.said][0], 1), (ends[near.said][1], -1), (follows, -1))
            for one in placed:
                field = self.face.field
                before, after = (
                    (one.rect.x - field.x, field.right - one.rect.right)
                    if across
                    else (one.rect.y - field.y, field.bottom - one.rect.bottom)
                )
                if before < FREE and not _between(None, one.rect, across, rects):
                    self.ties((ends[one.said][0], 1), (border if before == self.said.border else {}, -1))
                if after < FREE and not _between(one.rect, None, across, rects):
                    self.ties((ground[across], 1), (ends[one.said][1], -1), (border if after == self.said.border else {}, -1))

    def ends(self, one: Placed, laid: Laid, across: bool, ground: dict[bool, Shift], border: Shift) -> tuple[Shift, Shift]:
        """How both ends of a piece by position move, counted from the left or the top."""
        side = self.side(one.label, one.turned, across)
        first, last = ("left", "right") if across else ("top", "bottom")
        if getattr(laid, first) is not None:
            start = self.offset(laid, first, border)
        elif getattr(laid, last) is not None:
            start = _plus((ground[across], 1), (self.offset(laid, last, border), -1), (side, -1))
        else:
            start = _plus((ground[across], Fraction(1, 2)), (side, Fraction(-1, 2)))
        return start, _plus((start, 1), (side, 1))

    def offset(self, at: At, edge: str, border: Shift) -> Shift:
        """A distance from an edge that is the border goes with the border."""
        return border if getattr(at, edge) == self.said.border else {}


def _apart(near: Rect, far: Rect, across: bool) -> Length | None:
    """How far two pieces that face each other are apart, where the one comes first."""
    if across:
        faces, apart = near.y < far.bottom and far.y < near.bottom, far.x - near.right
    else:
        faces, apart = near.x < far.right and far.x < near.right, far.y - near.bottom
    return apart if faces and apart >= ZERO else None


def _between(near: Rect | None, far: Rect | None, across: bool, rects: list[Rect]) -> bool:
    """Whether another piece lies between two, or between one and an edge, wherever they face each other."""
    here = near or far
    assert here is not None
    for rect in rects:
        if rect in (near, far):
            continue
        faces = (rect.y < here.bottom and here.y < rect.bottom) if across else (rect.x < here.right and here.x < rect.right)
        after = near is None or (rect.x >= near.right if across else rect.y >= near.bottom)
        before = far is None or (rect.right <= far.x if across else rect.bottom <= far.y)
        if faces and after and before:
            return True
    return False


def turned_to(said: Front, path: tuple[str | int, ...], design: str, moved: Mapping[Dial, Length]) -> Front:
    """A face's entries with its dials where they were moved to.

    Args:
        said: the face as it is said.
        path: where the spec says it.
        design: whose face it is; empty in a kit of one.
        moved: what those stand at that were moved.
    """

    def at(what: str, here: tuple[str | int, ...], before: Length | None) -> Length | None:
        return moved.get((what, design, *here), before)

    def item(one: Item, here: tuple[str | int, ...]) -> Item:
        changes: dict[str, object] = {}
        if isinstance(one.band, Length):
            changes["band"] = at("band", here, one.band)
        if one.gap is not None:
            changes["gap"] = at("gap", here, one.gap)
        if one.inside is not None:
            changes["inside"] = [item(inner, (*here, i)) for i, inner in enumerate(one.inside)]
        return one.model_copy(update=changes) if changes else one

    def laid(one: Laid) -> Laid:
        edges = [edge for edge in ("left", "right", "top", "bottom") if border is not None and getattr(one, edge) == border]
        return one.model_copy(update=dict.fromkeys(edges, new_border)) if edges else one

    border, new_border = said.border, at("border", path, said.border)
    changes: dict[str, object] = {"border": new_border, "gap": at("gap", path, said.gap)}
    for way in ("rows", "columns"):
        if (items := getattr(said, way)) is not None:
            changes[way] = [item(one, (*path, way, i)) for i, one in enumerate(items)]
    if said.places and new_border != border:
        changes["places"] = [laid(one) for one in said.places]
    return said.model_copy(update=changes)
