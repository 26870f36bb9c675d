"""The card front in paper: its layers, the greeting, the places for decoration.

Shared by every picture that shows a card: the sketch, the layers, the thumbnail.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import lru_cache
from itertools import combinations

from kitwright.card.face import Face, Placed, Sentiment, Spot
from kitwright.card.legible import tucked_away
from kitwright.card.ornaments import ornament as shaped
from kitwright.card.ornaments import vein
from kitwright.card.outlines import stretch_within, within
from kitwright.card.pointed import turn
from kitwright.drawing import fonts, motifs, styles
from kitwright.drawing.fonts import Font
from kitwright.drawing.looks import DrawnLook, Patch, TileArea, Up, lay
from kitwright.drawing.palette import Ink
from kitwright.drawing.scene import LEAST_TEXT, Box, Contour, Draft, Frame, Item, Number, Point, SceneShape, Stamps, circle
from kitwright.exact import Exact
from kitwright.geometry import Rect
from kitwright.kit.model.front import OrnamentShape
from kitwright.units import Length, total
from kitwright.work.taken import Piece, piece_of

Looks = Mapping[Piece, DrawnLook]
"""How each face of each paper is drawn, by (paper, face), and a piece that shows its own cut of it by `piece_of`; a missing one is plain white."""

GREETING = Font("serif", "italic")


def look_of(placed: Placed, looks: Looks) -> DrawnLook:
    """How a piece's paper is drawn."""
    return looks.get(piece_of(placed)) or looks.get((placed.paper, placed.face), DrawnLook())


def outline(placed: Placed, frame: Frame) -> Contour:
    """The true outline of a piece, in points."""
    if placed.outline:
        return tuple(frame.point(*corner) for corner in placed.outline)
    return frame.box(placed.rect).corners


def room(placed: Placed, frame: Frame) -> Box:
    """Where a label may stand on a piece: within the rectangle around it, or the largest upright room in a triangle."""
    if len(placed.ring) != 3:
        return frame.box(placed.rect)
    xs, ys = (
        [start + side * step / PARTS for step in range(PARTS + 1)]
        for start, side in ((placed.rect.x, placed.rect.width), (placed.rect.y, placed.rect.height))
    )
    rooms = [
        Rect(x, y, right - x, bottom - y)
        for x, right in combinations(xs, 2)
        for y, bottom in combinations(ys, 2)
        if all(within(placed.ring, corner) for corner in Rect(x, y, right - x, bottom - y).corners)
    ]
    middle = [total(corner[i] for corner in placed.ring).inches / 3 for i in (0, 1)]

    def away(one: Rect) -> Fraction:
        (x, y), (mid_x, mid_y) = one.centre, middle
        return abs(x.inches - mid_x) + abs(y.inches - mid_y)

    return frame.box(min(rooms, key=lambda one: (-one.area, away(one))))


PARTS = 4
"""Parts of a triangle's sides on which room for its label is sought: the largest upright one in a right triangle ends at their halves."""


def edges(placed: Placed, frame: Frame) -> tuple[Contour, ...]:
    """The edges to draw of a piece, in points: its own, and those of its openings."""
    if placed.edges:
        return tuple(tuple(frame.point(*corner) for corner in contour) for contour in placed.edges)
    return (outline(placed, frame),)


def pattern_up(placed: Placed, upside_down: bool = False) -> Up:
    """Which way the pattern of a piece runs; `upside_down`: on a face that is drawn so.

    Of two triangles from one rectangle one lies half a turn from the other with its pattern as it was, so the one that lies upside down shows it
    upright; any other piece turns its pattern with it.
    """
    way = placed.diagonal
    if placed.point and way:
        cos, sin = turn(placed.ring, way)
        return (-cos, -sin) if upside_down else (cos, sin)
    flipped = (placed.upside_down and way is None) != upside_down
    return ("right" if flipped else "left") if placed.turned else "bottom" if flipped else "top"


def paper(draft: Draft, placed: Placed, frame: Frame, looks: Looks, *, strength: Number = 1, line: str = "edge", lift: Number = 0) -> None:
    """One piece of paper, with a soft shadow under it when `lift` (points) is given."""
    contour = outline(placed, frame)
    # Under what is seen through, a shadow would be seen as a stain.
    if lift and look_of(placed, looks).shows == "nothing":
        draft.shapes += _shadows(contour, Exact(lift) * (2 if placed.raised else 1))
    # A piece's pattern is upright in the piece: its size is written that way (see Piece.size).
    up = pattern_up(placed)
    corner = (min(x for x, _ in contour), min(y for _, y in contour))
    draft.shapes.append(lay(look_of(placed, looks), contour, corner, frame.scale, up, strength))
    draft.shapes.append(SceneShape(edges(placed, frame), line))


def shown_of(faces: Iterable[Face], looks: Looks) -> dict[DrawnLook, TileArea]:
    """What is shown of each pattern on fronts, all pieces together, in the pattern's own frame."""
    found: dict[DrawnLook, TileArea] = {}
    for placed in dict.fromkeys(placed for face in faces for side in face.every for placed in side.stack):
        draft = Draft()
        paper(draft, placed, Frame(Exact(0), Exact(0), Exact(1)), looks)
        for patch in draft.shapes:
            if isinstance(patch, Patch) and patch.patterned:
                look, area = patch.made_from[0], patch.area
                found[look] = found[look].both(area) if look in found else area
    return found


@lru_cache(maxsize=256)
def _shadows(contour: Contour, high: Fraction) -> tuple[SceneShape, ...]:
    """The soft shadow of what lies so high; the same on every card of a gallery, and reckoned once."""
    steps = ((high * i * Exact(1, 16), high * i * Exact(1, 8)) for i in range(1, 9))
    return tuple(SceneShape((tuple((x + dx, y + dy) for x, y in contour),), None, styles.SHADOW) for dx, dy in steps)


def greeting(
    draft: Draft, sentiment: Sentiment, face: Face, frame: Frame, looks: Looks, *, pale: bool = False, lying: tuple[Placed, ...] = ()
) -> bool:
    """The greeting in its printed area, as large as fits; small bars where even without a margin it would be under 8 points.

    With `pale`, it lies on paper that is drawn pale itself; `lying` is what of the face is there already, where not all is.

    Returns whether it could be set as text. What a pocket hides is not drawn.
    """
    stack = lying or face.stack
    if tucked_away(sentiment, stack):
        return False
    area = frame.box(sentiment.rect)
    ground = _ground(sentiment, stack, looks)
    dark = on_dark(sentiment, stack, looks) and not pale
    lines, size = fit(sentiment.text, area.width * Exact(19, 20), area.height * Exact(5, 6))
    if size < LEAST_TEXT:
        # As printed, words may fill their area.
        lines, size = fit(sentiment.text, area.width, area.height)
    x, y = area.centre
    if size < LEAST_TEXT:
        for i, share in ((0, Exact(4, 5)), (1, Exact(1, 2))):
            half, top = area.width * share / 2, area.top + area.height * (Exact(1, 5) + Exact(2, 5) * i)
            draft.box(Box(x - half, top, x + half, top + area.height / 5), None, Ink("white" if dark else "line" if pale else "soft"), 2)
        return False
    black = ground is not None and look_of(ground, looks).middling
    role = "sentiment-light" if dark else "sentiment-pale" if pale else "sentiment-black" if black else "sentiment"
    leading = size * Exact(11, 10)
    top = y - (leading * (len(lines) - 1) + size * (fonts.ASCENT + fonts.drop(lines[-1]))) / 2
    for i, words in enumerate(lines):
        draft.text(words, x, top + size * fonts.ASCENT + leading * i, size, role, "middle", "serif", "italic")
    return True


def on_dark(sentiment: Sentiment, stack: Iterable[Placed], looks: Looks) -> bool:
    """Whether the greeting is printed on a dark paper."""
    under = _ground(sentiment, stack, looks)
    return under is not None and look_of(under, looks).dark


def _ground(sentiment: Sentiment, stack: Iterable[Placed], looks: Looks) -> Placed | None:
    """What the greeting is seen on: film lets what lies below it through."""
    under = [p for p in stack if p.covers_some(sentiment.rect) and look_of(p, looks).shows != "through"]
    return under[-1] if under else None


@lru_cache(maxsize=256)
def fit(text: str, width: Fraction, height: Fraction) -> tuple[tuple[str, ...], Fraction]:
    """The largest type, in half points up to 48, in which the words fit an area of this size in points, and their lines."""
    best: tuple[tuple[str, ...], Fraction] = ((text,), Exact(0))
    for count in range(1, 5):
        high = count * Exact(11, 10) - Exact(15, 100)
        for half in range(96, 15, -1):
            size = Exact(half, 2)
            if size <= best[1]:
                break
            if size * high > height:
                continue
            lines = fonts.wrap(text, size, width, GREETING)
            if len(lines) == count and all(fonts.width(w, size, GREETING) <= width for w in lines):
                best = tuple(lines), size
                break
    return best


def spot(draft: Draft, place: Spot, frame: Frame) -> Box:
    """The dashed outline of a place kept clear, or of what goes there."""
    area = frame.box(place.rect)
    if place.edges:
        draft.shapes.append(SceneShape(_points(place.edges, frame), "spot"))
    else:
        draft.box(area, "spot")
    return area


def _points(edges: Iterable[Iterable[tuple[Length, Length]]], frame: Frame) -> tuple[Contour, ...]:
    return tuple(tuple(frame.point(*corner) for corner in contour) for contour in edges)


def ornament(draft: Draft, place: Spot, frame: Frame) -> None:
    """The decoration as what it is; where nothing is said a stand-in: a blossom, or a row of dots where the place is long."""
    area = frame.box(place.rect)
    if place.shape:
        _shaped(draft, place, place.shape, frame)
        return
    short, long = sorted((area.width, area.height))
    count = min(5, max(1, int(long / short))) if short else 1
    for i in range(count):
        share = Exact(2 * i + 1, 2 * count)
        x = area.left + area.width * (share if area.width == long else Exact(1, 2))
        y = area.top + area.height * (Exact(1, 2) if area.width == long else share)
        if count > 1:
            radius = min(short, long / count) * Exact(2, 5)
            draft.shapes += _with_shadow((circle(radius),), x, y, Ink("second"))
        else:
            draft.shapes += _blossom(short / 34, x, y)


def _shaped(draft: Draft, place: Spot, shape: OrnamentShape, frame: Frame) -> None:
    """A decoration in its own outline and colour, with its hole or its vein."""
    (whole,) = _points((shaped(shape, place.rect).one_polygon(),), frame)
    draft.shapes += _shadows(whole, frame.scale * 3)
    draft.shapes.append(SceneShape((whole,), None, Ink(place.colour or _COLOURS.get(shape, "second"))))
    draft.shapes.append(SceneShape(_points(place.edges, frame), "paper-edge"))
    if shape == "leaf":
        draft.shapes.append(SceneShape((tuple(frame.point(*end) for end in vein(place.rect)),), "paper-edge", None, False))


_COLOURS = {"leaf": "sage", "star": "butter", "tag": "linen"}
"""What a decoration is drawn in where no colour is said; any other in the club's second colour."""


@lru_cache(maxsize=256)
def _blossom(unit: Fraction, x: Fraction, y: Fraction) -> tuple[Item, ...]:
    petals = tuple(tuple((a * unit, b * unit) for a, b in c) for c in motifs.PETALS)
    return *_with_shadow(petals, x, y, Ink("second")), Stamps((circle(5 * unit),), ((x, y),), Ink("butter"))


@lru_cache(maxsize=256)
def _with_shadow(motif: tuple[Contour, ...], x: Fraction, y: Fraction, ink: Ink) -> tuple[Item, ...]:
    steps = [(x + i * Exact(3, 10), y + i * Exact(6, 10)) for i in (1, 2, 3)]
    under = [SceneShape((tuple((a + dx, b + dy) for a, b in contour),), None, styles.SHADOW) for contour in motif for dx, dy in steps]
    return *under, Stamps(motif, ((x, y),), ink)


def hidden_edges(face: Face, frame: Frame) -> list[tuple[Point, Point]]:
    """The stretches of piece edges that lie under other pieces (ISO 128: dashed)."""
    found = []
    stack = face.pieces + face.over
    for i, lower in enumerate(stack):
        sides = [side for ring in lower.edges or (lower.ring,) for side in zip(ring, ring[1:] + ring[:1]) if _dashed(lower, side)]
        for upper in stack[i + 1 :]:
            if lower.lies_over(upper):
                parts = (stretch_within(*side, upper.ring) for side in sides)
                found += [_ordered(frame.point(*part[0]), frame.point(*part[1])) for part in parts if part]
    return found


def _ordered(one: Point, other: Point) -> tuple[Point, Point]:
    """From the left, or from the top: dashes begin there however the edge runs."""
    return (one, other) if one <= other else (other, one)


def _dashed(placed: Placed, side: tuple[tuple[Length, Length], tuple[Length, Length]]) -> bool:
    """Whether an edge is dashed where it is hidden: upright and level ones, and those of slanted cuts."""
    (ax, ay), (bx, by) = side
    return ax == bx or ay == by or placed.slanted
