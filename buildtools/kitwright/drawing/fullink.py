"""Drawings of the printable's sheet in full ink: in a copy of black and white alone a tint is a screen of dots, and a pale line is gone."""

from __future__ import annotations

from dataclasses import replace

from kitwright.drawing.scene import Item, Scene, SceneShape

_ROLES = {
    "leader": "pointer",
    "leader-ground": "pointer-ground",
    "dimension": "measure",
    "extension": "measure-end",
    "hidden": "covered",
    "patch": "white",
}
"""Lines and grounds that other drawings have in softer ink."""


def in_full_ink(scene: Scene) -> Scene:
    """The same drawing with lines, grounds and quiet words in ink."""
    texts = tuple(replace(text, role="figure") if text.role == "note" else text for text in scene.texts)
    return replace(scene, shapes=tuple(map(_inked, scene.shapes)), texts=texts)


def _inked(item: Item) -> Item:
    if not isinstance(item, SceneShape):
        return item
    stroke, fill = item.stroke or "", item.fill if isinstance(item.fill, str) else ""
    return replace(item, stroke=_ROLES.get(stroke, item.stroke), fill=_ROLES.get(fill, item.fill))
