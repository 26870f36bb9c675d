"""A kit's guides at the desk: the steps on the club's trimmer, and what is to be known of the pieces."""

from __future__ import annotations

from collections.abc import Iterable

from kitwright.card.face import everything
from kitwright.cutting.desk import DeskOrder, DeskStep, desk_steps, orders
from kitwright.cutting.plan import Layout
from kitwright.cutting.tree import pieces
from kitwright.work.worked import Worked


def layout_steps(worked: Worked, layout: Layout) -> tuple[DeskStep, ...]:
    """The desk steps of a layout on the club's trimmer."""
    trimmer = worked.kit.club.trimmer
    return desk_steps(layout, trimmer.least_hold, ruler_side=trimmer.ruler_side)


def layout_orders(worked: Worked, layout: Layout) -> dict[DeskOrder, tuple[DeskStep, ...]]:
    """Every order of the steps that costs no more settings of the ruler than the best; the natural one first."""
    trimmer = worked.kit.club.trimmer
    return orders(layout, trimmer.least_hold, trimmer.ruler_side)


def has_up(worked: Worked, layout: Layout) -> bool:
    """Whether the pattern of a layout's papers has an up."""
    return any(worked.kit.papers[paper].front.up for paper in layout.papers)


def grain_runs_along_fold(worked: Worked, layout: Layout) -> bool:
    """Whether every base of a design on a layout has the sheet's grain along its fold."""
    paper = worked.kit.papers[worked.kit.spec.card.base.paper]
    sheet = layout.sheet
    long_is_down = sheet.height >= sheet.width
    grain_down = long_is_down == (paper.grain == "long")
    fold_down = worked.base.runs == "down"
    return all((grain_down != leaf.turned) == fold_down for leaf in pieces(layout.tree) if leaf.label == worked.kit.base)


def lying_back(worked: Worked, label: str, papers: Iterable[str] | None = None) -> tuple[int, int]:
    """How many pieces of a label lie on the cards of the batch with their printed back up, and how many lie there at all.

    Looks alone don't tell: in outline, and on a sheet seen from its front, both faces are alike.

    Args:
        worked: the kit.
        label: the label.
        papers: only of these papers.
    """
    only = None if papers is None else set(papers)
    lying = [
        (placed.face == "back", face.cards)
        for face in worked.every_face
        for _, placed in everything(face, None)
        if placed.label == label and (only is None or placed.paper in only)
    ]
    return sum(n for back, n in lying if back), sum(n for _, n in lying)
