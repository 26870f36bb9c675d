"""Published instances of guillotine cutting: values, and trees by the independent checker.

Sources: `gcut/SOURCE.md`.
"""

from fractions import Fraction
from pathlib import Path

import pytest
from kitwright.cutting import tree
from kitwright.units import Length, Size
from onesheet import OneSheet, PieceKind, solve, to_tree

HERE = Path(__file__).parent / "gcut"
STEP = Length(Fraction(1, 16))

FIXED = [56460, 60536, 61036, 61698, 246000, 238998, 242567, 246633, 971100, 982025, 980096, 979986]
TURNED = [58136, 60611, 61626, 62265, 246000, 240951, 245866, 247787, 971100, 982025, 980096, 988694]
"""Cintra's table: unlimited pieces, gcut1 … gcut12."""
ONE_OF_EACH = [48368, 59307, 60241, 60942, 195582, 236305, 238974, 245758, 919476, 903435, 955389, 970744]
"""EATKG's table: one piece of each kind, not turned, gcut1 … gcut12."""
LIMITED = {
    "cgcut1": 244,
    "cgcut2": 2892,
    "cgcut3": 1860,  # CO-Bench
    "of1": 2737,
    "of2": 2690,
    "w": 2721,
    "2s": 2778,
    "chl2s": 3279,
    "chl5": 390,  # EATKG
    "a4": 6179,
    "a5": 12985,
    "sts4s": 9770,
}


def instance(name: str, *, turn: bool = False, limit: int | None = None):
    """A sheet and its kinds."""
    numbers = [int(word) for word in (HERE / f"{name}.txt").read_text().split()]
    count, width, height, *rest = numbers
    per = len(rest) // count
    rows = [rest[i : i + per] for i in range(0, len(rest), per)]
    assert len(rows) == count
    if per == 4:
        return width, height, [PieceKind(w, h, value, limit, turn) for w, h, limit, value in rows]
    return width, height, [PieceKind(w, h, value, limit, turn) for w, h, value in rows]


def verify(answer: OneSheet, width: int, height: int, kinds: list[PieceKind]) -> None:
    """The tree, scaled to lengths, satisfies the independent checker, and is worth what is said."""
    labels = [f"K{i}" for i in range(len(kinds))]
    node = to_tree(answer.tree, STEP, labels)
    sizes = {label: Size(STEP * k.width, STEP * k.height) for label, k in zip(labels, kinds)}
    fixed = frozenset(label for label, k in zip(labels, kinds) if not k.may_turn)
    assert tree.faults(node, Size(STEP * width, STEP * height), sizes, fixed) == []
    yields = tree.yields(node)
    assert sum(yields.get(label, 0) * k.value for label, k in zip(labels, kinds)) == answer.value
    assert all(k.limit is None or yields.get(label, 0) <= k.limit for label, k in zip(labels, kinds))


def solves(name: str, optimum: int, **options) -> None:
    sheet = instance(name, **options)
    answer = solve(*sheet)
    verify(answer, *sheet)
    assert (answer.value, answer.bound, answer.proved) == (optimum, optimum, True)


@pytest.mark.parametrize("number", range(1, 13))
def test_pieces_not_turned(number):
    solves(f"gcut{number}", FIXED[number - 1])


@pytest.mark.parametrize("number", range(1, 13))
def test_pieces_may_turn(number):
    solves(f"gcut{number}", TURNED[number - 1], turn=True)


def test_a_sheet_of_3000_units_a_side():
    solves("gcut13", 8997780)  # Cintra's table


@pytest.mark.parametrize("number", range(1, 13))
def test_one_of_each_kind(number):
    solves(f"gcut{number}", ONE_OF_EACH[number - 1], limit=1)


@pytest.mark.parametrize("name", LIMITED)
def test_limited(name):
    solves(f"limited/{name}", LIMITED[name])


def test_out_of_work_the_bound_is_true():
    # hchl8s takes seconds; 911 is the best value EATKG's table lists.
    sheet = instance("limited/hchl8s")
    answer = solve(*sheet, steps=200_000)
    verify(answer, *sheet)
    assert answer.value <= 911 <= answer.bound
    assert answer.proved == (answer.value == answer.bound)


def test_out_of_work_without_limits():
    sheet = instance("gcut13")
    answer = solve(*sheet, steps=20_000)
    verify(answer, *sheet)
    assert 0 < answer.value <= 8997780 <= answer.bound
    assert answer.proved == (answer.value == answer.bound)
