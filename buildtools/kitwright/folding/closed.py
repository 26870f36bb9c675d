"""A base closed: where its panels lie, in which order, what of them is seen, and what is shut in.

The frame is that of the closed card as its reader looks at its front: along the side that the
score lines part, from its left edge, or from its top where they run across.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from kitwright.folding.scored import Scored, Side
from kitwright.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Lying:
    """One panel, where the folds put it."""

    first: Length
    """Where it begins on the flat base."""
    last: Length
    """Where it ends there."""
    turned: bool = False
    """Whether it lies turned over from how the base lies flat."""
    shift: Length = ZERO
    """A point at `x` of the flat base lies at `shift + x`, or at `shift - x` once turned over."""

    def at(self, x: Length) -> Length:
        """Where a point of the flat base lies now."""
        return self.shift - x if self.turned else self.shift + x

    @property
    def start(self) -> Length:
        """Its lower end, as it lies now."""
        return self.at(self.last if self.turned else self.first)

    @property
    def end(self) -> Length:
        """Its upper end, as it lies now."""
        return self.at(self.first if self.turned else self.last)

    def over(self, c: Length) -> Lying:
        """The same, turned over about `c`."""
        return replace(self, turned=not self.turned, shift=c * 2 - self.shift)

    def moved(self, by: Length) -> Lying:
        """The same, shifted."""
        return replace(self, shift=self.shift + by)


Above = frozenset[tuple[int, int]]
"""Pairs of panels that share some length: the first lies nearer to whoever looks."""
State = tuple[tuple[Lying, ...], Above]
"""Where every panel lies, and what lies on what."""


@dataclass(frozen=True, slots=True)
class Cell:
    """A stretch of the closed card along which the same panels lie on one another."""

    start: Length
    end: Length
    panels: tuple[int, ...]
    """Panels by their places, the one that lies lowest first."""


@dataclass(frozen=True, slots=True)
class Enclosure:
    """A panel that lies shut in between the two panels of a fold."""

    score: int
    """Which of the score lines, in folding order."""
    panel: str
    """What lies in it."""
    room: Length
    """From the fold to the nearest end of that panel."""


@dataclass(frozen=True)
class Closed:
    """A base with all its score lines folded."""

    base: Scored
    lying: tuple[Lying, ...]
    """Every panel in the frame of the closed card, in their order on the flat base."""
    above: Above
    """Which panel lies on which."""
    states: tuple[State, ...]
    """Flat, then after each fold; the back lies in each as it does in the closed card. The last is the closed card."""

    @classmethod
    def of(cls, base: Scored, states: list[State]) -> Closed:
        """Brought into the frame of the closed card: the front up, its outside if that is seen, the first edge at nothing."""
        front, back = base.panels.index(base.front), base.panels.index(base.back)
        ways = sorted((states[-1], _turned(states[-1])), key=lambda state: base.shown(state[0][front].turned) != "outside")
        brought = next((state for state in ways if any(cell.panels[-1] == front for cell in cells_of(*state))), ways[0])
        start = min(panel.start for panel in brought[0])
        final = _moved(brought, -start)
        held = [_held(state, back, final[0][back]) for state in states[:-1]]
        return cls(base, *final, (*held, final))

    @property
    def length(self) -> Length:
        """How long the closed card is along this axis."""
        return max(panel.end for panel in self.lying)

    @cached_property
    def cells(self) -> tuple[Cell, ...]:
        """The closed card, stretch by stretch."""
        return cells_of(self.lying, self.above)

    @property
    def layers(self) -> int:
        """Layers of paper where most lie on one another."""
        return max(len(cell.panels) for cell in self.cells)

    def panel(self, name: str) -> Lying:
        """A panel by its name."""
        return self.lying[self.base.panels.index(name)]

    # --- what is seen ---------------------------------------------------------------------------

    def seen(self, state: int = -1) -> tuple[tuple[Length, Length, str, Side], ...]:
        """What the reader sees of a state from its front: from where to where which face of which panel; a step back is a fold undone."""
        lying, above = self.states[state]
        return tuple(
            (cell.start, cell.end, self.base.panels[top], self.base.shown(lying[top].turned))
            for cell in cells_of(lying, above)
            for top in cell.panels[-1:]
        )

    @property
    def leading_side(self) -> Side | None:
        """Which face of the front panel is seen of the closed card: its inside where it is folded back over; None where it lies hidden."""
        return next((side for _, _, panel, side in self.seen() if panel == self.base.front), None)

    @cached_property
    def outer(self) -> frozenset[tuple[str, Side]]:
        """Faces of which something is seen while the card is closed, from its front or from its back."""
        faces = set()
        for cell in self.cells:
            top, lowest = cell.panels[-1], cell.panels[0]
            faces.add((self.base.panels[top], self.base.shown(self.lying[top].turned)))
            faces.add((self.base.panels[lowest], self.base.shown(not self.lying[lowest].turned)))
        return frozenset(faces)

    # --- which way up, and where on the flat base -------------------------------------------------

    def upright(self, panel: str, side: Side) -> bool:
        """Whether the top of a face, as its reader holds the card, points to the top of the base as it lies.

        Score lines that run up and down leave the top where it is. Where they run across, a panel that was
        turned over stands on its head: what is seen of the closed card goes by its own panel, what is seen
        of the open one by the back, on which the card lies then.
        """
        if self.base.runs == "down":
            return True
        return not self.panel(panel if (panel, side) in self.outer else self.base.back).turned

    def mirrored(self, panel: str, side: Side) -> bool:
        """Whether left and right of a face are the other way round than on the base as it lies."""
        return (self.base.shown(False) != side) == self.upright(panel, side)

    def on_flat(self, panel: str, side: Side, start: Length, end: Length) -> tuple[Length, Length]:
        """From where to where, along the flat base, what is measured along a face goes; from its left as it is read, or from its top."""
        first, last = self.base.span(panel)
        away = self.mirrored(panel, side) if self.base.runs == "down" else not self.upright(panel, side)
        return (last - end, last - start) if away else (first + start, first + end)

    def on_closed(self, panel: str, side: Side, start: Length, end: Length) -> tuple[Length, Length]:
        """The same along the closed card."""
        ends = [self.panel(panel).at(x) for x in self.on_flat(panel, side, start, end)]
        return min(ends), max(ends)

    # --- what is shut in --------------------------------------------------------------------------

    @cached_property
    def enclosures(self) -> tuple[Enclosure, ...]:
        """Every panel that lies between the two panels of a fold, and its room to that fold."""
        found = []
        for at, score in enumerate(self.base.scores):
            one, _ = self.base.beside(score)
            crease = self.lying[one].at(score.at)
            for i in self.between(at):
                panel = self.lying[i]
                room = min(abs(panel.start - crease), abs(panel.end - crease))
                found.append(Enclosure(at, self.base.panels[i], room))
        return tuple(found)

    def between(self, score: int) -> tuple[int, ...]:
        """The panels, by their places, that lie between the two panels of a fold."""
        one, other = self.base.beside(self.base.scores[score])
        pairs = ((one, other), (other, one))
        return tuple(i for i in range(len(self.lying)) if any((a, i) in self.above and (i, b) in self.above for a, b in pairs))


def cells_of(lying: tuple[Lying, ...], above: Above) -> tuple[Cell, ...]:
    """The stretches between all ends of panels, each with its panels from below."""
    edges = sorted({at for panel in lying for at in (panel.start, panel.end)})
    cells = []
    for start, end in zip(edges, edges[1:]):
        here = [i for i, panel in enumerate(lying) if panel.start <= start and end <= panel.end]
        if here:
            cells.append(Cell(start, end, tuple(sorted(here, key=lambda p: sum((p, q) in above for q in here)))))
    return tuple(cells)


def _turned(state: State) -> State:
    lying, above = state
    return tuple(panel.over(ZERO) for panel in lying), frozenset((q, p) for p, q in above)


def _moved(state: State, by: Length) -> State:
    lying, above = state
    return tuple(panel.moved(by) for panel in lying), above


def _held(state: State, held: int, like: Lying) -> State:
    """A state in which one panel lies as it is told."""
    brought = state if state[0][held].turned == like.turned else _turned(state)
    return _moved(brought, like.start - brought[0][held].start)
