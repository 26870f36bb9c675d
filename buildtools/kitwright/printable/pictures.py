"""The pictures of a printable, each drawn for the room it gets; all room is in points."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from kitwright.card.face import Face
from kitwright.cutting.plan import Layout
from kitwright.drawing.base import base_flat
from kitwright.drawing.guide import EDGE, cutting_guide
from kitwright.drawing.layers import layer_steps
from kitwright.drawing.scene import Scene, Shape
from kitwright.drawing.sketch import card_sketch
from kitwright.printable.job import Job
from kitwright.units import Size


def sketch(job: Job, width: float, height: float) -> Scene:
    """The card sketch."""
    return job.once(("sketch", room(width), room(height)), lambda: card_sketch(
        job.worked.face, job.looks, unit=job.unit, width=room(width), height=room(height)))


def look(job: Job, face: Face, width: float) -> Scene:
    """The finished card in one of its looks, without labels and figures."""
    return job.once(("look", face.name, room(width)), lambda: card_sketch(
        face, job.looks, unit=job.unit, width=room(width), plain=True, name=face.name))


def guide(job: Job, layout: Layout, width: float, height: Fraction | float | None = None) -> Scene:
    """The cutting guide of one layout."""
    high = height if height is None or isinstance(height, Fraction) else room(height)
    return job.once(("guide", job.worked.layouts.index(layout), room(width), high), lambda: cutting_guide(
        layout.tree, unit=job.unit, width=room(width), height=high, look=job.look(layout.papers[0])))


def guides_alike(job: Job, layouts: Sequence[Layout], width: float, height: float) -> list[Scene]:
    """Guides for one row, at one scale."""
    scenes = [guide(job, layout, width, height) for layout in layouts]
    scale = min(drawn_scale(scene, layout.sheet) for scene, layout in zip(scenes, layouts))
    return [at_scale(job, layout, width, scene, scale) for scene, layout in zip(scenes, layouts)]


def at_scale(job: Job, layout: Layout, width: float, scene: Scene, scale: Fraction) -> Scene:
    """A guide drawn smaller, at a given scale."""
    if drawn_scale(scene, layout.sheet) == scale:
        return scene
    # Only the sheet grows with the scale, so the height of the whole picture sets it exactly.
    widest = guide(job, layout, width)
    high = layout.sheet.height.inches * 72
    return guide(job, layout, width, widest.height - (drawn_scale(widest, layout.sheet) - scale) * high)


def drawn_scale(scene: Scene, sheet: Size) -> Fraction:
    """The scale at which a guide was drawn, measured on its sheet's outline."""
    outline = next(item for item in scene.shapes if isinstance(item, Shape) and item.stroke == "sheet").contours[0]
    across = [x for x, _ in outline]
    return (max(across) - min(across)) / (sheet.width.inches * 72)


def base(job: Job, width: float, height: float) -> Scene:
    """The flat base with its score line."""
    key = job.worked.kit.spec.card.base.paper
    return job.once(("base", room(width), room(height)), lambda: base_flat(
        job.worked.base, unit=job.unit, width=room(width), height=room(height), look=job.look(key)))


def layers(job: Job, width: float, height: float) -> Scene:
    """How the layers go on, one after another."""
    return job.once(("layers", room(width), room(height)), lambda: layer_steps(
        job.worked.face, job.looks, width=room(width), height=room(height)))


def room(value: float) -> Fraction:
    """Room on the page as a picture takes it: whole points, and the clear margin that hangs outside."""
    return int(value) + 2 * EDGE
