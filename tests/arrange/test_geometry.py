"""What fits where, what a turn does, and what one-way papers, faces, notches and mirrors make of it."""

import pytest
from arrange.benches import PAPERS, stack
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.telling.arranging import turning_text
from making import BATCH, changed, make_worked

FOUR = list(PAPERS[:4])


def found(tmp_path, text):
    return arrangements_of(make_worked(tmp_path, text))


def test_a_one_way_paper_forbids_the_turn_and_says_why(tmp_path):
    one = found(tmp_path / "one", stack(FOUR, up=("meadow",)))
    free = found(tmp_path / "free", stack(FOUR))
    assert (free.counts.counted, free.counts.different) == (24, 12) == one.counts.if_no_up
    assert (one.counts.counted, one.counts.different, one.counts.grouped) == (24, 24, 24)
    assert all("Meadow would hang upside down" in item.apart.words and item.turned is None for item in one.items)
    assert all(not item.apart and item.turned for item in free.items)
    assert "Not so where Meadow shows" in turning_text(one)
    assert "one order" in {s.kind for s in free.sets} and "one order" not in {s.kind for s in one.sets}


def test_a_one_way_face_hinders_only_where_it_shows(tmp_path):
    """Meadow has an up on its front only; turned over it may be turned round."""
    counts = found(tmp_path, stack(["meadow", "river"], up=("meadow",), back="meadow")).counts
    # Two orders, each with Meadow's front or back: those with the back are one card turned round.
    assert (counts.counted, counts.different, counts.grouped) == (4, 3, 3)


def test_either_printed_face(tmp_path):
    assert found(tmp_path, stack(FOUR, back="river")).counts.counted == 48


def test_pieces_on_the_base_itself_are_not_turned(tmp_path):
    arranged = found(
        tmp_path, changed(stack(FOUR, layers=""), ("  M: {size: 4 x 5-1/4, for: mat, paper: white}\n", ""), ("8-1/2 x 5-1/2", "8 x 5-1/4"))
    )
    assert (arranged.counts.counted, arranged.counts.different) == (24, 24)
    assert "on the base itself" in turning_text(arranged) and not arranged.shortcut


def test_places_that_do_not_fall_on_one_another_make_another_layout(tmp_path):
    text = changed(stack(FOUR), ("    - A frost\n", "    - A frost\n    - band\n"), ("3-3/4 x 37/32", "3-3/4 x 7/8"))
    arranged = found(tmp_path, text)
    assert arranged.counts.different == 24 and arranged.motions.other_layout
    turned = next(v for v in arranged.variations if v.kind == "turned")
    assert turned.needs == "nothing" and turned.face.bands[0].y < turned.face.pieces[0].rect.y
    # It is the half turn of the sketch, piece by piece.
    field = arranged.worked.face.field
    for before, after in zip(arranged.worked.face.pieces, reversed(turned.face.pieces)):
        assert before.paper == after.paper
        assert field.bottom - before.rect.bottom == after.rect.y - field.y


PINWHEEL = changed(
    stack(FOUR),
    ("3-3/4 x 37/32", "2 x 1"),
    (
        "  rows:\n    - A river\n    - A meadow\n    - A dusk\n    - A frost\n",
        """\
  places:
    - {piece: A, paper: river, left: 1/8, top: 1/8}
    - {piece: A, paper: meadow, turned: yes, right: 1/8, top: 1/8}
    - {piece: A, paper: dusk, right: 1/8, bottom: 1/8}
    - {piece: A, paper: frost, turned: yes, left: 1/8, bottom: 1/8}
""",
    ),
)


def test_a_one_way_paper_is_never_laid_on_its_side(tmp_path):
    free = found(tmp_path / "free", PINWHEEL)
    one = found(tmp_path / "one", changed(PINWHEEL, ("colours: [sky, white]", "colours: [sky, white], up: top")))
    assert (free.counts.counted, free.counts.different) == (24, 12)
    # River goes in one of the two level places, the others anywhere: 2 × 3!
    assert (one.counts.counted, one.counts.different) == (12, 12)
    assert all(not p.turned for item in one.items for p in item.face.pieces if p.paper == "river")


def test_may_turn_no_keeps_a_piece_as_it_lies(tmp_path):
    text = changed(PINWHEEL, ("frost: 1}}", "frost: 1}, may turn: no}"))
    # Every place takes only what lies in it upright; the kit's own way stays.
    arranged = found(tmp_path, text)
    assert all([p.turned for p in item.face.pieces] == [False, True, False, True] for item in arranged.items)


SIDES = changed(
    stack(FOUR),
    ("3-3/4 x 37/32", "1-13/16 x 2-7/16"),
    ("    - A river\n    - A meadow\n    - A dusk\n    - A frost\n", "    - [A river, A meadow]\n    - [A dusk, A frost]\n"),
)


def test_mirrored_where_the_kit_says_so(tmp_path):
    plain, mirrored = found(tmp_path / "a", SIDES), found(tmp_path / "b", SIDES + "arrangements: {mirror: yes}\n")
    assert (plain.counts.counted, plain.counts.different) == (24, 12)
    # Four places, turned and mirrored: the group has four motions, none but the first leaves four papers as they are.
    assert len(mirrored.motions.all) == 4
    assert (mirrored.counts.counted, mirrored.counts.different, mirrored.counts.grouped) == (24, 6, 6)


def test_mirror_and_one_way_together(tmp_path):
    """Upside down is forbidden, side to side is not."""
    text = changed(SIDES, ("colours: [sky, white]", "colours: [sky, white], up: top")) + "arrangements: {mirror: yes}\n"
    counts = found(tmp_path, text).counts
    assert (counts.different, counts.grouped, counts.if_no_up) == (12, 12, (24, 6))


@pytest.mark.parametrize("up, expected", [("", 4), (", up: top", 2)])
def test_a_shaped_piece_turned_over_is_mirrored(tmp_path, up, expected):
    """One strip is notched at its left end. With an up, its back would show the notch at the right: it does not fit."""
    text = changed(
        stack(["river", "meadow"], back="river"),
        ("river: 1, meadow: 1}}", "river: 1, meadow: 1}, notch: {ends: left}}"),
        ("    back: {look: stripes, colours: [sky, white]}", f"    back: {{look: stripes, colours: [sky, white]{up}}}"),
    )
    arranged = found(tmp_path, text)
    assert arranged.counts.counted == arranged.counts.listed == expected
    # Turned round, the notch would point the other way, which is no place of this layout.
    assert arranged.motions.turn is None


@pytest.mark.parametrize(
    "shape, up, expected",
    [
        ("{rounded: 1/8}", "", 4),
        ("{rounded: 1/8}", ", up: top", 4),  # the same from every side
        ("{snipped: 1/4, corners: [top left]}", "", 2),  # over, its snip is at the right; head down, at the bottom
        ("{snipped: 1/4, corners: [top left, bottom right]}", "", 2),  # over and head down, still at the other two corners
        ("{snipped: 1/4, corners: [top left, top right]}", ", up: top", 4),  # the same when turned over
        ("{snipped: 1/4, corners: [top left, bottom left]}", "", 4),  # over and head down: where it was
        ("{snipped: 1/4, corners: [top left, bottom left]}", ", up: top", 2),  # but not with an up
    ],
)
def test_what_a_shape_allows_when_turned_over(tmp_path, shape, up, expected):
    """Two papers for one shape in two places, one of them printed on its back too: 2 orders, twice that if its back may show."""
    text = changed(
        stack(["river", "meadow"], back="river"),
        ("river: 1, meadow: 1}}", f"river: 1, meadow: 1}}, shape: {shape}}}"),
        ("    back: {look: stripes, colours: [sky, white]}", f"    back: {{look: stripes, colours: [sky, white]{up}}}"),
    )
    arranged = found(tmp_path, text)
    assert arranged.counts.counted == arranged.counts.listed == expected


def test_equal_sizes_under_two_labels_are_one_kind(tmp_path):
    text = changed(
        stack(["river", "meadow", "dusk"]),
        ("    - A dusk\n", "    - D\n"),
        (", dusk: 1}}\n", "}}\n  D: {size: 3-3/4 x 19/12, for: strip, paper: dusk}\n"),
    )
    assert "3-3/4 x 19/12" in text and text.count("19/12") == 2
    arranged = found(tmp_path, text)
    assert (arranged.counts.counted, arranged.counts.different) == (6, 3)
    assert {p.label for item in arranged.items for p in item.face.pieces if p.paper == "dusk"} == {"D"}


def test_a_front_of_words_alone_is_one_card(tmp_path):
    """Where pieces lie inside, say, and nothing on the front but the greeting."""
    one = found(tmp_path, changed(BATCH, ("    - A\n    - B\n    - band\n    - B\n", "    - band\n")))

    assert len(one.items) == 1 and one.items[0].own
