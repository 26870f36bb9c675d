"""A batch worked by hand for the purpose, and the demo kits looked over by another library.

By hand: a 12 × 12 sheet in three columns of 3¾, each column three strips of 1¼ and six of
⅞, leaves 3 in each column and a ¾ × 12 strip beside them; it yields 9 and 18 strips; on a
4 × 5¼ mat with ⅛ borders and gaps, a front of 1¼, ⅞, band, ⅞ leaves a band of 1⅝; so nine
cards, with nine mats from three Letter sheets and nine bases from five.
"""

from fractions import Fraction
from math import ceil
from pathlib import Path

import demo
import pytest
from kitwright.check import errors
from kitwright.cutting import tree
from kitwright.otherwise.checked import check
from kitwright.units import Length, Size, parse_size
from kitwright.work.worked import lies_of
from making import BATCH, TWO_PAPERS, changed, look_over, make_worked, serious
from shapely import Polygon, box
from shapely.ops import unary_union

KITS = Path(__file__).parents[2] / "kits"


@pytest.fixture(scope="module")
def batch(tmp_path_factory):
    return make_worked(tmp_path_factory.mktemp("batch"), BATCH)


def test_the_sheet(batch):
    layout = batch.layouts[0]
    assert layout.yields == {"A": 9, "B": 18}
    columns = [r for r in layout.leftovers if r.width == Length(Fraction(15, 4))]
    assert [c.height for c in columns] == [Length(3)] * 3
    assert [r.size for r in layout.leftovers if r not in columns] == [parse_size("3/4 x 12")]
    assert layout.slack == parse_size("3/4 x 3")
    assert layout.used == Fraction(9 * 15 * 5, 4 * 4 * 144) + Fraction(18 * 15 * 7, 4 * 8 * 144)
    assert sum(r.area for r in layout.leftovers) == Fraction(3 * 15, 4) * 3 + 9


def test_the_front(batch):
    (band,) = batch.face.bands
    assert band.height == Length(Fraction(13, 8)) and all(s.holds for s in batch.face.sums)


def test_the_sheets_of_the_batch(batch):
    plans = {p.paper: p for p in batch.plans}
    assert {k: p.sheets for k, p in plans.items()} == {"river": 1, "cream": Fraction(5, 2), "white": Fraction(9, 2)}
    assert (ceil(plans["cream"].sheets), ceil(plans["white"].sheets)) == (3, 5)
    assert not any(p.short for p in batch.plans) and plans["river"].spare == {}
    assert plans["cream"].runs[0].layout.yields == {"M": 4} and plans["white"].runs[0].layout.yields == {"base": 2}


def test_the_card(batch):
    assert batch.base.finished == parse_size("4-1/4 x 5-1/2") and batch.enclosed.room == parse_size("1/8 x 1/4")
    assert not serious(check(batch))


@pytest.mark.parametrize(
    "edit, says",
    [
        (("    per card: 1\n", "    per card: 2\n"), "A from River: 18 asked for, but 9 lie"),
        (("    per card: 2\n", "    per card: 1\n"), "B from River: 9 asked for, but 18 lie"),
        (("    per card: 2\n", "    per card: 3\n"), "B from River: 27 asked for, but 18 lie"),
        (("    - A\n    - B\n", "    - B\n    - A\n    - B\n"), "B from River: 18 asked for, but 27 lie"),
    ],
)
def test_a_count_wrong_by_one_is_caught(tmp_path, edit, says):
    assert [f for f in errors(look_over(tmp_path, changed(BATCH, edit))) if says in f.problem]


@pytest.mark.parametrize(
    "edits",
    [
        [("    - A\n    - B\n    - band\n    - B\n", "    - B\n    - A\n    - band\n    - A\n")],
        [("top: A\n", "top: X\n"), ("top: B\n", "top: A\n"), ("top: X\n", "top: B\n")],
        [("  A:\n", "  X:\n"), ("  B:\n", "  A:\n"), ("  X:\n", "  B:\n")],
    ],
    ids=["on the front", "on the guide", "in the list of pieces"],
)
def test_two_labels_swapped_are_caught(tmp_path, edits):
    assert errors(look_over(tmp_path, changed(BATCH, *edits)))


@pytest.mark.parametrize(
    "edits",
    [
        [("    - B river\n    - band", "    - B meadow\n    - band")],
        [("    - A river\n", "    - A cream\n")],
        [("swap: {river: meadow}", "swap: {river: cream}")],
        [("  - papers: [river, meadow]\n", "  - papers: [river, cream]\n")],
    ],
    ids=["the other pattern", "cardstock", "in one look", "on the guide"],
)
def test_one_strip_in_the_wrong_paper_is_caught(tmp_path, edits):
    assert not errors(look_over(tmp_path / "good", TWO_PAPERS))
    assert errors(look_over(tmp_path / "bad", changed(TWO_PAPERS, *edits)))


# --- the demo kits, by shapely --------------------------------------------------------------------------


@pytest.fixture(scope="module", params=demo.BY_ID)
def worked(request):
    return demo.worked(request.param)


def shape(rect) -> Polygon:
    return box(*(float(v.inches) for v in (rect.x, rect.y, rect.right, rect.bottom)))


def test_a_demo_kit_is_sound(worked):
    assert serious(check(worked)) == []
    assert not any(plan.short for plan in worked.plans)


def test_its_sheets_are_filled_without_overlap(worked):
    """shapely, as a reference for areas and overlaps."""
    for layout in worked.layouts:
        parts = [shape(leaf.rect) for leaf in tree.leaves(layout.tree)]
        sheet = shape(layout.tree.rect)
        assert unary_union(parts).equals_exact(sheet, 1e-9) or unary_union(parts).symmetric_difference(sheet).area < 1e-9
        assert sum(p.area for p in parts) == pytest.approx(sheet.area), "no two share any area"
        assert float(layout.used) == pytest.approx(sum(shape(leaf.rect).area for leaf in tree.pieces(layout.tree)) / sheet.area)


def test_its_trees_pass_the_checker(worked):
    halved = {label: piece.diagonal for label, piece in worked.kit.spec.pieces.items() if piece.diagonal}
    for layout in worked.layouts:
        for paper in layout.papers:
            lies = lies_of(worked.kit, paper, worked.faces)
            fixed = frozenset(k for k, turned in lies.items() if not turned)
            assert tree.faults(layout.tree, worked.kit.papers[paper].size.size, worked.sizes, fixed, halved) == []


def test_its_counts_are_those_of_its_cards(worked):
    """Pieces cut, counted again from the sheets; pieces asked for, counted again from the front."""
    for plan in worked.plans:
        for label, n in plan.demand.needs.items():
            assert sum(run.made.get(label, 0) for run in plan.runs) >= n
        given = plan.demand.given
        assert given is None or plan.sheets <= given


def outlined(points) -> Polygon:
    """An outline as shapely has it. A tag's hole hangs on its rim by a seam that is walked both ways: the same area, mended."""
    ring = Polygon([(float(x.inches), float(y.inches)) for x, y in points])
    whole = ring.buffer(0)
    assert whole.is_valid and whole.geom_type == "Polygon" and whole.area == pytest.approx(ring.area)
    return whole


def test_its_front_lies_on_the_card(worked):
    """shapely: pieces lie on their layer and don't cover one another; layers lie within one another, unless it is meant."""
    meant = {m for laid in worked.kit.spec.front.over + worked.kit.spec.front.places for m in laid.meant} | set(worked.kit.spec.front.meant)
    for face in worked.faces:
        for below, layer in zip(face.layers, face.layers[1:]):
            assert shape(layer.rect).within(shape(below.rect).buffer(1e-9))
        pieces = [outlined(p.outline) if p.outline else shape(p.rect) for p in face.pieces]
        if "overhang" not in meant:
            assert unary_union(pieces).within(shape(face.field).buffer(1e-9))
        assert unary_union(pieces).area == pytest.approx(sum(p.area for p in pieces))
        assert shape(face.field).within(box(0, 0, float(face.size.width.inches), float(face.size.height.inches)).buffer(1e-9))
        for band in face.bands:
            assert not any(shape(band).intersection(p).area > 1e-9 for p in pieces)


def test_its_card_goes_into_its_envelope(worked):
    """shapely: the card, either way round, lies within the envelope."""
    envelope = worked.kit.spec.card.envelope
    assert envelope is not None
    outer = box(0, 0, float(envelope.size.width.inches), float(envelope.size.height.inches))
    card: Size = worked.base.finished
    assert any(box(0, 0, float(s.width.inches), float(s.height.inches)).within(outer) for s in (card, card.turned))
    room = worked.enclosed.room
    assert min(room.width, room.height) >= Length(Fraction(1, 16))


def test_the_demo_kits_differ_and_none_has_the_numbers_of_the_batch():
    kits = [demo.worked(k) for k in demo.BY_ID]
    assert len(kits) >= 6 and len({k.base.cut for k in kits}) >= 5
    batch_sizes = {parse_size("3-3/4 x 1-1/4"), parse_size("3-3/4 x 7/8")}
    assert not any(batch_sizes & set(k.sizes.values()) for k in kits)
    assert {k.kit.spec.unit for k in kits} == {"in", "mm"} and {k.base.fold for k in kits} == {
        *("side", "top", "gate", "z-fold", "stepped", "tri-fold")
    }
