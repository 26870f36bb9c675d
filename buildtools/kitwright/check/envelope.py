"""What is found where the closed card goes into its envelope: panels, whatever overhangs, the panel inside."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from kitwright.card.enclosed import Enclosed, Reach, clearance, furthest, past
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.papers import NamedSize
from kitwright.units import SIXTEENTH, ZERO, Length, Size
from kitwright.work.worked import Worked

LEAST_ROOM = Length(SIXTEENTH)
"""A card with less room than this jams."""


def find(worked: Worked) -> Iterator[Finding]:
    """What keeps the closed card out of its envelope, or from closing."""
    base = worked.base
    if min(base.front.width, base.front.height) <= ZERO:
        # The score lies past the base: told with the front.
        return
    yield from _inside(worked)
    if envelope := worked.kit.spec.card.envelope:
        if _tight(worked.enclosed.folded, envelope.size):
            yield _panels(worked, envelope)
        elif _tight(worked.enclosed.size, envelope.size):
            yield from _overhang(worked, envelope)


def _tight(card: Size, envelope: Size) -> bool:
    room = clearance(card, envelope)
    return min(room.width, room.height) < LEAST_ROOM


# --- the panels ---------------------------------------------------------------------------------


def _panels(worked: Worked, envelope: NamedSize) -> Finding:
    """The folded card alone is too large, or jams."""
    kit, base, room = worked.kit, worked.base, clearance(worked.base.finished, envelope.size)
    enters, uneven = min(room.width, room.height) > ZERO, base.halves and base.front != base.back
    wider, panel = ("back", base.back) if base.back.area > base.front.area else ("front", base.front)
    even = replace(base, score=base.parted / 2).front if base.halves else base.front
    helps = uneven and not _tight(even, envelope.size)
    return Finding(
        "warning" if enters else "error",
        kit.place("card", "score") if helps else kit.place("card", "envelope"),
        "envelope.card-jams" if enters else "envelope.card-too-large",
        panel=wider if uneven else None,
        size=panel if uneven else base.finished,
        envelope=envelope.name,
        holds=envelope.size,
        score=(even.width if base.runs == "down" else even.height) if helps else None,
        even=even if helps else None,
        unit=kit.spec.unit,
    )


# --- whatever overhangs -------------------------------------------------------------------------


def _overhang(worked: Worked, envelope: NamedSize) -> Iterator[Finding]:
    """The folded card alone has its room; what overhangs it takes that away."""
    kit, lying, unit = worked.kit, worked.enclosed, worked.kit.spec.unit
    room, outermost = _room_as_it_goes_in(lying, envelope.size), _outermost(lying.reaches)

    def left(reach: Reach) -> Length:
        return room.width if reach.side in ("left", "right") else room.height

    # Where it lies the other way round for what overhangs, the tight way may be another.
    for reach in [r for r in outermost if left(r) < LEAST_ROOM] or outermost:
        both = any(r.name == reach.name and r.side == _OPPOSITE[reach.side] for r in lying.reaches)
        most = _to_mark(reach.by + (left(reach) - LEAST_ROOM) / (2 if both else 1), unit)
        yield Finding(
            "warning" if lying.enters else "error",
            kit.place(*reach.said),
            "envelope.overhang-jams" if lying.enters else "envelope.overhang-too-large",
            name=reach.name,
            by=reach.by,
            side=reach.side,
            size=lying.size,
            envelope=envelope.name,
            holds=envelope.size,
            most=most if ZERO < most < reach.by else None,
            both=both,
            unit=unit,
        )


def _room_as_it_goes_in(lying: Enclosed, envelope: Size) -> Size:
    """Room for everything, with the envelope turned as the folded card goes into it: the other way round, no shorter overhang would help."""
    ways = [e for e in (envelope, envelope.turned) if min(e.width - lying.folded.width, e.height - lying.folded.height) >= LEAST_ROOM]
    return max((Size(e.width - lying.size.width, e.height - lying.size.height) for e in ways), key=lambda s: min(s.width, s.height))


_OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


def _to_mark(length: Length, unit: str) -> Length:
    """Down to a mark of the ruler."""
    mark = Length.mm(Fraction(1, 2)) if unit == "mm" else LEAST_ROOM
    return mark * (length // mark)


def _outermost(reaches: tuple[Reach, ...]) -> list[Reach]:
    """Of each side, whatever reaches furthest: taking in any other would not help."""
    furthest = {side: max(r.by for r in reaches if r.side == side) for side in {r.side for r in reaches}}
    return [r for r in reaches if r.by == furthest[r.side]]


# --- the panel inside ---------------------------------------------------------------------------


def _inside(worked: Worked) -> Iterator[Finding]:
    kit, base, unit = worked.kit, worked.base, worked.kit.spec.unit
    said, inside = kit.spec.card.inside, worked.enclosed.inside
    if said is None or inside is None or {"larger", "overhang"} & set(said.meant):
        return
    place, panel, label, size = kit.place("card", "inside"), Rect.of(base.back), inside.label, inside.rect.size
    down = base.runs == "down"
    fold, from_fold = ("left", inside.rect.x) if down else ("top", inside.rect.y)
    on = "card" if base.back == base.front else "back panel"
    if not size.fits(panel.size):
        yield Finding("error", place, "envelope.inside-too-large", label=label, size=size, on=on, room=panel.size, unit=unit)
    elif past(panel, inside.rect):
        side, by = furthest(panel, inside.rect)
        if side == fold and base.halves:
            yield Finding("error", place, "envelope.inside-past-the-fold", label=label, size=size, by=by, unit=unit)
        else:
            yield Finding("error", place, "envelope.inside-past-the-edge", label=label, size=size, by=by, side=side, on=on, unit=unit)
    elif from_fold < LEAST_ROOM and base.halves:
        # Of other folds it is told as of any piece on any face.
        touches = not from_fold
        yield Finding("warning", place, "envelope.inside-near-the-fold", label=label, size=size, touches=touches, runs=base.runs, unit=unit)
