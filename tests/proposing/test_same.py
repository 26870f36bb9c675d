"""What else the very pieces of a kit make: every card reckoned again from what lies on it."""

from collections import Counter
from fractions import Fraction
from itertools import combinations

import pytest
from demo import worked
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.archive.proposed import fill_proposed
from kitwright.cutting.solver.work import Work
from kitwright.geometry import Rect
from kitwright.kit.read import read_kit
from kitwright.proposing.again import as_proposed, whose
from kitwright.proposing.packed import blocks
from kitwright.proposing.same import BANDS, same_pieces
from kitwright.telling.same_pieces import as_json, same_text
from kitwright.units import ZERO
from kitwright.work.working import work
from making import BATCH, changed, make_worked


@tried(25)
@given(st.lists(st.tuples(st.integers(1, 5), st.integers(1, 5)), min_size=1, max_size=3, unique=True), st.integers(0, 2), st.booleans())
def test_every_rectangle_of_up_to_three_pieces(kinds, gap, turns):
    """Held against putting up to three pieces together in every way by hand: side by side, below one another, two beside one."""
    ways = [[(w, h), (h, w)] if turns else [(w, h)] for w, h in kinds]
    lying = [(size, tuple(int(i == k) for i in range(len(kinds)))) for k, way in enumerate(ways) for size in way]
    expected = {(counts, *size) for size, counts in lying}
    known = list(expected)
    for _ in range(2):
        for one, other in [(a, b) for a in known for b in known]:
            counts = tuple(x + y for x, y in zip(one[0], other[0]))
            if sum(counts) > 3:
                continue
            if one[1] == other[1]:
                expected.add((counts, one[1], one[2] + gap + other[2]))
            if one[2] == other[2]:
                expected.add((counts, one[1] + gap + other[1], one[2]))
        known = list(expected)
    found = blocks(kinds, [3] * len(kinds), gap, (99, 99), 3, turns, Work())
    assert {(block.counts, block.width, block.height) for block in found} == expected


@pytest.mark.parametrize("kit", ["2026-11-weathervane", "2025-11-lending-shelf", "2026-07-lock-by-lock"])
def test_what_is_found_lies_evenly_and_uses_what_it_says(kit):
    kit = worked(kit)
    same = same_pieces(kit)
    sizes = {label: (size, n) for label, size, n in same.there}
    assert same.found
    for one in same.found:
        spent = Counter({label: n * one.cards for label, n in one.each})
        for side, each in [(one.side, one.each)] + ([(one.beside.side, one.beside.each)] if one.beside else []):
            _lies_evenly(side, sizes, kit.kit.spec.unit)
            assert Counter(spot.label for spot in side.spots) == Counter(dict(each))
        if one.beside:
            spent += Counter({label: n * one.beside.cards for label, n in one.beside.each})
        stays = {stays.label: stays.pieces for stays in one.stays}
        assert all(spent[label] + stays.get(label, 0) == n for label, (_, n) in sizes.items())
        area = sum((size.area * n for size, n in sizes.values()), Fraction(0))
        assert one.taken == sum((sizes[label][0].area * n for label, n in spent.items()), Fraction(0)) / area
    assert len(as_json(same)["found"]) == len(same.found)
    assert sum("left over" in line or "All pieces" in line for line in same_text(same)) >= len(same.found)


def _lies_evenly(side, sizes, unit):
    """Borders alike on all sides but for the band, gaps alike, nothing over anything, in an envelope that takes the card."""
    ground = Rect.of(side.card.closed).inset(side.card.mat or ZERO)
    rects = [spot.rect for spot in side.spots] + ([side.band] if side.band else [])
    assert min(r.x for r in rects) - ground.x == side.border == min(r.y for r in rects) - ground.y
    assert ground.right - max(r.right for r in rects) == side.border == ground.bottom - max(r.bottom for r in rects)
    assert not any(a.overlaps(b) for a, b in combinations(rects, 2))
    gap = side.gap / 2
    grown = [Rect(r.x - gap, r.y - gap, r.width + side.gap, r.height + side.gap) for r in rects]
    # With half a gap all round, pieces and band fill the field without a hole.
    field = ground.inset(side.border - gap)
    assert not any(a.overlaps(b) for a, b in combinations(grown, 2))
    assert sum((r.area for r in grown), Fraction(0)) == field.area
    for spot in side.spots:
        size = sizes[spot.label][0]
        assert spot.rect.size == (size.turned if spot.turned else size)
    assert side.band is None or side.band.height >= BANDS[unit]
    card, envelope = sorted((side.card.closed.width, side.card.closed.height)), side.card.envelope.size
    assert all(a < b for a, b in zip(card, sorted((envelope.width, envelope.height))))


@pytest.mark.parametrize("kit, number", [("2026-11-weathervane", 1), ("2025-11-lending-shelf", 5)])
def test_another_card_becomes_a_kit_of_the_very_pieces(kit, number, tmp_path):
    """Sound without so much as a hint, of papers and sizes that the first kit has, and of no more sheets; of three papers in looks
    that swapping alone tells apart, too."""
    of, folder = worked(kit), tmp_path / "2028-06-again"
    asked, proposal, again = _made_again(of, number, folder)
    sizes = {label: piece.size for label, piece in again.spec.pieces.items() if label in of.kit.spec.pieces}
    assert sizes and all(of.kit.spec.pieces[label].size == size for label, size in sizes.items())
    assert again.spec.cards == proposal.cards and of.kit.spec.title in (folder / "notes.md").read_text(encoding="utf-8")
    sheets = {plan.paper: -(-plan.sheets // 1) for plan in of.plans}
    assert all(plan.sheets <= sheets[plan.paper] for plan in work(again).plans if plan.paper in {stock.key for stock in asked.stocks})


def _made_again(of, number, folder):
    same = same_pieces(of)
    asked, proposal = as_proposed(same, number)
    assert fill_proposed(folder, of.kit.club, asked, proposal, "Again", (of, whose(same, number))) == []
    return asked, proposal, read_kit(folder, of.kit.club)


def test_what_the_first_kit_had_goes_on(tmp_path):
    """Corners, what a piece is for, papers, and the cardstock with its weight and grain."""
    of = worked("2025-07-jam-pantry")
    *_, again = _made_again(of, 1, tmp_path / "2028-06-again")
    before, after = of.kit.spec, again.spec
    assert before.pieces["J"].shape and after.pieces["J"].shape == before.pieces["J"].shape and after.pieces["J"].use == "jar"
    assert {key: after.papers[key] for key in after.papers} == {key: before.papers[key] for key in after.papers}
    assert after.card.base.paper == before.card.base.paper and after.papers["cream"].weight


def test_scans_go_with_their_papers(tmp_path):
    of, folder = worked("2026-11-evening-post"), tmp_path / "2028-06-again"
    *_, again = _made_again(of, 1, folder)
    scan = of.kit.spec.papers["hellebore"].front.scan
    assert scan and (folder / scan).read_bytes() == (of.kit.folder / scan).read_bytes()
    assert again.spec.papers["hellebore"].front.scan == scan and not again.spec.papers["hellebore"].front.public
    # The remark beside it, too.
    assert "# their terms" in (folder / "kit.yaml").read_text(encoding="utf-8")


def test_corners_that_differ_make_two_kinds_of_one_size(tmp_path):
    text = changed(
        BATCH,
        ("3-3/4 x 7/8\n", "3-3/4 x 1-1/4\n    shape: {rounded: 1/8}\n"),
        ("7/8 off", "1-1/4 off"),
        ("border: 1/8\n  gap: 1/8", "gap: 1/8"),
    )
    same = same_pieces(make_worked(tmp_path, text))
    assert {label for label, *_ in same.there} == {"A", "B"} and len(set(same.sizes.values())) == 1


def test_pieces_that_are_no_rectangles_are_told():
    same = same_pieces(worked("2026-02-room-keys"))
    assert same.there == () and same.left_out == ("T",) and same.found == ()
    assert "plain rectangle" in same_text(same)[0]
