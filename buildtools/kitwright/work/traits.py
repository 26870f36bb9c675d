"""What kind of kit it is, as plain values by which kits are chosen: shape of the card, techniques, cuts, what is left of its sheets, what they may lack."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from math import ceil
from typing import Literal

from kitwright.cutting.plan import Layout, PaperPlan
from kitwright.cutting.tree import pieces
from kitwright.folding.faces import INSIDE
from kitwright.kit.model import Paper, Piece
from kitwright.materials import Kind
from kitwright.units import Length, Size
from kitwright.work.worked import Worked

Shape = Literal["square", "tall", "wide", "slimline"]
"""Of a closed card, as it stands."""
SLIMLINE = 2
"""A card is slimline from where its long side is so many times the short one."""

Technique = Literal[
    "raised pieces",
    "shaker",
    "pocket",
    "pull-out tag",
    "belly band",
    "envelope liner",
    "window",
    "banner",
    "triangles",
    "slanted pieces",
    "circles and arches",
    "scalloped edge",
    "rounded corners",
    "punched pieces",
    "die cuts",
    "inside panel",
    "vellum",
    "clear film",
    "chipboard",
]
"""What is done besides cutting and gluing rectangles, by what it is called."""


Used = Literal["trimmer", "scoring tool", "scissors", "die", "punch", "adhesive", "foam", "stamp"]
"""What a kit is made with, besides papers and what its author adds for the eye."""


@dataclass(frozen=True, slots=True)
class PaperTraits:
    """One paper of a kit."""

    key: str
    name: str
    kind: Kind
    patterned: bool
    sheet: Size
    """As it lies."""
    size_name: str
    """`Letter`; empty where its size has no name."""
    sheets: Fraction
    """For the batch, whole and half."""
    one_way: bool
    """Whether one of its faces has an up."""
    double_sided: bool
    """Whether its back is printed too."""

    @property
    def at_hand(self) -> int:
        """Whole sheets that have to be there."""
        return ceil(self.sheets)


def shape_of(size: Size) -> Shape:
    """The shape of a closed card."""
    short, long = sorted((size.width, size.height))
    return "slimline" if long >= short * SLIMLINE else standing(size)


def standing(size: Size) -> Shape:
    """How a closed card stands, slimline or not."""
    return "square" if size.width == size.height else "tall" if size.width < size.height else "wide"


STOCK = 8
"""Parts of an inch to which sheets are told apart: a pad of 15.2 cm is one of 6 in to whoever looks for a kit, one of 15 cm is not."""


@lru_cache(maxsize=256)
def stock_of(sheet: Size) -> Size:
    """The sheet as which it counts where kits are chosen."""
    width, height = (Length(Fraction(round(side.inches * STOCK), STOCK)) for side in (sheet.width, sheet.height))
    return Size(width, height)


def paper_traits(worked: Worked) -> tuple[PaperTraits, ...]:
    """The papers of a kit, patterned ones first."""
    return tuple(_paper(worked.kit.papers[plan.paper], plan) for plan in worked.plans)


def _paper(paper: Paper, plan: PaperPlan) -> PaperTraits:
    faces = [face for face in (paper.front, paper.back) if face]
    return PaperTraits(
        plan.paper,
        paper.name,
        paper.kind,
        paper.material.printed,
        plan.demand.sheet,
        paper.size.name or "",
        plan.sheets,
        any(face.up for face in faces),
        paper.back is not None,
    )


def techniques_of(worked: Worked) -> tuple[Technique, ...]:
    """What a kit asks of the maker besides cutting and gluing rectangles, each once."""
    return tuple(dict.fromkeys(_techniques(worked)))


def _techniques(worked: Worked) -> Iterator[Technique]:
    placed = [one for design in worked.designs for side in design.face.every for one in side.stack]
    holds = {one.hold.way for one in placed if one.hold}
    if any(one.raised and not (one.hold and one.hold.way == "shaker") for one in placed):
        yield "raised pieces"
    if "shaker" in holds:
        yield "shaker"
    if "pocket" in holds:
        yield "pocket"
    for piece in worked.kit.spec.pieces.values():
        yield from _of_piece(piece)
    inside = any(side.on.startswith(INSIDE) for design in worked.designs for side in design.face.every)
    if inside or any(design.kit.spec.card.inside for design in worked.designs):
        yield "inside panel"
    kinds: dict[Kind, Technique] = {"vellum": "vellum", "film": "clear film", "chipboard": "chipboard"}
    yield from (kinds[kind] for plan in worked.plans if (kind := worked.kit.papers[plan.paper].kind) in kinds)


def _of_piece(piece: Piece) -> Iterator[Technique]:
    if piece.band:
        yield "belly band"
    if piece.liner:
        yield "envelope liner"
    if piece.notch:
        yield "banner"
    shape = piece.shape
    if shape and shape.tag:
        yield "pull-out tag"
    if shape and shape.window:
        yield "window"
    if shape and shape.triangle:
        yield "triangles"
    if shape and (shape.trapezoid or shape.parallelogram):
        yield "slanted pieces"
    if shape and (shape.circle or shape.oval or shape.arch):
        yield "circles and arches"
    if shape and shape.scalloped:
        yield "scalloped edge"
    if shape and shape.rounded:
        yield "rounded corners"
    if (piece.notch and piece.notch.made_with != "scissors") or (piece.made_with and piece.made_with.tool == "punch"):
        yield "punched pieces"
    if piece.made_with and piece.made_with.tool == "die":
        yield "die cuts"


def used_by(worked: Worked) -> Iterator[Used]:
    """What a kit is made with, each once."""
    pieces, faces = worked.kit.spec.pieces.values(), [side for design in worked.designs for side in design.face.every]
    tagged = any(piece.shape and piece.shape.tag for piece in pieces)
    yield "trimmer"
    if any(design.base.scored.scores for design in worked.designs):
        yield "scoring tool"
    if tagged or any(piece.notch for piece in pieces):
        yield "scissors"
    if any(piece.made_with and piece.made_with.tool == "die" for piece in pieces):
        yield "die"
    if tagged or any("punched pieces" in _of_piece(piece) for piece in pieces):
        yield "punch"
    yield "adhesive"
    if any(placed.raised for face in faces for placed in face.stack):
        yield "foam"
    if any(face.sentiments for face in faces):
        yield "stamp"


# --- its sheets ---------------------------------------------------------------------------------------------


def leading_plans(worked: Worked) -> list[PaperPlan]:
    """The plans of the patterned papers; of all, where none is patterned."""
    return [plan for plan in worked.plans if worked.kit.papers[plan.paper].material.printed] or list(worked.plans)


def cuts_of(worked: Worked) -> int:
    """Strokes of the blade for the whole batch, sheet after sheet."""
    return sum(run.layout.strokes * ceil(run.sheets) for plan in worked.plans for run in plan.runs)


def leftover_of(worked: Worked) -> Fraction:
    """The share of the patterned sheets that becomes no piece, 0 to 1."""
    plans = leading_plans(worked)
    taken = sum((plan.demand.sheet.area * plan.sheets for plan in plans), Fraction(0))
    made = sum((replace(plan.demand, needs=plan.made).area for plan in plans), Fraction(0))
    return 1 - made / taken if taken else Fraction(0)


def largest_leftover(worked: Worked) -> Size | None:
    """The largest single leftover of the patterned sheets; None where nothing is left."""
    left = [rest.size for layout in _leading_layouts(worked) for rest in layout.leftovers[:1]]
    return max(left, key=lambda size: size.area, default=None)


def slack_of(worked: Worked) -> Length:
    """What every patterned sheet may lack, across and along, and the guides still come out."""
    return min((min(layout.slack.width, layout.slack.height) for layout in _leading_layouts(worked)), default=Length(Fraction(0)))


def _leading_layouts(worked: Worked) -> list[Layout]:
    return list(dict.fromkeys(run.layout for plan in leading_plans(worked) for run in plan.runs))


def stands_upright(plan: PaperPlan) -> bool:
    """Whether every piece lies on the sheet as it is written, so that a pattern with an up stands upright."""
    lying = (leaf for run in plan.runs for leaf in pieces(run.layout.tree))
    return all(not leaf.turned or leaf.rect.width == leaf.rect.height for leaf in lying)
