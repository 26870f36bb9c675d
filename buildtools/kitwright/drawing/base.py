"""The card base laid flat: its score line, its front, its sizes, the way of its grain."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Literal

from kitwright.card.base import Base
from kitwright.drawing.caption import CaptionNote, notes
from kitwright.drawing.dimensions import Span, along_room, chain_across, chain_along, figure_height, round_scale, scale_text
from kitwright.drawing.folds.diagram import flat_alone
from kitwright.drawing.labels import alone, stacked
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.placing import Board
from kitwright.drawing.scene import Box, Draft, Frame, Number, Scene
from kitwright.exact import Exact
from kitwright.telling.drawn import base_alt
from kitwright.units import ZERO, figure, size_text

EDGE = Exact(6)
Grain = Literal["up and down", "across"]


def base_flat(
    base: Base,
    *,
    unit: str = "in",
    width: Number = 320,
    height: Number | None = None,
    look: DrawnLook | None = None,
    grain: Grain | None = None,
    name: str = "",
    scale: Fraction | None = None,
) -> Scene:
    """The base before folding, as it lies with the card upright.

    Args:
        base: its cut size, fold and score.
        unit: `in` or `mm`.
        width: of the picture, points.
        height: at most this, points.
        look: the cardstock, shown as a faint tint.
        grain: which way the grain should run, when that is to be shown.
        name: what to call it, such as the cardstock's name.
        scale: at most this scale, so that several bases can share one.
    """
    if not base.halves and base.closed:
        said = base_alt(base, unit, grain)
        scene = flat_alone(
            base.closed, base.breadth, unit=unit, width=width, height=height, look=look, grain=grain, name=name, alt=said, scale=scale
        )
        return replace(scene, title=f"Card base: {size_text(base.cut, unit)}")
    lengths = [base.cut.height] if base.runs == "down" else [base.back.height, base.front.height]
    left = Exact(0) if base.runs == "down" else Exact(36)
    room = Exact(width) - 2 * EDGE - left - along_room([figure(n, unit) for n in lengths])
    scale = min(room / (base.cut.width.inches * 72), Exact(1, 1) if scale is None else scale)
    around = EDGE + figure_height(10) + 10 + 14 + 17 + 40 + EDGE
    if height is not None:
        scale = min(scale, (height - around) / (base.cut.height.inches * 72))
    scale = round_scale(scale)
    draft, board = Draft(), Board()
    draft.text(" · ".join(filter(None, (name, size_text(base.cut, unit)))), EDGE, EDGE + figure_height(10), 10, "title", weight="semibold")
    frame = Frame(EDGE + left, EDGE + figure_height(10) + (24 if base.runs == "down" else 12), scale)
    sheet = Box(*frame.point(ZERO, ZERO), *frame.point(base.cut.width, base.cut.height))
    _paper(draft, sheet, frame, look)
    back, front = _panels(draft, base, sheet, frame)
    _name(draft, back, "back", size_text(base.back, unit), look)
    _name(draft, front, "front", size_text(base.front, unit), look)
    unsaid = [] if not grain or _grain(draft, front, grain) else [CaptionNote(f"grain runs {grain}")]
    bottom = chain_across(draft, board, _spans(base, unit, frame, True), sheet.bottom, sheet.bottom + 17, (EDGE, Exact(width) - EDGE))
    chain_along(draft, board, _spans(base, unit, frame, False), sheet.right, sheet.right + 9, (sheet.top, sheet.bottom))
    signs = [CaptionNote("score, then fold", line="score"), *unsaid, CaptionNote(scale_text(scale))]
    bottom = notes(draft, [signs], EDGE, Exact(width) - EDGE, max(bottom, draft.below()) + 8)
    return draft.scene(width, bottom + EDGE, f"Card base: {size_text(base.cut, unit)}", base_alt(base, unit, grain), scale)


def _paper(draft: Draft, sheet: Box, frame: Frame, look: DrawnLook | None) -> None:
    draft.box(sheet, None, "white")
    if look:
        draft.shapes.append(lay(look, sheet.corners, (sheet.left, sheet.top), frame.scale, strength=Exact(1, 4)))


def _panels(draft: Draft, base: Base, sheet: Box, frame: Frame) -> tuple[Box, Box]:
    """Draw the edge and the score line; returns the back and the front panel."""
    draft.box(sheet, "sheet")
    if base.runs == "down":
        x = frame.point(base.score, ZERO)[0]
        draft.line("score", (x, sheet.top), (x, sheet.bottom))
        draft.text("score", x, sheet.top - 5, Exact(17, 2), "accent", "middle", weight="semibold")
        return Box(sheet.left, sheet.top, x, sheet.bottom), Box(x, sheet.top, sheet.right, sheet.bottom)
    y = frame.point(ZERO, base.score)[1]
    draft.line("score", (sheet.left, y), (sheet.right, y))
    draft.text("score", sheet.left - 5, y + figure_height(Exact(17, 2)) / 2, Exact(17, 2), "accent", "end", weight="semibold")
    return Box(sheet.left, sheet.top, sheet.right, y), Box(sheet.left, y, sheet.right, sheet.bottom)


def _name(draft: Draft, panel: Box, name: str, size: str, look: DrawnLook | None) -> None:
    """The panel's name with its size under it, or as much of that as fits."""
    for block in (stacked(name, size, 13), stacked(name, size, 11, 8), alone(name, 10), alone(name, 8)):
        if block.width + 8 <= panel.width and block.height + 8 <= panel.height:
            middle = panel.centre
            block.draw(draft, middle, None if look is None or look.calm else panel)
            return


def _grain(draft: Draft, panel: Box, grain: Grain) -> bool:
    """A two-headed arrow along the grain under the name of the front; whether there was room for it."""
    word = alone("grain", Exact(17, 2), "second")
    top = panel.centre[1] + 20
    room = panel.bottom - 6 - top
    long = min(Exact(17), room / 2) if grain == "up and down" else Exact(17)
    if panel.width < word.width + 24 or long < 9 or room < 22:
        return False
    half = Exact(5, 2)
    x, y = panel.centre[0], top + min(room / 2, Exact(26) if grain == "up and down" else Exact(10))
    if grain == "across":
        ends, heads = ((x - long, y), (x + long, y)), [(-1, 0), (1, 0)]
        at = (x, y + 10)
    else:
        x += word.width / 2 + 2
        ends, heads = ((x, y - long), (x, y + long)), [(0, -1), (0, 1)]
        at = (x - word.width / 2 - 6, y)
    draft.line("grain", *ends)
    for (ex, ey), (dx, dy) in zip(ends, heads):
        draft.lines(
            "grain",
            [
                (
                    (ex - dx * 2 * half + dy * half, ey - dy * 2 * half + dx * half),
                    (ex, ey),
                    (ex - dx * 2 * half - dy * half, ey - dy * 2 * half - dx * half),
                )
            ],
        )
    word.draw(draft, at)
    return True


def _spans(base: Base, unit: str, frame: Frame, across: bool) -> list[Span]:
    cut, back, front = base.cut, base.back, base.front
    if across:
        lengths = [back.width, front.width] if base.runs == "down" else [cut.width]
    else:
        lengths = [cut.height] if base.runs == "down" else [back.height, front.height]
    spans, at = [], ZERO
    for length in lengths:
        a = frame.point(at, at)[0 if across else 1]
        at += length
        spans.append(Span(a, frame.point(at, at)[0 if across else 1], figure(length, unit)))
    return spans
