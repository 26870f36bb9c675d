"""Random questions: never a layout that fails, a traceback, or an empty answer without its reason."""

from __future__ import annotations

import pytest
from examples import tried
from hypothesis import HealthCheck, given
from kitwright.cutting.solver.work import Work
from kitwright.errors import UserError
from kitwright.kit.model import Club
from kitwright.kit.read import read_club
from kitwright.proposing import loosened
from kitwright.proposing.answered import answered
from kitwright.proposing.asked import read_question
from kitwright.telling import proposals as words
from making import CLUB
from questions import questions, wrong


@pytest.fixture(scope="module")
def club(tmp_path_factory) -> Club:
    home = tmp_path_factory.mktemp("club")
    (home / "club.yaml").write_text(CLUB)
    return read_club(home)


@pytest.fixture(scope="module", autouse=True)
def small_purses():
    """What is asked, and ways out, are looked for with little work: that an answer is sound does not hang on how long one looks."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(loosened, "EACH", 20_000)
        patch.setattr(loosened, "ALL", 200_000)
        yield


@tried(12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(typed=questions())
def test_every_question_has_a_sound_answer(club, typed):
    try:
        wish = read_question(typed, club)
    except UserError as error:
        # In words, with what would be right.
        assert all(one.problem and one.remedy for one in error.each)
        return
    answer = answered(wish, work=Work(200_000))
    assert [*wrong(answer)] == []
    assert words.table(answer).rows if answer.proposals else words.none_found(answer)[1]
