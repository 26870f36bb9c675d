"""The compact cutting guide: a sheet with ruler, cuts, numbers and labels at exactly the scale asked for.

Where there is little room things are left out, in this order: sizes of leftovers, sizes on
pieces, single numbers of cuts (a run of like strokes shares one), labels on their pieces (they are
led out). Whatever is left out is told by a value, so that the text beside says it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial
from math import ceil

from kitwright.cutting.tree import Leaf, Node, cuts, leaves, pieces, slants
from kitwright.drawing.closeruler import close_ruler
from kitwright.drawing.cutnumbers import run_text
from kitwright.drawing.cutruns import RunNumbers
from kitwright.drawing.dimensions import RULER
from kitwright.drawing.fullink import in_full_ink
from kitwright.drawing.guide import EDGE
from kitwright.drawing.labels import SEMIBOLD, LabelBlock, alone, in_line, stacked
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.piecelabels import PieceLabels, alike, halves
from kitwright.drawing.placing import Board, hatched
from kitwright.drawing.scene import Box, Draft, Frame, Number, Scene, points
from kitwright.drawing.untouched import STUB, Untouched, break_line, untouched
from kitwright.exact import Exact
from kitwright.telling.drawn import guide_alt
from kitwright.units import Size, sides_text, size_text

LEAST, MOST = 18, 60
"""Per cent: the smallest scale of a compact guide, and where no smaller one is sound the one that is taken."""
_SMALL = 8
"""Of every figure, points."""
_ROUND, _IN_HALF = Exact(3, 2), Exact(1)
"""Points from a label that stands alone to the edges of its piece, and of its half of one."""
_SMALLEST = (partial(alone, big=10), partial(alone, big=10, upward=True))
"""What a label comes to where there is least room."""
_MOST_LED = 4
"""Numbers of cuts that are led out, at most: more lines than that are a tangle."""
_PATIENCE = 4
"""Failed searches for room beside a piece after which no more is looked for."""


@dataclass(frozen=True, slots=True)
class SheetGuide:
    """A compact guide, and what is not on it."""

    scene: Scene
    """Ruler, sheet, cuts, numbers, labels, hatching; a clear margin of `EDGE` round it."""
    also_left: tuple[tuple[Size, int], ...]
    """Leftovers whose sizes are not written on them, with how many."""
    unsized: frozenset[str]
    """Labels whose sizes are not on their pieces."""
    unsaid: frozenset[str]
    """Labels of which it is not on their pieces to which design they go."""
    broken: Size | None
    """The untouched part that a break line cuts short."""
    led: tuple[str, ...]
    """Labels that stand beside their pieces."""
    unlabelled: tuple[str, ...]
    """Labels for which there is no room at all."""
    unmarked: tuple[str, ...]
    """Cuts for whose numbers there is no room at all."""

    @property
    def sound(self) -> bool:
        """Whether every piece has its label and every stroke its number, alone or in a run."""
        return not self.unlabelled and not self.unmarked


@dataclass(frozen=True, slots=True)
class GuideScales:
    """From which scale up a guide can be drawn."""

    least: Fraction
    """Where it is sound, labels led out if need be."""
    placed: Fraction
    """Where every label stands on its piece, and every number on its cut."""


def sheet_guide(
    node: Node,
    *,
    unit: str = "in",
    scale: Fraction,
    look: DrawnLook | None = None,
    name: str = "",
    backs: Mapping[str, str] | None = None,
    goes: Mapping[str, str] | None = None,
    whole: bool = False,
    bare: bool = False,
) -> SheetGuide:
    """One sheet as it is cut, as small as it can be read.

    Args:
        node: the cut tree of the sheet.
        unit: `in` or `mm`.
        scale: at exactly this.
        look: the paper: for which way is up, in the words for those who can't see the picture. The sheet itself is white.
        name: what the sheet is called, such as the paper's name.
        backs: labels whose pieces lie on the card with their printed back up, and how that is said.
        goes: where the pieces of a label go, in a kit of several designs.
        whole: show all of a part that stays whole, too.
        bare: leave out all but the texts.
    """
    drawn = _settled(_sheet(node, unit, scale, goes, whole), bare, True)
    assert drawn is not None
    return drawn.guide(look, name, backs or {})


def guide_scales(node: Node, *, unit: str = "in", goes: Mapping[str, str] | None = None, whole: bool = False) -> GuideScales:
    """From which whole per cent up a guide can be drawn, found by drawing it."""
    least, roomy = None, _roomy(node)
    beside = any(leaf.label is None for leaf in leaves(node))
    for per_cent in range(LEAST, MOST):
        if per_cent < roomy and (least is not None or not beside):
            continue  # Too small for a label on its piece, and beside it there is no room or none is wanted.
        scale = Exact(per_cent, 100)
        drawn = _settled(_sheet(node, unit, scale, goes, whole), True, least is None, True)
        if drawn is None:
            continue
        least = least or scale
        if drawn.placed:
            return GuideScales(least, scale)
    return GuideScales(least or Exact(MOST, 100), Exact(MOST, 100))


def _roomy(node: Node) -> int:
    """The per cent under which a label is larger than its piece, whatever else stands there: nothing smaller need be drawn."""
    needs: list[Fraction] = [Exact(LEAST, 100)]
    for label, group in alike(node):
        leaf = group[0]
        part, margin, ways = (Exact(1, 2), _IN_HALF, _SMALLEST[:1]) if leaf.diagonal else (Exact(1), _ROUND, _SMALLEST)
        boxes = [way(label).box((Exact(0), Exact(0))).grown(margin) for way in ways]
        width, height = points(leaf.rect.width, part), points(leaf.rect.height, part)
        needs.append(min(max(box.width / width, box.height / height) for box in boxes))
    return min(ceil(max(needs) * 100), MOST)


def guide_size(node: Node, scale: Fraction, *, unit: str = "in", whole: bool = False) -> tuple[Fraction, Fraction]:
    """Width and height of a guide's picture, its clear margin included; points."""
    box = _sheet(node, unit, scale, None, whole).box
    return box.right + EDGE, box.bottom + EDGE


@dataclass(frozen=True)
class _Sheet:
    """What is drawn, and how large."""

    node: Node
    unit: str
    scale: Fraction
    goes: Mapping[str, str]
    rest: Untouched | None
    """What is cut short."""

    @property
    def frame(self) -> Frame:
        return Frame(EDGE + RULER, EDGE + RULER, self.scale)

    @property
    def box(self) -> Box:
        """The sheet, as far as it is shown."""
        box = self.frame.box(self.node.rect)
        if self.rest is None:
            return box
        x, y = self.frame.point(self.rest.start, self.rest.start)
        return replace(box, bottom=y + STUB) if self.rest.axis == "y" else replace(box, right=x + STUB)


def _sheet(node: Node, unit: str, scale: Fraction, goes: Mapping[str, str] | None, whole: bool) -> _Sheet:
    """What is drawn: all of the sheet, or all but what stays whole."""
    return _Sheet(node, unit, Exact(scale), goes or {}, None if whole else untouched(node, scale, unit))


def _settled(sheet: _Sheet, bare: bool, lead: bool, only_sound: bool = False) -> _Drawn | None:
    """The guide with as many single numbers as leave room for labels; None where it is not sound and should be.

    Args:
        lead: whether labels and numbers may be led out.
    """
    joined: dict[int, int] = {}
    while True:
        drawn = _Drawn(sheet, joined, Draft(bare=bare))
        drawn.mark_and_label(False)
        if not [index for index in drawn.in_the_way if drawn.numbers.join(index)]:
            break
    if not drawn.placed:
        if not lead:
            return None
        drawn = _Drawn(sheet, joined, Draft(bare=bare))
        drawn.labels.patience = _PATIENCE
        drawn.mark_and_label(True, only_sound)
        if only_sound and not drawn.sound:
            return None
    if not only_sound:
        drawn.finish()
    return drawn


@dataclass
class _Drawn:
    """A guide while it is drawn."""

    sheet: _Sheet
    joined: dict[int, int]
    """How the numbers of like strokes are joined."""
    draft: Draft
    board: Board = field(default_factory=Board)
    unsized: set[str] = field(default_factory=set)
    unsaid: set[str] = field(default_factory=set)
    also_left: Counter[Size] = field(default_factory=Counter)
    unmarked: list[str] = field(default_factory=list)
    in_the_way: set[int] = field(default_factory=set)
    """Stretches of strokes whose numbers leave no room for a label."""
    stuck: bool = False
    """Whether some label has no room on its piece."""

    def __post_init__(self) -> None:
        sheet = self.sheet
        self.frame, self.box = sheet.frame, sheet.box
        rooms = [self.frame.box(leaf.rect) for leaf in pieces(sheet.node)]
        self.labels = PieceLabels(self.draft, self.board, self.frame, self.box, aligned=True, closed=rooms)
        self.strokes = [(cut, (self.frame.point(*cut.line[0]), self.frame.point(*cut.line[1]))) for cut in cuts(sheet.node)]
        self.numbers = RunNumbers(self.draft, self.board, self.box, sheet.scale, self.strokes, joined=self.joined)

    @property
    def placed(self) -> bool:
        """Whether every label stands on its piece, and every number on its cut."""
        return not self.numbers.crowded and not self.stuck

    @property
    def sound(self) -> bool:
        """Whether nothing is missing."""
        return not self.labels.missing and not self.unmarked

    # --- marks and labels ------------------------------------------------------------------

    def mark_and_label(self, lead: bool, only_sound: bool = False) -> None:
        """Lines, numbers and labels; given up at the first that has no room, unless it may be led out.

        Args:
            lead: whether it may.
            only_sound: given up as well once something finds no room beside its place either.
        """
        self._lines()
        self.numbers.place()
        if self.numbers.crowded and not lead:
            return
        if only_sound and len(self.numbers.crowded) > _MOST_LED:
            self.unmarked = [run_text(run) for run in self.numbers.crowded]
            return
        for line in self.corners:
            self.board.rule(*line)
        late = []
        for label, group in alike(self.sheet.node):
            if not self._label(label, group):
                late.append((label, group))
                self.in_the_way |= self.numbers.near([self.frame.box(leaf.rect) for leaf in group])
        self.stuck = bool(late)
        if not lead:
            return
        for label, group in late:
            if only_sound and not self.sound:
                return
            self.labels.row_by_row(group, label, (10,), 10)
            self.unsized.add(label)
            self.unsaid |= {label} & {*self.sheet.goes}
        self.unmarked = self.numbers.lead_out()

    def _lines(self) -> None:
        """The sheet and its cuts."""
        self.draft.box(self.box, None, "white")
        self.hatch_at = len(self.draft.shapes)
        close_ruler(self.draft, self.frame, self.box.width, self.box.height, self.sheet.unit)
        self.corners = [(self.frame.point(*start), self.frame.point(*end)) for start, end in (s.line for s in slants(self.sheet.node))]
        lines = [line for _, line in self.strokes]
        self.draft.lines("cut", [*lines, *self.corners])
        self._outline()
        self.board.frame(self.box)
        for line in lines:
            self.board.rule(*line)

    def _outline(self) -> None:
        """The edges of the sheet, open at a break."""
        a, b, c, d = self.box.corners
        if self.sheet.rest is None:
            self.draft.box(self.box, "sheet")
        elif self.sheet.rest.axis == "y":
            self.draft.line("sheet", d, a, b, c)
        else:
            self.draft.line("sheet", b, a, d, c)
        if self.sheet.rest is not None:
            break_line(self.draft, self.box, self.sheet.rest.axis)

    def _label(self, label: str, group: list[Leaf]) -> bool:
        """Label all of a group alike in the best way that fits each; whether there was one."""
        rooms = [self.frame.box(leaf.rect) for leaf in group]
        if group[0].diagonal:
            parts = [half for leaf, room in zip(group, rooms) for half in halves(room, leaf)]
            ways = (alone(label, 14), alone(label, 12), _SMALLEST[0](label))
            if not any(self.labels.set_down(block, parts, _IN_HALF) for block in ways):
                return False
            self.unsized.add(label)
            self.unsaid |= {label} & {*self.sheet.goes}
            return True
        for block, margin, sized, said in self._ways(label, sides_text(group[0].rect.size, self.sheet.unit)):
            if self.labels.set_down(block, rooms, margin):
                self.unsized |= set() if sized else {label}
                self.unsaid |= set() if said else {label}
                return True
        return False

    def _ways(self, label: str, size: str) -> Iterator[tuple[LabelBlock, Number, bool, bool]]:
        """Ways to label a piece, best first; the room round each, whether it shows the size, and where it goes."""
        goes = self.sheet.goes.get(label, "")
        if goes:
            yield from ((block, 3, True, True) for block in _sized(label, f"{size}, {goes}"))
        yield from ((block, 3, True, not goes) for block in _sized(label, size))
        bare = (alone(label, 16), alone(label, 13), *(way(label) for way in _SMALLEST))
        yield from ((block, _ROUND, False, not goes) for block in bare)

    # --- what remains ----------------------------------------------------------------------

    def finish(self) -> None:
        """Say the sizes of leftovers, where there is room on all that are alike, and hatch them."""
        areas: list[tuple[Box, list[Box]]] = []
        if self.sheet.rest is not None:
            areas += self._broken(self.sheet.rest)
        rests: dict[Size, list[Box]] = {}
        for leaf in leaves(self.sheet.node):
            if leaf.label is None and (self.sheet.rest is None or leaf is not self.sheet.rest.leaf):
                rests.setdefault(leaf.rect.size, []).append(self.frame.box(leaf.rect))
        for size, rooms in rests.items():
            text = sides_text(size, self.sheet.unit)
            ways = [(alone(text, _SMALL, "figure", SEMIBOLD, upward), margin) for upward, margin in ((False, 6), (True, 3), (False, 3))]
            areas += self._said(size, rooms, ways)
        if not self.draft.bare:
            draft = Draft()
            draft.lines("hatching", [line for room, holes in areas for line in hatched(room, holes)])
            self.draft.shapes[self.hatch_at : self.hatch_at] = draft.shapes

    def _broken(self, rest: Untouched) -> list[tuple[Box, list[Box]]]:
        """What is shown of the untouched part, and the grounds of what is said on it."""
        x, y = self.frame.point(rest.leaf.rect.x, rest.leaf.rect.y)
        shown = Box(x, y, self.box.right, self.box.bottom)
        # The teeth of the break line reach in.
        inner = replace(shown, bottom=shown.bottom - 3) if rest.axis == "y" else replace(shown, right=shown.right - 3)
        return [(shown, holes) for _, holes in self._said(rest.leaf.rect.size, [inner], [(rest.block(self.sheet.unit), 3)])]

    def _said(self, size: Size, rooms: list[Box], ways: list[tuple[LabelBlock, int]]) -> list[tuple[Box, list[Box]]]:
        """Say what is left in all rooms alike, in the first of these ways that has room; each room with the ground under that."""
        for block, margin in ways:
            before = len(self.board.boxes)
            if self.labels.set_down(block, rooms, margin):
                return [(room, [box.grown(3, 2)]) for room, box in zip(rooms, self.board.boxes[before:])]
        self.also_left[size] += len(rooms)
        return [(room, []) for room in rooms]

    def guide(self, look: DrawnLook | None, name: str, backs: Mapping[str, str]) -> SheetGuide:
        """The finished guide."""
        sheet = self.sheet
        title = f"Cutting guide: {name or size_text(sheet.node.rect.size, sheet.unit)}"
        alt = guide_alt(sheet.node, sheet.unit, look.up if look else None, backs, sheet.goes)
        scene = self.draft.scene(self.box.right + EDGE, self.box.bottom + EDGE, title, alt, sheet.scale)
        return SheetGuide(
            scene=replace(in_full_ink(scene), crowded=not self.sound),
            also_left=tuple(self.also_left.items()),
            unsized=frozenset(self.unsized),
            unsaid=frozenset(self.unsaid),
            broken=sheet.rest.leaf.rect.size if sheet.rest else None,
            led=tuple(self.labels.led),
            unlabelled=tuple(self.labels.missing),
            unmarked=tuple(self.unmarked),
        )


def _sized(label: str, size: str) -> list[LabelBlock]:
    """A label with a size under it, or beside it."""
    return [
        stacked(label, size, 16, _SMALL, SEMIBOLD),
        stacked(label, size, 13, _SMALL, SEMIBOLD),
        stacked(label, size, 10, _SMALL, SEMIBOLD),
        in_line(label, size, 13, _SMALL, font=SEMIBOLD),
        in_line(label, size, 10, _SMALL, font=SEMIBOLD),
        in_line(label, size, 13, _SMALL, True, SEMIBOLD),
        in_line(label, size, 10, _SMALL, True, SEMIBOLD),
    ]
