"""The cutting guide: one sheet with its cuts in order, its labelled pieces and its leftovers."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from kitwright.cutting.desk import corner_steps
from kitwright.cutting.tree import Leaf, Node, cuts, leaves, slants
from kitwright.drawing import fonts
from kitwright.drawing.caption import CaptionNote, notes
from kitwright.drawing.cutnumbers import CutNumbers
from kitwright.drawing.dimensions import (
    RULER,
    Span,
    along_room,
    chain_across,
    chain_along,
    figure_height,
    fitted,
    round_scale,
    ruler,
    scale_text,
)
from kitwright.drawing.fonts import Font
from kitwright.drawing.labels import LabelBlock, alone, find_place, in_line, label_blocks, scrap_blocks, stacked
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.piecelabels import PieceLabels, alike, halves
from kitwright.drawing.placing import Board, hatched
from kitwright.drawing.scene import Draft, Frame, Number, Point, Scene
from kitwright.exact import Exact
from kitwright.telling.drawn import corners_note, guide_alt, too_small_to_label, too_small_to_mark, two_from_each
from kitwright.telling.words import span_text
from kitwright.units import ZERO, figure, size_text

EDGE = Exact(6)
"""Clear margin around a picture, points."""
CHAIN = 17
"""From the lower edge of the sheet to the line of its dimensions, points."""
FEW = 12
"""Halved rectangles up to which labels that have no room on them are led out, row by row."""
ROOMY = 36
"""Points: a halved rectangle with longer sides than this has room for the number of a cut beside its diagonal."""
TINT = Exact(1, 4)
"""How strongly a paper shows under its labels."""


def cutting_guide(
    node: Node,
    *,
    unit: str = "in",
    width: Number = 480,
    height: Number | None = None,
    look: DrawnLook | None = None,
    name: str = "",
    scale: Fraction | None = None,
    backs: Mapping[str, str] | None = None,
    goes: Mapping[str, str] | None = None,
) -> Scene:
    """One sheet as it is cut.

    The picture is drawn for its width: the text keeps its size, and what no longer fits on a
    piece goes into a key below.

    Args:
        node: the cut tree of the sheet.
        unit: `in` or `mm`.
        width: of the picture, points.
        height: at most this, points; the sheet is drawn smaller for it.
        look: the paper, shown as a faint tint; its `up` is marked.
        name: what the sheet is called, such as the paper's name.
        scale: at most this scale, so that several guides can share one.
        backs: labels whose pieces lie on the card with their printed back up, and how that is said.
        goes: where the pieces of a label go, in a kit of several designs.
    """

    def draw(at: Fraction) -> Scene:
        return _Guide(node, unit, Exact(width), look, name, backs or {}, goes or {}).drawn(at)

    widest = _Guide(node, unit, Exact(width), look, name).widest_scale()
    most = min(widest, scale) if scale is not None else widest
    return fitted(draw, most, node.rect.height, height)


@dataclass
class _Guide:
    node: Node
    unit: str
    width: Fraction
    look: DrawnLook | None
    name: str
    backs: Mapping[str, str] = field(default_factory=dict)
    goes: Mapping[str, str] = field(default_factory=dict)
    draft: Draft = field(default_factory=Draft)
    board: Board = field(default_factory=Board)
    key: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    """Label to sizes that did not fit on their pieces."""
    unsaid: set[str] = field(default_factory=set)
    """Labels whose design did not fit on their pieces."""
    scraps: Counter[str] = field(default_factory=Counter)
    """Sizes of leftovers that did not fit on them."""
    unlabelled: list[str] = field(default_factory=list)
    """Labels for which there was no room at all."""
    unmarked: list[str] = field(default_factory=list)
    """Cuts for whose numbers there was no room at all."""

    def widest_scale(self) -> Fraction:
        """The scale at which ruler, sheet and dimensions fill the width."""
        room = self.width - 2 * EDGE - RULER - along_room([s.text for s in self._side_spans("y")])
        return round_scale(min(room / (self.node.rect.width.inches * 72), Exact(1)))

    def drawn(self, scale: Fraction) -> Scene:
        top = self._header()
        self.frame = Frame(EDGE + RULER, top + RULER, scale)
        self.sheet = self.frame.box(self.node.rect)
        self._sheet()
        patches = self.look is not None and self.look.pattern != "plain"
        self.labels = PieceLabels(self.draft, self.board, self.frame, self.sheet, patches, self.unlabelled)
        numbers = CutNumbers(self.draft, self.board, self.sheet, scale, self.strokes)
        # Numbers keep off the diagonals where there is room beside them; where there is none they lie over their ends.
        clear = all(min(room.width, room.height) > ROOMY for room in self.halved)
        for line in self.corners if clear else ():
            self.board.rule(*line)
        numbers.place()
        for line in () if clear else self.corners:
            self.board.rule(*line)
        self._pieces()
        self.unmarked = numbers.lead_out()
        self._leftovers()
        bottom = chain_across(
            self.draft, self.board, self._side_spans("x"), self.sheet.bottom, self.sheet.bottom + CHAIN, (EDGE, self.width - EDGE)
        )
        chain_along(
            self.draft,
            self.board,
            self._side_spans("y"),
            self.sheet.right,
            self.sheet.right + 9,
            (self.sheet.top - RULER, self.sheet.bottom + 12),
        )
        bottom = self._below(max(bottom, self.draft.below()) + 8)
        title = f"Cutting guide: {self.name or size_text(self.node.rect.size, self.unit)}"
        alt = guide_alt(self.node, self.unit, self.look.up if self.look else None, self.backs, self.goes)
        scene = self.draft.scene(self.width, bottom + EDGE, title, alt, self.frame.scale)
        return replace(scene, crowded=bool(self.unmarked or self.unlabelled))

    # --- above and under the sheet ---------------------------------------------------------

    def _header(self) -> Fraction:
        """Name and size of the sheet, and which way is up; returns the y below."""
        size = size_text(self.node.rect.size, self.unit)
        arrow = self.look.up if self.look else None
        room = self.width - 2 * EDGE - (70 if arrow else 0)
        y = EDGE + figure_height(10)
        words = f"{self.name} · {size}" if self.name else size
        for i, line in enumerate(fonts.wrap(words, 10, room, Font("sans", "semibold"))):
            y += 13 if i else 0
            self.draft.text(line, EDGE, y, 10, "title", weight="semibold")
        if arrow:
            right, mid = self.width - EDGE, EDGE + figure_height(10) / 2
            self.draft.text(
                "this side up", right - 16, mid + figure_height(Exact(17, 2)) / 2, Exact(17, 2), "accent", "end", weight="semibold"
            )
            _arrow(self.draft, (right - 6, mid), arrow)
        return y + 8

    def _below(self, y: Fraction) -> Fraction:
        """The key of what did not fit, the scale and what the signs mean; returns the y below."""
        key = [
            CaptionNote(", ".join(filter(None, self._told(label))), head=label) for label in sorted({*self.key, *self.backs, *self.unsaid})
        ]
        if self.scraps:
            rests = ", ".join(f"{n} of {s}" if n > 1 else s for s, n in self.scraps.items())
            key.append(CaptionNote(rests, head="left over"))
        corners = [
            CaptionNote(corners_note(step), tag=span_text(step.slants[0].number, step.slants[-1].number))
            for step in corner_steps(self.node)
        ]
        signs = [CaptionNote("order of the cuts", tag="1"), *corners, CaptionNote(scale_text(self.frame.scale))]
        if self.unmarked:
            signs.append(CaptionNote(too_small_to_mark(self.unmarked)))
        if self.unlabelled:
            signs.append(CaptionNote(too_small_to_label(self.unlabelled)))
        return notes(self.draft, [key, signs], EDGE, self.width - EDGE, y)

    def _told(self, label: str) -> tuple[str, ...]:
        """What the key says of a label."""
        goes = self.goes.get(label, "") if label in self.unsaid else ""
        return " or ".join(self.key.get(label, ())), self.backs.get(label, ""), goes

    # --- the sheet -------------------------------------------------------------------------

    def _sheet(self) -> None:
        self.draft.box(self.sheet, None, "white")
        if self.look and not self.draft.bare:
            self.draft.shapes.append(lay(self.look, self.sheet.corners, (self.sheet.left, self.sheet.top), self.frame.scale, strength=TINT))
        self.strokes = [(cut, (self.frame.point(*cut.line[0]), self.frame.point(*cut.line[1]))) for cut in cuts(self.node)]
        for rest in (leaf for leaf in leaves(self.node) if leaf.label is None):
            box = self.frame.box(rest.rect)
            self.draft.box(box, None, "paper")
        self.hatch_at = len(self.draft.shapes)
        for vertical, length in ((False, self.node.rect.width), (True, self.node.rect.height)):
            ruler(self.draft, self.frame, length, self.unit, vertical)
        found = slants(self.node)
        self.corners = [(self.frame.point(*start), self.frame.point(*end)) for start, end in (slant.line for slant in found)]
        self.halved = [self.frame.box(slant.leaf.rect) for slant in found]
        self.draft.lines("cut", [line for _, line in self.strokes])
        self.draft.lines("cut", self.corners)
        self.draft.box(self.sheet, "sheet")
        self.board.frame(self.sheet)
        for _, line in self.strokes:
            self.board.rule(*line)
        for span in self._side_spans("x"):
            for x in (span.start, span.end):
                self.board.rule((x, self.sheet.bottom + 2), (x, self.sheet.bottom + 20))
        for span in self._side_spans("y"):
            for y in (span.start, span.end):
                self.board.rule((self.sheet.right + 2, y), (self.sheet.right + 12, y))

    def _side_spans(self, axis: str) -> list[Span]:
        """What meets the bottom edge (`x`) or the right edge (`y`), as dimensions."""
        sheet, found = self.node.rect, []
        frame = getattr(self, "frame", Frame(Exact(0), Exact(0), Exact(1)))
        for leaf in leaves(self.node):
            r = leaf.rect
            if axis == "x" and r.bottom == sheet.bottom:
                a, b, length = frame.point(r.x, ZERO)[0], frame.point(r.right, ZERO)[0], r.width
            elif axis == "y" and r.right == sheet.right:
                a, b, length = frame.point(ZERO, r.y)[1], frame.point(ZERO, r.bottom)[1], r.height
            else:
                continue
            found.append(Span(a, b, figure(length, self.unit)))
        return sorted(found, key=lambda s: s.start)

    # --- pieces and leftovers --------------------------------------------------------------

    def _pieces(self) -> None:
        """Label like pieces alike; what no way of labelling fits is led out."""
        for label, group in alike(self.node):
            text = size_text(group[0].rect.size, self.unit)
            if group[0].diagonal:
                if not self._label_halves(group, label):
                    if len(group) > FEW:
                        self.unlabelled.append(f"{sum(leaf.gives for leaf in group)} × {label}")
                    else:
                        self.labels.row_by_row(group, label)
                self.unsaid |= {label} & {*self.goes}
                self.key[label].append(two_from_each(text))
                continue
            if not self._label_all(group, label, text):
                self.labels.row_by_row(group, label)
                self.key[label].append(text)
                self.unsaid |= {label} & {*self.goes}

    def _label_all(self, group: list[Leaf], label: str, text: str) -> bool:
        """Label all of a group in the best way that fits each; whether there was one with the size."""
        rooms = [self.frame.box(leaf.rect) for leaf in group]
        for block, sized, told in self._ways(label, text):
            if self.labels.set_down(block, rooms):
                if not sized:
                    self.key[label].append(text)
                if not told:
                    self.unsaid.add(label)
                return True
        return False

    def _ways(self, label: str, text: str) -> Iterator[tuple[LabelBlock, bool, bool]]:
        """Ways to label a piece, best first; whether each shows the size, and where it goes in a kit of several designs."""
        goes = self.goes.get(label, "")
        if goes:
            whole = f"{text}, {goes}"
            blocks = [stacked(label, whole, 18, 9), stacked(label, whole), stacked(label, whole, 12, 8), in_line(label, whole)]
            yield from ((block, True, True) for block in (*blocks, in_line(label, whole, 10, 8)))
            yield from ((block, False, True) for block in (stacked(label, goes, 12, 8), in_line(label, goes, 10, 8)))
        yield from ((block, block.shows_size, not goes) for block in label_blocks(label, text))

    def _label_halves(self, group: list[Leaf], label: str) -> bool:
        """Label both triangles of each rectangle of a group, all alike; whether there was room."""
        rooms = [half for leaf in group for half in halves(self.frame.box(leaf.rect), leaf)]
        return any(self.labels.set_down(alone(label, size), rooms, Exact(1)) for size in (15, 13, 10, 8))

    def _leftovers(self) -> None:
        """Hatch what remains and say its size, on it or in the key."""
        hatching: list[tuple[Point, Point]] = []
        for leaf in leaves(self.node):
            if leaf.label is not None:
                continue
            box, text = self.frame.box(leaf.rect), size_text(leaf.rect.size, self.unit)
            hole = None
            for block in scrap_blocks(text):
                middle = find_place(self.board, block, box)
                if middle is not None:
                    hole = block.box(middle).grown(3)
                    self.board.take(block.box(middle))
                    block.draw(self.draft, middle)
                    break
            else:
                self.scraps[text] += 1
            if not self.draft.bare:
                hatching += hatched(box, [hole] if hole else [])
        draft = Draft()
        draft.lines("waste", hatching)
        self.draft.shapes[self.hatch_at : self.hatch_at] = draft.shapes


def _arrow(draft: Draft, middle: Point, up: str) -> None:
    """An arrow that points to the edge that is up."""
    x, y = middle
    turn = {"top": lambda a, b: (a, b), "right": lambda a, b: (-b, a), "bottom": lambda a, b: (-a, -b), "left": lambda a, b: (b, -a)}[up]
    at = [turn(Exact(a), Exact(b)) for a, b in ((-1, 6), (-1, -1), (-4, -1), (0, -6), (4, -1), (1, -1), (1, 6))]
    draft.polygon([(x + a, y + b) for a, b in at], None, "tag")
