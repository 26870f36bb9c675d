"""The card base: a flat sheet, scored, folded to a card.

Lengths along the side that its score lines part come from `folding`; this module adds the
other side, so that panels, faces and the closed card have sizes and places.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from kitwright.folding import Closed, Scored
from kitwright.folding.faces import DOORS, CardFace, End, Part, closed_of, known_faces, leads
from kitwright.folding.kinds import counterpart, kinds, scored
from kitwright.folding.kinds.kind import Asked
from kitwright.folding.scored import Runs
from kitwright.geometry import Rect
from kitwright.units import ZERO, Length, Size

Point = tuple[Length, Length]
Edge = Literal["left", "right", "top", "bottom"]
OWN = "own"
"""The name of a fold whose score lines the author gives."""
HALVES = ("side", "top")
"""Folds in two, at one score line: what a base says of its fold beside its size and its score follows."""


def runs_of(fold: str) -> Runs:
    """Which way the score lines of a fold that has a name run."""
    return kinds()[fold].runs


def other_way(fold: str) -> str:
    """The fold that turns the same card by a quarter."""
    return counterpart(fold)


def parted(size: Size, fold: str) -> Length:
    """The side of a flat base that the score lines of a fold that has a name part."""
    return size.width if runs_of(fold) == "down" else size.height


def doubled(panel: Size, fold: str) -> Size:
    """The flat base of two such panels."""
    return Size(panel.width * 2, panel.height) if runs_of(fold) == "down" else Size(panel.width, panel.height * 2)


@dataclass(frozen=True, slots=True)
class Base:
    """The card base before and after folding."""

    cut: Size
    """The flat sheet to cut, as it lies with the card upright."""
    fold: str
    """What its fold is called: `side`, `top`, `gate` …; `own` where the author gives the score lines."""
    score: Length
    """Where its one score line runs, or the first that is folded: from the left edge, or from the top where it runs across. 0 without any."""
    lines: Scored | None = None
    """How it is scored, where that is more than the one line of a side or top fold."""

    @property
    def scored(self) -> Scored:
        """The flat base with its score lines."""
        return self.lines or _scored(self.fold, parted(self.cut, self.fold), self.score)

    @property
    def runs(self) -> Runs:
        """Which way its score lines run: `down` or `across`."""
        return self.scored.runs

    @property
    def closed(self) -> Closed | None:
        """How it lies closed; None where a score line lies outside it, or can't be folded."""
        return closed_of(self.scored)

    @property
    def halves(self) -> bool:
        """Whether it is a side or top fold: two panels, a back and a front."""
        return self.lines is None

    @property
    def plain(self) -> bool:
        """Whether one drawing of it flat shows all there is to see: folded once in the middle, or not at all."""
        return not self.scored.scores or (self.halves and self.score * 2 == self.parted)

    @property
    def parted(self) -> Length:
        """The side of the flat base that its score lines part."""
        return self.cut.width if self.runs == "down" else self.cut.height

    @property
    def breadth(self) -> Length:
        """Its other side, which no fold makes shorter."""
        return self.cut.height if self.runs == "down" else self.cut.width

    def sized(self, along: Length) -> Size:
        """A size that is so long where the score lines part it, and as broad as the base."""
        return Size(along, self.breadth) if self.runs == "down" else Size(self.breadth, along)

    @property
    def finished(self) -> Size:
        """The folded card, with all its panels on one another."""
        shut = self.closed
        return self.sized(shut.length) if shut else self.sized(max(last - first for first, last in self.scored.spans()))

    @property
    def front(self) -> Size:
        """What the closed card is looked at by: its front panel, or its doors together."""
        shut = self.closed
        return self.sized(self.faces[self.leading].length) if shut else self.panel(self.scored.front)

    @property
    def back(self) -> Size:
        """The panel that the closed card lies on."""
        return self.panel(self.scored.back)

    def panel(self, name: str) -> Size:
        """A panel by its name."""
        first, last = self.scored.span(name)
        return self.sized(last - first)

    @property
    def leading(self) -> str:
        """The name of the face that the closed card is looked at by."""
        return leads(self.scored)

    @property
    def faces(self) -> Mapping[str, CardFace]:
        """Every face that a design may stand on, by each of its names; none of a base that can't be folded."""
        return known_faces(self.scored)

    def face_size(self, face: str) -> Size:
        """A face, as it is read."""
        return self.sized(self.faces[face].length)

    @property
    def doors(self) -> tuple[Part, ...]:
        """The doors that lead together; none where one panel leads."""
        return self.faces[DOORS].parts if self.leading == DOORS else ()

    def panels_on(self, face: str) -> dict[str, Rect]:
        """Where each panel of a face is on it; none of a base that can't be folded."""
        return {part.panel: self.part_at(part) for part in self.faces[face].parts} if face in self.faces else {}

    def part_at(self, part: Part) -> Rect:
        """Where a door is on the front that it is a part of."""
        if self.runs == "down":
            return Rect(part.start, ZERO, part.length, self.breadth)
        return Rect(ZERO, part.start, self.breadth, part.length)

    def hinges(self, face: str) -> tuple[Edge, ...]:
        """The edges of a face, as it is read, at which the base is folded."""
        return tuple(map(self._edge, self.faces[face].creases))

    def closed_over(self, face: str) -> tuple[Edge, ...]:
        """Those of them at which the fold lays another panel on the face; none of a base that can't be folded."""
        return tuple(map(self._edge, self.faces[face].valleys)) if face in self.faces else ()

    def _edge(self, end: End) -> Edge:
        if self.runs == "down":
            return "left" if end == "start" else "right"
        return "top" if end == "start" else "bottom"

    def closed_at(self, face: str, rect: Rect) -> Rect:
        """Where something on a face lies once the card is closed.

        Args:
            face: its name.
            rect: on that face, from its top left corner as it is read.

        Returns:
            On the closed card as it is seen from its front, from its top left corner.
        """
        shut = self.closed
        assert shut is not None, "only a base that can be folded has faces"
        # All parts of one face lie in one plane, so that any of them tells where the whole is.
        part = self.faces[face].parts[0]
        down = self.runs == "down"
        first, last = (rect.x, rect.right) if down else (rect.y, rect.bottom)
        start, end = shut.on_closed(part.panel, part.side, first - part.start, last - part.start)
        return Rect(start, rect.y, end - start, rect.height) if down else Rect(rect.x, start, rect.width, end - start)

    def closed_panels(self) -> tuple[Rect, ...]:
        """Every panel where it lies on the closed card, in their order on the flat base."""
        shut = self.closed
        lying = [(panel.start, panel.end - panel.start) for panel in shut.lying] if shut else []
        if self.runs == "down":
            return tuple(Rect(start, ZERO, length, self.breadth) for start, length in lying)
        return tuple(Rect(ZERO, start, self.breadth, length) for start, length in lying)

    @property
    def score_lines(self) -> tuple[tuple[Point, Point], ...]:
        """Both ends of every score line on the flat base, in folding order."""
        if self.runs == "down":
            return tuple(((score.at, ZERO), (score.at, self.cut.height)) for score in self.scored.scores)
        return tuple(((ZERO, score.at), (self.cut.width, score.at)) for score in self.scored.scores)


@lru_cache(maxsize=512)
def _scored(fold: str, length: Length, score: Length) -> Scored:
    return scored(fold, length, Asked(score))
