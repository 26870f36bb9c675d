"""Which fillings are the same card: turned round, or mirrored where the kit says so.

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

from kitwright.card.arrangements.counting import Counting, Filling
from kitwright.card.arrangements.slots import Fill, Places, Pool, Slot
from kitwright.card.face import Face, Placed, Point
from kitwright.geometry import Rect
from kitwright.kit.names import BASE
from kitwright.units import Length
from kitwright.words import listed

if TYPE_CHECKING:
    from kitwright.worked import Worked

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
    mirror: Order | None
    """The same from left to right, where the kit says that mirror images count as one."""
    why: str
    """In plain words: what a turn does here, or why there is none."""
    other_layout: bool = False
    """Whether the front could be turned, but makes another layout."""


def moved(filling: Filling, order: Order) -> Filling:
    """A filling whose pieces went where the order says."""
    found: list[Fill | None] = [None] * len(filling)
    for fill, to in zip(filling, order):
        found[to] = fill
    return tuple(found)


def motions_of(worked: "Worked", places: Places) -> Motions:
    """The motions of a kit's front that make no difference."""
    turn, why, other = _turn(worked, places)
    mirror = _mirror(worked.face, places) if worked.kit.spec.arrangements.mirror else None
    still = tuple(range(len(places.slots)))
    found = [Motion(still, still)]
    if turn:
        found.append(Motion(still, turn))
    if mirror:
        found += [Motion(mirror, tuple(mirror[i] for i in m.free)) for m in found]
    return Motions(tuple(dict.fromkeys(found)), turn, mirror, why, other)


def _turn(worked: "Worked", places: Places) -> tuple[Order | None, str, bool]:
    """Where a half turn takes the places, what to say of it, and whether it makes another layout."""
    face, kit = worked.face, worked.kit
    under = next(p for p in reversed(face.layers) if p.rect == face.field)
    if under.label == BASE:
        return None, "The pieces lie on the base itself, so the front can’t be turned round: the card would open at the wrong edge.", False
    printed = kit.papers[under.paper].face(under.face)
    if printed and printed.up:
        return None, f"{kit.papers[under.paper].name}, on which the pieces lie, is one-way, so the front can’t be turned round.", False
    order = symmetry(places.slots, face.field, half_turn, fixed=lambda slot: slot.over)
    if order is None or under.outline and not same_outline(half_turn_points(under.outline, face.field), under.outline):
        return None, "Turned round, the places don’t fall on one another: that makes another layout, not another order.", order is None
    for i, slot in enumerate(places.slots):
        if {f for f in slot.fills if not f.one_way} != {f for f in places.slots[order[i]].fills if not f.one_way}:
            return None, "Turned round, some pieces come where they are not allowed, so no two fronts are the same card.", False
    if order == tuple(range(len(order))):
        return None, "Turned round, every piece stays in its place.", False
    why = f"Until {later_words(face)}, the whole front can be turned round: then two of these are one card."
    one_way = list(dict.fromkeys(kit.papers[f.paper].name for slot in places.slots for f in slot.fills if f.one_way))
    if one_way:
        why += f" Not so where {listed(one_way, 'or')} shows: it would hang upside down."
    return order, why, False


def later_words(face: Face) -> str:
    """What happens after the front has been turned: `the sentiment and decoration go on`."""
    later = [*(["the sentiment"] if face.sentiment else []), *(["what lies over the pieces"] if face.over else []),
             *(["decoration"] if face.spots else [])]
    return f"{listed(later)} {'go' if len(later) > 1 else 'goes'} on" if later else "it is glued to the base"


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
        to = [j for j, other in enumerate(slots) if not fixed(other) and other.placed.raised == slot.placed.raised
              and same_outline(corners, corners_of(other.placed))]
        if len(to) != 1:
            return None
        order.append(to[0])
    return tuple(order)


def half_turn(point: Point, field: Rect) -> Point:
    """A point after half a turn about the middle of the field."""
    x, y = field.centre
    return x * 2 - point[0], y * 2 - point[1]


def half_turn_points(points: Iterable[Point], field: Rect) -> list[Point]:
    """Points after half a turn of the field."""
    return [half_turn(p, field) for p in points]


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
