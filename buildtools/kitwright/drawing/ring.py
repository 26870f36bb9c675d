"""A ring round a place in a drawing, as a pencil draws it: not quite round, its end beyond its start.

It is told from every other line by its shape and its thickness as well as by its colour, and
lies on a rim of bare paper, so that it shows on any pattern and in a grey print.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from kitwright.drawing.scene import Box, Clip, Contour, Frame, Point, Scene, SceneShape
from kitwright.exact import Exact

CLEAR = Exact(6)
"""How far the line stays from what it goes round, points."""
QUARTER = tuple((Exact(a, c), Exact(b, c)) for a, b, c in ((1, 0, 1), (12, 5, 13), (20, 21, 29), (5, 12, 13)))
"""Points of the unit circle, about a quarter of a right angle apart: exact, from right triangles with whole sides."""
UNIT: tuple[Point, ...] = (*QUARTER, *((-b, a) for a, b in QUARTER), *((-a, -b) for a, b in QUARTER), *((b, -a) for a, b in QUARTER))
TURN, STEPS = len(UNIT), 5
"""Places that the pencil heads for in one turn, and the points drawn from each to the next."""
BULGE = Exact(1, 5)
"""How far the ring bulges towards the corners, at least; 0 would be an ellipse, 1 a rectangle."""
ROOT = Exact(99, 70)
"""The square root of 2, nearly (a convergent of its continued fraction)."""
# How far the hand strays at each place in turn, and how far it drifts from its start to its end.
WOBBLE = tuple(Exact(n, 1000) for n in (0, 9, -6, 4, 12, -4, -9, 6, 2, -11, 5, 8, -5, 3, 10, -7))
STEADY = 90
"""Points of half a ring from which on a larger one is not drawn any rougher."""
DRIFT = Exact(6)
"""Points by which the end of the line lies outside its start."""
OVERLAP = 2
START = 1
"""Of the places of `UNIT`, which go round from the right, upwards: a little above the right."""


def ringed(scene: Scene, boxes: Iterable[Box], alt: str) -> Scene:
    """The picture with a ring round each of these boxes.

    Args:
        scene: the picture.
        boxes: what to go round, in points of the picture.
        alt: what the rings go round, in words; added to what the picture shows.
    """
    lines = tuple(ring(box) for box in boxes)
    if not lines:
        return scene
    drawn = SceneShape(lines, "ring-ground", None, False), SceneShape(lines, "ring", None, False)
    return replace(scene, shapes=scene.shapes + drawn, alt=f"{scene.alt} {alt}")


def ring(box: Box) -> Contour:
    """The line round a box, an open one that overlaps itself; it starts at the upper right."""
    (x, y), half = box.centre, (box.width / 2 + CLEAR, box.height / 2 + CLEAR)
    # A large box needs a squarer ring, so that its corners stay inside.
    large = max(box.width, box.height) / 2
    wanted = (ROOT * Exact(106, 100) * large / (large + CLEAR) - 1) / (ROOT - 1)
    squareness = min(max(BULGE, wanted), Exact(1))
    stops: list[Point] = []
    total = TURN + OVERLAP
    for i in range(-1, total + 2):
        # From -1, and one farther than the end, so that the curve has a way to come and to go.
        c, s = UNIT[(START + i) % TURN]
        bulge = 1 + squareness * (1 / max(abs(c), abs(s)) - 1)
        drift = DRIFT * Exact(i, total) ** 4
        right, down = (
            middle + way * (bulge * (edge + WOBBLE[i % TURN] * min(edge, Exact(STEADY)) + drift))
            for middle, way, edge in ((x, c, half[0]), (y, -s, half[1]))
        )
        stops.append((right, down))
    return smooth(stops)


def smooth(stops: list[Point]) -> Contour:
    """A smooth line through all stops but the first and the last, which give it its way.

    The curve is that of Catmull and Rom (1974), which meets every stop; with exact numbers.
    """
    found: list[Point] = [stops[1]]
    for before, a, b, after in zip(stops, stops[1:], stops[2:], stops[3:]):
        for k in range(1, STEPS + 1):
            t = Exact(k, STEPS)
            x, y = (
                (2 * q + (r - p) * t + (2 * p - 5 * q + 4 * r - s) * t * t + (3 * q - p - 3 * r + s) * t**3) / 2
                for p, q, r, s in zip(before, a, b, after)
            )
            found.append((x, y))
    return tuple(_short(point) for point in found)


def _short(point: Point) -> Point:
    """To a thousandth of a point: what no eye sees, no file needs to say."""
    x, y = (Exact(round(v * 1000), 1000) for v in point)
    return x, y


# --- what to go round --------------------------------------------------------------------------------


def words_in(scene: Scene, room: Box, label: str, sized: bool = True) -> Box | None:
    """Where a label, with the size under it, stands in a piece; None where it is not written there.

    Args:
        scene: the picture.
        room: the piece, in points of the picture.
        label: the label.
        sized: whether the size belongs to it.
    """
    found = [t for t in scene.texts if t.text == label and room.holds(t.box)] if label else []
    if not found:
        return None
    chosen = min(found, key=lambda t: abs(t.box.centre[0] - room.centre[0]) + abs(t.box.centre[1] - room.centre[1])).box
    if not sized:
        # A little higher, so that the line passes between the label and the size under it.
        return Box(chosen.left, chosen.top - 2, chosen.right, chosen.bottom - CLEAR + Exact(3, 2))
    under = chosen.grown(chosen.height, chosen.height)
    near = [
        t.box
        for t in scene.texts
        if t.text != label and t.box.meets(under) and room.holds(t.box) and t.box.left < chosen.centre[0] < t.box.right
    ]
    boxes = [chosen, *near]
    return Box(min(b.left for b in boxes), min(b.top for b in boxes), max(b.right for b in boxes), max(b.bottom for b in boxes))


def frame_of(scene: Scene) -> tuple[Frame, Box]:
    """Where true measures lie in a drawing of one thing, and that thing's own edges."""
    for item in scene.shapes:
        outline = item.contours[0] if isinstance(item, SceneShape) and item.stroke == "sheet" else None
        if outline:
            break
    else:
        # On a card everything lies on its base, which is the lowest piece of paper.
        outline = next(item.outline for item in scene.shapes if isinstance(item, Clip))
    (left, right), (top, bottom) = ((min(edge), max(edge)) for edge in zip(*outline))
    return Frame(left, top, scene.stated_scale), Box(left, top, right, bottom)
