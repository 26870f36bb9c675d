"""The card front: sums, borders, overhangs, layers, sentiment."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kitwright.card.face import Face, Placed, Sum
from kitwright.card.shapes import clear_of_notches, notches_on_card, on_card, stays_clear
from kitwright.check import borders
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.kit.names import BASE, front_items, laid_items
from kitwright.telling.shapes import ground_text
from kitwright.units import ZERO, Length, Size, length_text, size_text
from kitwright.work.worked import Worked

_HAIR = Length(Fraction(1, 32))
"""Less than this rounds to nothing on a ruler."""


def find(worked: Worked) -> Iterator[Finding]:
    """What is wrong with the finished front and the base."""
    face = worked.face
    yield from _base(worked)
    yield from _sums(worked, face)
    yield from _layers(worked, face)
    yield from _overhangs(worked, face)
    yield from _larger(worked, face)
    yield from borders.find(worked)
    yield from _overlaps(worked, face)
    yield from _one_way(worked)
    yield from _sentiment(worked, face)
    yield from _covered(worked, face)
    yield from _spots(worked, face)


def _base(worked: Worked) -> Iterator[Finding]:
    kit, base, unit = worked.kit, worked.base, worked.kit.spec.unit
    across = base.cut.width if base.fold == "side" else base.cut.height
    if base.score >= across:
        yield Finding(
            "error",
            kit.place("card", "score"),
            f"the score at {length_text(base.score, unit)} lies past the base of {size_text(base.cut, unit)}",
            f"score at {length_text(across / 2, unit)} for a card that closes evenly",
        )


def _sums(worked: Worked, face: Face) -> Iterator[Finding]:
    unit, front = worked.kit.spec.unit, worked.kit.spec.front
    key = "rows" if front.rows is not None else "columns"
    said = "uneven" in front.meant or any("uneven" in item.meant for item, _ in front_items(worked.kit))
    for line in face.sums:
        band = next((t for t in line.terms if t.name == "band"), None)
        over = line.reached - line.target
        if over and (not said or band and over > ZERO):
            terms = " + ".join(f"{t.name} {length_text(t.length, unit)}" for t in line.terms)
            yield Finding(
                "error",
                worked.kit.place("front", key),
                f"{ground_text(line.on)}, {line.direction}: {terms} = {length_text(line.reached, unit)}, not {length_text(line.target, unit)}",
                _sum_remedy(line, over, unit),
            )


def _sum_remedy(line: Sum, over: Length, unit: str) -> str:
    by = length_text(abs(over), unit) if abs(over) >= _HAIR else "a hair"
    if over > ZERO:
        return f"take away {by}, or say  meant: uneven"
    lone = [t.name for t in line.terms if t.name not in ("border", "gap")]
    if len(lone) == 1:
        sides = "left, right" if line.direction == "across" else "top, bottom"
        return f"add {by}, or say where {lone[0]} sits with  place: …  ({sides} or centre)"
    return f"add {by}, or say  meant: uneven"


def _layers(worked: Worked, face: Face) -> Iterator[Finding]:
    unit = worked.kit.spec.unit
    for i, (below, layer) in enumerate(zip(face.layers, face.layers[1:])):
        meant = worked.kit.spec.card.layers[i].meant
        if not below.rect.contains(layer.rect) and not {"larger", "overhang"} & set(meant):
            name = "the base" if below.label == BASE else below.label
            yield Finding(
                "error",
                worked.kit.place("card", "layers", i),
                f"{layer.label}, {size_text(layer.rect.size, unit)}, does not lie within {name}, {size_text(below.rect.size, unit)}",
                "make it smaller, or say  meant: larger",
            )


def meant_of(worked: Worked, placed: Placed) -> set[str]:
    """What the author said is meant of a piece: at its own entry, or for the whole front."""
    said = [entry for entry, path in (*laid_items(worked.kit), *front_items(worked.kit)) if path == placed.said]
    return set(worked.kit.spec.front.meant) | {word for entry in said for word in entry.meant}


def _overhangs(worked: Worked, face: Face) -> Iterator[Finding]:
    unit = worked.kit.spec.unit
    card = Rect.of(face.size)
    for placed in face.pieces + face.over:
        meant, path = meant_of(worked, placed), placed.said
        ground = face.field if placed.layer == "piece" else card
        if ground.contains(placed.rect) or {"overhang", "larger"} & meant:
            continue
        r = placed.rect
        past = {"left": ground.x - r.x, "right": r.right - ground.right, "top": ground.y - r.y, "bottom": r.bottom - ground.bottom}
        side, by = max(past.items(), key=lambda p: p[1])
        on = "the card" if placed.layer == "over" else "what it lies on"
        yield Finding(
            "error",
            worked.kit.place(*path),
            f"{placed.label} reaches {length_text(by, unit)} past the {side} edge of {on}",
            "move it in or make it smaller, or say  meant: overhang",
        )


def _larger(worked: Worked, face: Face) -> Iterator[Finding]:
    """A piece laid on another by name lies within it."""
    unit, sizes = worked.kit.spec.unit, {p.label: p.rect.size for p in face.layers + face.pieces + face.over}
    laid = {path: entry for entry, path in laid_items(worked.kit)}
    for placed in face.pieces + face.over:
        on = laid[placed.said].on if placed.said in laid else ""
        if on in sizes and not placed.rect.size.fits(sizes[on]) and not {"larger", "overhang"} & meant_of(worked, placed):
            yield Finding(
                "error",
                worked.kit.place(*placed.said),
                f"{placed.label}, {size_text(placed.rect.size, unit)}, is larger than {on}, {size_text(sizes[on], unit)}, which it lies on",
                "make it smaller, or say  meant: larger",
            )


def _overlaps(worked: Worked, face: Face) -> Iterator[Finding]:
    for i, one in enumerate(face.pieces):
        for other in face.pieces[i + 1 :]:
            if one.rect.overlaps(other.rect):
                yield Finding(
                    "error",
                    worked.kit.place("front"),
                    f"{one.label} and {other.label} lie over each other on the front",
                    "move one of them, or list it under “over” if it belongs on top",
                )


def _one_way(worked: Worked) -> Iterator[Finding]:
    for face in worked.faces:
        for placed in face.pieces + face.over:
            paper = worked.kit.papers[placed.paper]
            printed = paper.face(placed.face)
            if placed.turned and printed and printed.up:
                yield Finding(
                    "error",
                    worked.kit.place("front"),
                    f"{paper.name} is one-way, and {placed.label} would lie turned on the card",
                    "place it upright, or use a paper without an up",
                )


def _sentiment(worked: Worked, face: Face) -> Iterator[Finding]:
    if face.sentiment is None:
        return
    kit, unit = worked.kit, worked.kit.spec.unit
    said, strip = face.sentiment, None
    strip = next((p for p in reversed(face.stack) if p.label == said.on), None)
    if strip:
        notches = notches_on_card(kit.spec.pieces[strip.label], strip.turned) if strip.label != BASE else {}
        rect, what = clear_of_notches(strip.rect, notches), strip.label
    else:
        notches, rect, what = {}, face.bands[0] if said.on == "band" else face.field, f"the {said.on}"
    if not rect.contains(said.rect):
        room = Size(max(rect.width, ZERO), max(rect.height, ZERO))
        wanted = "a notch" if notches and strip.rect.contains(said.rect) else "an edge"
        yield Finding(
            "error",
            kit.place("sentiment", "size"),
            f"the sentiment, {size_text(said.rect.size, unit)}, meets {wanted} of {what}",
            f"the clear space there is {size_text(room, unit)}: use a smaller stamp or a larger strip",
        )
    elif (
        strip
        and strip.edges
        and not notches
        and not stays_clear(on_card(kit.spec.pieces[strip.label], strip.rect, strip.turned), said.rect)
    ):
        yield Finding(
            "error",
            kit.place("sentiment", "size"),
            f"the sentiment, {size_text(said.rect.size, unit)}, meets the shaped edge or an opening of {what}",
            "use a smaller stamp or place it elsewhere",
        )


def _covered(worked: Worked, face: Face) -> Iterator[Finding]:
    """Paper laid over the printed words."""
    said = face.sentiment
    if said is None:
        return
    above = face.stack
    on = next((i for i, p in enumerate(above) if p.label == said.on), None)
    # What lies on the band or the front lies over words that are printed there.
    later = above[on + 1 :] if on is not None else face.over
    for placed in later:
        if placed.rect.overlaps(said.rect):
            yield Finding(
                "warning",
                worked.kit.place(*placed.said),
                f"{placed.label} lies over the sentiment",
                f"move one of the two, or print the sentiment on {placed.label}",
            )


def _spots(worked: Worked, face: Face) -> Iterator[Finding]:
    card = Rect.of(face.size)
    for i, spot in enumerate(face.spots):
        path, meant = ("decorations", i), worked.kit.spec.decorations[i].meant
        if not card.contains(spot.rect) and "overhang" not in meant:
            yield Finding(
                "error", worked.kit.place(*path), f"{spot.name} reaches past the edge of the card", "move it in, or say  meant: overhang"
            )
        if face.sentiment and spot.rect.overlaps(face.sentiment.rect):
            yield Finding("warning", worked.kit.place(*path), f"{spot.name} covers the sentiment", "move one of the two")
