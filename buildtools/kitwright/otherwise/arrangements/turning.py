"""Which fillings are the same card: turned round, by quarters where the front is square, or mirrored where the kit says so.

The whole front is turned on its own layer, before anything is laid over it or printed on
it. That maps places to places only where the places lie alike about the layer's middle;
else the turned front is another layout, and no pair is made. A filling that shows a
one-way face can't be turned: upside down it is no card of this kit. So the turn leaves
such a filling where it is, which makes it one of a kind, and Burnside's lemma holds as it
stands: the number of different cards is the average, over the group, of how many fillings
a motion leaves as they are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from kitwright.card.base import Point
from kitwright.card.face import Face, Placed
from kitwright.findings import Note
from kitwright.geometry import Rect
from kitwright.labels import is_base
from kitwright.otherwise.arrangements.counting import Counting, Filling
from kitwright.otherwise.arrangements.slots import Places, Pool, Slot
from kitwright.units import Length

if TYPE_CHECKING:
    from kitwright.work.worked import Worked

Order = tuple[int, ...]
"""Where each place goes: the place at i moves to order[i]."""


@dataclass(frozen=True, slots=True)
class Motion:
    """One way to move a whole front."""

    upright: Order
    """What it does with a filling that shows a one-way face."""
    free: Order
    """What it does with any other."""

    def moves(self, filling: Filling) -> Filling:
        """The filling after the motion."""
        return moved(filling, self.upright if any(f.one_way for f in filling) else self.free)


@dataclass(frozen=True)
class Motions:
    """The group of motions that make no difference, and what stands in the way of a turn."""

    all: tuple[Motion, ...]
    """The identity first."""
    turn: Order | None
    """Where a half turn takes each place; None where the turned front is another layout or can't be turned."""
    quarter: Order | None
    """The same for a quarter turn to the right; None where that can't be counted as the same card."""
    mirror: Order | None
    """The same from left to right, where the kit says that mirror images count as one."""
    why: tuple[Note, ...]
    """What a turn does here, or why there is none."""
    other_layout: bool = False
    """Whether the front could be turned, but makes another layout."""

    @property
    def counted(self) -> tuple[str, ...]:
        """What makes one card of two arrangements: `half turn`, `quarter turn`, `mirror image`."""
        return tuple(
            name for name, order in (("half turn", self.turn), ("quarter turn", self.quarter), ("mirror image", self.mirror)) if order
        )


def moved(filling: Filling, order: Order) -> Filling:
    """A filling whose pieces went where the order says."""
    found = list(filling)
    for fill, to in zip(filling, order):
        found[to] = fill
    return tuple(found)


def motions_of(worked: Worked, places: Places) -> Motions:
    """The motions of a kit's front that make no difference."""
    turn, why, other = _turn(worked, places)
    quarter, more = _quarter(worked, places) if turn else (None, None)
    if quarter:
        why = Note("arranged.by-quarters", later=later(worked.face))
    mirror = _mirror(worked.face, places) if worked.kit.spec.arrangements.mirror else None
    still = tuple(range(len(places.slots)))
    found = [Motion(still, still)]
    if turn:
        found.append(Motion(still, turn))
    if quarter:
        found += [Motion(still, after(quarter, m.free)) for m in found]
    if mirror:
        found += [Motion(mirror, after(mirror, m.free)) for m in found]
    return Motions(
        all=tuple(dict.fromkeys(found)),
        turn=turn,
        quarter=quarter,
        mirror=mirror,
        why=tuple(note for note in (why, more, _upright(worked, places, turn, quarter)) if note),
        other_layout=other,
    )


def after(second: Order, first: Order) -> Order:
    """One motion, then another."""
    return tuple(second[i] for i in first)


def _turn(worked: Worked, places: Places) -> tuple[Order | None, Note, bool]:
    """Where a half turn takes the places, what to say of it, and whether it makes another layout."""
    face, kit = worked.face, worked.kit
    under = _under(face)
    if is_base(under.label):
        return None, Note("arranged.on-the-base"), False
    printed = kit.papers[under.paper].face(under.face)
    if printed and printed.up:
        return None, Note("arranged.one-way-below", paper=kit.papers[under.paper].name), False
    order = symmetry(places.slots, face.field, half_turn, fixed=lambda slot: slot.over)
    if order is None or under.outline and not same_outline([half_turn(p, face.field) for p in under.outline], under.outline):
        return None, Note("arranged.other-layout"), order is None
    if not _allowed(places, order):
        return None, Note("arranged.not-allowed"), False
    if order == tuple(range(len(order))):
        return None, Note("arranged.all-stay"), False
    return order, Note("arranged.turned-round", later=later(face)), False


def _quarter(worked: Worked, places: Places) -> tuple[Order | None, Note | None]:
    """Where a quarter turn takes the places of a front that can be turned round, or what stands in its way."""
    face, pieces = worked.face, worked.kit.spec.pieces
    under = _under(face)
    if face.field.width != face.field.height:
        return None, None
    order = symmetry(places.slots, face.field, quarter_turn, fixed=lambda slot: slot.over)
    if order is None or under.outline and not same_outline([quarter_turn(p, face.field) for p in under.outline], under.outline):
        return None, Note("arranged.quarter-other-layout")
    printed = worked.kit.papers[under.paper].shown(under.face)
    kept = [label for label in dict.fromkeys(p.label for p in face.pieces) if not pieces[label].may_turn]
    # A plain layer looks the same on its side; one with a pattern that may not be turned is kept as it is.
    kept += [under.label] if not pieces[under.label].may_turn and printed.drawn_look != "plain" else []
    if kept:
        return None, Note("arranged.quarter-kept", labels=tuple(kept))
    if not _allowed(places, order):
        return None, Note("arranged.quarter-not-allowed")
    return order, None


def _under(face: Face) -> Placed:
    """What the pieces lie on."""
    return next(p for p in reversed(face.layers) if p.rect == face.field)


def _allowed(places: Places, order: Order) -> bool:
    """Whether every piece without an up may lie where an order takes it."""
    free = [{f for f in slot.fills if not f.one_way} for slot in places.slots]
    return all(free[i] == free[to] for i, to in enumerate(order))


def _upright(worked: Worked, places: Places, turn: Order | None, quarter: Order | None) -> Note | None:
    """What a one-way paper makes of the turns."""
    one_way = list(dict.fromkeys(worked.kit.papers[f.paper].name for slot in places.slots for f in slot.fills if f.one_way))
    if not turn or not one_way:
        return None
    return Note("arranged.not-so", papers=tuple(one_way), quarter=quarter is not None)


def later(face: Face) -> tuple[str, ...]:
    """What goes on after the front has been turned."""
    return tuple(what for what, there in (("sentiment", face.sentiment), ("over", face.over), ("decoration", face.spots)) if there)


def _mirror(face: Face, places: Places) -> Order | None:
    order = symmetry(places.slots, face.field, flip, fixed=lambda slot: False)
    if order is None or order == tuple(range(len(order))):
        return None
    alike = all(set(slot.fills) == set(places.slots[order[i]].fills) for i, slot in enumerate(places.slots))
    return order if alike else None


def symmetry(slots: Iterable[Slot], field: Rect, motion: Callable[[Point, Rect], Point], fixed: Callable[[Slot], bool]) -> Order | None:
    """Where a motion of the field takes each place, or None when one falls on no place; `fixed` ones stay."""
    slots, order = list(slots), []
    for i, slot in enumerate(slots):
        if fixed(slot):
            order.append(i)
            continue
        corners = [motion(p, field) for p in corners_of(slot.placed)]
        to = [
            j
            for j, other in enumerate(slots)
            if not fixed(other) and other.placed.raised == slot.placed.raised and same_outline(corners, corners_of(other.placed))
        ]
        if len(to) != 1:
            return None
        order.append(to[0])
    return tuple(order)


def half_turn(point: Point, field: Rect) -> Point:
    """A point after half a turn about the middle of the field."""
    x, y = field.centre
    return x * 2 - point[0], y * 2 - point[1]


def quarter_turn(point: Point, field: Rect) -> Point:
    """A point after a quarter turn to the right about the middle of the field."""
    x, y = field.centre
    return x + y - point[1], y - x + point[0]


def flip(point: Point, field: Rect) -> Point:
    """A point mirrored from left to right."""
    return field.centre[0] * 2 - point[0], point[1]


def corners_of(placed: Placed) -> tuple[Point, ...]:
    """The corners of a piece on the front: of its outline if it has one, or else of its rectangle."""
    r = placed.rect
    return placed.outline or ((r.x, r.y), (r.right, r.y), (r.right, r.bottom), (r.x, r.bottom))


def same_outline(one: Iterable[Point], other: Iterable[Point]) -> bool:
    """Whether two outlines have the same corners; outlines here differ by where they start and which way they run."""

    def key(p: Point) -> tuple[Length, Length]:
        return p[0], p[1]

    return sorted(one, key=key) == sorted(other, key=key)


# --- Burnside ---------------------------------------------------------------------------------


def fixed(places: Places, pool: Pool, motion: Motion) -> int:
    """How many fillings from a pool a motion leaves as they are."""
    anything = [slot.fills for slot in places.slots]
    free = [[f for f in fills if not f.one_way] for fills in anything]
    upright = _alike(anything, pool, motion.upright) - _alike(free, pool, motion.upright)
    return _alike(free, pool, motion.free) + upright


def _alike(choices: list, pool: Pool, order: Order) -> int:
    """Fillings in which all places that take turns with one another are filled alike."""
    seen: set[int] = set()
    cycles = []
    for i in range(len(order)):
        cycle = []
        while i not in seen:
            seen.add(i)
            cycle.append(i)
            i = order[i]
        if cycle:
            cycles.append(cycle)
    alike = [[f for f in choices[c[0]] if all(f in choices[i] for i in c)] for c in cycles]
    return Counting(alike, pool, [len(c) for c in cycles]).total


def different(places: Places, pool: Pool, motions: Motions) -> int:
    """How many different cards there are, by Burnside's lemma."""
    average = Fraction(sum(fixed(places, pool, motion) for motion in motions.all), len(motions.all))
    assert average.denominator == 1, "a group’s average is a whole number"
    return int(average)


def orbit(filling: Filling, motions: Motions) -> tuple[Filling, ...]:
    """All fillings that are the same card as this one, itself first."""
    return tuple(dict.fromkeys(motion.moves(filling) for motion in motions.all))
