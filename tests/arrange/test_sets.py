"""Sets for the batch, names, sampling, and the author's own mix."""

import re
from itertools import combinations_with_replacement

import pytest
from arrange.benches import PAPERS, stack
from kitwright.errors import UserError
from kitwright.otherwise.arrangements import SHOWN, arrangements_of
from kitwright.telling.arranging import as_json, as_text
from making import BATCH, line_of, make_worked

FOUR = list(PAPERS[:4])


def found(tmp_path, text, also=()):
    return arrangements_of(make_worked(tmp_path, text), also)


def of_kind(arranged, kind):
    return next(s for s in arranged.sets if s.kind == kind)


def test_varied_repeats_nothing_while_there_is_something_new(tmp_path):
    arranged = found(tmp_path, stack(FOUR))
    varied = of_kind(arranged, "varied")
    assert len(varied.parts) == 12 and all(part.cards == 1 for part in varied.parts)
    assert "6 orders, then turn 6" in varied.note.words


def test_more_cards_than_arrangements_are_spread_evenly(tmp_path):
    varied = of_kind(found(tmp_path, stack(["river", "river", "meadow"], cards=8)), "varied")
    assert sorted(part.cards for part in varied.parts) == [2, 3, 3]


def test_each_paper_on_top_as_often(tmp_path):
    arranged = found(tmp_path, stack(FOUR))
    tops = of_kind(arranged, "tops")
    items = {i.slug: i for i in arranged.items}
    often = [sum(p.cards for p in tops.parts if items[p.slug].top == paper) for paper in FOUR]
    assert often == [3, 3, 3, 3]


def test_as_few_looks_as_the_pieces_allow_against_trying(tmp_path):
    """Six strips of river and three of meadow for three cards of three: tried by hand, one look is enough; two lots of papers need two."""
    one = found(tmp_path / "a", stack(["river", "river", "meadow"], cards=3))
    assert [p.cards for p in of_kind(one, "alike").parts] == [3]
    text = stack(["river", "meadow", "meadow"], cards=4, extra="arrangements: {papers: any}\n")
    text = text.replace("river: 1, meadow: 2", "river: 3/2, meadow: 3/2").replace(
        "    - A meadow\n    - A meadow\n", "    - A meadow\n    - A river\n", 1
    )
    two = found(tmp_path / "b", text)
    # Sheets yield no more than the sum of what cards take here, so every handful is tried: r of three from river on each card.
    made = {(label, paper): n for label, paper, n in of_kind(two, "alike").left}
    cut = {p.paper: p.made["A"] for p in two.worked.plans if "A" in p.made}
    fewest = next(
        n
        for n in (1, 2, 3, 4)
        for rows in combinations_with_replacement(range(4), 4)
        if len(set(rows)) == n and sum(rows) <= cut["river"] and 12 - sum(rows) <= cut["meadow"]
    )
    assert len(of_kind(two, "alike").parts) == fewest
    assert sum(cut.values()) - 12 == sum(made.values())


def test_the_shortcut_is_stated(tmp_path):
    arranged = found(tmp_path, stack(FOUR))
    half = of_kind(arranged, "one order")
    a, b = half.parts
    assert a.cards == b.cards == 6 and arranged.item(a.slug).turned == b.slug
    assert re.fullmatch(
        r"One motion makes the whole batch: put together 12 fronts in the order of “.*”, of which you turn 6 round before anything else goes on\.",
        arranged.shortcut.words,
    )


@pytest.mark.parametrize("text", [stack(FOUR, extra="sentiment: {text: hello, on: front, size: 1 x 1/4}\n"), BATCH])
def test_a_front_that_is_turned_is_stamped_only_then(tmp_path, text):
    """A greeting that was stamped on the front before its turn would stand on its head."""
    assert "Stamp only then" in found(tmp_path, text).shortcut.words


MIX = "arrangements:\n  mix:\n    river_meadow_dusk_frost: 5\n    Frost on top, then River and Meadow: 7\n"


def test_the_authors_own_mix_by_link_and_by_name(tmp_path):
    arranged = found(tmp_path, stack(FOUR, extra=MIX))
    assert [(p.slug, p.cards) for p in arranged.recommended.parts] == [("river_meadow_dusk_frost", 5), ("frost_river_meadow_dusk", 7)]


@pytest.mark.parametrize(
    "old, new, needle, problem",
    [("river_meadow_dusk_frost", "river_medow_dusk_frost", "river_medow", "no arrangement"), (": 7", ": 8", "mix:", "13 cards")],
)
def test_a_mix_that_can_not_be(tmp_path, old, new, needle, problem):
    text = stack(FOUR, extra=MIX.replace(old, new))
    with pytest.raises(UserError) as error:
        found(tmp_path, text)
    assert problem in str(error.value) and error.value.remedy
    assert error.value.place.line == line_of(text, needle)


def test_a_mix_that_takes_more_than_the_sheets_yield(tmp_path):
    text = stack(["river", "meadow"], cards=40, extra="arrangements: {papers: any, mix: {River everywhere: 40}}\n")
    worked = make_worked(tmp_path, text)
    short = 80 - worked.plan("river").made["A"]
    assert short > 0
    with pytest.raises(UserError, match=f"{short} more A from River"):
        arrangements_of(worked)


def test_many_are_sampled_by_a_stated_rule_and_counted(tmp_path):
    arranged = found(tmp_path, stack(list(PAPERS[:6])), also=["brick_barley_river_frost_dusk_meadow"])
    assert (arranged.counts.counted, arranged.counts.different) == (720, 360)
    assert "Of 720" in arranged.rule.words and "every 24th" in arranged.rule.words and str(len(arranged.items)) in arranged.rule.words
    assert SHOWN <= len(arranged.items) <= 2 * SHOWN
    assert {i.top for i in arranged.items} == set(PAPERS[:6])
    shown = {i.slug for i in arranged.items}
    assert "brick_barley_river_frost_dusk_meadow" in shown
    assert all(part.slug in shown for s in arranged.sets for part in s.parts)
    assert all(i.turned in shown for i in arranged.items)
    assert len({i.name for i in arranged.items}) == len(arranged.items)


def test_too_many_to_list_are_counted(tmp_path):
    counts = found(tmp_path, stack(list(PAPERS[:8]), cards=10)).counts
    assert (counts.counted, counts.listed, counts.different, counts.grouped) == (40320, None, 20160, None)


def test_an_unknown_sample_is_one_clear_error(tmp_path):
    with pytest.raises(UserError, match="no arrangement “river_river”"):
        found(tmp_path, stack(FOUR), also=["river_river"])


def test_links_stay_when_another_strip_joins_the_batch(tmp_path):
    """A link says what lies where, so it does not depend on how many others there are."""
    one = {i.slug for i in found(tmp_path / "a", stack(["river", "river", "meadow"])).items}
    other = {i.slug for i in found(tmp_path / "b", stack(["river", "river", "meadow"], extra="arrangements: {papers: any}\n")).items}
    assert one < other


def test_the_words_tell_the_numbers(tmp_path):
    arranged = found(tmp_path, stack(FOUR, up=("meadow",)))
    text = "\n".join(as_text(arranged))
    assert "24 arrangements, 24 different cards" in text and "If no paper had an up: 24 arrangements, 12 different cards." in text
    assert "(recommended)" in text and "left over:" in text
    data = as_json(arranged)
    assert data["counts"]["if no up"] == {"counted": 24, "different": 12} and len(data["arrangements"]) == 24
