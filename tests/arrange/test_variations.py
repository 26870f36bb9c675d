"""Variations beyond the order: each worked out, checked, and told in cuts and supplies."""

from arrange.benches import PAPERS, stack
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.telling.arranging import why_text
from kitwright.units import parse_size
from making import BATCH, changed, make_worked

ALL = "arrangements: {vary: [fold, mat, strip, raised, stamped]}\n"
STRIP = changed(
    BATCH,
    ("card:\n", "  S: {size: 2-1/4 x 5/8, for: sentiment strip, paper: white}\ncard:\n"),
    ("sentiment:\n", "  over:\n    - {piece: S, on: band}\nsentiment:\n"),
    ("size: 2-1/2 x 3/4\n  on: band", "size: 1-3/4 x 3/8\n  on: S"),
)


def found(tmp_path, text):
    return arrangements_of(make_worked(tmp_path, text + ALL))


def of(arranged, slug):
    return next(v for v in arranged.variations if v.slug == slug)


def why(arranged, name):
    return next(why_text(r) for r in arranged.refused if r.name == name)


def test_nothing_is_varied_unless_the_kit_says_so(tmp_path):
    arranged = arrangements_of(make_worked(tmp_path, BATCH))
    assert {v.kind for v in arranged.variations} | {r.kind for r in arranged.refused} <= {"turned"}


def test_a_portrait_top_fold_needs_a_base_of_its_own(tmp_path):
    """Common practice, no source: a half Letter base makes a side fold; a portrait top fold needs 4¼ × 11 in."""
    top = of(found(tmp_path, STRIP), "portrait-top-fold")
    assert top.worked.base.cut == parse_size("4-1/4 x 11") and top.worked.base.score == parse_size("4-1/4 x 11").height / 2
    assert top.needs == "cuts" and any("4¼ × 11 in instead of 8½ × 5½ in" in c.words for c in top.changes)
    assert top.face.pieces == found(tmp_path / "again", STRIP).worked.face.pieces


def test_on_its_side_the_same_base_makes_a_top_fold(tmp_path):
    """Common practice, no source: turned, the same base makes a landscape top-fold card."""
    plain = stack(list(PAPERS[:4]))
    arranged = found(tmp_path, plain)
    lying = of(arranged, "landscape-top-fold")
    assert lying.needs == "nothing" and lying.worked.base.finished == parse_size("5-1/2 x 4-1/4")
    assert lying.worked.base.cut == arranged.worked.base.cut.turned
    # A quarter turn to the left: what was on top lies at the left.
    assert [p.paper for p in sorted(lying.face.pieces, key=lambda p: p.rect.x)] == list(PAPERS[:4])
    assert all(p.turned for p in lying.face.pieces)
    assert of(arranged, "landscape-side-fold").worked.base.cut == parse_size("11 x 4-1/4")


def test_a_one_way_paper_does_not_lie_on_its_side(tmp_path):
    arranged = found(tmp_path, stack(list(PAPERS[:4]), up=("dusk",)))
    assert why(arranged, "Landscape, top fold") == "Dusk would lie on its side"
    assert {v.slug for v in arranged.variations} == {"portrait-top-fold"}


NARROW = changed(
    STRIP,
    ("size: 4 x 5-1/4", "size: 4 x 4-1/2"),
    ("    size: 3-3/4 x 1-1/4", "    size: 3-3/4 x 7/8"),
    (
        "          - 3 strips of 1-1/4 off the top: A\n          - 6 strips of 7/8 off the top: B\n",
        "          - 3 strips of 7/8 off the top: A\n          - 6 strips of 7/8 off the top: B\n",
    ),
)


def test_the_mat_moves_along_the_base_with_its_border(tmp_path):
    arranged = found(tmp_path, NARROW)
    up, down = of(arranged, "mat-top"), of(arranged, "mat-bottom")
    before, mat = arranged.worked.face.layers[1].rect, up.face.layers[1].rect
    assert mat.y == mat.x == before.x < before.y, "the border at the end is the one at the sides"
    assert up.face.size.height - down.face.layers[1].rect.bottom == mat.x
    assert up.needs == down.needs == "nothing"
    # Everything on the mat moves with it.
    shift = mat.y - before.y
    assert [p.rect.y for p in up.face.pieces] == [p.rect.y + shift for p in arranged.worked.face.pieces]


def test_even_borders_leave_a_mat_nowhere_to_go(tmp_path):
    assert "even borders" in why(found(tmp_path, STRIP), "Mat moved along the base")


def test_the_strip_at_either_end_on_foam_or_left_off(tmp_path):
    arranged = found(tmp_path, STRIP)
    band = arranged.worked.face.bands[0]
    assert of(arranged, "strip-left").face.over[0].rect.x == band.x
    assert of(arranged, "strip-right").face.over[0].rect.right == band.right
    foam = of(arranged, "strip-on-foam")
    assert foam.face.over[0].raised and foam.needs == "supplies" and "You need foam." in [c.words for c in foam.changes]
    assert any("thicker" in c.words for c in foam.changes), "the post is told"
    off = of(arranged, "stamped-on-band")
    assert not off.face.over and off.face.sentiment.on == "band"
    assert "No longer cut 9 S of 2¼ × ⅝ in from White cardstock." in [c.words for c in off.changes]


def test_what_does_not_fit_is_told_with_its_reason(tmp_path):
    tight = changed(STRIP, ("envelope: US A2 envelope", "envelope: 5-3/4 x 4-3/8"))
    assert of(found(tmp_path / "a", tight), "portrait-top-fold")
    wide = changed(STRIP, ("size: 2-1/4 x 5/8", "size: 3-3/4 x 5/8"))
    arranged = found(tmp_path / "b", wide)
    assert "from end to end" in why(arranged, "Strip at the left end")
    assert "longer than the free band" in why(arranged, "Landscape, top fold")


def test_decoration_makes_way(tmp_path):
    text = changed(BATCH, ("  on: band\n", "  on: band\n  place: left\n  inset: 1/8\n"), ("size: 2-1/2 x 3/4", "size: 2 x 3/4")) + (
        "decorations:\n  - {name: a flower, size: 3/4 x 3/4, on: band, right: 1/8, optional: yes}\n"
    )
    arranged = found(tmp_path, text)
    right, middle = of(arranged, "sentiment-right"), of(arranged, "sentiment-centre")
    assert right.face.spots[0].rect.right < right.face.sentiment.rect.x
    assert not middle.face.spots and any("a flower" in c.words for c in middle.changes)
