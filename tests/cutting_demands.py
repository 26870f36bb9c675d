"""Demands on one paper, drawn at random, and what must hold of any plan for them."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st
from kitwright.cutting.batch.proof import PROOF_LEVELS
from kitwright.cutting.plan import Demand, made_by
from kitwright.cutting.tree import faults, leftovers, pieces, slack, yields
from kitwright.units import SIXTEENTH, Length, Size, parse_size

LETTER, A4 = parse_size("8-1/2 x 11"), parse_size("210 x 297 mm")
SHEETS = [LETTER, A4, parse_size("6 x 6"), parse_size("12 x 12"), parse_size("15.2 x 15.2 cm")]
HALF = Fraction(1, 2)


@st.composite
def demands(draw, labels=4, cards=20):
    """A kit's worth of pieces for one paper; the step mixes inches and millimetres."""
    sheet = draw(st.sampled_from(SHEETS))
    step = draw(st.sampled_from([Fraction(1, 4), Fraction(1, 2), Fraction(5, 127) * 10]))
    sizes, needs, lies = {}, {}, {}
    for label in "ABCDEF"[: draw(st.integers(1, labels))]:
        # From ¾ in up: smaller ones come by the hundred, which costs time and shows nothing more.
        least = -(-Fraction(3, 4) // step)
        sides = [draw(st.integers(int(least), int(side.inches * Fraction(3, 4) / step))) for side in (sheet.width, sheet.height)]
        sizes[label] = Size(*(Length(step * side) for side in sides))
        needs[label] = draw(st.integers(1, cards))
        way = draw(st.sampled_from([None, None, None, False, True]))
        if way is not None and (sizes[label].turned if way else sizes[label]).fits(sheet):
            lies[label] = way
    return Demand("paper", sheet, needs, sizes, lies)


def check(plan, demand):
    """What must hold of any plan, by the checker of trees and by counting anew."""
    assert plan.short == {}
    assert plan.sheets.denominator in (1, 2)
    given: dict[str, int] = {}
    for run in plan.runs:
        node = run.layout.tree
        assert faults(node, demand.sheet, demand.sizes) == []
        for leaf in pieces(node):
            if leaf.label in demand.lies and leaf.rect.width != leaf.rect.height:
                assert leaf.turned == demand.lies[leaf.label]
        # Whatever half is taken, no more is counted than sheets cut by this tree yield.
        assert run.made == made_by(node, run.sheets, run.made)
        assert set(run.made) <= set(yields(node))
        for label, n in run.made.items():
            given[label] = given.get(label, 0) + n
        if run.sheets == HALF:
            whole = Size(leftovers(node)[0].width, leftovers(node)[0].height)
            assert whole.area * 2 >= demand.sheet.area
    assert all(given.get(label, 0) >= n for label, n in demand.needs.items())
    assert len({run.layout.name for run in plan.runs}) == len(plan.runs)
    by_level = {proof.level: proof for proof in plan.proof}
    if len(by_level) == 1:
        return
    assert tuple(by_level) == PROOF_LEVELS
    for proof in plan.proof:
        better = proof.value >= proof.bound if proof.level != "leftover" else proof.value <= proof.bound
        assert better and proof.proved == (proof.value == proof.bound), proof
    assert by_level["sheets"].value == (plan.sheets,)
    assert by_level["alike"].value == (len(plan.runs),)
    order = by_level["order"].value
    assert order[1] == sum(len(run.layout.measures) for run in plan.runs)
    assert order[2] == sum(len(run.layout.cuts) for run in plan.runs)
    turns = sum(sum(a.axis != b.axis for a, b in zip(run.layout.cuts, run.layout.cuts[1:])) for run in plan.runs)
    assert order[3] == turns
    tight = sum(side < Length(SIXTEENTH) for run in plan.runs for side in (slack(run.layout.tree).width, slack(run.layout.tree).height))
    assert by_level["slack"].value == (tight,)
    largest = sum((run.layout.leftovers[0].area for run in plan.runs if run.layout.leftovers), Fraction(0))
    assert by_level["leftover"].value == (largest,)
