"""A proposal as a kit folder: nothing is found in it, its guides are the very cuts, every piece is dealt to a card."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from random import Random
from shutil import copy

import pytest
import yaml
from cutting_trees import trees
from demo import CLUB, KITS
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from imagined import any_layout, both, fields, planned, uncut, wish_of
from kitwright.archive.proposed import fill_proposed, kept_whole, write_proposed
from kitwright.cutting.guide import Reader, merged
from kitwright.cutting.solver.work import Work
from kitwright.cutting.tree import Leaf, Split
from kitwright.errors import Place, UserError
from kitwright.geometry import Rect
from kitwright.kit.read import read_club, read_kit
from kitwright.proposing.families import families
from kitwright.proposing.papered import dealt, supply
from kitwright.proposing.records import SheetCut
from kitwright.proposing.search import propose
from kitwright.proposing.written import drafts, lines
from kitwright.telling.proposed_kit import cut_lines
from kitwright.units import Length, Size, parse_length
from making import CLUB as PLAIN_CLUB
from wishing import stock
from wishing import wish as wish_in_words

ALL = families()
CLUB_HOLDS = CLUB.trimmer.least_hold


def asked(random: Random, name: str):
    """A question of any kind with a layout of a family, and its cuts."""
    for _ in range(20):
        unit = random.choice(["in", "mm"])
        fold = "gate" if name == "gate doors" else random.choice(["side", "top", "flat"])
        card = random.choice({"in": ["4-1/4 x 5-1/2", "5 x 4", "5-1/4 x 5-1/4"], "mm": ["105 x 148", "135 x 135"]}[unit])
        wish = wish_of(
            unit,
            fold,
            card,
            edge=random.choice({"in": ["1/8", "3/16"], "mm": ["3", "5"]}[unit]),
            mat=random.random() < 0.7,
            band=random.random() < 0.4,
            papers=random.choice([1, 2]),
            one_way=random.random() < 0.3,
            sharing=random.choice(["free", "whole"]),
        )
        found = any_layout(random, ALL[name], fields(wish))
        proposal = planned(wish, *found, 2, CLUB_HOLDS) if found else None
        if proposal:
            return wish, proposal
    return None


@pytest.mark.parametrize("name", ALL)
@tried(1, deadline=None)
@given(seed=st.integers(0, 100_000))
def test_nothing_is_found_in_what_is_written(name, seed, tmp_path_factory):
    question = asked(Random(seed), name)
    if question is None:
        return
    wish, proposal = question
    folder = tmp_path_factory.mktemp("kits") / "2028-05-asked"
    assert [(one.code, one.values) for one in fill_proposed(folder, CLUB, wish, proposal, "Asked")] == []
    kit = read_kit(folder, CLUB)
    assert kit.spec.cards == proposal.cards
    assert sum(look.cards for look in kit.spec.front.looks) in (0, proposal.cards)


LETTER = wish_in_words(
    stock(1, "8-1/2 x 11"), stock(2, "5-3/4 x 9", "river"), card="3-1/2 x 8-1/2", cards=6, mat="1/4", step="1/4", pieces=(6, 9), kinds=2
)
SQUARES = wish_in_words(
    stock(2, "152 x 152", unit="mm"),
    stock(1, "150 x 150", "river", "mm"),
    card="105 x 150",
    cards=7,
    unit="mm",
    step="5",
    border="5",
    gap="0",
)
MUCH_LEFT = {
    "no slack where fewer sheets do": replace(LETTER, waste=Fraction(3, 5), families=("grid",)),
    "her trimmer holds no other cuts": replace(SQUARES, waste=Fraction(2, 5), families=("framed panel",)),
}


@pytest.mark.parametrize("asked", MUCH_LEFT.values(), ids=MUCH_LEFT)
def test_where_much_is_left_over_each_paper_is_cut_as_serves_it_best(asked, tmp_path):
    """Her cuts, the planner's where those take less and the trimmer holds them, and no more sheets of any than the batch takes."""
    asked = replace(asked, hold=parse_length("5/8"))
    (tmp_path / "club.yaml").write_text(PLAIN_CLUB.replace("least hold: 1", "least hold: 5/8"))
    most_left = propose(asked, Work(200_000)).proposals[-1]
    assert fill_proposed(tmp_path / "2028-05-much-left", read_club(tmp_path), asked, most_left, "Much left") == []
    left = kept_whole(tmp_path, "2028-05-much-left")
    assert left and all(sheets % Fraction(1, 2) == 0 for _, sheets in left)


def test_two_designs_from_one_set_of_sheets(tmp_path):
    random, wish = Random(5), wish_of("mm", "side", "105 x 148", papers=2)
    one, other = (planned(wish, *any_layout(random, ALL[name], fields(wish)), 1, CLUB_HOLDS) for name in ("rows", "framed panel"))
    proposal = both(one, other)
    assert fill_proposed(tmp_path / "2028-05-both", CLUB, wish, proposal, "Both") == []
    kit = read_kit(tmp_path / "2028-05-both", CLUB)
    assert [design.spec.cards for design in kit.designs] == [2, 2]


def test_two_designs_from_two_papers_that_give_no_whole_pairs(tmp_path):
    """Three cards of each design from a sheet of one paper and a sheet of another: either gives a card and a half of both."""
    asked = wish_in_words(stock(1, "6 x 6"), stock(1, "6 x 6", "river"), card="4 x 4", cards=6, designs=2, step="1/4", waste=Fraction(1, 4))
    shown = propose(replace(asked, hold=CLUB_HOLDS), Work(300_000)).proposals
    assert len(shown) > 1 and all(dealt(one, asked) for one in shown)
    assert fill_proposed(tmp_path / "2028-05-both", CLUB, asked, shown[0], "Both") == []


@tried(40, deadline=None)
@given(trees())
def test_a_guide_reads_back_to_the_very_cuts(tree):
    text = "cuts:\n" + "\n".join(f"  {line}" for line in cut_lines(lines(tree), "in")) if lines(tree) else "cuts: []"
    reader = Reader({label: Size(Length(50), Length(49)) for label in "ABCD"}, "in", lambda *_: Place())
    assert reader.read(yaml.safe_load(text)["cuts"], tree.rect.size) == merged(tree)


def test_a_rectangle_of_triangles_is_cut_from_corner_to_corner():
    square = Size(Length(1), Length(1))
    flags = tuple(Leaf(Rect(Length(i), Length(0), Length(1), Length(1)), "T", diagonal="falling") for i in range(3))
    tree = Split(Rect(Length(0), Length(0), Length(4), Length(1)), "x", (*flags, Leaf(Rect(Length(3), Length(0), Length(1), Length(1)))))
    assert list(cut_lines(lines(tree), "in")) == ["- three columns of 1 off the left:", "    - corner to corner: T"]
    said = yaml.safe_load("\n".join(cut_lines(lines(tree), "in")))
    assert Reader({"T": square}, "in", lambda *_: Place(), {"T": "falling"}).read(said, tree.rect.size) == merged(tree)


@pytest.mark.parametrize("sharing", ["free", "share", "whole"])
def test_what_is_dealt_comes_from_the_sheets(sharing):
    for seed in range(2):
        random = Random(seed)
        wish = wish_of("in", "side", "4-1/4 x 5-1/2", papers=random.choice([2, 3]), sharing=sharing)
        proposal = None
        while proposal is None:
            proposal = planned(wish, *any_layout(random, ALL[random.choice(["rows", "columns"])], fields(wish)), 2, CLUB_HOLDS)
        (hand,) = dealt(proposal, wish)
        (side,), left = proposal.sides, supply(proposal)
        for look in hand.looks:
            for spot, group in zip(side.spots, hand.groups):
                left[look.papers[group]][spot.label] -= look.cards
            if sharing != "free":
                assert (len({look.papers[group] for group in hand.groups}) == 1) == (sharing == "whole")
        assert sum(look.cards for look in hand.looks) == proposal.cards
        assert all(n >= 0 for labels in left.values() for n in labels.values())


def test_sheets_cut_in_two_ways_are_dealt_group_by_group():
    """Two sheets of 5 A and 6 B and one of 6 A and 4 B, for eight cards of 2 A and 2 B: by hand, both B of a card from one paper, of
    2, 3 and 3 cards; with them one A of the same, and the other A from what is left, 4, 2 and 2."""
    wish = wish_of("in", "side", "4-1/4 x 5-1/2", papers=3)
    side, kinds = any_layout(Random(3), ALL["framed panel"], fields(wish))
    spots = tuple(replace(spot, label="AB"[i % 2]) for i, spot in enumerate(side.spots[:4]))
    row = Rect(Length(0), Length(0), Length(10), Length(1))

    def sheet(text: str) -> Split:
        return Split(row, "x", tuple(Leaf(Rect(Length(i), Length(0), Length(1), Length(1)), label) for i, label in enumerate(text)))

    given = {"paper-1": "AAAAAABBBB", "paper-2": "AAAAABBBBBB", "paper-3": "AAAAABBBBBB"}
    cuts = tuple(SheetCut(((key, 1),), sheet(text)) for key, text in given.items())
    proposal = replace(uncut(wish, side, kinds)[1], sides=(replace(side, spots=spots, cards=8),), cuts=cuts, cards=8)
    (hand,) = dealt(proposal, wish)
    used = Counter(
        (look.papers[group], spot.label) for look in hand.looks for spot, group in zip(spots, hand.groups) for _ in range(look.cards)
    )
    assert sum(look.cards for look in hand.looks) == 8 and used == Counter((key, label) for key, text in given.items() for label in text)
    assert any(len(set(look.papers)) > 1 for look in hand.looks)


def test_pieces_that_no_cards_can_share_are_told():
    """Every B is of the first paper alone: no card is whole of the second."""
    wish = wish_of("in", "side", "4-1/4 x 5-1/2", papers=2, sharing="whole")
    random = Random(3)
    side, kinds = any_layout(random, ALL["framed panel"], fields(wish))
    proposal = planned(wish, side, kinds, 2, CLUB_HOLDS)
    first = replace(proposal, cuts=tuple(cut for cut in proposal.cuts if cut.stocks[0][0] == "paper-1"))
    assert dealt(first, wish) is None
    assert list(drafts(wish, first, {})) == []


def test_a_folder_is_never_written_over(tmp_path):
    copy(KITS / "club.yaml", tmp_path)
    copy(KITS / "logo.svg", tmp_path)
    random, wish = Random(1), wish_of("in", "side", "4-1/4 x 5-1/2", papers=2)
    proposal = planned(wish, *any_layout(random, ALL["framed panel"], fields(wish)), 2, CLUB_HOLDS)
    (tmp_path / "2028-05-there").mkdir()
    with pytest.raises(UserError, match="there already|exists"):
        write_proposed(tmp_path, "2028-05-there", wish, proposal)
    folder, found = write_proposed(tmp_path, "2028-05-window-seat", wish, proposal)
    assert found == []
    assert sorted(file.name for file in folder.iterdir()) == ["kit.yaml", "notes.md"]
    assert read_kit(folder, CLUB).spec.title == "Window seat"
