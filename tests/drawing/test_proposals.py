"""Proposals in small: what is drawn is what is proposed, at the scale that is stated, and nothing touches."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from cutting_trees import trees
from examples import tried
from hypothesis import given
from kitwright.colours import contrast
from kitwright.cutting.tree import cuts, leaves, pieces, slants
from kitwright.drawing.labels import within
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.overlaps import overlaps
from kitwright.drawing.proposals.dress import BASE, MAT, looks_of_wish
from kitwright.drawing.proposals.fronts import fronts_of, papers_of
from kitwright.drawing.proposals.overview import Caption, overview
from kitwright.drawing.proposals.plate import WIDER, as_made, plates, scales_of, wide_row
from kitwright.drawing.proposals.sheets import small_sheet
from kitwright.drawing.scene import Box, Clip, Draft, Frame, Scene, SceneShape
from kitwright.exact import Exact
from kitwright.kit.looks import ONE_WAY, paper_colour
from kitwright.kit.model.papers import PaperFace
from kitwright.proposing.papered import sheet_by_sheet
from proposed import MEADOW, PLAIN, WISH, a_few, bunting, strips


@pytest.fixture(scope="module")
def few():
    answer = a_few()
    return answer, plates(answer.wish, as_made(answer))


def test_each_piece_lies_where_it_is_proposed(few):
    answer, _ = few
    for proposal in answer.proposals:
        faces = fronts_of(answer.wish, proposal, "hello")
        assert [[(p.label, p.rect) for p in face.pieces] for face in faces] == [
            [(spot.label, spot.rect) for spot in side.spots] for side in proposal.sides
        ]
        for face, side in zip(faces, proposal.sides):
            assert face.size == side.card.closed and [p.paper for p in face.layers] == [BASE, MAT]
            assert (face.sentiment is not None) == (side.band is not None)
            if side.band and face.sentiment:
                assert side.band.overlaps(face.sentiment.rect) and face.sentiment.rect.height < side.band.height


def test_a_triangle_keeps_its_shape_in_the_room_that_it_takes():
    (face,) = fronts_of(WISH, bunting(), "")
    triangles = [placed for placed in face.pieces if placed.point]
    for placed in triangles:
        xs, ys = zip(*placed.ring)
        assert len(placed.ring) == 3 and (min(xs), max(xs)) == (placed.rect.x, placed.rect.right)
        assert (min(ys), max(ys)) == (placed.rect.y, placed.rect.bottom)
    assert len(triangles) == 2


def test_her_papers_meet_on_a_card_unless_each_is_of_one():
    (face,) = fronts_of(WISH, strips(), "")
    assert {p.paper for p in face.pieces} == {"meadow", "paper-2"}
    assert {*papers_of(replace(WISH, sharing="whole"), strips())[0]} == {"meadow"}


def test_a_sheet_shows_its_cuts_its_labels_and_what_is_left(few):
    answer, made = few
    scale = scales_of(answer.wish).sheet
    for proposal, plate in zip(answer.proposals, made):
        node = proposal.cuts[0].tree
        lines = [line for shape in plate.scene.shapes if isinstance(shape, SceneShape) and shape.stroke == "cut" for line in shape.contours]
        assert len(lines) == len(cuts(node)) + len(slants(node))
        long = max(max(abs(bx - ax), abs(by - ay)) for (ax, ay), (bx, by) in lines)
        assert long == max(node.rect.width, node.rect.height).inches * 72 * scale
        labels = sorted(text.text for text in plate.scene.texts if text.role == "label")
        assert labels == sorted(leaf.label or "" for leaf in pieces(node) for _ in range(leaf.gives))
        white = sum(isinstance(s, SceneShape) and s.fill == "white" for s in plate.scene.shapes)
        assert white == sum(leaf.label is None for leaf in leaves(node))


@tried(12)
@given(trees())
def test_no_label_leaves_its_piece(node):
    draft = Draft()
    frame = Frame(Exact(0), Exact(0), Exact(1, 4))
    missing = small_sheet(draft, node, frame, DrawnLook())
    rooms = [(leaf.label, frame.box(leaf.rect)) for leaf in pieces(node)]
    for text in draft.texts:
        # One label for pieces side by side, such as `3 × A`, lies on them all together.
        label, box = text.text.split(" × ")[-1], text.box
        common = (within(box, room) for piece, room in rooms if piece == label)
        assert sum(max(one.width, 0) * max(one.height, 0) for one in common) == box.width * box.height
    assert {label for label, _ in rooms} == {text.text.split(" × ")[-1] for text in draft.texts} | missing


def test_sheets_without_a_name_are_papers_of_their_own_where_their_pieces_can_be_dealt_so():
    asked = replace(WISH, stocks=(replace(PLAIN, key="paper", sheets=2, named=False),))
    layout = strips(sheets=("paper",), cards=4)
    layout = replace(layout, cuts=(replace(layout.cuts[0], stocks=(("paper", 2),)),))
    apart, cut = sheet_by_sheet(asked, layout)
    assert [(one.key, one.sheets) for one in apart.stocks] == [("paper-1", 1), ("paper-2", 1)]
    assert [one.stocks for one in cut.cuts] == [(("paper-1", 1), ("paper-2", 1))]
    # Each is called by how it is drawn, and no two alike.
    looks = looks_of_wish(apart)
    assert [one.name.lower() for one in apart.stocks] == [looks[one.key, "front"].pattern for one in apart.stocks]
    assert len({*papers_of(apart, cut)[0]}) == 2
    for other in (replace(PLAIN, key="paper", sheets=2), replace(asked.stocks[0], sheets=5)):
        wish = replace(asked, stocks=(other,))
        assert sheet_by_sheet(wish, layout) == (wish, layout)


def test_nothing_touches_and_all_is_at_one_scale(few):
    answer, made = few
    page = overview(made, [Caption(i, "Strips", ("A 1 × 2 in",)) for i in (1, 2, 3)], "Six cards", ["Drawn small."], "alt")
    for scene in (page, *(plate.scene for plate in made)):
        assert not overlaps(scene)
        whole = Box(Exact(0), Exact(0), scene.width, scene.height)
        assert all(whole.holds(text.box) for text in scene.texts)
        assert all(whole.holds(Box(x, y, x, y)) for x, y in _corners(scene))
    assert [text.text for text in page.texts if text.role == "accent"] == ["1", "2", "3"]
    # Three of a row: two designs side by side, and their sheet.
    two = replace(answer.wish, designs=2)
    (row,) = plates(two, [(two, answer.proposals[2])], WIDER, wide_row(two))[0].rows
    assert len(row) == 3


def _corners(scene: Scene):
    return (
        corner for shape in scene.shapes for ring in ([shape.outline] if isinstance(shape, Clip) else shape.contours) for corner in ring
    )


def test_stand_ins_differ_in_pattern_and_neighbours_in_lightness():
    six = tuple(replace(PLAIN, key=f"p{i}") for i in range(6))
    looks = looks_of_wish(replace(WISH, stocks=six))
    drawn = [looks[stock.key, "front"] for stock in six]
    assert all(a.pattern != b.pattern for a, b in combinations(drawn, 2))
    grounds = [paper_colour(look.inks[0].name) for look in drawn]
    assert all(contrast(a, b) > Fraction(3, 2) for a, b in zip(grounds, grounds[1:]))


def test_her_own_looks_are_taken_and_no_stand_in_repeats_them():
    same = replace(MEADOW, key="x", face=PaperFace(look="blossoms", colours=("sage", "linen")))
    up = replace(PLAIN, key="y", one_way=True)
    looks = looks_of_wish(replace(WISH, stocks=(MEADOW, same, PLAIN, up)))
    assert looks["meadow", "front"] == DrawnLook("stripes", ("sky", "white"))
    assert len({looks[key, "front"] for key in ("meadow", "x", "paper-2", "y")}) == 4
    assert looks["y", "front"].pattern in ONE_WAY and looks["y", "front"].up == "top"
