"""A few fronts of proposed cards side by side, without their sheets: what stands where a part of a page is still closed."""

from __future__ import annotations

from collections.abc import Sequence

from kitwright.drawing.proposals.dress import looks_of_wish
from kitwright.drawing.proposals.fronts import fronts_of
from kitwright.drawing.scene import Draft, Frame, Number, Scene, points
from kitwright.drawing.sketch import picture
from kitwright.exact import Exact
from kitwright.proposing.papered import AsMade
from kitwright.telling.proposed_kit import GREETING

_APART, _EDGE, _LIFT = Exact(9), Exact(3), Exact(6, 5)
"""Between cards, round them all, and how far the shadow of a layer falls; points."""


def row_of_fronts(made: Sequence[AsMade], high: Number, title: str, alt: str) -> Scene:
    """One front of each layout, all at one scale, on one line at their feet.

    Args:
        made: the layouts with their papers, at least one.
        high: of the highest of them, points.
        title: of the drawing.
        alt: what it shows, for those who can't see it.
    """
    fronts = [(fronts_of(*each, GREETING)[0], looks_of_wish(each[0])) for each in made]
    scale = high / max(points(face.size.height, Exact(1)) for face, _ in fronts)
    draft, x, foot = Draft(), _EDGE, _EDGE + high
    for face, looks in fronts:
        picture(draft, face, looks, Frame(x, foot - points(face.size.height, scale), scale), _LIFT, _LIFT)
        x += points(face.size.width, scale) + _APART
    return draft.scene(x - _APART + _EDGE + _LIFT, foot + _EDGE + _LIFT, title, alt)
