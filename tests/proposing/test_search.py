"""The search: complete on small grids, fronts without a layout that another betters, answers that hold in every number."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting.solver.work import Work
from kitwright.proposing.fronts import betters
from kitwright.proposing.graded import Graded
from kitwright.proposing.pool import kinds_in
from kitwright.proposing.search import Proposing, propose
from kitwright.proposing.shares import levels_of
from kitwright.proposing.wish import Made
from kitwright.units import Length, parse_length, parse_size
from wishing import WORKED, look_over, stock, wish

PURSE = 400_000


def graded(asked, steps: int = PURSE) -> tuple[Proposing, list[Graded]]:
    """Everything on the fronts of a question."""
    search = Proposing(asked, Work(steps), None, None)
    search.run()
    return search, search.graded()


def pieces_of(one: Graded) -> tuple[tuple[int, int, int], ...]:
    return tuple(sorted((kind.width, kind.height, kind.each) for kind in kinds_in(one.pieces.tolist())))


@pytest.fixture(scope="module")
def worked() -> tuple[Proposing, list[Graded]]:
    return graded(WORKED, 4_000_000)


def test_the_worked_batch_is_on_the_front_of_its_question(worked):
    """A strip of 3¾ × 1¼ and two of 3¾ × ⅞ beside a band of 1⅝ or more: nine cards from a 12 × 12."""
    _, found = worked
    assert ((30, 7, 2), (30, 10, 1)) in {pieces_of(one) for one in found if one.of.families == ("rows",)}


def test_no_layout_of_a_front_is_bettered_by_another_of_its_class(worked):
    _, found = worked
    assert len(found) > 30
    assert_none_is_bettered(found)


def assert_none_is_bettered(found: list[Graded]) -> None:
    for one, other in product(found, found):
        assert one.of != other.of or not betters(one.grade, other.grade)


def test_everything_that_is_shown_holds(worked):
    search, _ = worked
    answer = search.answer()
    look_over(answer)
    assert len(answer.proposals) == 12
    assert len({proposal.sides[0].family for proposal in answer.proposals}) > 2
    assert all(scope.whole for scope in answer.scopes)
    assert not answer.stopped


def test_slack_is_what_the_smaller_sheet_still_gives(worked):
    """A sheet that is so much smaller gives the layout when it is asked for anew, and one smaller by the next level doesn't."""
    search, found = worked
    levels = levels_of(WORKED)
    for one in found[::9]:
        for level, fits in ((one.grade.level, True), (one.grade.level + 1, False)):
            if level < len(levels):
                cutter = search.cutter(one)
                assert (int(cutter.levels[0]) >= level) == fits


# --- questions of every sort ---------------------------------------------------------------------------

QUARTER, THIRD, HALF = Fraction(1, 4), Fraction(1, 3), Fraction(1, 2)
A2 = "4-1/4 x 5-1/2"
QUESTIONS = {
    "one-way, in millimetres": wish(
        stock(1, "148 x 210", unit="mm", one_way=True), card="74 x 105", cards=4, unit="mm", step="2", border="4", kinds=2, waste=THIRD
    ),
    "two papers that share every card": wish(
        stock(1, "6 x 6"), stock(1, "6 x 6", "river"), card=A2, cards=4, mat="1/8", sharing="share", kinds=2, waste=QUARTER
    ),
    "each card from one sheet": wish(stock(2, "6 x 6"), card=A2, cards=3, mat="1/8", sharing="whole", kinds=2, waste=HALF),
    "sheets of two sizes": wish(stock(1, "8 x 8"), stock(1, "5 x 4", "river"), card=A2, cards=4, mat="1/8", kinds=2, waste=QUARTER),
    "cards that sheets don't share evenly": wish(stock(2, "6 x 6"), card=A2, cards=5, kinds=2, waste=QUARTER),
    "a punch": wish(
        stock(1, "6 x 6"),
        card=A2,
        cards=1,
        mat="1/8",
        waste=HALF,
        made=(
            Made(parse_size("1 x 1"), parse_size("1-1/4 x 1-1/4"), "punch"),
            Made(parse_size("2-1/2 x 5"), parse_size("2-3/4 x 5-1/4"), "die"),
        ),
    ),
    "as many cards as come out": wish(stock(1, "6 x 6"), card=A2, cards=None, mat="1/8", kinds=2),
    "two designs": wish(stock(1, "8 x 8"), card="3 x 4", cards=6, designs=2, waste=THIRD, families=("rows", "columns")),
    "a gate": wish(stock(1, "6 x 6"), card="5 x 5", cards=1, fold="gate", waste=HALF, kinds=2),
}


@pytest.mark.parametrize("asked", QUESTIONS.values(), ids=QUESTIONS)
def test_questions_of_every_sort(asked):
    search = Proposing(asked, Work(PURSE), None, None)
    answer = search.run()
    assert answer.proposals
    look_over(answer)
    assert_none_is_bettered(search.graded())


def test_two_papers_meet_on_every_card_where_they_are_to():
    answer = propose(QUESTIONS["two papers that share every card"], Work(PURSE))
    for proposal in answer.proposals:
        assert [cut.stocks for cut in proposal.cuts] == [(("meadow", 1), ("river", 1))]


def test_uneven_batches_are_said_to_be_looked_at_in_part():
    """Five cards' worth of one piece don't part in two; five cards' worth of two do."""
    for name, whole in (("cards that sheets don't share evenly", False), ("sheets of two sizes", False), ("a gate", True)):
        answer = propose(QUESTIONS[name], Work(PURSE))
        assert all(scope.whole for scope in answer.scopes if scope.layouts) == whole


@tried(6)
@given(
    st.sampled_from(["6 x 6", "5 x 7", "8 x 8"]),
    st.sampled_from(["4-1/4 x 5-1/2", "4 x 4", "3 x 3"]),
    st.integers(1, 3),
    st.integers(55, 95),
    st.sampled_from(["", "1/8"]),
    st.booleans(),
    st.sampled_from(["1/8", "1/4"]),
)
def test_whatever_is_proposed_holds(sheet, card, sheets, filled, mat, one_way, border):
    """Batches that fill from half to all of the sheets."""
    cards = max(1, int(parse_size(sheet).area * sheets * filled / 100 / (parse_size(card).area * Fraction(7, 10))))
    asked = wish(stock(sheets, sheet, one_way=one_way), card=card, cards=cards, mat=mat, border=border, waste=Fraction(2, 5), kinds=2)
    look_over(propose(asked, Work(PURSE // 2)))


# --- work -----------------------------------------------------------------------------------------------


def test_the_same_question_gives_the_same_answer_whether_or_not_it_is_looked_at_meanwhile(monkeypatch):
    monkeypatch.setattr("kitwright.proposing.search.INTERIM", 8_000)
    told = []
    asked = QUESTIONS["a punch"]
    assert propose(asked, Work(PURSE // 4)) == propose(asked, Work(PURSE // 4), told.append)
    assert len(told) > 2


def test_a_spent_purse_keeps_what_was_found():
    answer = propose(WORKED, Work(150_000))
    assert answer.stopped
    assert answer.proposals
    look_over(answer)
    assert not all(scope.whole for scope in answer.scopes)


def test_answers_come_meanwhile_and_a_stop_keeps_what_was_found(monkeypatch):
    monkeypatch.setattr("kitwright.proposing.search.INTERIM", 40_000)
    told = []
    answer = propose(WORKED, Work(4_000_000), told.append, lambda: len(told) == 1)
    assert len(told) == 1
    assert answer.stopped
    assert told[0].proposals
    look_over(answer)
    assert answer.counted.tested >= told[0].counted.tested > 0


def test_nothing_is_found_where_nothing_can_be():
    """One card's pieces of 4 × 5½ leave most of a 12 × 12: no layout is within the ceiling, and it takes no search to know it."""
    answer = propose(wish(stock(1, "12 x 12"), card="4-1/4 x 5-1/2", cards=1), Work(PURSE))
    assert (answer.proposals, answer.stopped, answer.counted.tested) == ((), False, 0)


# --- what is shown --------------------------------------------------------------------------------------


def test_twins_are_near_and_no_layout_is_shown_twice(worked):
    search, _ = worked
    answer = search.answer()
    near = parse_length("1/4")
    shown = [
        tuple(kind.size for kind in proposal.kinds) + tuple(spot.rect for spot in proposal.sides[0].spots) for proposal in answer.proposals
    ]
    assert len(set(shown)) == len(shown)
    twins = [(proposal, twin) for proposal in answer.proposals for twin in proposal.twins]
    assert twins
    for proposal, twin in twins:
        sizes = {kind.label: kind.size for kind in proposal.kinds}
        assert twin.sizes
        for label, size in twin.sizes:
            assert size != sizes[label]
            assert max(abs(size.width - sizes[label].width), abs(size.height - sizes[label].height)) <= near
        assert twin.measured.slack >= Length(Fraction(1, 16))
