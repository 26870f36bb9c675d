"""Does anything on a picture touch, cross or clip what it should not?

Works on the finished scene alone and knows nothing of how figures were placed.
"""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.drawing import styles
from kitwright.drawing.placing import bounds, crosses, edges, fits
from kitwright.drawing.scene import Box, Clip, Contour, Item, Point, Scene, SceneShape

_MARKERS = ("tag", "number", "mark")


def overlaps(scene: Scene) -> list[str]:
    """What touches: text on text, text on a visible line, text half on a number tag, or text off the picture.

    A line counts where it shows: one that runs under an opaque area on which the whole text
    stands does not. Paper looks are not lines; their labels stand on patches.
    """
    found = []
    page = Box(scene.width * 0, scene.height * 0, scene.width, scene.height)
    grounds = [(i, bounds(c), c) for i, shape in enumerate(scene.shapes) for c in _areas(shape)]
    markers = [
        (i, c) for i, shape in enumerate(scene.shapes) if isinstance(shape, SceneShape) and shape.fill in _MARKERS for c in shape.contours
    ]
    lines = [
        (i, a, b, shape.stroke)
        for i, shape in enumerate(scene.shapes)
        if isinstance(shape, SceneShape) and shape.stroke
        for a, b in _lines(shape)
    ]
    for index, text in enumerate(scene.texts):
        box = text.box
        if not page.holds(box):
            found.append(f"“{text.text}” runs off the picture")
        found += [f"“{text.text}” lies on “{other.text}”" for other in scene.texts[index + 1 :] if box.meets(other.box)]
        ground = max((i for i, around, c in grounds if around.holds(box) and fits(box, c)), default=-1)
        met = {role for i, a, b, role in lines if i >= ground and crosses(box, a, b)}
        found += [f"“{text.text}” meets a line of “{role}”" for role in sorted(met)]
        if any(i > ground and any(crosses(box, a, b) for a, b in edges(c)) for i, c in markers):
            found.append(f"“{text.text}” meets a number tag")
    return found


def _areas(shape: Item) -> Iterator[Contour]:
    """The opaque areas of a shape."""
    if isinstance(shape, Clip):
        yield shape.outline
    elif isinstance(shape, SceneShape) and shape.fill and shape.fill != styles.SHADOW:
        yield from shape.contours


def _lines(shape: Item) -> Iterator[tuple[Point, Point]]:
    if isinstance(shape, SceneShape) and shape.stroke:
        for contour in shape.contours:
            yield from edges(contour, shape.closed)
