"""Which guides share a row: held against every grouping there is."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence

import pytest
from kitwright.printable import rows as grouping
from kitwright.printable.rows import CALM, LARGEST, MOST_IN_ROW, MOST_TRIED, NEARLY, GuideRow, Guides, arranged

WIDTH, ROOM, BETWEEN, AROUND = 500, 640, 16, 110
"""A page, and what a row takes besides its drawing, points."""


def page(sheets: Sequence[tuple[int, int, int]], asked: list[GuideRow] | None = None) -> Guides:
    """Guides that are sheets of so many points at full size; the third figure is their least scale."""

    def wide(group: tuple[int, ...], percent: int) -> float:
        return sum(max(sheets[i][0] * percent / 100 + 20, 125) + 18 for i in group) - 18

    def widest(group: tuple[int, ...]) -> int:
        return next((percent for percent in range(LARGEST, 0, -1) if wide(group, percent) <= WIDTH), 0)

    def height(row: GuideRow) -> float:
        if asked is not None:
            asked.append(row)
        return AROUND + max(sheets[i][1] for i in row.guides) * row.percent / 100

    return Guides([least for _, _, least in sheets], widest, height, BETWEEN)


def partitions(left: tuple[int, ...]) -> Iterator[list[tuple[int, ...]]]:
    """Every way to part guides into rows."""
    if not left:
        yield []
        return
    for mask in range(1 << (len(left) - 1)):
        group = (left[0], *(i for k, i in enumerate(left[1:]) if mask >> k & 1))
        if len(group) <= MOST_IN_ROW:
            for rest in partitions(tuple(i for i in left if i not in group)):
                yield [group, *rest]


def most_ease(guides: Guides, room: float) -> int:
    """What no grouping betters: tried one after another."""

    def fits(groups: list[tuple[int, ...]], ease: int) -> bool:
        rows = [guides.at_ease(group, ease) for group in groups]
        return all(rows) and guides.taken([row for row in rows if row]) <= room

    best = 0
    for groups in partitions(tuple(range(len(guides.least)))):
        while best < grouping.EASIEST and fits(groups, best + 1):
            best += 1
    return best


SHAPES = [(864, 864, 18), (612, 792, 20), (432, 432, 27), (576, 576, 18), (595, 842, 24), (864, 430, 22), (306, 792, 31)]


@pytest.mark.parametrize("seed", range(6))
def test_the_worst_guide_has_nearly_the_most_ease_there_is(seed):
    pick = random.Random(seed)
    guides = page([pick.choice(SHAPES) for _ in range(pick.choice([2, 3, 4, 5]))])
    most, found = most_ease(guides, ROOM), arranged(guides, ROOM)
    if most < 100:
        assert found is None
        return
    assert found is not None
    assert sorted(i for row in found for i in row.guides) == list(range(len(guides.least)))
    assert all(row.percent >= guides.least_of(row.guides) and len(row.guides) <= MOST_IN_ROW for row in found)
    assert all(row.percent <= guides.widest(row.guides) for row in found)
    # Ease is asked for in whole per cent of a scale that is one itself; a row may have a per cent more than was asked.
    assert min(guides.ease(row) for row in found) >= most * NEARLY // 100
    assert guides.taken(found) <= ROOM


def test_what_room_is_left_makes_rows_larger():
    guides = page(SHAPES[:3])
    found = arranged(guides, ROOM)
    assert found is not None
    for i, row in enumerate(found):
        more = [*found[:i], GuideRow(row.guides, row.percent + 1), *found[i + 1 :]]
        assert guides.taken(more) > ROOM or row.percent + 1 > min(guides.widest(row.guides), LARGEST)


def test_of_two_groupings_the_calmer_is_taken():
    alike = [(612, 792, 18)] * 4
    found = arranged(page(alike), ROOM)
    assert found is not None and [row.guides for row in found] == [(0, 1), (2, 3)]
    assert CALM[0] == (True, 2)


def test_where_there_is_no_room_nothing_is_made_smaller():
    assert arranged(page([(864, 864, 30)] * 5), ROOM) is None
    assert arranged(page([(612, 792, 61)]), ROOM) is None, "wider than the page at its least scale"


def test_eight_guides_are_tried_in_every_way_and_more_in_their_order():
    asked: list[GuideRow] = []
    eight = arranged(page([(432, 432, 18)] * 4 + [(306, 300, 18)] * 4, asked), ROOM)
    assert eight is not None
    # Counted: 92 rows of eight, at each of the nine scales that halving asks for, for each of four kinds; most are met again and again.
    assert len({*asked}) < 92 * 12 and len(asked) < 60_000
    asked.clear()
    many = arranged(page([(216, 216, 18)] * (MOST_TRIED + 4), asked), 1200)
    assert many is not None and [i for row in many for i in row.guides] == list(range(MOST_TRIED + 4))
    assert len(asked) < 5_000
