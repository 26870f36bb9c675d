"""Sums of the front tell where each piece lies: their terms, walked from the edge, meet the pieces as they are placed."""

from fractions import Fraction

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.card.layout import faces_of
from kitwright.units import Length, inch_text, total
from making import make_kit

STEP = Length(Fraction(1, 16))
KIT = """\
title: Sums
summary: A front for the tests.
cards: 1
papers:
  river: {{kind: patterned, name: River, size: 12 x 12}}
  white: {{kind: cardstock, name: White, size: 30 x 30}}
pieces:
{pieces}  M: {{size: {mat}, paper: white}}
card:
  base: {{size: 20 x 12, paper: white}}
  fold: side
  layers: [M]
front:
{front}
"""


def text_of(sixteenths: int) -> str:
    return inch_text(STEP * sixteenths, plain=True)


def face_of(root, pieces: dict[str, tuple[int, int]], mat: tuple[int, int], front: str):
    """The front of a kit; sizes in sixteenths."""
    said = "".join(f"  {label}: {{size: {text_of(w)} x {text_of(h)}, paper: river}}\n" for label, (w, h) in pieces.items())
    return faces_of(make_kit(root, KIT.format(pieces=said, mat=f"{text_of(mat[0])} x {text_of(mat[1])}", front=front)))[0]


def told(line) -> list[tuple[str, int]]:
    return [(t.name, int(t.length / STEP)) for t in line.terms]


def sums(face, direction: str) -> list[list[tuple[str, int]]]:
    return [told(line) for line in face.sums if line.direction == direction]


# --- a narrow piece in a wide row -------------------------------------------------------------------


@given(
    st.integers(4, 40),
    st.integers(1, 20),
    st.integers(0, 4),
    st.sampled_from(["left", "right", "centre", "top", "bottom"]),
    st.integers(4, 20),
)
@tried(40)
def test_the_free_room_beside_a_piece_is_told_where_it_is(tmp_path_factory, has, more, border, place, thick):
    """Room to one side where the piece sits at the other, half of it on either side where it sits in the middle."""
    rows = place not in ("top", "bottom") and (place != "centre" or thick % 2 == 0)
    along, across = thick + 2 * border, has + 2 * more + 2 * border
    size, mat = ((has, thick), (across, along)) if rows else ((thick, has), (along, across))
    face = face_of(
        tmp_path_factory.mktemp("sum"),
        {"A": size},
        mat,
        f"  border: {text_of(border) if border else 0}\n  {'rows' if rows else 'columns'}:\n    - {{piece: A, place: {place}}}\n",
    )
    edge = [("border", border)] if border else []
    free, piece = ("free", 2 * more), ("A", has)
    inner = {
        "left": [piece, free],
        "top": [piece, free],
        "right": [free, piece],
        "bottom": [free, piece],
        "centre": [("free", more), piece, ("free", more)],
    }[place]
    assert [*edge, *inner, *edge] in sums(face, "across" if rows else "along")
    (line,) = [s for s in face.sums if s.direction == ("across" if rows else "along")]
    assert line.holds and line.reached == line.target == STEP * across
    # The terms before the piece reach just to where it lies.
    before = total(t.length for t in line.terms[: [t.name for t in line.terms].index("A")])
    r = face.pieces[0].rect
    assert before == (r.x - face.field.x if rows else r.y - face.field.y)


def test_an_odd_room_is_halved_exactly(tmp_path):
    face = face_of(tmp_path, {"A": (16, 16)}, (31, 16), "  rows:\n    - {piece: A, place: centre}\n")
    (line,) = [s for s in face.sums if s.direction == "across"]
    assert [(t.name, t.length.inches) for t in line.terms] == [("free", Fraction(15, 32)), ("A", 1), ("free", Fraction(15, 32))]


# --- pieces by position -----------------------------------------------------------------------------


def _places(cells: list[tuple[str, int]], sideways: bool) -> str:
    edge, aside = ("left", "top") if sideways else ("top", "left")
    return "  places:\n" + "".join(f"    - {{piece: {label}, {edge}: {text_of(at) if at else 0}, {aside}: 1}}\n" for label, at in cells)


@given(st.lists(st.tuples(st.integers(0, 6), st.integers(8, 24)), min_size=1, max_size=3), st.integers(0, 6), st.booleans())
@tried(40)
def test_pieces_by_position_leave_the_sum_of_what_a_line_meets(tmp_path_factory, cells, last, sideways):
    """Gaps of nothing are no terms: also where the last piece ends at the very edge."""
    at, wanted, placed, pieces = 0, [], [], {}
    for i, (gap, length) in enumerate(cells):
        label = f"P{i}"
        if gap:
            wanted.append(("gap" if i else "border", gap))
        wanted.append((label, length))
        placed.append((label, at + gap))
        pieces[label] = (length, 16) if sideways else (16, length)
        at += gap + length
    if last:
        wanted.append(("border", last))
    mat = (at + last, 48) if sideways else (48, at + last)
    face = face_of(tmp_path_factory.mktemp("places"), pieces, mat, _places(placed, sideways))
    found = sums(face, "across" if sideways else "along")
    assert found == ([wanted] if len(wanted) > 1 else [])
    assert all(line.holds for line in face.sums)


@pytest.mark.parametrize("sideways", [True, False])
def test_a_piece_past_the_edge_leaves_no_sum(tmp_path, sideways):
    pieces = {"A": (16, 16), "B": (16, 16)}
    face = face_of(tmp_path, pieces, (40, 48) if sideways else (48, 40), _places([("A", 4), ("B", 26)], sideways))
    assert sums(face, "across" if sideways else "along") == []


def test_two_borders_and_a_gap_by_hand(tmp_path):
    """On a 4 in mat, pieces of 1½ and 1¾ at 1/8 and 2 1/8: ⅛ + 1½ + ½ + 1¾ + ⅛ = 4."""
    face = face_of(tmp_path, {"A": (24, 16), "B": (28, 16)}, (64, 48), _places([("A", 2), ("B", 34)], True))
    assert sums(face, "across") == [[("border", 2), ("A", 24), ("gap", 8), ("B", 28), ("border", 2)]]


@pytest.mark.parametrize("sideways", [True, False])
def test_the_line_runs_through_the_middle_of_the_first_piece(tmp_path, sideways):
    """What begins beside the first piece's middle is met, what lies beside its end alone is not."""

    def place(label, along, aside):
        x, y = ("left", "top") if sideways else ("top", "left")
        return f"    - {{piece: {label}, {x}: {text_of(along) if along else 0}, {y}: {text_of(aside) if aside else 0}}}\n"

    def size(along, aside):
        return (along, aside) if sideways else (aside, along)

    pieces = {"A": size(16, 32), "B": size(12, 32), "C": size(8, 12)}
    # A spans 0 to 32 aside; B begins at 8, C ends at 12: only B lies beside the middle, 16.
    face = face_of(tmp_path, pieces, size(64, 48), "  places:\n" + place("A", 0, 0) + place("B", 20, 8) + place("C", 40, 0))
    assert sums(face, "across" if sideways else "along") == [[("A", 16), ("gap", 4), ("B", 12), ("border", 32)]]


@pytest.mark.parametrize("front, way", [("  rows: [A]\n", "across"), ("  columns: [A]\n", "along")])
def test_a_lone_piece_that_does_not_fill_its_place_leaves_a_sum(tmp_path, front, way):
    """A sum of one term says nothing where it holds; where it does not, it is the slip itself."""
    face = face_of(tmp_path / "short", {"A": (16, 16)}, (20, 20), front)
    assert [told(line) for line in face.sums if line.direction == way and not line.holds] == [[("A", 16)]]
    assert face_of(tmp_path / "full", {"A": (20, 20)}, (20, 20), front).sums == ()
