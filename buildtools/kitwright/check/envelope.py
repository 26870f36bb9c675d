"""What is found where the closed card goes into its envelope: panels, whatever overhangs, the panel inside."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kitwright.card.enclosed import Enclosed, Reach, clearance, past
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.sources import PRACTICE, Known
from kitwright.units import SIXTEENTH, ZERO, Length, Size, both_text, length_text, size_text
from kitwright.work.worked import Worked

LEAST_ROOM = Length(SIXTEENTH)
"""A card with less room than this jams."""


def known() -> tuple[Known, ...]:
    """How much room a card is said to need."""
    return (Known("Least room in an envelope", both_text(LEAST_ROOM), PRACTICE),)


def find(worked: Worked) -> Iterator[Finding]:
    """What keeps the closed card out of its envelope, or from closing."""
    base = worked.base
    if min(base.front.width, base.front.height) <= ZERO:
        # The score lies past the base: told with the front.
        return
    yield from _inside(worked)
    if worked.kit.spec.card.envelope:
        yield from _fit(worked)


def _fit(worked: Worked) -> Iterator[Finding]:
    lying, envelope = worked.enclosed, worked.kit.spec.card.envelope.size
    if _tight(lying.folded, envelope):
        yield _panels(worked)
    elif _tight(lying.size, envelope):
        yield from _overhang(worked)


def _tight(card: Size, envelope: Size) -> bool:
    room = clearance(card, envelope)
    return min(room.width, room.height) < LEAST_ROOM


def _called(worked: Worked) -> str:
    envelope = worked.kit.spec.card.envelope
    size = size_text(envelope.size, worked.kit.spec.unit)
    return f"{envelope.name} ({size})" if envelope.name else f"an envelope of {size}"


# --- the panels ---------------------------------------------------------------------------------


def _panels(worked: Worked) -> Finding:
    """The folded card alone is too large, or jams."""
    kit, base, unit = worked.kit, worked.base, worked.kit.spec.unit
    envelope, room = kit.spec.card.envelope.size, clearance(base.finished, kit.spec.card.envelope.size)
    even = Size(base.cut.width / 2, base.cut.height) if base.fold == "side" else Size(base.cut.width, base.cut.height / 2)
    uneven = base.front != base.back
    wider, panel = ("back", base.back) if base.back.area > base.front.area else ("front", base.front)
    place, remedy = kit.place("card", "envelope"), "use a larger envelope or a smaller base"
    if uneven and not _tight(even, envelope):
        place = kit.place("card", "score")
        remedy = f"score at {_middle(worked)}, so that both panels are {size_text(even, unit)}; or use a larger envelope"
    if min(room.width, room.height) > ZERO:
        what = f"the {wider} panel, {size_text(panel, unit)}," if uneven else "the card"
        return Finding("warning", place, f"{what} has {_LITTLE[unit]} of room in {_called(worked)}", remedy)
    what = (
        f"the {wider} panel of the folded card, {size_text(panel, unit)},"
        if uneven
        else f"the finished card, {size_text(base.finished, unit)},"
    )
    return Finding("error", place, f"{what} does not fit {_called(worked)}", remedy)


def _middle(worked: Worked) -> str:
    base = worked.base
    return length_text((base.cut.width if base.fold == "side" else base.cut.height) / 2, worked.kit.spec.unit)


_LITTLE = {"in": "less than a sixteenth of an inch", "mm": "less than 1.6 mm"}


# --- whatever overhangs -------------------------------------------------------------------------


def _overhang(worked: Worked) -> Iterator[Finding]:
    """The folded card alone has its room; what overhangs it takes that away."""
    kit, lying, unit = worked.kit, worked.enclosed, worked.kit.spec.unit
    room, outermost = _room_as_it_goes_in(lying, kit.spec.card.envelope.size), _outermost(lying.reaches)

    def left(reach: Reach) -> Length:
        return room.width if reach.side in ("left", "right") else room.height

    # Where it lies the other way round for what overhangs, the tight way may be another.
    for reach in [r for r in outermost if left(r) < LEAST_ROOM] or outermost:
        both = any(r.name == reach.name and r.side == _OPPOSITE[reach.side] for r in lying.reaches)
        most = _to_mark(reach.by + (left(reach) - LEAST_ROOM) / (2 if both else 1), unit)
        remedy = (
            f"let it reach {length_text(most, unit)} at most{', at both ends' if both else ''}; or use a larger envelope"
            if ZERO < most < reach.by
            else "keep it within the card, or use a larger envelope"
        )
        said = f"with {reach.name} sticking out {length_text(reach.by, unit)} at the {reach.side}, the closed card is {size_text(lying.size, unit)}"
        place = kit.place(*reach.said)
        yield (
            Finding("warning", place, f"{said} and has {_LITTLE[unit]} of room in {_called(worked)}", remedy)
            if lying.enters
            else Finding("error", place, f"{said} and does not fit {_called(worked)}", remedy)
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
    kit, base, unit, inside = worked.kit, worked.base, worked.kit.spec.unit, worked.enclosed.inside
    if inside is None or {"larger", "overhang"} & set(kit.spec.card.inside.meant):
        return
    place, panel, rect = kit.place("card", "inside"), Rect.of(base.back), inside.rect
    fold = "left" if base.fold == "side" else "top"
    called = f"the inside panel {inside.label}, {size_text(rect.size, unit)},"
    on = "the card" if base.back == base.front else "the back panel"
    sides = past(panel, rect)
    if not rect.size.fits(panel.size):
        yield Finding(
            "error", place, f"{called} is larger than {on}, {size_text(panel.size, unit)}", "make it smaller than the panel it lies on"
        )
    elif sides:
        side, by = max(sides.items(), key=lambda s: s[1])
        past_what = "the fold, and the card would not close" if side == fold else f"the {side} edge of {on}"
        yield Finding("error", place, f"{called} reaches {length_text(by, unit)} past {past_what}", "move it in, or say  meant: overhang")
    elif (rect.x if fold == "left" else rect.y) < LEAST_ROOM:
        from_fold = rect.x if fold == "left" else rect.y
        yield Finding(
            "warning",
            place,
            f"{called} {'lies too close to' if from_fold else 'reaches right into'} the fold, where it keeps the card from closing",
            "make it narrower or move it away from the fold" if fold == "left" else "make it lower or move it away from the fold",
        )
