"""Places on the front, and what may lie in each.

A place is where the sketch lays a piece. What may lie there: any piece of the batch of the
same outline, upright or a quarter turned, from any of its papers, with either printed
face up. A shaped piece turned over is mirrored, so it may fit no longer. A one-way face
lies upright only. What carries the greeting or other things stays what it is.

What is seen in a place is a paper and a face; its outline is the place's. So two labels
that are the same rectangle of the same paper are one, however typed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from kitwright.card import outlines
from kitwright.card.face import Face, Placed
from kitwright.card.outlines import Outline
from kitwright.card.shapes import as_placed, on_card, outline_of
from kitwright.geometry import Rect
from kitwright.kit.model import Paper, Piece
from kitwright.kit.names import laid_items

if TYPE_CHECKING:
    from kitwright.kit.kit import Kit
    from kitwright.work.worked import Worked

Kind = tuple[str, str]
"""Pieces that nobody can tell apart: the label that stands for all of one outline, and the paper."""
Kinds = tuple[Kind, ...]
"""Kinds of which any one can lie so."""
Pool = dict[Kind, int]
"""So many pieces of each kind, at most."""
Stands = dict[tuple[str, str], str]
"""By label and paper: the label that stands for all that are the same piece of that paper."""


@dataclass(frozen=True, slots=True)
class Fill:
    """A piece as it lies in a place, as far as it can be seen."""

    label: str
    """Stands for every label that is the same piece of this paper."""
    paper: str
    face: str
    """`front` or `back`."""
    turned: bool = field(compare=False)
    """A quarter turn from how the size of the label that stands for it is written. It follows from the
    place, so it tells no two fillings apart."""
    one_way: bool
    """Whether the face that shows has an up."""
    others: tuple[str, ...] = ()
    """Labels of other pieces that look the same as they lie here, such as one that may be turned beside one that may not."""

    @property
    def kind(self) -> Kind:
        return self.label, self.paper

    @property
    def kinds(self) -> Kinds:
        """All kinds that may lie here and look the same."""
        return (self.kind, *((label, self.paper) for label in self.others))


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
    """The labels that each standing label stands for, in one paper or another."""
    stands: Stands


def places_of(worked: Worked, *, as_typed: bool = False) -> Places:
    """The places of a kit's front.

    Args:
        worked: the kit.
        as_typed: take labels for different pieces wherever they are typed differently, as
            links to arrangements do.
    """
    kit, face = worked.kit, worked.face
    stands = _as_typed(kit, face) if as_typed else _standing(kit, face)
    order = _order(face)
    pieces = face.pieces + face.over
    held = _held(kit)
    slots = tuple(_slot(kit, pieces[i], i >= len(face.pieces), stands, held, as_typed) for i in order)
    faces = [[(f.pieces + f.over)[i] for i in order] for f in worked.faces]
    # The kit's own way always counts, whatever the rules say of it.
    for laid in faces:
        slots = tuple(_with(slot, _as_it_lies(kit, placed, stands), as_typed) for slot, placed in zip(slots, laid))
    looks = tuple(
        tuple(there for slot, placed in zip(slots, laid) if (there := _seen(slot, _as_it_lies(kit, placed, stands), as_typed)))
        for laid in faces
    )
    members: dict[str, tuple[str, ...]] = {}
    for (label, _), standing in stands.items():
        members[standing] = tuple(dict.fromkeys((*members.get(standing, ()), label)))
    return Places(slots, looks, _hands(kit, slots, faces, stands), members, stands)


def _standing(kit: Kit, face: Face) -> Stands:
    """For each label on the front and each of its papers, the first label that is the same piece, however typed.

    Nobody can tell apart two cut pieces of one paper that have the same outline: a 2 × 1
    is a 1 × 2. Where the paper has an up, on either face, they must be cut the same way up
    as well; where a piece may not be turned, half a turn is all that it allows.
    """
    return _first_of(kit, face, lambda piece, paper: (paper, _tools(piece), _ways_round(kit, piece, paper)))


def _tools(piece: Piece) -> tuple | None:
    """How its notches are made: a reader who makes them otherwise gets another strip."""
    notch = piece.notch
    return (notch.made_with, notch.keeps, notch.square_punch, notch.shaped_punch) if notch else None


def _ways_round(kit: Kit, piece: Piece, paper: str) -> frozenset:
    """The outlines that a cut piece has, held in every way that is as good as another."""
    printed, shape = kit.papers[paper], outline_of(piece)
    ways = [shape]
    if not _has_up(printed):
        ways.append(shape.head_down())
        if piece.may_turn:
            turned = shape.turned(piece.size.height)
            ways += [turned, turned.head_down()]
        if _both_alike(printed):
            ways += [way.mirrored() for way in ways]
    return frozenset(way.traced for way in ways)


def _has_up(paper: Paper) -> bool:
    return bool(paper.front.up or paper.back and paper.back.up)


def _both_alike(paper: Paper) -> bool:
    """Whether nobody can tell its faces apart."""
    return paper.back == paper.front and not _has_up(paper)


def by_label(worked: Worked) -> Stands:
    """For each label and paper of a front, the first label that is typed alike."""
    return _as_typed(worked.kit, worked.face)


def _as_typed(kit: Kit, face: Face) -> Stands:
    """The same where only labels typed alike are taken for one piece."""
    return _first_of(kit, face, lambda piece, paper: (piece.size, piece.notch, piece.shape, piece.pocket, piece.may_turn))


def _first_of(kit: Kit, face: Face, key: Callable[[Piece, str], tuple]) -> Stands:
    """For each label on the front and each of its papers, the first label with the same key."""
    shown = {p.label for p in face.pieces + face.over}
    first: dict[tuple, str] = {}
    return {
        (label, paper): first.setdefault(key(piece, paper), label)
        for label, piece in kit.spec.pieces.items()
        if label in shown
        for paper in piece.share
    }


def _order(face: Face) -> list[int]:
    """The leading place, then reading order, then what lies over."""
    flat = sorted(range(len(face.pieces)), key=lambda i: (face.pieces[i].rect.y, face.pieces[i].rect.x))
    if flat:
        lead = min(flat, key=lambda i: (face.pieces[i].rect.y, -face.pieces[i].rect.area, face.pieces[i].rect.x))
        flat.remove(lead)
        flat.insert(0, lead)
    return flat + list(range(len(face.pieces), len(face.pieces) + len(face.over)))


def _held(kit: Kit) -> set[str]:
    """Labels that something lies or is printed on by name, and those that fit one another: they stay where they are."""
    spec = kit.spec
    fitted = {label for laid, _ in laid_items(kit) for label in (laid.within, laid.piece) if label and (laid.within or laid.shaker)}
    return (
        fitted
        | set(kit.films.values())
        | {laid.on for laid, _ in laid_items(kit)}
        | {d.on for d in spec.decorations}
        | ({spec.sentiment.on} if spec.sentiment else set())
    )


def _slot(kit: Kit, placed: Placed, over: bool, stands: Stands, held: set[str], as_typed: bool) -> Slot:
    """A place, and one fill for each paper and face that can be seen in it."""
    seen: dict[tuple, Fill] = {}
    for (label, paper), standing in stands.items():
        if label != placed.label and (placed.label in held or label in held):
            continue
        for face in ("front", "back"):
            turned = lies(kit, label, paper, face, placed)
            if turned is not None:
                fill = Fill(standing, paper, face, turned, kit.papers[paper].shown(face).up is not None)
                seen[_sight(fill, as_typed)] = _joined(seen.get(_sight(fill, as_typed)), fill)
    return Slot(placed, over, tuple(seen.values()))


def _sight(fill: Fill, as_typed: bool) -> tuple:
    """What is seen of a fill in its place: nothing but paper and face, whose outline the place gives."""
    return fill.paper, fill.face, fill.label if as_typed else ""


def _joined(one: Fill | None, other: Fill) -> Fill:
    """One fill for two that look the same."""
    if one is None or other.label in (one.label, *one.others):
        return one or other
    return replace(one, others=(*one.others, other.label))


def _seen(slot: Slot, fill: Fill, as_typed: bool) -> Fill | None:
    """The slot's own fill that looks like this one."""
    return next((f for f in slot.fills if _sight(f, as_typed) == _sight(fill, as_typed)), None)


def _with(slot: Slot, own: Fill, as_typed: bool) -> Slot:
    """The slot, with what the kit itself lays there among its fills."""
    there = _seen(slot, own, as_typed)
    if there is None:
        return replace(slot, fills=(*slot.fills, own))
    return replace(slot, fills=tuple(_joined(f, own) if f is there else f for f in slot.fills))


def lies(kit: Kit, label: str, paper: str, face: str, placed: Placed) -> bool | None:
    """Whether a piece of one paper would lie turned in a place with this face up; None where it can't lie there at all."""
    whole = kit.papers[paper]
    printed = whole.face(face)
    if printed is None or (face == "back" and printed == whole.front):
        return None
    piece, one_way = kit.spec.pieces[label], printed.up is not None
    # Where nobody can tell the faces apart, it may be turned over as well.
    flips = (False, True) if _both_alike(whole) else (face == "back",)
    for turned in (placed.turned, not placed.turned):
        if turned and (one_way or not piece.may_turn and not (placed.turned and placed.label == label)):
            continue
        if any(_fits(piece, turned, flipped, one_way, placed, kit.spec.pieces[placed.label]) for flipped in flips):
            return turned
    return None


def _fits(piece: Piece, turned: bool, flipped: bool, one_way: bool, placed: Placed, made_for: Piece) -> bool:
    """Whether a piece covers a place exactly, turned over from left to right when flipped.

    Without an up it may lie head down as well.
    """
    if placed.point:
        return piece.size == made_for.size and piece.shape == made_for.shape
    size = piece.size.turned if turned else piece.size
    if size != placed.rect.size:
        return False
    if not any(p.shaped for p in (piece, made_for)):
        return True
    mine, wanted = on_card(piece, placed.rect, turned) or _plain(placed.rect), as_placed(made_for, placed) or _plain(placed.rect)
    if flipped:
        mine = mine.mirrored()
    return mine.covers(wanted) or not one_way and mine.head_down().covers(wanted)


def _plain(rect: Rect) -> Outline:
    return Outline(outlines.rectangle(rect))


def _as_it_lies(kit: Kit, placed: Placed, stands: Stands) -> Fill:
    printed = kit.papers[placed.paper].face(placed.face)
    return Fill(stands[placed.label, placed.paper], placed.paper, placed.face, placed.turned, bool(printed and printed.up))


def _hands(kit: Kit, slots: tuple[Slot, ...], faces: list[list[Placed]], stands: Stands) -> tuple[Pool, ...]:
    if kit.spec.arrangements.papers == "any":
        pool: Counter[Kind] = Counter()
        for (label, paper), standing in stands.items():
            pool[standing, paper] += int(kit.spec.pieces[label].share[paper] * kit.spec.cards)
        shown = {kind for slot in slots for fill in slot.fills for kind in fill.kinds}
        return ({kind: n for kind, n in pool.items() if n and kind in shown},)
    hands = [dict(sorted(Counter((stands[p.label, p.paper], p.paper) for p in laid).items())) for laid in faces]
    return tuple(hand for i, hand in enumerate(hands) if hand not in hands[:i])


def face_of(places: Places, filling: tuple[Fill, ...], kit: Kit, face: Face) -> Face:
    """The front with its places filled so; nothing else about it changes."""
    laid = {id_of(slot.placed): _laid(slot, fill, places, kit) for slot, fill in zip(places.slots, filling)}

    def now(placed: Placed) -> Placed:
        return laid.get(id_of(placed), placed)

    settings = tuple(
        replace(
            s,
            placed=now(s.placed),
            against=now(s.against) if isinstance(s.against, Placed) else s.against,
            beside=now(s.beside) if isinstance(s.beside, Placed) else s.beside,
        )
        for s in face.settings
    )
    return replace(face, pieces=tuple(map(now, face.pieces)), over=tuple(map(now, face.over)), settings=settings)


def id_of(placed: Placed) -> tuple:
    """What tells one place from another: where it lies and who put it there."""
    return placed.rect, placed.said, placed.outline


def _laid(slot: Slot, fill: Fill, places: Places, kit: Kit) -> Placed:
    """What lies there then: under the place's own label if one of the pieces that look so has it."""
    paper, face = fill.paper, fill.face
    turned = {
        label: way
        for label, of in places.stands
        if of == paper
        and (places.stands[label, paper], paper) in fill.kinds
        and (way := lies(kit, label, paper, face, slot.placed)) is not None
    }
    label = slot.placed.label if slot.placed.label in turned or not turned else next(iter(turned))
    return replace(slot.placed, label=label, paper=paper, face=face, turned=turned.get(label, slot.placed.turned))
