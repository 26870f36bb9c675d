"""Guides in a maker's words: what they mean, random guides that come back, and every way to go wrong."""

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting import tree
from kitwright.cutting.guide import Reader
from kitwright.cutting.tree import Leaf, Split
from kitwright.errors import Place, UserError
from kitwright.geometry import Rect
from kitwright.units import ZERO, Length, Size, inch_text, parse_size

FILE = Path("kit.yaml")
size = parse_size
SIZES = {"A": "3-3/4 x 1-1/4", "B": "3-3/4 x 7/8", "C": "4 x 4", "D": "2 x 3", "E": "1 x 8"}


def inches(*values) -> list[Length]:
    return [Length(Fraction(v)) for v in values]


def reader(sizes=SIZES, unit="in") -> Reader:
    return Reader({k: size(v) if isinstance(v, str) else v for k, v in sizes.items()}, unit, lambda *path: Place(FILE, 1 + len(path)))


def read(cuts, sheet="12 x 12", sizes=SIZES, unit="in"):
    return reader(sizes, unit).read(cuts, size(sheet))


def rects(node) -> list[tuple]:
    """Label and x, y, width, height of each piece, in inches."""
    return sorted(
        (leaf.label, *(str(v.inches) for v in (leaf.rect.x, leaf.rect.y, leaf.rect.width, leaf.rect.height))) for leaf in tree.pieces(node)
    )


# --- what the words mean -----------------------------------------------------------------------


def test_three_columns_cut_alike():
    node = read([{"3 columns of 3-3/4 off the left": [{"3 strips of 1-1/4 off the top": "A"}, {"6 strips of 7/8 off the top": "B"}]}])
    assert tree.yields(node) == {"A": 9, "B": 18}
    assert sorted((str(r.width.inches), str(r.height.inches)) for r in tree.leftovers(node)) == [("15/4", "3")] * 3 + [("3/4", "12")]
    assert tree.faults(node, size("12 x 12"), {k: size(v) for k, v in SIZES.items()}) == []
    assert isinstance(node, Split) and len(node.parts) == 4


@pytest.mark.parametrize(
    "words",
    [
        "2 strips of 4 off the left",
        "two columns of 4",
        "2 columns of 4 from the left",
        "2 pieces of 4 off left",
        "2 panels 4 off the left",
        "Two Strips of 4 off the left.",
    ],
)
def test_many_ways_to_say_one_thing(words):
    assert rects(read([{words: "C"}], "12 x 4")) == [("C", "0", "0", "4", "4"), ("C", "4", "0", "4", "4")]


@pytest.mark.parametrize("side, at", [("left", ("0", "0")), ("right", ("10", "0")), ("top", ("0", "0")), ("bottom", ("0", "9"))])
def test_each_side(side, at):
    across = side in ("left", "right")
    node = read([{f"a strip of {2 if across else 3} off the {side}": "D"}], "12 x 3" if across else "2 x 12")
    assert rects(node) == [("D", *at, "2", "3")]


def test_halving_at_a_measure_and_by_way():
    assert rects(read([{"halve at 4": "C"}], "8 x 4")) == [("C", "0", "0", "4", "4"), ("C", "4", "0", "4", "4")]
    assert rects(read([{"halve at 4": "C"}], "4 x 8")) == [("C", "0", "0", "4", "4"), ("C", "0", "4", "4", "4")]
    across = read([{"halve across": "A"}], "8 x 8", {"A": "8 x 4"})
    down = read([{"halve down": "A"}], "8 x 8", {"A": "4 x 8"})
    assert across.axis == "y" and down.axis == "x" and tree.yields(across) == tree.yields(down) == {"A": 2}
    assert tree.yields(read([{"halve": "A"}], "9 x 8", {"A": "4-1/2 x 8"})) == {"A": 2}


def test_halving_without_a_word_for_the_halves_sets_one_aside():
    node = read(["halve at 4", {"the rest": "C"}], "8 x 4")
    assert rects(node) == [("C", "4", "0", "4", "4")] and len(tree.leftovers(node)) == 1


def test_the_rest_goes_on_from_the_same_side():
    node = read([{"1 strip of 4 off the right": "C"}, {"the rest in panels of 4": "C"}], "14 x 4")
    assert sorted(r[1] for r in rects(node)) == ["10", "2", "6"]
    assert tree.leftovers(node) == [Rect(ZERO, ZERO, *inches(2, 4))]


@pytest.mark.parametrize("words", ["leftover", "scrap", "aside", "set aside", "left over", None])
def test_what_is_left_over(words):
    node = read([{"1 strip of 1 off the top": words}, {"the rest": "C"}], "4 x 5")
    assert rects(node) == [("C", "0", "1", "4", "4")] and len(tree.leftovers(node)) == 1


@pytest.mark.parametrize("turn, side", [("turn", "top"), ("turn right", "top"), ("turn left", "bottom"), ("turn back", "bottom")])
def test_after_a_quarter_turn_sides_are_named_as_it_lies_in_hand(turn, side):
    """Turned to the right, the left edge is on top."""
    turned = read([turn, {f"1 strip of 1 off the {side}": "E"}], "8 x 8", {"E": "1 x 8"})
    plain = read([{"1 strip of 1 off the left": "E"}], "8 x 8", {"E": "1 x 8"})
    assert rects(turned) == rects(plain) == [("E", "0", "0", "1", "8")]


@given(st.integers(0, 9), st.sampled_from(["top", "right", "bottom", "left"]))
def test_turns_add_up_and_four_are_none(turns, side):
    cuts = ["turn"] * turns + [{f"1 strip of 1 off the {side}": "A"}]
    back = ["turn left"] * (-turns % 4) + [{f"1 strip of 1 off the {side}": "A"}]
    sizes = {"A": "1 x 7"}
    one, other = reader(sizes), reader(sizes)
    # Turning on by n is turning back by 4 − n; a 7 × 7 sheet gives a strip of 1 × 7 either way.
    assert rects(one.read(cuts, size("7 x 7"))) == rects(other.read(back, size("7 x 7"))) and not one.odd


def test_a_turn_inside_a_list_ends_with_it():
    node = read([{"1 strip of 4 off the top": ["turn", {"1 strip of 4 off the top": "C"}]}, {"1 strip of 4 off the top": "C"}], "4 x 8")
    assert rects(node) == [("C", "0", "0", "4", "4"), ("C", "0", "4", "4", "4")]


def test_the_last_side_turns_with_the_piece_in_hand():
    """A strip off the left, a turn, “the rest in panels”: from the side named last, as it lies in hand then."""
    node = read([{"1 strip of 1 off the top": "leftover"}, "turn", {"the rest in panels of 3": "A"}], "6 x 5", {"A": "3 x 4"})
    assert tree.yields(node) == {"A": 2}


def test_a_piece_cut_turned_is_known_as_turned():
    (leaf,) = tree.pieces(read([{"the rest": "D"}], "3 x 2"))
    assert leaf.turned
    (leaf,) = tree.pieces(read([{"the rest": "D"}], "2 x 3"))
    assert not leaf.turned
    (leaf,) = tree.pieces(read([{"the rest": "C"}], "4 x 4"))
    assert not leaf.turned


def test_metric_words():
    node = read([{"2 columns of 75": "P"}], "152 x 105 mm", {"P": size("75 x 105 mm")}, "mm")
    assert tree.yields(node) == {"P": 2} and tree.leftovers(node)[0].width == Length.mm(2)
    assert rects(node) == rects(read([{"2 columns of 7.5 cm": "P"}], "152 x 105 mm", {"P": size("75 x 105 mm")}))


def test_nothing_cut_is_one_leftover():
    assert read([], "4 x 4") == Leaf(Rect.of(size("4 x 4")))


# --- random guides ----------------------------------------------------------------------------------

STEP = Length(Fraction(1, 16))


@st.composite
def guides(draw, room=None, depth=2, sizes=None):
    """Random words together with the rectangles they must give, laid out independently."""
    top = room is None
    if top:
        room = Rect.of(Size(STEP * draw(st.integers(40, 190)), STEP * draw(st.integers(40, 190))))
        sizes = {}
    cuts, parts, left = [], [], room
    for _ in range(draw(st.integers(0, 3))):
        side = draw(st.sampled_from(["left", "right", "top", "bottom"]))
        across = left.width if side in ("left", "right") else left.height
        most = int(across / STEP) - 1
        if most < 2:
            break
        measure = draw(st.integers(1, most))
        count = draw(st.integers(1, min(3, most // measure)))
        strips = []
        for i in range(1, count + 1):
            m = STEP * measure
            if side == "left":
                strips.append(Rect(left.x + m * (i - 1), left.y, m, left.height))
            elif side == "right":
                strips.append(Rect(left.right - m * i, left.y, m, left.height))
            elif side == "top":
                strips.append(Rect(left.x, left.y + m * (i - 1), left.width, m))
            else:
                strips.append(Rect(left.x, left.bottom - m * i, left.width, m))
        words = f"{count} strips of {inch_text(STEP * measure, plain=True)} off the {side}"
        inside, made = draw(_inside(strips, depth, sizes))
        cuts.append({words: inside})
        parts += made
        m = STEP * (measure * count)
        left = {
            "left": Rect(left.x + m, left.y, left.width - m, left.height),
            "right": Rect(left.x, left.y, left.width - m, left.height),
            "top": Rect(left.x, left.y + m, left.width, left.height - m),
            "bottom": Rect(left.x, left.y, left.width, left.height - m),
        }[side]
    if draw(st.booleans()):
        inside, made = draw(_inside([left], depth, sizes))
        cuts.append({"the rest": inside})
        parts += made
    else:
        parts.append((left, None))
    return (cuts, parts, room, sizes) if top else (cuts, parts)


@st.composite
def _inside(draw, strips, depth, sizes):
    kind = draw(st.sampled_from(["label", "leftover", "cuts"] if depth else ["label", "leftover"]))
    if kind == "leftover":
        return "leftover", [(r, None) for r in strips]
    if kind == "label":
        label = next((k for k, s in sizes.items() if s in (strips[0].size, strips[0].size.turned)), None)
        if label is None:
            label = f"L{len(sizes)}"
            sizes[label] = draw(st.sampled_from([strips[0].size, strips[0].size.turned]))
        return label, [(r, label) for r in strips]
    cuts, made = draw(guides(strips[0], depth - 1, sizes))
    first = strips[0]
    return cuts, [(r.moved(s.x - first.x, s.y - first.y), label) for s in strips for r, label in made]


@given(guides())
def test_random_guides_come_back_as_sound_trees(guide):
    cuts, parts, room, sizes = guide
    ear = reader(sizes)
    node = ear.read(cuts, room.size)
    assert not ear.odd
    assert tree.faults(node, room.size, sizes) == []
    got = [(leaf.rect, leaf.label) for leaf in tree.leaves(node)]
    key = lambda p: (p[0].x, p[0].y, p[0].width, p[0].height, p[1] or "")  # noqa: E731
    assert sorted(got, key=key) == sorted(parts, key=key)


@given(guides(), st.integers(1, 3))
def test_a_guide_said_after_turns_cuts_the_same(guide, turns):
    """The same cuts, with every side renamed for the way the sheet lies after the turns."""
    cuts, parts, room, sizes = guide
    sides = ["top", "right", "bottom", "left"]

    def renamed(entries):
        found = []
        for entry in entries:
            ((words, inside),) = entry.items()
            *rest, last = words.split()
            if last in sides:
                words = " ".join([*rest, sides[(sides.index(last) + turns) % 4]])
            found.append({words: renamed(inside) if isinstance(inside, list) else inside})
        return found

    assert reader(sizes).read(["turn"] * turns + renamed(cuts), room.size) == reader(sizes).read(cuts, room.size)


# --- every way to go wrong ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "cuts, says",
    [
        (["cut it nicely"], "not a cut"),
        ([""], "not a cut"),
        ([["halve"]], "not one cut"),
        ([None], "not one cut"),
        ([{"halve": "C", "turn": None}], "not one cut"),
        ([{"4 strips of 4 off the top": "C"}], "past the 12 in"),
        ([{"1 strip of 13 off the left": "C"}], "past the 12 in"),
        ([{"the rest in panels of 13": "C"}], "does not say from which side"),
        ([{"2 strips of 3": "C"}], "does not say from which side"),
        ([{"zero strips of 3 off the top": "C"}], "not a number of strips"),
        ([{"0 strips of 3 off the top": "C"}], "not a number of strips"),
        ([{"many strips of 3 off the top": "C"}], "not a number of strips"),
        ([{"2 strips of 1/0 off the top": "C"}], "divides by zero"),
        ([{"2 strips of -3 off the top": "C"}], "below zero"),
        ([{"2 strips of 0 off the top": "C"}], "is zero"),
        ([{"2 strips of wide off the top": "C"}], "not a length"),
        ([{"2 strips of 3 off the back": "C"}], "does not say from which side"),
        ([{f"2 strips of {'9' * 200} off the top": "C"}], "too long"),
        ([{"1 strip of 2, 5 long, off the top": "C"}], "stops inside the sheet"),
        ([{"1 strip of 2 stopping at 5 off the top": "C"}], "stops inside the sheet"),
        ([{"halve at 5": "C"}], "no half of it is 5 in"),
        ([{"1 strip of 4 off the top": "Q"}], "no piece Q"),
        ([{"1 strip of 4 off the top": {"a": "b"}}], "neither a label nor a list"),
        ([{"the rest": "leftover"}, {"1 strip of 1 off the top": "C"}], "nothing is left in hand"),
        ([{"3 strips of 4 off the top": "leftover"}, "turn"], "nothing is left in hand"),
        ([{"turn": "C"}], ""),  # a turn drops nothing that could bear a label
        ([{"the rest aside": "C"}], ""),
    ],
)
def test_what_cannot_be_read_or_cut(cuts, says):
    """Each is one error with its place and what would be right."""
    with pytest.raises(UserError) as caught:
        read(cuts)
    assert says in caught.value.problem
    assert caught.value.remedy and caught.value.place and caught.value.place.line and caught.value.place.file == FILE
    assert len(str(caught.value)) < 500


def test_the_error_stands_at_its_own_line():
    cuts = [{"1 strip of 4 off the top": [{"1 strip of 99 off the left": "C"}]}]
    with pytest.raises(UserError) as caught:
        Reader({"C": size("4 x 4")}, "in", lambda *path: Place(FILE, 10 * len(path))).read(cuts, size("12 x 12"))
    assert caught.value.place.line == 30, "index, words, index"


def test_a_label_on_a_part_of_another_size_is_noted_once_with_its_twin():
    ear = reader()
    ear.read([{"3 columns of 3-3/4 off the left": [{"3 strips of 1-1/4 off the top": "B"}]}], size("12 x 12"))
    (odd,) = ear.odd
    assert "B is 3¾ × ⅞ in" in odd.problem and "1¼" in odd.problem
    assert "size of A" in odd.remedy and "swapped" in odd.remedy and odd.place.line


@given(
    st.recursive(
        st.none() | st.sampled_from(["A", "halve", "turn", "the rest", "2 strips of 1 off the top", "halve at 6", "leftover", "x"]),
        lambda inner: (
            st.lists(inner, max_size=3)
            | st.dictionaries(
                st.sampled_from(["halve", "the rest", "3 columns of 3-3/4", "turn", "the rest in rows of 1", "?"]), inner, max_size=2
            )
        ),
        max_leaves=8,
    )
)
def test_whatever_is_typed_gives_a_sound_tree_or_one_clear_error(cuts):
    ear = reader()
    try:
        node = ear.read(cuts if isinstance(cuts, list) else [cuts], size("12 x 12"))
    except UserError as error:
        assert error.place and error.remedy
    else:
        strange = [f for f in tree.faults(node, size("12 x 12"), ear.sizes) if f.what != "size"]
        assert not strange
        assert bool(ear.odd) == any(f.what == "size" for f in tree.faults(node, size("12 x 12"), ear.sizes))


@pytest.mark.parametrize(
    ("entries", "problem"),
    [
        ([{"the rest in panels of 0.001 off the left": "A"}], "more than 2000 parts"),
        ([{"100 columns of 0.08 off the left": [{"100 strips of 0.1 off the top": "A"}]}], "more than 2000 parts"),
        ([{"the rest in columns of 1/64 off the left": [{"the rest in strips of 1/64 off the top": "A"}]}], "more than 2000 parts"),
        (["one strip of 1/64 off the top"] * 201, "more than 200 lines"),
    ],
)
def test_what_no_hand_cuts_is_refused_before_it_is_cut(entries, problem, monkeypatch):
    made = []
    monkeypatch.setattr("kitwright.cutting.guide.Leaf", lambda *args, **more: made.append(1) or Leaf(*args, **more))
    with pytest.raises(UserError) as caught:
        read(entries)
    assert problem in caught.value.problem and caught.value.remedy and caught.value.place.line
    assert len(made) <= 2000


def test_two_hundred_lines_and_a_thousand_parts_are_read():
    assert len(list(tree.leaves(read(["one strip of 1/64 off the top"] * 200)))) == 201
    assert (
        len(tree.pieces(read([{"30 columns of 3/8 off the left": [{"30 strips of 3/8 off the top": "S"}]}], sizes={"S": "3/8 x 3/8"})))
        == 900
    )
