"""The one-sheet solver against independent solvers, and its edges."""

from fractions import Fraction
from functools import cache

import pytest
from examples import tried
from hypothesis import given
from hypothesis import strategies as st
from kitwright.cutting import tree
from kitwright.units import Length, Size
from onesheet import PieceKind, Plate, faults, fits, solve, to_tree
from ortools.sat.python import cp_model


def kinds_strategy(side: int, most: int, limits):
    one = st.builds(PieceKind, st.integers(1, side), st.integers(1, side), st.integers(0, 30), limits, st.booleans())
    return st.lists(one, min_size=1, max_size=most)


def ways(kind: PieceKind):
    yield kind.width, kind.height
    if kind.may_turn:
        yield kind.height, kind.width


def best_unlimited(width, height, kinds) -> int:
    """Every cut at every step, nothing clever."""

    @cache
    def best(w, h):
        found = [0]
        found += [k.value for k in kinds for a, b in ways(k) if a <= w and b <= h]
        found += [best(c, h) + best(w - c, h) for c in range(1, w)]
        found += [best(w, c) + best(w, h - c) for c in range(1, h)]
        return max(found)

    return best(width, height)


def best_limited(width, height, kinds) -> int:
    """Every set of pieces that every size yields, by every cut at every step."""

    @cache
    def sets(w, h):
        found = {(0,) * len(kinds)}
        for i, k in enumerate(kinds):
            if k.limit and any(a <= w and b <= h for a, b in ways(k)):
                found.add(tuple(int(i == j) for j in range(len(kinds))))
        pairs = [(sets(c, h), sets(w - c, h)) for c in range(1, w // 2 + 1)]
        pairs += [(sets(w, c), sets(w, h - c)) for c in range(1, h // 2 + 1)]
        for ones, others in pairs:
            for one in ones:
                for other in others:
                    both = tuple(map(sum, zip(one, other)))
                    if all(n <= k.limit for n, k in zip(both, kinds)):
                        found.add(both)
        return found

    return max(sum(n * k.value for n, k in zip(each, kinds)) for each in sets(width, height))


def best_by_cp_sat(width, height, kinds) -> int:
    """Plates in, plates out: how often each size is cut at each step, or used as a piece.

    An integer programme of its own, with every whole cut; solved by OR-Tools CP-SAT.
    """
    model = cp_model.CpModel()
    balance = {(w, h): [] for w in range(1, width + 1) for h in range(1, height + 1)}
    used = [[] for _ in kinds]
    for (w, h), terms in balance.items():
        most = (width // w) * (height // h)
        for c in range(1, w // 2 + 1):
            times = model.new_int_var(0, most, f"x{w},{h},{c}")
            terms.append(-times)
            balance[c, h].append(times)
            balance[w - c, h].append(times)
        for c in range(1, h // 2 + 1):
            times = model.new_int_var(0, most, f"y{w},{h},{c}")
            terms.append(-times)
            balance[w, c].append(times)
            balance[w, h - c].append(times)
        for i, k in enumerate(kinds):
            if (w, h) in set(ways(k)):
                times = model.new_int_var(0, most, f"p{w},{h},{i}")
                terms.append(-times)
                used[i].append(times)
    for (w, h), terms in balance.items():
        model.add(sum(terms) + (1 if (w, h) == (width, height) else 0) >= 0)
    for k, terms in zip(kinds, used):
        if k.limit is not None:
            model.add(sum(terms) <= k.limit)
    model.maximize(sum(k.value * sum(terms) for k, terms in zip(kinds, used)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def check(answer, width, height, kinds):
    """The tree is sound by both checkers, and worth what is said."""
    assert faults(answer.tree, width, height, kinds) == []
    step = Length(Fraction(1, 16))
    labels = [str(i) for i in range(len(kinds))]
    node = to_tree(answer.tree, step, labels)
    sizes = {label: Size(step * k.width, step * k.height) for label, k in zip(labels, kinds)}
    fixed = frozenset(label for label, k in zip(labels, kinds) if not k.may_turn)
    assert tree.faults(node, Size(step * width, step * height), sizes, fixed) == []
    yields = tree.yields(node)
    assert answer.value == sum(kinds[int(label)].value * n for label, n in yields.items())
    assert answer.bound >= answer.value


@tried(150)
@given(st.integers(1, 14), st.integers(1, 14), kinds_strategy(9, 5, st.none()))
def test_unlimited_against_every_cut(width, height, kinds):
    answer = solve(width, height, kinds)
    check(answer, width, height, kinds)
    assert answer.proved
    assert answer.value == answer.bound == best_unlimited(width, height, kinds)


@tried(150)
@given(st.integers(1, 8), st.integers(1, 8), kinds_strategy(6, 4, st.integers(0, 3)))
def test_limited_against_every_set(width, height, kinds):
    answer = solve(width, height, kinds)
    check(answer, width, height, kinds)
    assert answer.proved
    assert answer.value == answer.bound == best_limited(width, height, kinds)


@tried(25)
@given(st.integers(5, 12), st.integers(5, 12), kinds_strategy(8, 6, st.one_of(st.none(), st.integers(1, 4))))
def test_limited_against_cp_sat(width, height, kinds):
    answer = solve(width, height, kinds)
    check(answer, width, height, kinds)
    assert answer.proved
    assert answer.value == answer.bound == best_by_cp_sat(width, height, kinds)


@tried(60)
@given(st.integers(1, 8), st.integers(1, 8), kinds_strategy(6, 4, st.integers(0, 3)), st.integers(0, 60))
def test_above_never_hides_what_is_better(width, height, kinds, above):
    best = best_limited(width, height, kinds)
    answer = solve(width, height, kinds, above=above)
    check(answer, width, height, kinds)
    assert answer.proved
    if best > above:
        assert answer.value == answer.bound == best
    else:
        assert answer.value <= best <= max(answer.bound, above)


@tried(60)
@given(st.integers(2, 60), st.integers(2, 60), st.data())
def test_what_was_cut_fits(width, height, data):
    """A sheet cut at random into pieces: the pieces fit that sheet, and not with one more."""
    parts = [(width, height)]
    for _ in range(data.draw(st.integers(1, 6))):
        w, h = parts.pop(data.draw(st.integers(0, len(parts) - 1)))
        if w > 1 and data.draw(st.booleans()):
            c = data.draw(st.integers(1, w - 1))
            parts += [(c, h), (w - c, h)]
        elif h > 1:
            c = data.draw(st.integers(1, h - 1))
            parts += [(w, c), (w, h - c)]
        else:
            parts.append((w, h))
    kinds = [PieceKind(w, h, 1, None, data.draw(st.booleans())) for w, h in parts]
    counts = [1] * len(parts)
    plate = fits(width, height, kinds, counts)
    assert isinstance(plate, Plate)
    assert faults(plate, width, height, kinds) == []
    assert sorted(plate.counts().elements()) == list(range(len(parts)))
    assert fits(width, height, [*kinds, PieceKind(1, 1, 1)], [*counts, 1]) is False


@tried(40)
@given(kinds_strategy(6, 4, st.one_of(st.none(), st.integers(0, 3))), st.integers(1, 10**12))
def test_values_scale(kinds, factor):
    """Large values stay exact, also beyond 64 bits where nothing is limited."""
    scaled = [PieceKind(k.width, k.height, k.value * factor, k.limit, k.may_turn) for k in kinds]
    assert solve(9, 7, scaled).value == solve(9, 7, kinds).value * factor
    free = [PieceKind(k.width, k.height, k.value, None, k.may_turn) for k in kinds]
    huge = [PieceKind(k.width, k.height, k.value * 10**30, None, k.may_turn) for k in kinds]
    assert solve(9, 7, huge).value == solve(9, 7, free).value * 10**30


@tried(40)
@given(st.integers(1, 30), st.integers(1, 30), kinds_strategy(12, 5, st.one_of(st.none(), st.integers(0, 5))))
def test_transposed_sheets_yield_as_much(width, height, kinds):
    turned = [PieceKind(k.height, k.width, k.value, k.limit, k.may_turn) for k in kinds]
    assert solve(width, height, kinds).value == solve(height, width, turned).value


def test_same_input_same_tree():
    kinds = [PieceKind(68, 84, 5712, 9, True), PieceKind(16, 64, 1024, 9, True), PieceKind(44, 52, 2288, 9)]
    assert solve(192, 192, kinds) == solve(192, 192, kinds)


def test_a_letter_sheet_gives_four_mats():
    # Common practice, no source: Letter gives four 4 × 5¼ mats.
    letter = (136, 176)  # sixteenths of an inch
    assert solve(*letter, [PieceKind(64, 84, 1)]).value == 4


def test_a4_gives_one_card_base_and_letter_two():
    # 210 mm is less than 8½ in; half millimetres and sixteenths meet on 1/2032 in.
    a4 = (210 * 80, 297 * 80)
    base = PieceKind(8 * 2032 + 1016, 5 * 2032 + 1016, 1, None, True)
    assert solve(*a4, [base]).value == 1
    assert solve(8 * 2032 + 1016, 11 * 2032, [base]).value == 2


def test_many_small_pieces():
    """Thousands of pieces on one sheet: long rows, no deep recursion."""
    for kinds, value in (
        ([PieceKind(1, 1, 1, 2500)], 2500),
        ([PieceKind(1, 1, 1)], 60 * 60),
        ([PieceKind(1, 60, 3, 45), PieceKind(12, 1, 1, 70)], 45 * 3 + 60),
    ):
        answer = solve(60, 60, kinds)
        check(answer, 60, 60, kinds)
        assert answer.value == answer.bound == value


def test_a_batch_of_nine_cards_from_one_sheet():
    """Nine mats, strips and banners fit 12 × 12 in; the pieces and their areas, by hand."""
    mat, strip, banner = PieceKind(64, 48, 1), PieceKind(48, 8, 1), PieceKind(16, 24, 1)
    kinds = [mat, strip, banner]
    plate = fits(192, 192, kinds, [9, 9, 9])
    assert isinstance(plate, Plate) and plate.counts() == {0: 9, 1: 9, 2: 9}
    assert faults(plate, 192, 192, kinds) == []
    # 4 × 3 in goes into 12 × 12 twelve times, with nothing left.
    assert fits(192, 192, kinds, [12, 0, 0])
    assert fits(192, 192, kinds, [12, 0, 1]) is False


def test_nothing_fits_and_nothing_is_worth_cutting():
    whole = Plate(5, 4)
    for kinds in ([], [PieceKind(6, 1, 9)], [PieceKind(1, 1, 0)], [PieceKind(1, 1, -3)], [PieceKind(1, 1, 3, 0)]):
        answer = solve(5, 4, kinds)
        assert (answer.value, answer.bound, answer.proved, answer.tree) == (0, 0, True, whole)


def test_no_work_at_all_still_gives_a_true_bound():
    kinds = [PieceKind(3, 4, 12, 2), PieceKind(5, 2, 11, 1), PieceKind(1, 3, 2, 4)]
    answer = solve(9, 8, kinds, steps=0)
    check(answer, 9, 8, kinds)
    assert answer.bound >= solve(9, 8, kinds).value


@pytest.mark.parametrize("sheet", [(0, 5), (5, -1), (10**8, 5)])
def test_impossible_sheets(sheet):
    with pytest.raises(ValueError, match="a sheet of"):
        solve(*sheet, [PieceKind(1, 1, 1)])


def test_only_whole_numbers():
    with pytest.raises(TypeError, match="int"):
        solve(5.0, 4, [])
    with pytest.raises(TypeError, match="value"):
        PieceKind(1, 1, 0.5)
    with pytest.raises(ValueError, match="no area"):
        PieceKind(0, 1, 1)
    with pytest.raises(ValueError, match="limit"):
        PieceKind(1, 1, 1, -1)


def test_the_checker_finds_what_is_wrong():
    kinds = [PieceKind(2, 3, 1, 1)]
    piece, turned, rest = Plate(2, 3, 0), Plate(3, 2, 0, True), Plate(2, 3)
    good = Plate(4, 3, axis="x", parts=(piece, rest))
    assert faults(good, 4, 3, kinds) == []
    for bad in (
        Plate(4, 3, axis="x", parts=(piece, piece)),  # more than there are
        Plate(5, 3, axis="x", parts=(piece, rest)),  # not filled
        Plate(4, 3, axis="y", parts=(piece, rest)),  # wrong axis
        Plate(2, 3, axis="x", parts=(piece,)),  # a cut into one part
        Plate(3, 2, 0),
        turned,
        Plate(2, 3, 1),
    ):  # size, turned, unknown
        assert faults(bad, bad.width, bad.height, kinds)
    assert faults(good, 4, 4, kinds)
