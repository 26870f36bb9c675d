"""Faces of all families: what is said in the file is what lies on the card, sums hold, nothing overlaps, mirror images come once."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np
import pytest
from demo import CLUB
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from imagined import CARDS, any_layout, fields, uncut, wish_of
from kitwright.card.layout import faces_of
from kitwright.geometry import Rect
from kitwright.kit.read import read_kit
from kitwright.proposing.families import families
from kitwright.proposing.families.family import labelled
from kitwright.proposing.makeable import COVERED, LEAST
from kitwright.proposing.written import drafts
from kitwright.telling.proposed_kit import kit_text
from kitwright.units import Length

ALL = families()


@st.composite
def questions(draw, family: str):
    unit = draw(st.sampled_from(["in", "mm"]))
    fold = "gate" if family == "gate doors" else draw(st.sampled_from(["side", "top", "flat"]))
    edges = {"in": ["1/8", "3/16", "1/4"], "mm": ["3", "4.5", "6"]}[unit]
    fine = {"in": Length.mm(0) + Length(1) / 16, "mm": Length.mm(1)}[unit]
    return wish_of(
        unit,
        fold,
        draw(st.sampled_from(CARDS[unit])),
        edge=draw(st.sampled_from(edges)),
        gap=draw(st.sampled_from(edges)),
        mat=draw(st.booleans()),
        band=draw(st.booleans()),
        one_way=draw(st.booleans()),
        step=draw(st.sampled_from([None, fine])),
        kinds=draw(st.integers(1, 5)),
    )


@pytest.mark.parametrize("name", ALL)
@tried(6, deadline=None)
@given(data=st.data())
def test_what_is_said_is_what_lies_there(name, data, tmp_path_factory):
    wish, random = data.draw(questions(name)), Random(data.draw(st.integers(0, 10_000)))
    found = any_layout(random, ALL[name], fields(wish))
    if found is None:
        return
    side, kinds = found
    wish, proposal = uncut(wish, side, kinds)
    draft = next(drafts(wish, proposal, {}))
    folder = tmp_path_factory.mktemp("kit") / "2028-05-asked"
    folder.mkdir()
    (folder / "kit.yaml").write_text(kit_text(draft, folder.name, "Asked"), encoding="utf-8")
    kit = read_kit(folder, CLUB)
    (face,) = faces_of(kit)
    placed = [one for one in (*face.pieces, *face.over) if one.label not in ("M", kit.base)]
    lies = {(spot.label, spot.rect, spot.turned, spot.point or "", spot.over) for spot in side.spots}
    assert {(one.label, one.rect, one.turned, one.point, one.layer == "over") for one in placed} == lies
    assert len(placed) == len(side.spots)
    assert all(line.holds for line in face.sums)
    assert (side.band in face.bands) if face.bands else side.band is None or "places" in side.front
    _is_sound(side, kinds, wish)


def _is_sound(side, kinds, wish):
    card, flat = Rect.of(side.card.closed), [spot for spot in side.spots if not spot.over]
    assert all(card.inset(side.border).contains(spot.rect) for spot in side.spots)
    assert not any(one.rect.overlaps(other.rect) for i, one in enumerate(flat) for other in flat[:i])
    assert not side.band or not any(side.band.overlaps(spot.rect) for spot in side.spots)
    assert not wish.band or side.band and side.band.height >= wish.band
    assert {kind.label: kind.each for kind in kinds} == side.each
    assert len(kinds) <= wish.kinds
    covered = sum(spot.rect.area / (2 if spot.point else 1) for spot in flat)
    free = (wish.band or Length(0)).inches * card.width.inches
    ground = card.inset(side.card.mat or Length(0)).area if side.card.fold != "gate" else Length(0).inches
    # Rounded roots of triangles are a hair longer than they are.
    assert covered * 1001 >= (ground - free) * COVERED * 1000
    least = LEAST[wish.unit]
    for kind in kinds:
        short, long = sorted((kind.size.width, kind.size.height))
        assert short >= (least.flag if kind.halved else least.narrow)
        assert kind.halved or long >= least.long or short >= least.tile


@pytest.mark.parametrize("band", [False, True])
def test_no_layout_comes_twice_in_a_family(band):
    for fold in ("side", "gate"):
        field = fields(wish_of("in", fold, "4-1/4 x 5-1/2", band=band, kinds=4))
        for family in ALL.values():
            seen = set()
            for batch in family.batches(field):
                assert batch.sizes.shape == (len(batch), len(batch.each), 2)
                assert batch.sizes.dtype == np.int64
                for params in map(tuple, batch.params):
                    assert (batch.shape, params) not in seen
                    seen.add((batch.shape, params))


def test_rows_are_counted_as_a_small_enumerator_counts_them():
    """All heights that add up, by trying each (own few lines): multisets of 2 to 6 rows of 3½ × 4½ in, ⅛ apart, on the ¼ grid."""
    field = fields(wish_of("in", "side", "4 x 5", edge="1/8", gap="1/4", step=Length(1) / 4, kinds=6))
    total = 19 + 1

    def heights(rows, left, most):
        if rows == 1:
            yield from [(left,)] if 2 <= left <= most else []
            return
        for first in range(min(most, left), 1, -1):
            for rest in heights(rows - 1, left - first, first):
                yield (first, *rest)

    # The mat is 3¾ × 4¾, inside its border 3½ × 4½: 18 quarters, less one for each gap.
    mine = {one for rows in range(2, 7) for one in heights(rows, total - 2 - (rows - 1), 18)}
    found = set()
    for batch in ALL["rows"].batches(field):
        for values in batch.params:
            found.add(tuple(h for h, n in zip(values, batch.each) for _ in range(n)))
    assert found == mine


def test_the_worked_batch_is_among_the_rows():
    """A strip of 3¾ × 1¼ and two of 3¾ × ⅞ with a band of 1⅝: mat 4 × 5¼, border and gap ⅛."""
    wish = replace(wish_of("in", "side", "4-1/4 x 5-1/2", kinds=2), band=Length(13) / 8)
    field = fields(wish)
    found = [tuple(map(tuple, one)) for batch in ALL["rows"].batches(field) if batch.each == (1, 2) for one in batch.sizes.tolist()]
    assert ((30, 10), (30, 7)) in found


def test_a_size_that_another_has_turned_is_one_label_where_paper_has_no_up():
    for one_way, labels in ((False, 2), (True, 3)):
        field = fields(wish_of("in", "side", "5-1/4 x 5-1/4", one_way=one_way))
        batch = next(ALL["wound strips"].batches(field))
        square = next(i for i, (level, upright, _) in enumerate(batch.sizes.tolist()) if level == upright[::-1])
        assert len({kind.label for kind in labelled(field, batch, square)}) == labels


@pytest.mark.parametrize("name, follows", [("rows", ()), ("wound strips", ()), ("columns", (-2,)), ("rows beside a panel", None)])
def test_even_sizes_are_all_those_whose_free_measures_are_even(name, follows):
    """By the definition alone, over a band, where heights are free; `follows`: which measure the others give."""
    asked = wish_of("mm", "side", CARDS["mm"][0], mat=False, band=True, step=Length.mm(1), kinds=2)
    every, some = (
        {(batch.shape, *row) for batch in ALL[name].batches(fields(each)) for row in batch.params.tolist()}
        for each in (asked, replace(asked, even=Length.mm(5)))
    )
    assert some and some < every
    if follows is not None:
        odd = [{i for i, n in enumerate(row, -len(row)) if n % 5} for _, *row in every]
        assert some == {one for one, which in zip(every, odd) if which <= set(follows)}
