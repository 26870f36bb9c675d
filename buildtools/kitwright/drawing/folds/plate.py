"""What the drawings of one fold share: its measures on the picture, its papers, names on its faces."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from kitwright.card.face import Placed
from kitwright.drawing import fonts
from kitwright.drawing.dimensions import figure_height
from kitwright.drawing.fonts import Font
from kitwright.drawing.front import Looks, look_of, pattern_up
from kitwright.drawing.labels import BOLD, LabelBlock, Words, middles
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.palette import Ink
from kitwright.drawing.placing import Board, bounds, edges, fits, meets
from kitwright.drawing.scene import Contour, Draft, Frame, Number, Point, SceneShape
from kitwright.exact import Exact
from kitwright.folding import Closed, Side
from kitwright.units import Length, less

HEAD = Exact(9)
"""Size of a drawing's own heading, points."""
INSIDE = Ink("linen")
"""The ground of an inside; rows of dots on it tell it apart without colour too."""
_ROWS = Exact(5)
"""Points between rows of dots."""
PALE = Exact(3, 5)
"""How strong the papers on panels are shown, so that names stand out."""


@dataclass(frozen=True, slots=True)
class OnPanel:
    """Something on a face of a panel."""

    panel: str
    side: Side
    placed: Placed
    """Measured from the left and the top of that face as it is read."""


OnFace = Callable[[Length, Length], Point]
"""Carries a place on a face, as it is read, into the picture."""


@dataclass
class Plate:
    """One picture of a fold while it is drawn."""

    closed: Closed
    breadth: Length
    """The side of the base that no score line parts."""
    unit: str
    look: DrawnLook | None = None
    """The cardstock, shown as a faint tint."""
    lies: Sequence[OnPanel] = ()
    """What lies on the panels, lowest first."""
    looks: Looks = field(default_factory=dict)
    sized: bool = True
    """Whether the flat base shows its sizes."""
    draft: Draft = field(default_factory=Draft)
    board: Board = field(default_factory=Board)
    named: dict[str, bool] = field(default_factory=dict)
    """Faces that show, and whether any drawing had room for the name."""
    insides: bool = False
    """Whether an inside was drawn."""
    folds: bool = False
    """Whether an edge was drawn that is a fold."""
    hides: bool = False
    """Whether an edge was drawn that lies hidden."""

    @property
    def down(self) -> bool:
        """Whether score lines run up and down."""
        return self.closed.base.runs == "down"

    def at(self, frame: Frame, along: Length, across: Length) -> Point:
        """A place of the base: along the side that score lines part, and across it."""
        return frame.point(along, across) if self.down else frame.point(across, along)

    def on_base(self, panel: str, side: Side, x: Length, y: Length) -> tuple[Length, Length]:
        """A place on a face as it is read, on the base seen from the face's own side: along its flat length, and across."""
        along, across = (x, y) if self.down else (y, x)
        at, _ = self.closed.on_flat(panel, side, along, along)
        # A base that lies open is turned over about an axis along the score lines: what runs beside them stays where it is.
        return at, self.breadth - across if not self.down and self.closed.mirrored(panel, side) else across

    # --- paper ------------------------------------------------------------------------------------

    def paper(self, contour: Contour, side: Side, scale: Fraction, stroke: str | None = "sheet") -> None:
        """A panel, or a part of it, that shows one of its sides."""
        if side == "inside":
            self.insides = True
            self.draft.polygon(contour, None, INSIDE)
            self.draft.lines("inside", rows(contour))
        else:
            self.draft.polygon(contour, None, "white")
            if self.look:
                self.draft.shapes.append(lay(self.look, contour, _corner(contour), scale, strength=Exact(1, 4)))
        if stroke:
            self.draft.polygon(contour, stroke)

    def lay(self, on: OnPanel, to: OnFace, scale: Fraction) -> None:
        """A piece on a panel, its outline carried to where the panel is."""
        placed = on.placed
        contour = tuple(to(x, y) for x, y in placed.outline or _corners(placed))
        head, foot = to(placed.rect.x, placed.rect.y), to(placed.rect.x, placed.rect.bottom)
        up = pattern_up(placed, foot[1] < head[1])
        self.draft.shapes.append(lay(look_of(placed, self.looks), contour, _corner(contour), scale, up, PALE))
        drawn = tuple(tuple(to(x, y) for x, y in edge) for edge in placed.edges) or (contour,)
        self.draft.shapes.append(SceneShape(drawn, "edge"))

    # --- names --------------------------------------------------------------------------------------

    def heading(self, words: str, left: Fraction, y: Fraction) -> None:
        """A drawing's own heading, its baseline at y."""
        text = self.draft.text(words, left, y, HEAD, "title", weight="semibold")
        self.board.take(text.box)

    def name(
        self, contour: Contour, words: str, side: Side, covers: Sequence[Contour] = (), patched: bool = False, under: str = ""
    ) -> None:
        """A face's name where it shows, if there is room for it; on a patch where there are dots or papers.

        Args:
            contour: where it may stand.
            covers: what lies over that.
            patched: whether it needs a patch in any case.
            under: a quiet word beneath it, left out where there is no room.
        """
        around = bounds(contour)
        for block in name_blocks(words, under):
            if less(around.width, 2 * block.half[0] + 6) or less(around.height, 2 * block.half[1] + 4):
                continue
            for middle in middles(around):
                box = block.box(middle).grown(3, 2)
                if (
                    fits(box, contour)
                    and not any(meets(box, cover) for cover in covers)
                    and self.board.free(block.box(middle), Exact(3, 2))
                ):
                    self.board.take(block.box(middle))
                    block.draw(self.draft, middle, box.grown(1) if side == "inside" or patched else None)
                    self.named[words] = True
                    return
        self.named.setdefault(words, False)


def name_blocks(words: str, under: str = "") -> list[LabelBlock]:
    """Ways to set a face's name, best first."""
    ways = list(_ways(words))
    whole = [_block(lines, size, upward, under) for size, lines, upward in ways]
    return whole + ([_block(lines, size, upward, "") for size, lines, upward in ways] if under else [])


def _ways(words: str) -> Iterator[tuple[Fraction, list[str], bool]]:
    lines = [each for each in ([words], _halved(words), words.split(" ")) if each]
    lines = [each for i, each in enumerate(lines) if each not in lines[:i]]
    for size in (Exact(11), Exact(19, 2), Exact(8)):
        yield from ((size, each, False) for each in lines[: 3 if size < 11 else 2])
    for size in (Exact(19, 2), Exact(8)):
        yield from ((size, each, True) for each in lines[:2])


def _halved(words: str) -> list[str]:
    """A name of several words in two lines, as even as can be."""
    parts = words.split(" ")
    splits = [(" ".join(parts[:i]), " ".join(parts[i:])) for i in range(1, len(parts))]
    return list(min(splits, key=lambda pair: max(map(len, pair)), default=()))


def _block(lines: Sequence[str], size: Fraction, upward: bool, under: str) -> LabelBlock:
    leading, quiet = size * Exact(23, 20), Exact(8)
    wide = [fonts.width(line, size, BOLD) for line in lines]
    high = figure_height(size) + leading * (len(lines) - 1) + (quiet * Exact(5, 4) if under else 0)
    words = [
        Words(text=line, size=size, font=BOLD, role="label", along=-across / 2, down=figure_height(size) - high / 2 + leading * i)
        for i, (line, across) in enumerate(zip(lines, wide))
    ]
    if under:
        wide.append(fonts.width(under, quiet, Font()))
        words.append(Words(text=under, size=quiet, font=Font(), role="note", along=-wide[-1] / 2, down=high / 2))
    # Letters rise over figures and hang below the line: as much room above as below keeps the name in the middle.
    past = max(size * (fonts.ASCENT - fonts.CAP), fonts.drop(lines[-1]) * size if not under else fonts.drop(under) * quiet)
    return LabelBlock(tuple(words), max(wide), high + 2 * past, upward)


def _corners(placed: Placed) -> Iterable[tuple[Length, Length]]:
    area = placed.rect
    return (area.x, area.y), (area.right, area.y), (area.right, area.bottom), (area.x, area.bottom)


def _corner(contour: Contour) -> Point:
    around = bounds(contour)
    return around.left, around.top


def rows(contour: Contour, step: Number = _ROWS) -> list[tuple[Point, Point]]:
    """Level lines across a polygon without dents, a little short of its edges: the rows of dots of an inside."""
    around = bounds(contour)
    found: list[tuple[Point, Point]] = []
    for n in range(int(around.top / step) + 1, int(around.bottom / step) + 1):
        y = Exact(n * step)
        xs = sorted(ax + (bx - ax) * (y - ay) / (by - ay) for (ax, ay), (bx, by) in edges(contour) if (ay > y) != (by > y))
        for start, end in zip(xs[::2], xs[1::2]):
            # Dots of neighbouring areas stand in one lattice, every other row shifted by half a step.
            first = start + 2 + (-(start + 2) + (Exact(step, 2) if n % 2 else 0)) % step
            if first + 1 < end - 2:
                found.append(((first, y), (end - 2, y)))
    return found
