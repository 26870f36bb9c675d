"""The card front: sums, borders, overhangs, layers, sentiment."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from kitwright.card.enclosed import furthest, past
from kitwright.card.face import Face, Placed, Sentiment
from kitwright.card.layout import standing_on
from kitwright.card.shapes import as_placed, clear_of_notches, notches_on_card, stays_clear
from kitwright.check import borders
from kitwright.check.decoration import placed_decorations
from kitwright.check.grounds import Ground, grounds
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.kit.names import Path
from kitwright.units import ZERO, Size
from kitwright.work.worked import Worked


def find(worked: Worked) -> Iterator[Finding]:
    """What is wrong with the finished front and the base."""
    yield from _base(worked)
    for ground in grounds(worked):
        yield from _sums(worked, ground)
        yield from _layers(worked, ground)
        yield from _overhangs(worked, ground)
        yield from _larger(worked, ground)
        yield from borders.find(worked, ground)
    yield from borders.inside(worked)
    yield from _overlaps(worked)
    yield from _one_way(worked)
    yield from _halves_stand(worked)
    for side in worked.face.every:
        for said in side.sentiments:
            yield from _sentiment(worked, side, said)
            yield from _covered(worked, side, said)
        yield from _spots(worked, side)


def _base(worked: Worked) -> Iterator[Finding]:
    base, place = worked.base, worked.kit.place("card", "score")
    across = base.parted
    if base.halves and base.score >= across:
        yield Finding(
            "error", place, "front.score-past-base", score=base.score, base=base.cut, middle=across / 2, unit=worked.kit.spec.unit
        )


def _sums(worked: Worked, ground: Ground) -> Iterator[Finding]:
    said = ground.said
    place = worked.kit.place(*ground.path, "rows" if said.rows is not None else "columns")
    meant = "uneven" in said.meant or any("uneven" in item.meant for item in ground.items.values())
    for line in ground.face.sums:
        banded = any(t.name == "band" for t in line.terms)
        if not line.holds and (not meant or banded and line.reached > line.target):
            yield Finding("error", place, "front.sum-off", line=line, unit=worked.kit.spec.unit)


def _layers(worked: Worked, ground: Ground) -> Iterator[Finding]:
    unit, layers = worked.kit.spec.unit, ground.face.layers
    for below, layer in zip(layers, layers[1:]):
        if _past_a_fold(worked, ground, layer):
            continue
        # The panel inside, which is a layer there, is told with the envelope.
        if layer.said in ground.layers and not below.rect.contains(layer.rect) and not {"larger", "overhang"} & ground.meant(layer):
            yield Finding(
                "error",
                worked.kit.place(*layer.said),
                "front.layer-not-within",
                label=layer.label,
                size=layer.rect.size,
                on=below.label,
                room=below.rect.size,
                unit=unit,
            )


def meant_of(worked: Worked, placed: Placed) -> set[str]:
    """What the author said is meant of a piece: at its own entry, or for the whole face that it lies on."""
    inside = worked.kit.spec.card.inside
    if inside and placed.said == ("card", "inside"):
        return set(inside.meant)
    return next((ground.meant(placed) for ground in grounds(worked) if placed in (*ground.face.stack,)), set())


def _overhangs(worked: Worked, ground: Ground) -> Iterator[Finding]:
    unit, face = worked.kit.spec.unit, ground.face
    card = face.layers[0].rect
    for placed in face.pieces + face.over:
        under = face.field if placed.layer == "piece" else card
        if under.contains(placed.rect) or {"overhang", "larger"} & ground.meant(placed) or _past_a_fold(worked, ground, placed):
            continue
        (side, by), over, place = furthest(under, placed.rect), placed.layer == "over", worked.kit.place(*placed.said)
        yield Finding("error", place, "front.past-the-edge", label=placed.label, by=by, side=side, over=over, unit=unit)


def _past_a_fold(worked: Worked, ground: Ground, placed: Placed) -> bool:
    """Whether a piece reaches past a fold that closes over its face, which is told with the folds."""
    face = ground.face.on or worked.base.leading
    return any(edge in worked.base.closed_over(face) for edge in past(Rect.of(ground.face.size), placed.rect))


def _larger(worked: Worked, ground: Ground) -> Iterator[Finding]:
    """A piece laid on another by name lies within it."""
    unit, whole = worked.kit.spec.unit, ground.whole
    sizes = {p.label: p.rect.size for p in whole.layers + whole.pieces + whole.over}
    for placed in ground.face.pieces + ground.face.over:
        if placed.hold and placed.hold.behind:
            # What is stuck behind a frame is told with the frame.
            continue
        on = ground.laid[placed.said].on if placed.said in ground.laid else ""
        if on in sizes and not placed.rect.size.fits(sizes[on]) and not {"larger", "overhang"} & ground.meant(placed):
            place, size = worked.kit.place(*placed.said), placed.rect.size
            yield Finding("error", place, "front.larger", label=placed.label, size=size, on=on, room=sizes[on], unit=unit)


def _overlaps(worked: Worked) -> Iterator[Finding]:
    for side in worked.face.every:
        # A full layer on one of several doors lies below what stands on it.
        pieces = [placed for placed in side.pieces if "layers" not in placed.said]
        for i, one in enumerate(pieces):
            for other in pieces[i + 1 :]:
                # Where doors overlap, what stands on the one may lie over the other; doors that do are told themselves.
                same = _block(one) == _block(other) or ("front",) in (_block(one), _block(other))
                if same and one.lies_over(other):
                    place = worked.kit.place(*_block(other))
                    yield Finding("error", place, "front.overlapping", labels=(one.label, other.label), on=side.on)


def _block(placed: Placed) -> Path:
    """Where the block of the spec stands that lays a piece down."""
    return placed.said[:2] if placed.said[:1] == ("faces",) else ("front",)


def _one_way(worked: Worked) -> Iterator[Finding]:
    for side in (side for face in worked.faces for side in face.every):
        for placed in side.pieces + side.over:
            paper = worked.kit.papers[placed.paper]
            printed = paper.face(placed.face)
            # Of a rectangle's two triangles one lies half a turn from the other with its pattern upright: see `_halves_stand`.
            turned = placed.turned or placed.point or placed.upside_down and not placed.diagonal
            if turned and printed and printed.up:
                place = worked.kit.place(*_block(placed))
                yield Finding("error", place, "front.turned-one-way", paper=paper.name, label=placed.label)


def _halves_stand(worked: Worked) -> Iterator[Finding]:
    """Triangles of a paper that has an up: each rectangle gives one that stands as written, and one half a turn from it."""
    counts: Counter[tuple[str, str, bool]] = Counter()
    for face in (side for one in worked.faces for side in one.every):
        for placed in face.stack:
            piece, printed = worked.kit.spec.pieces.get(placed.label), worked.kit.papers[placed.paper].face(placed.face)
            if piece and piece.diagonal and printed and printed.up and not placed.turned and not placed.point:
                counts[placed.label, placed.paper, placed.upside_down] += face.cards
    for label, paper in dict.fromkeys((label, paper) for label, paper, _ in counts):
        upright, upside_down = counts[label, paper, False], counts[label, paper, True]
        if upright != upside_down:
            name = worked.kit.papers[paper].name
            values = {"label": label, "paper": name, "upright": upright, "upside_down": upside_down}
            yield Finding("error", worked.kit.place("front"), "front.halves-unlike", **values)


def _sentiment(worked: Worked, face: Face, said: Sentiment) -> Iterator[Finding]:
    kit, unit = worked.kit, worked.kit.spec.unit
    place, size = kit.place(*said.said, "size"), said.rect.size
    strip = next((p for p in reversed(face.stack) if p.label == said.on), None)
    piece = kit.spec.pieces.get(said.on)
    notches = notches_on_card(piece, strip.turned, strip.upside_down) if strip and piece else {}
    if strip:
        rect = clear_of_notches(strip.rect, notches)
    else:
        rect = standing_on(said.on, face, worked.base)
    if not rect.contains(said.rect):
        room = Size(max(rect.width, ZERO), max(rect.height, ZERO))
        notched = strip is not None and bool(notches) and strip.rect.contains(said.rect)
        yield Finding("error", place, "front.sentiment-past", size=size, on=said.on, notch=notched, room=room, unit=unit)
    elif strip and piece and not notches:
        shape = as_placed(piece, strip)
        if shape and not stays_clear(shape, said.rect):
            yield Finding("error", place, "front.sentiment-meets-shape", size=size, on=said.on, unit=unit)


def _covered(worked: Worked, face: Face, said: Sentiment) -> Iterator[Finding]:
    """Paper laid over the printed words."""
    above = face.stack
    on = next((i for i, p in enumerate(above) if p.label == said.on), None)
    # What lies on the band or the front lies over words that are printed there.
    later = above[on + 1 :] if on is not None else face.over
    hold = above[on].hold if on is not None else None
    into = hold.into if hold else ""
    for placed in later:
        if placed.label == into:
            # It is read when the tag is pulled out.
            continue
        if placed.covers_some(said.rect) and worked.kit.papers[placed.paper].material.shows != "through":
            yield Finding("warning", worked.kit.place(*placed.said), "front.over-the-sentiment", label=placed.label)


def _spots(worked: Worked, face: Face) -> Iterator[Finding]:
    card = Rect.of(face.size)
    for said, spot, path in placed_decorations(worked, face):
        place, meant = worked.kit.place(*path), said.meant
        if not card.contains(spot.rect) and "overhang" not in meant:
            yield Finding("error", place, "front.decoration-past-the-edge", name=spot.name)
        if any(spot.rect.overlaps(words.rect) for words in face.sentiments):
            yield Finding("warning", place, "front.decoration-on-the-sentiment", name=spot.name)
