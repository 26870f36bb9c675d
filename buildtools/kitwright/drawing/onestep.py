"""The card after one step of its making: what the step adds stands out, what lies there already is pale."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from kitwright.card.face import Face, Placed, Sentiment, Spot
from kitwright.drawing import front
from kitwright.drawing.dimensions import figure_height, round_scale, scale_text
from kitwright.drawing.front import Looks
from kitwright.drawing.labels import DISC, alone, draw_disc, find_place
from kitwright.drawing.placing import Board, edges
from kitwright.drawing.scene import Box, Draft, Frame, Number, Scene
from kitwright.exact import Exact
from kitwright.telling.drawn import step_alt

EDGE = Exact(6)
PALE = Exact(3, 10)
SIZES = (14, 12, 10, 8)
"""Of a label, largest first, points."""


@dataclass(frozen=True, slots=True)
class ShownStep:
    """What is to be seen of a face after a step."""

    face: Face
    before: tuple[Placed, ...] = ()
    """What lies there already."""
    carried: tuple[Placed, ...] = ()
    """What comes along with what is new, such as the pieces on a mat that is glued down."""
    added: tuple[Placed, ...] = ()
    printed: tuple[Sentiment, ...] = ()
    """Words that this step prints."""
    words: tuple[Sentiment, ...] = ()
    """Words that are there already."""
    spots: tuple[Spot, ...] = ()
    """Decoration that is added."""
    numbers: Mapping[Placed, int] = field(default_factory=dict)
    """Under which number each move is told."""
    name: str = ""
    """What to call the face, where a step is about several."""

    @property
    def pieces(self) -> tuple[Placed, ...]:
        """All that is seen, lowest first."""
        seen = {*self.before, *self.carried, *self.added}
        return tuple(p for p in self.face.stack if p in seen) or self.added


def step_picture(shown: ShownStep, looks: Looks, *, width: Number, height: Number, snug: bool = False) -> Scene:
    """The card after one step, all steps of a face at one scale.

    Args:
        shown: the face and what is to be seen of it.
        looks: how each paper is drawn, by (paper, face).
        width, height: of the picture at most, points.
        snug: no wider than what is drawn.
    """
    width, height = Exact(width), Exact(height)
    head = figure_height(9) + 6 if shown.name else Exact(0)
    foot = Exact(16)
    whole = _extent(shown.face.stack)
    room = width - 2 * EDGE, height - 2 * EDGE - head - foot
    scale = round_scale(min(room[0] / (whole.width * 72), room[1] / (whole.height * 72), Exact(1, 2)))
    seen = _extent(shown.pieces)
    draft = Draft()
    if shown.name:
        draft.text(shown.name, EDGE, EDGE + figure_height(9), 9, "title", weight="semibold")
    frame = Frame(EDGE - seen.left * 72 * scale, EDGE + head - seen.top * 72 * scale, scale)
    _card(draft, shown, looks, frame)
    _names(draft, shown, looks, frame)
    bottom = EDGE + head + seen.height * 72 * scale
    draft.text(scale_text(scale), EDGE, bottom + 6 + figure_height(Exact(17, 2)), Exact(17, 2), "note")
    if snug:
        width = min(width, max(2 * EDGE + seen.width * 72 * scale, *(text.box.right + EDGE for text in draft.texts)))
    words = [said.text for said in shown.printed]
    alt = step_alt(shown.name, _counted(shown.added), words, [spot.name for spot in shown.spots])
    return draft.scene(width, bottom + foot + EDGE, shown.name or "The card after this step", alt, scale)


def told_at(shown: ShownStep, width: Number) -> bool:
    """Whether a picture so wide, in points, tells enough: the face is no wider than high, so that it is a large one, or the number of each move lies within its piece."""
    whole = _extent(shown.face.stack)
    scale = (Exact(width) - 2 * EDGE) / whole.width
    return whole.width <= whole.height or all(min(p.rect.width, p.rect.height).inches * scale >= 2 * DISC for p in shown.numbers)


def _counted(pieces: tuple[Placed, ...]) -> dict[str, int]:
    found: dict[str, int] = {}
    for piece in pieces:
        found[piece.label] = found.get(piece.label, 0) + 1
    return found


def _extent(pieces: tuple[Placed, ...]) -> Box:
    """What pieces take, in inches."""
    rects = [p.rect for p in pieces]
    return Box(
        min(r.x for r in rects).inches,
        min(r.y for r in rects).inches,
        max(r.right for r in rects).inches,
        max(r.bottom for r in rects).inches,
    )


def _card(draft: Draft, shown: ShownStep, looks: Looks, frame: Frame) -> None:
    for placed in shown.pieces:
        if placed in shown.added:
            front.paper(draft, placed, frame, looks, line="new", lift=Exact(3, 2))
        elif placed in shown.carried:
            front.paper(draft, placed, frame, looks, line="paper-edge")
        else:
            front.paper(draft, placed, frame, looks, strength=PALE, line="paper-edge")
    lying = shown.pieces
    for said in (*shown.words, *shown.printed):
        if said in shown.printed:
            dark = front.on_dark(said, shown.face.stack, looks)
            draft.box(frame.box(said.rect), "print-light" if dark else "print")
        pale = not any(p.rect.overlaps(said.rect) and p not in shown.before for p in lying)
        front.greeting(draft, said, shown.face, frame, looks, pale=pale, lying=lying)
    for spot in shown.spots:
        front.ornament(draft, spot, frame)


def _names(draft: Draft, shown: ShownStep, looks: Looks, frame: Frame) -> None:
    """Each new piece by the number of its move, or else by its label, where there is room for it."""
    told: set[int] = set()
    pieces = shown.pieces
    spots = [frame.box(spot.rect) for spot in shown.spots]
    taken = [frame.box(said.rect) for said in (*shown.words, *shown.printed)] + spots
    for i, placed in enumerate(pieces):
        if placed not in shown.added or placed.layer == "base":
            continue
        number = shown.numbers.get(placed)
        if number in told:
            continue
        room, above = front.room(placed, frame), pieces[i + 1 :]
        over = [frame.box(p.rect).grown(1) for p in above if p.ring == p.rect.corners or p.lies_over(placed)]
        # A label crosses no edge of its own piece, and none of a slanted one that lies beside it.
        edged = [p for p in (placed, *above) if p.ring != p.rect.corners or p is placed and p.outline]
        lines = [line for p in edged for line in edges(front.outline(p, frame))]
        board = Board(boxes=[*taken, *over], lines=lines)
        if number is None:
            calm = front.look_of(placed, looks).calm
            for block in (alone(placed.label, size) for size in SIZES):
                middle = find_place(board, block, room, clear=Exact(3, 2) if calm else Exact(9, 2))
                if middle is not None:
                    block.draw(draft, middle, None if calm else room)
                    taken.append(block.box(middle))
                    break
            continue
        told.add(number)
        middle = find_place(board, alone(str(number), 12), room, margin=1) or room.centre
        draw_disc(draft, str(number), middle)
        taken.append(Box(*middle, *middle).grown(DISC))
