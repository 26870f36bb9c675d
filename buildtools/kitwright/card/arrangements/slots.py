"""Places on the front, and what may lie in each.

A place is where the sketch lays a piece. What may lie there: any piece of the batch of the
same outline, upright or a quarter turned, from any of its papers, with either printed
face up. A shaped piece turned over is mirrored, so it may fit no longer. A one-way face
lies upright only. What carries the greeting or other things stays what it is.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from kitwright.card import outlines
from kitwright.card.face import Face, Placed
from kitwright.card.outlines import Outline
from kitwright.card.shapes import on_card
from kitwright.geometry import Rect
from kitwright.kit.model import Piece
from kitwright.kit.names import laid_items

if TYPE_CHECKING:
    from kitwright.kit.read import Kit
    from kitwright.worked import Worked

Kind = tuple[str, str]
"""Pieces that nobody can tell apart: the label that stands for all of one size and shape, and the paper."""
Pool = dict[Kind, int]
"""So many pieces of each kind, at most."""


@dataclass(frozen=True, slots=True)
class Fill:
    """A piece as it lies in a place, as far as it can be seen."""

    label: str
    """Stands for every label of the same size and shape."""
    paper: str
    face: str
    """`front` or `back`."""
    turned: bool
    """A quarter turn from how its size is written."""
    one_way: bool
    """Whether the face that shows has an up."""

    @property
    def kind(self) -> Kind:
        return self.label, self.paper


@dataclass(frozen=True)
class Slot:
    """A place on the front."""

    placed: Placed
    """What the sketch lays there."""
    over: bool
    """Whether it lies over the others, and so goes on after them."""
    fills: tuple[Fill, ...]
    """What may lie there, in the order of the spec."""

    @property
    def rect(self) -> Rect:
        return self.placed.rect


@dataclass(frozen=True)
class Places:
    """All places of a front and what the kit's own looks lay there."""

    slots: tuple[Slot, ...]
    """The leading place first: the one on top, the largest if several are; then in reading order, those over the others last."""
    looks: tuple[tuple[Fill, ...], ...]
    """The kit's own looks, each as a filling of the slots."""
    hands: tuple[Pool, ...]
    """What one card gets: one for each different handful among the looks, or all papers at once."""
    members: dict[str, tuple[str, ...]]
    """The labels that each standing label stands for."""


def places_of(worked: "Worked") -> Places:
    """The places of a kit's front."""
    kit, face = worked.kit, worked.face
    stands = _standing(kit, face)
    order = _order(face)
    pieces = face.pieces + face.over
    held = _held(kit)
    slots = tuple(_slot(kit, pieces[i], i >= len(face.pieces), stands, held) for i in order)
    looks = tuple(tuple(_as_it_lies(kit, (f.pieces + f.over)[i], stands) for i in order) for f in worked.faces)
    # The kit's own way always counts, whatever the rules say of it.
    slots = tuple(replace(slot, fills=tuple(dict.fromkeys((*slot.fills, *(look[i] for look in looks))))) for i, slot in enumerate(slots))
    members: dict[str, tuple[str, ...]] = {}
    for label, standing in stands.items():
        members[standing] = (*members.get(standing, ()), label)
    return Places(slots, looks, _hands(kit, slots, looks, members), members)


def _standing(kit: "Kit", face: Face) -> dict[str, str]:
    """For each label on the front, the first of the same size, shape and manner of turning."""
    shown = {p.label for p in face.pieces + face.over}
    first: dict[tuple, str] = {}
    found = {}
    for label, piece in kit.spec.pieces.items():
        if label in shown:
            found[label] = first.setdefault((piece.size, piece.notch, piece.shape, piece.may_turn), label)
    return found


def _order(face: Face) -> list[int]:
    """The leading place, then reading order, then what lies over."""
    flat = sorted(range(len(face.pieces)), key=lambda i: (face.pieces[i].rect.y, face.pieces[i].rect.x))
    if flat:
        lead = min(flat, key=lambda i: (face.pieces[i].rect.y, -face.pieces[i].rect.area, face.pieces[i].rect.x))
        flat.remove(lead)
        flat.insert(0, lead)
    return flat + list(range(len(face.pieces), len(face.pieces) + len(face.over)))


def _held(kit: "Kit") -> set[str]:
    """Labels that something lies or is printed on by name: they stay where they are."""
    spec = kit.spec
    return {laid.on for laid, _ in laid_items(kit)} | {d.on for d in spec.decorations} | ({spec.sentiment.on} if spec.sentiment else set())


def _slot(kit: "Kit", placed: Placed, over: bool, stands: dict[str, str], held: set[str]) -> Slot:
    fills = []
    for label, standing in stands.items():
        pinned = placed.label in held or label in held
        if pinned and label != placed.label:
            continue
        for paper in kit.spec.pieces[label].share:
            for face in ("front", "back"):
                fills += _lying(kit, label, standing, paper, face, placed)
    return Slot(placed, over, tuple(dict.fromkeys(fills)))


def _lying(kit: "Kit", label: str, standing: str, paper: str, face: str, placed: Placed) -> list[Fill]:
    """How a piece of one paper may lie in a place with this face up: in one way or not at all."""
    printed = kit.papers[paper].face(face)
    if printed is None or (face == "back" and printed == kit.papers[paper].front):
        return []
    piece = kit.spec.pieces[label]
    one_way = printed.up is not None
    for turned in (placed.turned, not placed.turned):
        if turned and (one_way or not piece.may_turn and not (placed.turned and placed.label == label)):
            continue
        if _fits(piece, turned, face == "back", one_way, placed, kit.spec.pieces[placed.label]):
            return [Fill(standing, paper, face, turned, one_way)]
    return []


def _fits(piece: Piece, turned: bool, flipped: bool, one_way: bool, placed: Placed, made_for: Piece) -> bool:
    """Whether a piece covers a place exactly, turned over from left to right when flipped.

    Without an up it may lie head down as well.
    """
    size = piece.size.turned if turned else piece.size
    if size != placed.rect.size:
        return False
    mine, wanted = (on_card(p, placed.rect, t) or _plain(placed.rect) for p, t in ((piece, turned), (made_for, placed.turned)))
    if flipped:
        mine = mine.mirrored()
    return mine.covers(wanted) or not one_way and mine.head_down().covers(wanted)


def _plain(rect: Rect) -> Outline:
    return Outline(outlines.rectangle(rect))


def _as_it_lies(kit: "Kit", placed: Placed, stands: dict[str, str]) -> Fill:
    printed = kit.papers[placed.paper].face(placed.face)
    return Fill(stands[placed.label], placed.paper, placed.face, placed.turned, bool(printed and printed.up))


def _hands(kit: "Kit", slots: tuple[Slot, ...], looks: tuple[tuple[Fill, ...], ...], members: dict[str, tuple[str, ...]]) -> tuple[Pool, ...]:
    if kit.spec.arrangements.papers == "any":
        pool: Counter[Kind] = Counter()
        for standing, labels in members.items():
            for label in labels:
                for paper, share in kit.spec.pieces[label].share.items():
                    pool[standing, paper] += int(share * kit.spec.cards)
        shown = {fill.kind for slot in slots for fill in slot.fills}
        return ({kind: n for kind, n in pool.items() if n and kind in shown},)
    hands = [dict(sorted(Counter(fill.kind for fill in look).items())) for look in looks]
    return tuple(hand for i, hand in enumerate(hands) if hand not in hands[:i])


def face_of(places: Places, filling: tuple[Fill, ...], kit: "Kit", face: Face) -> Face:
    """The front with its places filled so; nothing else about it changes."""
    laid = {id_of(slot.placed): _laid(slot, fill, places, kit) for slot, fill in zip(places.slots, filling)}

    def now(placed: Placed) -> Placed:
        return laid.get(id_of(placed), placed)
    settings = tuple(replace(s, placed=now(s.placed), against=now(s.against) if isinstance(s.against, Placed) else s.against,
                             beside=now(s.beside) if isinstance(s.beside, Placed) else s.beside) for s in face.settings)
    return replace(face, pieces=tuple(map(now, face.pieces)), over=tuple(map(now, face.over)), settings=settings)


def id_of(placed: Placed) -> tuple:
    """What tells one place from another: where it lies and who put it there."""
    return placed.rect, placed.said


def _laid(slot: Slot, fill: Fill, places: Places, kit: "Kit") -> Placed:
    labels = [label for label in places.members[fill.label] if fill.paper in kit.spec.pieces[label].share]
    label = slot.placed.label if slot.placed.label in labels or not labels else labels[0]
    return replace(slot.placed, label=label, paper=fill.paper, face=fill.face, turned=fill.turned)
