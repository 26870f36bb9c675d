"""Several drawings on one picture: side by side, or one below the other where they find no room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from kitwright.drawing.looks import Patch
from kitwright.drawing.scene import Box, Clip, Contour, Item, Marks, Number, PhotoShape, Point, Scene, SceneShape, Stamps, Text
from kitwright.exact import Exact


def beside(scenes: Sequence[Scene], width: Number, title: str, gap: Number = 0) -> Scene:
    """One picture of several, in rows from the left, as many in each as its width takes.

    Args:
        scenes: the drawings; each keeps its own margins.
        width: of the picture, points; one that is wider stands alone.
        title: what to call it.
        gap: between drawings, points.
    """
    shapes: list[Item] = []
    texts = []
    x, y, low = Exact(0), Exact(0), Exact(0)
    for scene in scenes:
        if x and x + scene.width > width:
            x, y = Exact(0), low + gap
        shapes += [moved(shape, x, y) for shape in scene.shapes]
        texts += [_moved_text(text, x, y) for text in scene.texts]
        low = max(low, y + scene.height)
        x += scene.width + gap
    scales = {scene.scale for scene in scenes}
    alt = " ".join(scene.alt for scene in scenes)
    return Scene(Exact(width), low, tuple(shapes), tuple(texts), title, alt, scales.pop() if len(scales) == 1 else None)


def moved(shape: Item, dx: Fraction, dy: Fraction) -> Item:
    """The same, elsewhere."""

    def point(at: Point) -> Point:
        return at[0] + dx, at[1] + dy

    def contour(stops: Contour) -> Contour:
        return tuple(map(point, stops))

    match shape:
        case Patch():
            look, outline, origin, scale, up, strength = shape.made_from
            return Patch(look, contour(outline), point(origin), scale, up, strength)
        case Clip():
            items = [moved(item, dx, dy) for item in shape.items]
            return Clip(contour(shape.outline), tuple(item for item in items if not isinstance(item, Clip | Text)))
        case Text():
            return _moved_text(shape, dx, dy)
        case SceneShape():
            return replace(shape, contours=tuple(map(contour, shape.contours)))
        case Stamps():
            return replace(shape, at=tuple((x + dx, y + dy) for x, y in shape.at))
        case PhotoShape():
            corners = point((shape.box.left, shape.box.top)), point((shape.box.right, shape.box.bottom))
            return replace(shape, box=Box(*corners[0], *corners[1]), origin=point(shape.origin))
        case Marks():
            return replace(shape, outlines=tuple(tuple((x + dx, y + dy) for x, y in each) for each in shape.outlines))


def _moved_text(text: Text, dx: Fraction, dy: Fraction) -> Text:
    return replace(text, x=text.x + dx, y=text.y + dy)
