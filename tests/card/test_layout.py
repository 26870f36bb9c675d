"""The card front: rows, columns, bands and sums, by hand and by property."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.face import FieldEdge
from kitwright.card.layout import base_of, faces_of, position
from kitwright.geometry import Rect
from kitwright.kit.model import At
from kitwright.telling.steps import edge_text
from kitwright.units import Length, Size, inch_text, total
from making import BATCH, changed, make_kit

STEP = Length(Fraction(1, 16))


def face_of(root, text):
    return faces_of(make_kit(root, text))[0]


def named(what) -> str:
    """An edge in words, or the label of a neighbour."""
    return edge_text(what) if isinstance(what, FieldEdge) else what.label


def inches(*values):
    return tuple(Length(Fraction(v)) for v in values)


# --- by hand -----------------------------------------------------------------------------------


def test_the_worked_front(tmp_path):
    """On a 4 × 5¼ mat with ⅛ borders and gaps, a front of 1¼, ⅞, band, ⅞ leaves a band of 1⅝."""
    face = face_of(tmp_path, BATCH)
    assert face.size == Size(*inches("17/4", "11/2")) and face.field == Rect(*inches("1/8", "1/8", 4, "21/4"))
    (band,) = face.bands
    assert band == Rect(*inches("1/4", "21/8", "15/4", "13/8"))
    assert [(p.label, p.rect.y.inches) for p in face.pieces] == [("A", Fraction(1, 4)), ("B", Fraction(13, 8)), ("B", Fraction(35, 8))]
    along = next(s for s in face.sums if s.direction == "along")
    assert [(t.name, str(t.length.inches)) for t in along.terms] == [
        ("border", "1/8"),
        ("A", "5/4"),
        ("gap", "1/8"),
        ("B", "7/8"),
        ("gap", "1/8"),
        ("band", "13/8"),
        ("gap", "1/8"),
        ("B", "7/8"),
        ("border", "1/8"),
    ]
    assert along.target == Length(Fraction(21, 4)) and all(s.holds for s in face.sums)


def test_the_order_works_from_the_edges_inward(tmp_path):
    settings = face_of(tmp_path, BATCH).settings
    assert [(s.placed.label, s.inward) for s in settings] == [("A", "top"), ("B", "top"), ("B", "bottom")]
    assert [named(s.against) for s in settings] == ["the top edge of M", "A", "the bottom edge of M"]
    assert all(s.distance == s.aside == Length(Fraction(1, 8)) for s in settings)


def test_folds(tmp_path):
    """A portrait top fold is another cut than a side fold, not the same base turned."""
    side = base_of(make_kit(tmp_path / "side", BATCH))
    assert side.score == Length(Fraction(17, 4)) and side.finished == Size(*inches("17/4", "11/2")) == side.back
    top = base_of(make_kit(tmp_path / "top", changed(BATCH, ("size: 8-1/2 x 5-1/2", "size: 4-1/4 x 11"), ("fold: side", "fold: top"))))
    assert top.score == Length(Fraction(11, 2)) and top.finished == side.finished
    uneven = base_of(make_kit(tmp_path / "uneven", changed(BATCH, ("  fold: side", "  fold: side\n  score: 4"))))
    assert uneven.finished == Size(*inches("9/2", "11/2")) and uneven.back == Size(*inches(4, "11/2"))


COLUMNS = changed(
    BATCH,
    ("    - A\n    - B\n    - band\n    - B\n", "    - C\n    - [D, band, D]\n"),
    ("  rows:", "  columns:"),
    ("  A:\n    size: 3-3/4 x 1-1/4", "  C:\n    size: 1-1/4 x 5"),
    ("  B:\n    size: 3-3/4 x 7/8", "  D:\n    size: 2-3/8 x 7/8"),
    (
        "guides:\n  - papers: river\n    cuts:\n      - 3 columns of 3-3/4 off the left:\n"
        "          - 3 strips of 1-1/4 off the top: A\n          - 6 strips of 7/8 off the top: B\n",
        "",
    ),
)


def test_a_block_inside_runs_the_other_way(tmp_path):
    face = face_of(tmp_path, COLUMNS)
    assert [(p.label, *(str(v.inches) for v in (p.rect.x, p.rect.y))) for p in face.pieces] == [
        ("C", "1/4", "1/4"),
        ("D", "13/8", "1/4"),
        ("D", "13/8", "35/8"),
    ]
    (band,) = face.bands
    assert band.size == Size(*inches("19/8", 3)) and all(s.holds for s in face.sums)


@pytest.mark.parametrize("gap, band", [("1/4", "11/4"), ("0", "13/4"), ("1/8", "3")])
def test_a_gap_of_its_own_inside_a_block(tmp_path, gap, band):
    """None at all is a gap of its own too."""
    text = changed(COLUMNS, ("    - [D, band, D]\n", f"    - inside: [D, band, D]\n      gap: {gap}\n"))
    face = face_of(tmp_path, text)
    assert face.bands[0].height == Length(Fraction(band)) and all(s.holds for s in face.sums)


def test_a_block_without_gaps_takes_no_room_for_them(tmp_path):
    """The rows of a block are as wide as its pieces and its own gaps."""
    text = changed(
        COLUMNS,
        ("  columns:\n    - C\n    - [D, band, D]\n", "  rows:\n    - inside: [C, C, C]\n      gap: 0\n    - band\n"),
        ("size: 1-1/4 x 5", "size: 1-1/4 x 3"),
    )
    face = face_of(tmp_path, text)
    assert [p.rect.x.inches for p in face.pieces] == [Fraction(1, 4), Fraction(3, 2), Fraction(11, 4)] and all(s.holds for s in face.sums)


@pytest.mark.parametrize("gap, tall", [("0", "7/4"), ("1/2", "9/4")])
def test_a_block_in_a_block_is_as_tall_as_its_pieces_and_its_own_gaps(tmp_path, gap, tall):
    """Two pieces of ⅞ one above the other, beside a panel: the row that holds both is as tall as the two."""
    text = changed(
        COLUMNS,
        ("  columns:\n    - C\n    - [D, band, D]\n", f"  rows:\n    - [C, {{inside: [D, D], gap: {gap}}}]\n    - band\n"),
        ("size: 1-1/4 x 5", "size: 1-1/4 x 1-1/2"),
    )
    face = face_of(tmp_path, text)
    (band,) = face.bands
    assert band.height == Length(5 - Fraction(tall) - Fraction(1, 8)) and band.bottom == face.field.bottom - Length(Fraction(1, 8))


def test_two_bands_share_what_is_free(tmp_path):
    face = face_of(tmp_path, changed(BATCH, ("    - A\n    - B\n    - band\n", "    - A\n    - band\n    - B\n    - band\n")))
    assert [b.height for b in face.bands] == list(inches("3/4", "3/4"))


def test_a_band_of_a_given_height(tmp_path):
    assert face_of(tmp_path, changed(BATCH, ("- band", "- band 1-5/8"))).bands == face_of(tmp_path / "free", BATCH).bands
    face = face_of(tmp_path / "less", changed(BATCH, ("- band", "- band 1-1/2")))
    along = next(s for s in face.sums if s.direction == "along")
    assert not along.holds and along.target - along.reached == Length(Fraction(1, 8))


@pytest.mark.parametrize("place, x", [("left", "1/4"), ("right", "1"), ("centre", "5/8")])
def test_a_narrower_piece_sits_where_it_is_said(tmp_path, place, x):
    text = changed(BATCH, ("size: 3-3/4 x 1-1/4", "size: 3 x 1-1/4"), ("    - A\n", f"    - {{piece: A, place: {place}}}\n"))
    face = face_of(tmp_path, text)
    assert face.pieces[0].rect.x == Length(Fraction(x)) and all(s.holds for s in face.sums)


def test_looks_swap_papers_and_nothing_else(tmp_path):
    text = changed(
        BATCH,
        ("  cream:\n", "  meadow:\n    kind: patterned\n    name: Meadow\n    size: 12 x 12\n  cream:\n"),
        ("  gap: 1/8\n", "  gap: 1/8\n  looks:\n    - {name: river, cards: 5}\n    - {name: meadow, cards: 4, swap: {river: meadow}}\n"),
    )
    one, other = faces_of(make_kit(tmp_path, text))
    assert [p.rect for p in one.stack] == [p.rect for p in other.stack] and (one.cards, other.cards) == (5, 4)
    assert {p.paper for p in one.pieces} == {"river"} and {p.paper for p in other.pieces} == {"meadow"}
    assert {s.placed.paper for s in other.settings} == {"meadow"} and [p.paper for p in other.layers] == ["white", "cream"]


@pytest.mark.parametrize("place, x", [("", "7/8"), ("\n  place: left", "3/8"), ("\n  place: right\n  inset: 0", "3/2")])
def test_where_the_sentiment_goes(tmp_path, place, x):
    face = face_of(tmp_path, changed(BATCH, ("  on: band", f"  on: band{place}")))
    r = face.sentiment.rect
    assert r.x == Length(Fraction(x)) and r.size == Size(*inches("5/2", "3/4"))
    assert r.centre[1] == face.bands[0].centre[1]


def test_a_sentiment_stands_between_the_notches(tmp_path):
    text = changed(
        BATCH,
        ("  M:\n", "  S:\n    size: 3 x 1\n    paper: cream\n    notch: {ends: left}\n  M:\n"),
        ("sentiment:", "  over:\n    - {piece: S, on: band}\nsentiment:"),
        ("  on: band\n", "  on: S\n"),
        ("2-1/2 x 3/4", "2 x 3/4"),
    )
    face = face_of(tmp_path, text)
    (strip,) = face.over
    assert strip.rect.centre == face.bands[0].centre and strip.outline
    clear_left = strip.rect.x + Length(Fraction(1, 2))
    assert face.sentiment.rect.x - clear_left == strip.rect.right - face.sentiment.rect.right


# --- by property -------------------------------------------------------------------------------

lengths = st.integers(1, 60).map(lambda n: STEP * n)


@given(
    lengths,
    lengths,
    lengths,
    lengths,
    st.integers(0, 30).map(lambda n: STEP * n),
    st.sampled_from([None, "left", "right"]),
    st.sampled_from([None, "top", "bottom"]),
)
def test_a_position_is_measured_from_the_edge_that_is_said(a, b, c, d, margin, sideways, down):
    size, on = Size(a, b), Rect(STEP, STEP * 3, c, d)
    at = At(**{edge: margin for edge in (sideways, down) if edge})
    r = position(size, at, on)
    assert r.size == size
    expected_x = {None: r.x - on.x == on.right - r.right, "left": r.x - on.x == margin, "right": on.right - r.right == margin}
    expected_y = {None: r.y - on.y == on.bottom - r.bottom, "top": r.y - on.y == margin, "bottom": on.bottom - r.bottom == margin}
    assert expected_x[sideways] and expected_y[down]


@st.composite
def fronts(draw):
    """A front of rows or columns that fills its mat exactly but for a free band, as the text of a kit."""
    rows = draw(st.booleans())
    border, gap = draw(st.integers(0, 4)), draw(st.integers(0, 4))
    heights = draw(st.lists(st.integers(4, 20), min_size=1, max_size=5))
    band, across = draw(st.integers(1, 30)), draw(st.integers(16, 60))
    where = draw(st.integers(0, len(heights)))
    along = sum(heights) + band + gap * len(heights) + 2 * border
    wide = across + 2 * border

    def text(n):
        return inch_text(STEP * n, plain=True)

    def size(w, h):
        return f"{text(w)} x {text(h)}" if rows else f"{text(h)} x {text(w)}"

    labels = [f"P{i}" for i in range(len(heights))]
    entries = [*labels[:where], "band", *labels[where:]]
    pieces = "".join(f"  {label}: {{size: {size(across, h)}, paper: river}}\n" for label, h in zip(labels, heights))
    w, h = (wide, along) if rows else (along, wide)
    kit = f"""\
title: Random
summary: A random front.
cards: 2
papers:
  river: {{kind: patterned, name: River, size: 12 x 12}}
  white: {{kind: cardstock, name: White, size: 30 x 30}}
pieces:
{pieces}  M: {{size: {text(w)} x {text(h)}, paper: white}}
card:
  base: {{size: {text(2 * w + 8)} x {text(h + 4)}, paper: white}}
  fold: side
  layers: [M]
front:
  border: {text(border)}
  gap: {text(gap)}
  {"rows" if rows else "columns"}: [{", ".join(entries)}]
"""
    return kit, rows, border, gap, band


@given(fronts())
def test_random_fronts_add_up_and_leave_the_band(tmp_path_factory, front):
    text, rows, border, gap, band = front
    face = face_of(tmp_path_factory.mktemp("front"), text)
    assert all(s.holds and total(t.length for t in s.terms) == s.target for s in face.sums)
    (free,) = face.bands
    assert (free.height if rows else free.width) == STEP * band
    field = face.field.inset(STEP * border)
    every = [p.rect for p in face.pieces] + [free]
    assert all(field.contains(r) for r in every)
    assert not any(a.overlaps(b) for i, a in enumerate(every) for b in every[i + 1 :])
    starts = sorted(((r.y, r.bottom) if rows else (r.x, r.right)) for r in every)
    assert all(b[0] - a[1] == STEP * gap for a, b in zip(starts, starts[1:]))
    assert sum(r.area for r in every) + _gaps_area(field, rows, gap, len(every)) == field.area


def _gaps_area(field, rows, gap, n):
    return (STEP * gap * (n - 1)).inches * (field.width if rows else field.height).inches


@given(fronts())
def test_the_placing_order_never_crosses_the_band_and_every_distance_is_true(tmp_path_factory, front):
    text, rows, border, gap, _ = front
    face = face_of(tmp_path_factory.mktemp("order"), text)
    assert sorted(s.placed.label for s in face.settings) == sorted(p.label for p in face.pieces)
    (band,) = face.bands
    near = [s for s in face.settings if s.inward in ("top", "left")]
    far = [s for s in face.settings if s.inward in ("bottom", "right")]
    assert list(face.settings) == near + far
    start = (lambda r: r.y) if rows else (lambda r: r.x)
    assert all(start(s.placed.rect) < start(band) for s in near) and all(start(s.placed.rect) > start(band) for s in far)
    assert near == sorted(near, key=lambda s: start(s.placed.rect)) and far == sorted(far, key=lambda s: -start(s.placed.rect).inches)
    for group in (near, far):
        for i, setting in enumerate(group):
            along = setting.distance if rows else setting.aside
            against = named(setting.against if rows else setting.beside)
            assert along == STEP * (gap if i else border)
            assert against == group[i - 1].placed.label if i else against.endswith("edge of M")


@given(fronts(), st.integers(1, 8))
def test_a_front_that_is_too_long_says_by_how_much(tmp_path_factory, front, more):
    text, rows, *_, band = front
    text = text.replace("band", f"band {inch_text(STEP * (band + more), plain=True)}")
    face = face_of(tmp_path_factory.mktemp("long"), text)
    (bad,) = [s for s in face.sums if not s.holds]
    assert bad.direction == ("along" if rows else "across") and bad.reached - bad.target == STEP * more


def test_a_sentiment_on_a_label_that_lies_twice_is_on_the_upper_one(tmp_path):
    text = changed(
        BATCH,
        (
            "  rows:\n    - A\n    - B\n    - band\n    - B\n",
            "  rows:\n    - A\n    - B\n    - band\n  over:\n    - {piece: B, on: band, bottom: 0}\n",
        ),
        ("  size: 2-1/2 x 3/4\n  on: band\n", "  size: 2-1/2 x 3/4\n  on: B\n"),
    )
    face = face_of(tmp_path, text)
    (upper,) = face.over
    assert upper.rect.contains(face.sentiment.rect) and upper.rect != face.pieces[1].rect
