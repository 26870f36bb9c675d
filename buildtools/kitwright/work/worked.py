"""A kit worked out: base, fronts, cutting plans, and what stood in the way.

Everything that is shown or published is derived from this one object.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable
from copy import copy
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from math import ceil
from typing import Literal, TypeVar, cast

from kitwright.card.base import Base
from kitwright.card.enclosed import Enclosed, enclosed_of, foam_of, stocks_of
from kitwright.card.face import Face, Placed, everything
from kitwright.card.notches import cut_size
from kitwright.card.pile import Ply, pile_of
from kitwright.cutting.asked import Answers, KitPlanner
from kitwright.cutting.plan import Layout, PaperPlan
from kitwright.findings import Finding
from kitwright.geometry import Diagonal
from kitwright.kit.kit import Kit
from kitwright.kit.model import ShakerSpec
from kitwright.kit.names import laid_items
from kitwright.units import Size

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Counts:
    """Sheets of one paper for every batch from 1 card upwards."""

    sheets: tuple[Fraction, ...]
    proved: bool | None
    """Whether fewer are impossible for every one of them; None where the author's own guide is counted."""


@dataclass(frozen=True, slots=True)
class Tables:
    """The planner's sheets for every batch of a kit, as a revision keeps them."""

    cards: int
    """The kit's own batch, from which the others are reckoned."""
    counts: tuple[Counts | None, ...]
    """Plan by plan; None where the author's own guide is counted."""


@dataclass(frozen=True)
class Part:
    """What is a design's own where a kit has several."""

    kit: Kit
    """The kit with that design alone."""
    base: Base
    faces: tuple[Face, ...]


@dataclass(frozen=True)
class Worked:
    """All that follows from a kit's spec; of a kit of several designs, or of one of them with what is cut for all."""

    kit: Kit
    base: Base
    """The card base, cut and folded; of several designs the first one's."""
    faces: tuple[Face, ...]
    """The card front, one for each look in the batch; of several designs the first one's."""
    plans: tuple[PaperPlan, ...]
    """What is cut from each paper, patterned papers first."""
    layouts: tuple[Layout, ...]
    """Each distinct way of cutting a sheet, in the order of the guide page."""
    troubles: tuple[Finding, ...]
    """What could not be worked out."""
    parts: tuple[Part, ...] = ()
    """What is each design's own; empty for a kit of one, and for one design."""

    @property
    def designs(self) -> tuple[Worked, ...]:
        """Each design with its own base, fronts and envelope, and with what is cut for the whole kit; itself where there is one."""
        return self._views or (self,)

    @cached_property
    def _views(self) -> tuple[Worked, ...]:
        return tuple(map(self._design, self.parts))

    def _design(self, part: Part) -> Worked:
        design = Worked(part.kit, part.base, part.faces, self.plans, self.layouts, self.troubles)
        vars(design)["_whole"] = self
        return design

    @cached_property
    def unit(self) -> Literal["in", "mm"]:
        """The unit in which it is told: its kit's own, unless it is asked for in the other."""
        return self.kit.spec.unit

    def told_in(self, unit: str) -> Worked:
        """The same, told in a unit. Nothing is worked out in that: every figure is the kit's own, read on another ruler."""
        if unit == self.unit:
            return self
        return self._told(unit, None if self.whole is self else self.whole.told_in(unit))

    def _told(self, unit: str, whole: Worked | None) -> Worked:
        # What is worked out later is worked out once for both.
        assert self.planner is not None and self._kept is not None
        told = copy(self)
        vars(told).pop("others", None)
        vars(told)["unit"] = unit
        if whole is not None:
            vars(told)["_whole"] = whole
        vars(told)["_views"] = tuple(view._told(unit, told) for view in self._views)
        return told

    def of(self, design: str) -> Worked:
        """One of its designs by name; itself where it has none of that name."""
        return next((each for each in self.designs if design and each.kit.design == design), self)

    @cached_property
    def others(self) -> tuple[Worked, ...]:
        """The same card looked at by each of its other faces on which anything stands, as if that led; what is told with the front is left out."""
        return tuple(self._turned_to(i) for i in range(len(self.face.sides)))

    def _turned_to(self, i: int) -> Worked:
        turned = Worked(self.kit, self.base, tuple(face.sides[i] for face in self.faces), self.plans, self.layouts, self.troubles)
        vars(turned)["_whole"], vars(turned)["unit"] = self.whole, self.unit
        vars(turned)["enclosed"] = replace(self.enclosed, inside=None, bands=(), reaches=())
        return turned

    @property
    def whole(self) -> Worked:
        """The kit as a whole, of which this may be one design."""
        return cast(Worked, vars(self).get("_whole", self))

    def seen_as(self, kit: Kit) -> Worked:
        """The same with another club or other papers, as far as nothing that is worked out depends on them."""
        parts = (replace(part, kit=replace(part.kit, club=kit.club, papers=kit.papers)) for part in self.parts)
        return replace(self, kit=kit, parts=tuple(parts))

    @property
    def every_face(self) -> tuple[Face, ...]:
        """Every look of every design."""
        return tuple(face for design in self.designs for face in design.faces)

    @property
    def face(self) -> Face:
        """The front that leads: the first look."""
        return self.faces[0]

    @property
    def sizes(self) -> dict[str, Size]:
        """The size to cut of every label, the base included."""
        return sizes_of(self.kit)

    def plan(self, paper: str) -> PaperPlan | None:
        """The plan of one paper."""
        return next((p for p in self.plans if p.demand.paper == paper), None)

    def cut(self, paper: str) -> PaperPlan:
        """The plan of a paper that is known to be cut.

        Raises:
            KeyError: it is not.
        """
        return {plan.paper: plan for plan in self.plans}[paper]

    @cached_property
    def tables(self) -> Tables | None:
        """The planner's sheets for every batch as a revision kept them; None for a kit that was worked out just now."""
        return None if self.whole is self else self.whole.tables

    @cached_property
    def answers(self) -> Answers | None:
        """What a revision kept of the planner's answers beside how the kit is cut; None for a kit that was worked out just now."""
        return None if self.whole is self else self.whole.answers

    @cached_property
    def planner(self) -> KitPlanner:
        """Whom to ask about other sheets, and about the kit once it is changed."""
        return KitPlanner(self.plans, self.answers) if self.whole is self else self.whole.planner

    @cached_property
    def enclosed(self) -> Enclosed:
        """What lies in the envelope: the closed card with everything on it, its room, thickness and mass."""
        return enclosed_of(self.kit, self.base, self.faces)

    @cached_property
    def plies(self) -> tuple[Ply, ...]:
        """The closed card at its thickest place, in its first look, layer by layer from the back; empty where the base can't be folded."""
        stocks = stocks_of(self.kit)
        plies = pile_of(self.base, self.face, self.enclosed.inside, stocks, foam_of(self.kit))
        for wrapped in (each for each in self.enclosed.bands if plies and each.stack == 1):
            paper = next(iter(self.kit.spec.pieces[wrapped.label].share))
            strip = Ply(wrapped.label, "", paper, stocks[paper].calliper)
            # Behind twice, where it laps over itself, and once in front.
            plies = (strip, strip, *plies, strip)
        return plies

    def shaker_said(self, placed: Placed) -> ShakerSpec | None:
        """What the spec says of the shaker whose frame this is."""
        return next((laid.shaker for laid, path in laid_items(self.kit) if path == placed.said), None)

    def once(self, key: Hashable, found: Callable[[], T]) -> T:
        """What follows from this kit and is asked for by many: worked out when it is first asked for, and not again.

        Args:
            key: what it is, and for what.
            found: works it out.
        """
        if key not in self._kept:
            self._kept[key] = found()
        return cast(T, self._kept[key])

    @cached_property
    def _kept(self) -> dict[Hashable, object]:
        return {}

    def counts(self, label: str) -> dict[str, int]:
        """Pieces of a label for the whole batch, by paper; of one design for the cards of that design."""
        if self.whole is not self:
            return {paper: ceil(labels[label]) for paper, labels in needs_of(self.kit).items() if label in labels}
        return {p.demand.paper: p.demand.needs[label] for p in self.plans if label in p.demand.needs}


def sizes_of(kit: Kit) -> dict[str, Size]:
    """The size to cut of every label, the bases included; more than the finished piece where a punch trims its ends or needs a blank."""
    bases = {design.base: design.spec.card.base.size for design in kit.designs}
    return bases | {label: cut_size(piece, kit.spec.unit) for label, piece in kit.spec.pieces.items()}


def halves_of(kit: Kit) -> dict[str, Diagonal]:
    """Labels that a cut from corner to corner makes two of, and which corners, as the size is written."""
    return {label: piece.diagonal for label, piece in kit.spec.pieces.items() if piece.diagonal}


def needs_of(kit: Kit) -> dict[str, dict[str, Fraction]]:
    """Pieces for the batch by paper and label, as the spec counts them, of all designs together; a fraction shows a slip."""
    needs: dict[str, dict[str, Fraction]] = {}
    for label in kit.spec.pieces:
        for design in kit.designs:
            piece = design.spec.pieces.get(label)
            for paper, share in piece.share.items() if piece else ():
                if share:
                    labels = needs.setdefault(paper, {})
                    labels[label] = labels.get(label, Fraction(0)) + share * design.spec.cards
    for design in kit.designs:
        needs.setdefault(design.spec.card.base.paper, {})[design.base] = Fraction(design.spec.cards)
    return needs


def lies_of(kit: Kit, paper: str, faces: tuple[Face, ...]) -> dict[str, bool]:
    """How labels of one design must lie on the sheet of a one-way paper: turned (True) or upright."""
    lies: dict[str, bool] = {}
    shown = {(p.label, p.paper, p.face) for face in faces for _, p in everything(face, None)}
    inside = kit.spec.card.inside
    if inside:
        shown |= {(inside.piece, key, "front") for key in kit.spec.pieces[inside.piece].share if inside.paper in (None, key)}
    for label, piece in kit.spec.pieces.items():
        for side in ("front", "back"):
            face = kit.papers[paper].face(side)
            if face and face.up and (label, paper, side) in shown:
                lies[label] = face.up in ("left", "right")
        if not piece.may_turn:
            lies.setdefault(label, False)
    return lies


def lying_on(kit: Kit, faces: tuple[Face, ...]) -> Counter[tuple[str, str]]:
    """Pieces of each label and paper of all cards of one design, counted on the fronts themselves; and what goes round them or into their envelopes."""
    counts: Counter[tuple[str, str]] = Counter()
    for face in faces:
        for _, placed in everything(face, None):
            counts[(placed.label, placed.paper)] += face.cards
    inside = kit.spec.card.inside
    if inside and not any(placed.said == ("card", "inside") for face in faces for _, placed in everything(face, None)):
        share = kit.spec.pieces[inside.piece].share
        counts[(inside.piece, inside.paper or next(iter(share)))] += kit.spec.cards
    for label, piece in kit.spec.pieces.items():
        if piece.band or piece.liner:
            counts.update({(label, paper): int(each * kit.spec.cards) for paper, each in piece.share.items()})
    return counts


def on_card(worked: Worked) -> dict[tuple[str, str], int]:
    """Pieces of each label and paper that lie on the cards of the batch, of all designs together."""
    counts: Counter[tuple[str, str]] = Counter()
    for design in worked.designs:
        counts.update(lying_on(design.kit, design.faces))
    return dict(counts)
