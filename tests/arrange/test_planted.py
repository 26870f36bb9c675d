"""What no other test of arrangements would have noticed: found by planting faults."""

import itertools

import pytest
from arrange.benches import stack
from arrange.fronts import LAYOUTS, Laid, boxes, front_of, text_of
from kitwright.otherwise.arrangements import arrangements_of
from kitwright.otherwise.arrangements.slots import places_of
from kitwright.otherwise.arrangements.supply import dealt, limits
from kitwright.otherwise.arrangements.turning import motions_of
from kitwright.otherwise.arrangements.typed import AsTyped
from making import changed, make_worked


def test_of_two_pieces_on_top_the_larger_leads(tmp_path):
    """Side by side at the same height, the small one at the left: the large one is named first."""
    text = text_of(boxes((1, 1, 8, 8), (10, 1, 16, 8)), [Laid("river"), Laid("meadow")])
    slots = places_of(front_of(tmp_path, text)).slots
    assert slots[0].rect.y == slots[1].rect.y and slots[0].rect.x > slots[1].rect.x
    assert slots[0].rect.area > slots[1].rect.area


def test_a_raised_place_is_not_the_turn_of_a_flat_one(tmp_path):
    """What stands on foam can't come where the sketch lies flat."""
    text = text_of(LAYOUTS["two"], [Laid("river"), Laid("meadow")])
    flat = front_of(tmp_path / "flat", text)
    raised = front_of(
        tmp_path / "raised", changed(text, ("paper: meadow, left: 1/8, top: 17/8}", "paper: meadow, left: 1/8, top: 17/8, raised: yes}"))
    )
    assert motions_of(flat, places_of(flat)).turn and not motions_of(raised, places_of(raised)).turn


def test_there_are_enough_exactly_where_every_limit_holds():
    """Hall's theorem against dealing out, for looks that share kinds in a chain: a or b, b or c, c or d."""
    kinds = [(name, "p") for name in "abcd"]
    looks = [(kinds[0], kinds[1]), (kinds[1], kinds[2]), (kinds[2], kinds[3])]
    for have in itertools.product(range(3), repeat=4):
        pool = dict(zip(kinds, have))
        limited = limits(looks, pool)
        for asked in itertools.product(range(4), repeat=3):
            wanted = dict(zip(looks, asked))
            enough = all(sum(wanted[look] for look in together) <= n for together, n in limited)
            pieces = dealt([look for look, n in wanted.items() for _ in range(n)], pool)
            assert enough == (pieces is not None)
            if pieces is not None:
                assert all(pieces.count(kind) <= pool[kind] for kind in kinds)
                assert all(piece in look for piece, look in zip(pieces, [look for look, n in wanted.items() for _ in range(n)]))


def test_old_names_that_are_gone_through_in_steps_keep_step_from_hand_to_hand(tmp_path):
    """Two looks, two hands: steps go on where the last hand left off."""
    text = text_of(LAYOUTS["two"], [Laid("river"), Laid("meadow", other_way=True)])
    text = text.replace("{river: 1}", "{river: 1/2, dusk: 1/2}").replace("{meadow: 1}", "{meadow: 1/2, frost: 1/2}")
    more = "".join(f"  {paper}: {{kind: patterned, name: {paper.capitalize()}, size: 12 x 12}}\n" for paper in ("dusk", "frost"))
    text = (
        changed(text, ("  white:", f"{more}  white:"))
        + "  looks: [{name: one, cards: 6}, {name: two, cards: 6, swap: {river: dusk, meadow: frost}}]\n"
    )
    worked = front_of(tmp_path, text)
    typed = AsTyped(worked, places_of(worked))
    every = [found for counting in typed.countings for found in map(counting.at, range(counting.total))]
    assert len(typed.countings) == 2 and typed.total == len(every) == 4
    assert len(list(typed.called(most=4, shown=2))) == 2 * len(every)
    # More than three: about three are named, every second of all four, whichever hand it falls in.
    for most, shown, step in ((3, 2, 2), (2, 3, 2), (1, 1, 4), (3, 3, 2)):
        links = [word for word, _ in list(typed.called(most=most, shown=shown))[::2]]
        assert links == [typed.names.link(every[i]) for i in range(0, 4, step)]


def test_an_authors_name_for_a_look_is_not_given_twice(tmp_path):
    """She calls the sketch as we would call another: that one then says so."""
    looks = "  looks:\n    - {name: Meadow on top, cards: 12}\n"
    found = arrangements_of(make_worked(tmp_path, stack(["river", "meadow"], extra=looks)))
    names = [item.name for item in found.items]
    assert names[0] == "Meadow on top" and len({name.casefold() for name in names}) == len(names) == 2


def test_apart_is_said_only_of_two_that_are_both_there(tmp_path):
    """One-way river lies level only; turned round, a front that shows it is another card if it may be made at all."""
    text = stack(["river", "meadow"], up=("river",))
    assert all(item.apart for item in arrangements_of(make_worked(tmp_path / "both", text)).items)
    # The strip below carries the greeting, so it stays there, and it comes from meadow alone: river can't come there.
    held = changed(
        text,
        ("river: 1, meadow: 1}}\n", "river: 1/2, meadow: 1/2}}\n  B: {size: 3-3/4 x 39/16, paper: meadow}\n"),
        ("    - A meadow\n", "    - B\n"),
    )
    found = arrangements_of(make_worked(tmp_path / "held", held + "sentiment: {text: hello, on: B, size: 1 x 1/4}\n"))
    assert found.motions.turn and [item.apart for item in found.items] == [None]


@pytest.mark.parametrize("cards, pieces", [(12, 6), (13, 6)])
def test_half_a_piece_a_card_is_rounded_down(tmp_path, cards, pieces):
    """Thirteen cards with half a piece each have six whole ones to choose from."""
    text = text_of(LAYOUTS["two"], [Laid("river"), Laid("meadow")], extra="arrangements: {papers: any}\n").replace(
        "cards: 12", f"cards: {cards}"
    )
    (hand,) = places_of(front_of(tmp_path, text.replace("river: 1, meadow: 1", "river: 1/2, meadow: 3/2"))).hands
    assert hand["A", "river"] == pieces


def test_as_varied_as_possible_repeats_evenly_across_handfuls(tmp_path):
    """Eight cards of two strips from any of two papers: four arrangements in three handfuls, each twice."""
    text = stack(["river", "meadow"], cards=8, extra="arrangements: {papers: any}\n").replace("cards: 8", "cards: 8", 1)
    found = arrangements_of(make_worked(tmp_path, text))
    varied = next(one for one in found.sets if one.kind == "varied")
    assert found.counts.counted == 4 and [part.cards for part in varied.parts] == [2, 2, 2, 2]
