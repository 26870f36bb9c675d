"""A belly band laid flat: where it is scored, what comes to lie on front and back, where it reaches over itself."""

from __future__ import annotations

from fractions import Fraction

from kitwright.card.band import Band
from kitwright.drawing import fonts
from kitwright.drawing.caption import CaptionNote, notes
from kitwright.drawing.dimensions import Span, along_room, chain_across, chain_along, figure_height, fitted, round_scale, scale_text
from kitwright.drawing.holds.pocket import EDGE
from kitwright.drawing.labels import alone
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.placing import Board, hatched
from kitwright.drawing.scene import Box, Draft, Frame, Number, Scene
from kitwright.exact import Exact
from kitwright.telling import holds as words
from kitwright.units import ZERO, Length, figure


def band_picture(
    band: Band,
    height: Length,
    label: str,
    *,
    look: DrawnLook | None = None,
    unit: str = "in",
    width: Number = 340,
    high: Number | None = None,
    scale: Fraction | None = None,
) -> Scene:
    """A belly band.

    Args:
        band: as it is worked out.
        height: how wide its strip is.
        label: of the piece.
        look: its paper, shown as a faint tint.
        unit: `in` or `mm`.
        width: of the picture, points.
        high: at most this high, points.
        scale: at most this scale.
    """
    room = Exact(width) - 2 * EDGE - along_room([figure(height, unit)])
    widest = round_scale(min(room / (band.length.inches * 72), Exact(1) if scale is None else scale))
    return fitted(lambda at: _drawn(band, height, label, look, unit, Exact(width), at), widest, height, high)


def _drawn(band: Band, height: Length, label: str, look: DrawnLook | None, unit: str, width: Fraction, scale: Fraction) -> Scene:
    draft, board, title = Draft(), Board(), words.band_title(label, band, unit)
    y = EDGE + figure_height(10)
    for i, line in enumerate(fonts.wrap(title, 10, width - 2 * EDGE, fonts.Font("sans", "semibold"))):
        y += 13 if i else 0
        draft.text(line, EDGE, y, 10, "title", weight="semibold")
    frame = Frame(EDGE, y + 10, scale)
    strip = Box(*frame.point(ZERO, ZERO), *frame.point(band.length, height))
    draft.box(strip, None, "white")
    if look:
        draft.shapes.append(lay(look, strip.corners, (strip.left, strip.top), scale, strength=Exact(1, 4)))
    over = Box(frame.point(band.length - band.lapped, ZERO)[0], strip.top, strip.right, strip.bottom)
    draft.lines("glue", hatched(over, step=5))
    draft.line("glue", (over.left, over.top), (over.left, over.bottom))
    xs = [frame.point(at, ZERO)[0] for at in band.scores]
    draft.lines("score", [((x, strip.top), (x, strip.bottom)) for x in xs])
    draft.box(strip, "sheet")
    stops = [ZERO, *band.scores, band.length]
    spans = [Span(frame.point(a, a)[0], frame.point(b, b)[0], figure(b - a, unit), b - a == band.edge) for a, b in zip(stops, stops[1:])]
    for span, last in ((spans[0], False), (max(spans[1:-1], key=lambda s: s.end - s.start), False), (spans[-1], True)):
        end = over.left if last else span.end
        name = words.FRONT if span not in (spans[0], spans[-1]) else words.BACK
        block = alone(name, 11) if end - span.start > 36 else alone(name, 8)
        if block.width + 6 <= end - span.start and block.height + 6 <= strip.height:
            block.draw(draft, ((span.start + end) / 2, strip.centre[1]))
    limits = (EDGE, width - EDGE)
    bottom = chain_across(draft, board, spans, strip.bottom, strip.bottom + 15, limits)
    whole = [Span(strip.left, strip.right, figure(band.length, unit))]
    bottom = chain_across(draft, board, whole, bottom - 2, bottom + 12, limits)
    chain_along(
        draft, board, [Span(strip.top, strip.bottom, figure(height, unit))], strip.right, strip.right + 9, (strip.top, strip.bottom)
    )
    signs = [CaptionNote(words.SCORE_HERE, line="score"), CaptionNote(words.OVERLAP, hatch="glue"), CaptionNote(scale_text(scale))]
    bottom = notes(draft, [[CaptionNote(words.band_sum(band, unit))], signs], EDGE, width - EDGE, max(bottom, draft.below()) + 8)
    return draft.scene(width, bottom + EDGE, title, words.band_alt(label, band, height, unit), scale)
