"""A plan of rectangles, counted in the triangles that a cut from corner to corner makes of some of them.

The planner knows rectangles alone: whatever is proved of so many of them is proved of the
triangles too, since each gives two and no other cut gives more.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from kitwright.cutting.batch.proof import OneLabel, Priced, Proof
from kitwright.cutting.plan import Demand, PaperPlan, Run
from kitwright.cutting.tree import Leaf, Node, Split, lying
from kitwright.geometry import Diagonal


def in_triangles(plan: PaperPlan, demand: Demand) -> PaperPlan:
    """The plan of a demand's rectangles as one of the demand itself.

    Args:
        plan: of `demand.in_rectangles`.
        demand: whose needs count triangles.
    """
    return PaperPlan(demand, tuple(_run(run, demand) for run in plan.runs), tuple(_proof(proof, demand) for proof in plan.proof))


def halved(node: Node, halves: Mapping[str, Diagonal]) -> Node:
    """A tree with the cut from corner to corner of every piece that takes one."""
    if isinstance(node, Split):
        return replace(node, parts=tuple(halved(part, halves) for part in node.parts))
    return Leaf(node.rect, node.label, node.turned, lying(halves.get(node.label or ""), node.turned))


def _run(run: Run, demand: Demand) -> Run:
    made = {label: n * demand.from_each(label) for label, n in run.made.items()}
    return replace(run, layout=replace(run.layout, tree=halved(run.layout.tree, demand.halves)), made=made)


def _proof(proof: Proof, demand: Demand) -> Proof:
    reason = proof.reason
    if isinstance(reason, OneLabel):
        each = demand.from_each(reason.label)
        half = None if reason.half is None else reason.half * each
        # One that is odd takes its rectangle all the same: fewer than the rectangles is fewer than these.
        reason = OneLabel(reason.label, reason.whole * each, half, reason.most * each, demand.needs[reason.label])
    elif isinstance(reason, Priced):
        reason = replace(reason, pairs=tuple(label for label, _ in reason.prices if label in demand.halves))
    return replace(proof, reason=reason)
