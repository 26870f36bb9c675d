"""The card sketch: the front with its pieces in place, with dimensions or as a picture."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from kitwright.card.face import BACK_UP, Face, Placed, Sum
from kitwright.card.legible import tucked_away
from kitwright.drawing import fonts, front
from kitwright.drawing.caption import CaptionNote, notes
from kitwright.drawing.dimensions import (
    ON_PAPER,
    ON_SCREEN,
    Span,
    along_room,
    chain_across,
    chain_along,
    figure_height,
    fitted,
    round_scale,
    scale_text,
)
from kitwright.drawing.fonts import Font
from kitwright.drawing.front import Looks
from kitwright.drawing.fullink import in_full_ink
from kitwright.drawing.labels import LabelBlock, alone, dot, find_place, label_blocks, leader, led_out, named_blocks
from kitwright.drawing.placing import Board, edges, outside
from kitwright.drawing.scene import Box, Draft, Frame, Number, Point, Scene
from kitwright.exact import Exact
from kitwright.telling.drawn import front_alt, too_small_to_label
from kitwright.units import ZERO, Length, figure, size_text

Names = Mapping[tuple[str, str], str]
"""How papers are called under the labels of their pieces, by (label, paper)."""
EDGE = Exact(6)
LIFT = Exact(14, 5)
"""How far a layer's shadow falls in a picture, points."""


def card_sketch(
    face: Face,
    looks: Looks,
    *,
    unit: str = "in",
    width: Number = 360,
    height: Number | None = None,
    plain: bool = False,
    name: str = "",
    scale: Fraction | None = None,
    slim: bool = False,
    named: Names | None = None,
    flat: bool = False,
) -> Scene:
    """The card front.

    Args:
        face: the worked-out front.
        looks: how each paper is drawn, by (paper, face).
        unit: `in` or `mm`.
        width: of the picture, points.
        height: at most this, points; the card is drawn smaller for it.
        plain: a picture of the card without labels, lines and figures.
        name: what to call it; the look's name when left out.
        scale: at most this scale, so that several sketches can share one.
        slim: for a narrow screen: margins are slimmer and figures down the side name pieces
            only, as those below do, so that the card is larger.
        named: for a printed page: its type holds in a copy of black and white, and papers are named
            under the labels that come from several.
        flat: of a plain picture that it has edges of ink in place of shadows, which a copy in black and white turns to dirt.
    """
    if plain:
        return _plain(face, looks, unit, Exact(width), height, name, flat)

    def draw(at: Fraction) -> Scene:
        return _Sketch(face=face, looks=looks, unit=unit, width=Exact(width), name=name or face.name, slim=slim, names=named).drawn(at)

    widest = _Sketch(face=face, looks=looks, unit=unit, width=Exact(width), name=name, slim=slim, names=named).widest_scale()
    scene = fitted(draw, widest if scale is None else min(widest, scale), face.size.height, height)
    return scene if named is None else in_full_ink(scene)


def sketch_room(face: Face, scale: Fraction, *, unit: str = "in", slim: bool = False, named: Names | None = None) -> Fraction:
    """How wide a sketch has to be, points, so that it is drawn at a scale."""
    sketch = _Sketch(face=face, looks={}, unit=unit, width=Exact(0), name="", slim=slim, names=named)
    return sketch.around + face.size.width.inches * 72 * scale


def sketch_lengths(face: Face) -> list[Length]:
    """The lengths that stand on a sketch as figures: along its edges, and as sizes of its pieces."""
    sketch = _Sketch(face=face, looks={}, unit="in", width=Exact(0), name="")
    steps = [length for direction in ("across", "along") for length, _ in sketch.steps(direction)]
    return steps + [side for p in face.stack if p.layer != "base" and not p.point for side in (p.rect.width, p.rect.height)]


def _plain(face: Face, looks: Looks, unit: str, width: Fraction, height: Number | None, name: str, flat: bool) -> Scene:
    margin = width / 16
    scale = min((width - 2 * margin) / (face.size.width.inches * 72), Exact(3, 2))
    if height is not None:
        scale = min(scale, (height - 2 * margin) / (face.size.height.inches * 72))
    draft = Draft()
    wide, high = face.size.width.inches * 72 * scale, face.size.height.inches * 72 * scale
    total_height = Exact(height) if height is not None else high + 2 * margin
    frame = Frame((width - wide) / 2, (total_height - high) / 2, scale)
    picture(draft, face, looks, frame, *((0, 0, "new") if flat else ()))
    return draft.scene(width, total_height, name or face.name or "The finished card", front_alt(face, unit))


def picture(
    draft: Draft, face: Face, looks: Looks, frame: Frame, lift: Number = LIFT, off_ground: Number = 2 * LIFT, line: str = "paper-edge"
) -> None:
    """The card as it looks when made: soft layers of paper, greeting and decoration.

    Args:
        lift: how far the shadow of a layer falls, points.
        off_ground: how far that of the base does; none where the ground under it is shaded already.
        line: how the edge of paper is drawn.
    """
    for placed in face.stack:
        front.paper(draft, placed, frame, looks, line=line, lift=off_ground if placed.layer == "base" else lift)
    for words in face.sentiments:
        front.greeting(draft, words, face, frame, looks)
    for place in face.spots:
        front.ornament(draft, place, frame)


NAMED_WITHIN = {"circle": Exact(7, 10), "oval": Exact(7, 10), "star": Exact(2, 5), "leaf": Exact(1, 2)}
"""How much of a decoration's place its name may take without hiding its outline, where that is no rectangle."""


@dataclass
class _Sketch:
    face: Face
    looks: Looks
    unit: str
    width: Fraction
    name: str
    slim: bool = False
    names: Names | None = None
    """Of papers, for a printed page."""
    draft: Draft = field(default_factory=Draft)
    board: Board = field(default_factory=Board)
    led: list[tuple[Placed, list[Point]]] = field(default_factory=list)
    """Pieces with no room for their labels on them, and points that show of each."""
    named: list[str] = field(default_factory=list)
    """Decoration whose name did not fit on its place."""
    backs: list[Placed] = field(default_factory=list)
    """Pieces whose printed back shows, with no room to say so on them."""
    unplaced: list[str] = field(default_factory=list)
    """Labels for which there was no room at all."""
    nameless: list[tuple[str, str]] = field(default_factory=list)
    """Labels whose paper has to be named below, and its name."""

    def __post_init__(self) -> None:
        self.type_ = ON_SCREEN if self.names is None else ON_PAPER

    @property
    def _left(self) -> Fraction:
        """Room on the left for led-out labels and the word at the fold."""
        return Exact(20 if self.slim else 34)

    @property
    def around(self) -> Fraction:
        """What it takes beside the card, across."""
        return 2 * EDGE + self._left + along_room([s.text for s in self._spans("along", None)], self.type_)

    def widest_scale(self) -> Fraction:
        room = self.width - self.around
        return round_scale(min(room / (self.face.size.width.inches * 72), Exact(1)))

    def drawn(self, scale: Fraction) -> Scene:
        top = self._header()
        self.frame = Frame(EDGE + self._left, top + (12 if "top" in self.face.hinges else 0), scale)
        self.card = Box(*self.frame.point(ZERO, ZERO), *self.frame.point(self.face.size.width, self.face.size.height))
        self._fold_line()
        for placed in self.face.stack:
            front.paper(self.draft, placed, self.frame, self.looks)
            if not self.card.holds(self.frame.box(placed.rect)):
                self.board.frame(self.frame.box(placed.rect))
        hidden = self._hidden()
        self._sentiment()
        self._spots()
        self._labels()
        self._led_labels()
        fold_said = self._fold_word()
        reach = [self.frame.box(p.rect) for p in self.face.stack]
        right, low = max(b.right for b in reach), max(b.bottom for b in reach)
        bottom = chain_across(
            self.draft, self.board, self._spans("across", self.frame), low, low + 17, (EDGE, self.width - EDGE), self.type_
        )
        chain_along(self.draft, self.board, self._spans("along", self.frame), right, right + 9, (self.card.top - 8, low + 14), self.type_)
        bottom = self._below(max(bottom, self.draft.below()) + 8, hidden, fold_said)
        title = f"Card sketch: {self.name}" if self.name else "Card sketch"
        return self.draft.scene(self.width, bottom + EDGE, title, front_alt(self.face, self.unit), self.frame.scale)

    def _header(self) -> Fraction:
        words = " · ".join(filter(None, (self.name, size_text(self.face.size, self.unit))))
        y = EDGE + figure_height(10)
        for i, line in enumerate(fonts.wrap(words, 10, self.width - 2 * EDGE, Font("sans", "semibold"))):
            y += 13 if i else 0
            self.draft.text(line, EDGE, y, 10, "title", weight="semibold")
        return y + 12 + self._overhang()

    def _overhang(self) -> Fraction:
        """How far pieces reach over the top edge, at most true size."""
        return max((-p.rect.y.inches * 72 for p in self.face.stack), default=Exact(0))

    # --- dimensions ------------------------------------------------------------------------

    def _spans(self, direction: str, frame: Frame | None) -> list[Span]:
        """The chain along an edge of the card: what shows of the layers, then the sum of the front."""
        along = direction == "along"
        spans, at = [], ZERO
        for size, name in self.steps(direction):
            a, b = self._edge(at, along, frame), self._edge(at + size, along, frame)
            words = figure(size, self.unit)
            if along and name and not (self.slim and name[0].islower()):
                words += f" {name}"
            spans.append(Span(a, b, words, not name or name[0].islower()))
            at += size
        return spans

    def steps(self, direction: str) -> list[tuple[Length, str]]:
        """The lengths of that chain with their names."""
        area = self.face.field
        along = direction == "along"
        start, length = (area.y, area.height) if along else (area.x, area.width)
        whole = self.face.size.height if along else self.face.size.width
        fitting = [s for s in self.face.sums if s.direction == direction and s.holds and s.target == length]
        chosen: Sum | None = max(fitting, key=lambda s: len(s.terms), default=None)
        steps: list[tuple[Length, str]] = [(start, "")] if start > ZERO else []
        steps += [(t.length, t.name) for t in chosen.terms] if chosen else [(length, "")]
        if whole - start - length > ZERO:
            steps.append((whole - start - length, ""))
        return steps

    @staticmethod
    def _edge(at: Length, along: bool, frame: Frame | None) -> Fraction:
        if frame is None:
            return at.inches
        return frame.point(ZERO, at)[1] if along else frame.point(at, ZERO)[0]

    # --- greeting, decoration, labels --------------------------------------------------------

    def _hidden(self) -> bool:
        """Edges that lie under other pieces, dashed, left out behind the greeting; whether there are any."""
        holes = [self.frame.box(words.rect).grown(2) for words in self.face.sentiments]
        lines = [part for line in front.hidden_edges(self.face, self.frame) for part in outside(line[0], line[1], holes)]
        self.draft.lines("hidden", lines)
        for line in lines:
            self.board.rule(*line)
        return bool(lines)

    def _sentiment(self) -> None:
        for words in self.face.sentiments:
            if tucked_away(words, self.face.stack):
                continue
            area = self.frame.box(words.rect)
            dark = front.on_dark(words, self.face.stack, self.looks)
            self.draft.box(area, "print-light" if dark else "print")
            front.greeting(self.draft, words, self.face, self.frame, self.looks)
            self.board.take(area)

    def _spots(self) -> None:
        for place in self.face.spots:
            area = front.spot(self.draft, place, self.frame)
            self.board.take(area)
            block = alone(place.name, Exact(17, 2), "second", Font())
            room = NAMED_WITHIN.get(place.shape or "rectangle", Exact(1))
            if block.width + 6 <= area.width * room and block.height + 6 <= area.height * room:
                block.draw(self.draft, area.centre, area)
            else:
                self.named.append(place.name)

    def _labels(self) -> None:
        stack = [p for p in self.face.stack if p.layer != "base"]
        for i, placed in enumerate(stack):
            if placed.hold and placed.hold.behind:
                # Behind its frame it has no paper of its own to be named on; the drawing of the shaker names it.
                continue
            # A triangle may share the rectangle around it with others that lie beside it.
            later = stack[i + 1 :]
            beside = [p for p in later if p.ring != p.rect.corners and not p.lies_over(placed)]
            above = [p for p in later if p not in beside]
            board = Board(
                boxes=self.board.boxes + [self.frame.box(p.rect).grown(1) for p in above],
                lines=self.board.lines + [line for p in (placed, *beside) for line in edges(front.outline(p, self.frame))],
            )
            room = front.room(placed, self.frame)
            calm = front.look_of(placed, self.looks).calm
            shaker = placed.hold.shaker if placed.hold and not placed.hold.behind else None
            # The frame of a shaker is named on its own paper, or else where its window shows another.
            frames = [(Board(boxes=[*board.boxes, self.frame.box(shaker.window)], lines=board.lines), calm)] if shaker else []
            ways = [(*way, *on) for way in self._label_ways(placed) for on in (*frames, (board, calm and not shaker))]
            for block, told, free, plain in ways:
                middle = find_place(free, block, room, clear=Exact(3, 2) if plain else Exact(9, 2))
                if middle is not None:
                    self._set(block, middle, None if plain else room)
                    self.backs += [] if told else [placed]
                    break
            else:
                self.led.append((placed, self._visible(placed, above, room)))

    def _label_ways(self, placed: Placed) -> list[tuple[LabelBlock, bool]]:
        """Ways to label a piece, best first, and whether each says which side shows, where that is the back."""
        if self.names is not None:
            return self._printed_ways(placed)
        if placed.point:
            # The room that it takes is no size to cut.
            return [(block, not placed.back) for block in label_blocks(placed.label, "") if not block.shows_size]
        size = size_text(placed.rect.size, self.unit)
        plain = [(block, not placed.back) for block in label_blocks(placed.label, size)[placed.layer == "layer" :]]
        if not placed.back:
            return plain
        said = [(block, True) for block in label_blocks(placed.label, f"{size}, {placed.back}") if block.shows_size]
        short = [(block, True) for block in label_blocks(placed.label, placed.back) if block.shows_size]
        return [*said, *short, *plain]

    def _printed_ways(self, placed: Placed) -> list[tuple[LabelBlock, bool]]:
        """The same on a printed page, where the paper is named too."""
        size = "" if placed.point else size_text(placed.rect.size, self.unit)
        ways = []
        for said in dict.fromkeys((placed.back, "")):
            name = ", ".join(filter(None, (self._paper(placed), said)))
            blocks = named_blocks(placed.label, name, size)
            ways += [(block, bool(said) or not placed.back) for block in blocks if size or not block.shows_size or name]
        return ways[placed.layer == "layer" :]

    def _paper(self, placed: Placed) -> str:
        """The name of its paper, where that is to be said."""
        return (self.names or {}).get((placed.label, placed.paper), "")

    def _set(self, block: LabelBlock, middle: Point, patch: Box | None) -> None:
        self.board.take(block.box(middle))
        block.draw(self.draft, middle, patch)

    def _visible(self, placed: Placed, above: list[Placed], room: Box) -> list[Point]:
        """Points of a piece that nothing covers, from the left."""
        covers = [self.frame.box(p.rect) for p in above] + self.board.boxes
        xs = sorted({room.left, room.right} | {e for c in covers for e in (c.left, c.right) if room.left < e < room.right})
        found = [((a + b) / 2, room.top + room.height * step / 8) for a, b in zip(xs, xs[1:]) for step in (3, 5, 2, 6, 1, 7, 4)]
        return [at for at in found if not any(c.left < at[0] < c.right and c.top < at[1] < c.bottom for c in covers)] or [room.centre]

    def _led_labels(self) -> None:
        """Lead labels out: to the left margin from near that edge, else to free room nearby."""
        for placed, starts in self.led:
            near_edge = starts[0][0] - self.card.left < 40
            ways = (self._led_left, self._led_nearby) if near_edge else (self._led_nearby, self._led_left)
            label, name = " ".join(filter(None, (placed.label, placed.back))), self._paper(placed)
            if name and self._led_nearby(f"{placed.label} {', '.join(filter(None, (name, placed.back)))}", starts):
                continue
            self.nameless += [(placed.label, name)] if name else []
            if not any(way(label, starts) for way in ways):
                self.unplaced.append(label)

    def _led_left(self, label: str, starts: list[Point]) -> bool:
        block = alone(label, 11)
        x = EDGE + block.width / 2
        for at in starts:
            line = (x + block.width / 2 + 3, at[1]), at
            if self.board.free(block.box((x, at[1])), 3) and self.board.open_line(*line):
                block.draw(self.draft, (x, at[1]))
                self.board.take(block.box((x, at[1])))
                self.board.rule(*line)
                leader(self.draft, *line)
                dot(self.draft, at)
                return True
        return False

    def _led_nearby(self, label: str, starts: list[Point]) -> bool:
        block = alone(label, 9)
        for at in starts:
            middle = led_out(self.draft, self.board, at, block.box, self.card)
            if middle is not None:
                self.board.take(block.box(middle))
                block.draw(self.draft, middle, block.box(middle).grown(4))
                return True
        return False

    # --- the fold ----------------------------------------------------------------------------

    def _fold_line(self) -> None:
        """The fold edges in long dashes, just outside the card."""
        card = self.card
        for edge in self.face.hinges:
            out = {"left": card.left - 4, "top": card.top - 4, "right": card.right + 4, "bottom": card.bottom + 4}[edge]
            ends = ((out, card.top), (out, card.bottom)) if edge in ("left", "right") else ((card.left, out), (card.right, out))
            self.draft.line("fold", *ends)

    def _fold_word(self) -> bool:
        """The word beside one at the left or the top, where it is clear of everything; dimensions stand at the others, so the key says it.

        Returns:
            Whether it stands there, or there is nothing to say.
        """
        side = "left" in self.face.hinges
        if not side and "top" not in self.face.hinges:
            return not self.face.hinges
        block = alone("fold", Exact(17, 2), "note", Font(), side)
        away = 8 + block.height / 2
        for share in (Exact(n, 16) for n in (8, 6, 10, 4, 12, 2, 14)):
            at = (
                (self.card.left - away, self.card.top + self.card.height * share)
                if side
                else (self.card.left + self.card.width * share, self.card.top - away)
            )
            if self.board.free(block.box(at), 3):
                block.draw(self.draft, at)
                self.board.take(block.box(at))
                return True
        return False

    def _below(self, y: Fraction, hidden: bool, fold_said: bool) -> Fraction:
        signs = [CaptionNote(scale_text(self.frame.scale))]
        if not fold_said:
            signs.append(CaptionNote("fold", line="fold"))
        if hidden:
            signs.append(CaptionNote("edge underneath", line="hidden"))
        if self.face.spots:
            what = f": {', '.join(dict.fromkeys(self.named))}" if self.named else " for decoration"
            signs.append(CaptionNote(f"kept clear{what}", line="spot"))
        if self.face.sentiments:
            signs.append(CaptionNote("printed greeting", line="print"))
        for label in dict.fromkeys(p.label for p in self.backs):
            some, every = sum(p.label == label for p in self.backs), sum(p.label == label for p in self.face.stack)
            signs.append(CaptionNote(BACK_UP if some == every else f"{some} of {every} {BACK_UP}", head=label))
        signs += [CaptionNote(name, head=label) for label, name in dict.fromkeys(self.nameless)]
        if self.unplaced:
            signs.append(CaptionNote(too_small_to_label(self.unplaced)))
        return notes(self.draft, [signs], EDGE, self.width - EDGE, y, self.type_.ink)
