"""The facts of a kit by which readers choose: plain values, small enough to stand in its listing, so that pages over all kits read no whole kit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kitwright.archive.finder import is_easy
from kitwright.archive.make import Made
from kitwright.kit.kit import PastKit
from kitwright.otherwise.planned import one_way, upright_sheets
from kitwright.papers import NamedSize
from kitwright.units import Length, Size
from kitwright.work import traits
from kitwright.work.traits import PaperTraits, Shape, Technique
from kitwright.work.worked import Worked

Upright = Literal["drawn", "same", "more", "no"]
"""With papers that have an up: the guides hold as they are drawn; as many sheets when planned so; more of them; a piece does not fit."""


@dataclass(frozen=True, slots=True)
class CardFacts:
    """One kind of card that a kit makes."""

    size: Size
    """Closed."""
    shape: Shape
    fold: str
    """What its fold is called: `side`, `gate` …; empty where it is not folded."""
    cards: int
    envelope: NamedSize | None


@dataclass(frozen=True, slots=True)
class KitFacts:
    """What is known of a kit by values; of a past kit there are none."""

    unit: str
    """The kit's own: `in` or `mm`."""
    cards: int
    """In the batch."""
    made: tuple[CardFacts, ...]
    """The cards that it makes, design by design; one for a kit of one."""
    looks: int
    """Looks of all designs together."""
    papers: tuple[PaperTraits, ...]
    """Patterned ones first."""
    upright: Upright | None
    """Whether papers with an up may be taken; None where none is patterned."""
    cuts: int
    """Strokes of the blade for the whole batch."""
    leftover: Fraction
    """The share of the patterned sheets that is left, 0 to 1."""
    largest: Size | None
    """The largest single leftover of them."""
    slack: Length
    """What every patterned sheet may lack."""
    techniques: tuple[Technique, ...]
    corrected: bool
    """Whether a correction of it was published."""
    cut_files: bool
    """Whether everybody gets cut files of it."""
    quick: bool = False
    """Whether it is made in few strokes and steps, as the finder and the search call it too."""

    @property
    def patterned(self) -> tuple[PaperTraits, ...]:
        """Its patterned papers."""
        return tuple(paper for paper in self.papers if paper.patterned)

    @property
    def cardstock(self) -> tuple[PaperTraits, ...]:
        """Its cardstock."""
        return tuple(paper for paper in self.papers if paper.kind == "cardstock")

    @property
    def sheets(self) -> Fraction:
        """Patterned sheets that it needs, halves counted: not the number of patterned papers."""
        return sum((paper.sheets for paper in self.patterned), Fraction(0))

    @property
    def one_way(self) -> bool:
        """Whether one of its own papers has an up."""
        return any(paper.one_way for paper in self.papers)

    @property
    def one_way_friendly(self) -> bool:
        """Whether papers with an up make the same cards from as many sheets."""
        return self.upright in ("drawn", "same")


def kit_facts(made: Made) -> KitFacts | None:
    """The facts of a kit that was made; None for a past kit."""
    if isinstance(made.entry, PastKit):
        return None
    worked = made.entry
    return KitFacts(
        worked.kit.spec.unit,
        worked.kit.spec.cards,
        tuple(map(_card, worked.designs)),
        len(worked.every_face),
        traits.paper_traits(worked),
        upright_of(worked),
        traits.cuts_of(worked),
        traits.leftover_of(worked),
        traits.largest_leftover(worked),
        traits.slack_of(worked),
        traits.techniques_of(worked),
        bool(_published(made)),
        made.cut_files is not None,
        is_easy(worked, "quick"),
    )


def _published(made: Made) -> Sequence[object]:
    return [erratum for erratum in made.errata if not erratum.early]


def _card(design: Worked) -> CardFacts:
    size = design.base.finished
    fold = design.base.fold if design.base.scored.scores else ""
    return CardFacts(size, traits.shape_of(size), fold, design.kit.spec.cards, design.kit.spec.card.envelope)


def upright_of(worked: Worked) -> Upright | None:
    """How a kit does with papers that have an up, the least fit of its patterned papers deciding."""
    order: tuple[Upright, ...] = ("drawn", "same", "more", "no")
    found: set[Upright] = set()
    for plan in worked.plans:
        if not worked.kit.papers[plan.paper].material.printed:
            continue
        other = None if traits.stands_upright(plan) else one_way(worked, plan)
        sheets = upright_sheets(plan, other) if other else plan.sheets
        found.add("drawn" if other is None else "no" if sheets is None else "same" if sheets == plan.sheets else "more")
    return max(found, key=order.index, default=None)
