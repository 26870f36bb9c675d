"""Small questions of one sort, and how what the proposer decided of them stands beside every layout (`every_layout`)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np
from every_layout import Front, Pieces, cutter, wanted
from kitwright.cutting.solver.work import Work
from kitwright.proposing.dealing import asked_of
from kitwright.proposing.fronts import Grade, betters
from kitwright.proposing.pool import FALLING, KindOf, kinds_in
from kitwright.proposing.search import Proposing
from kitwright.proposing.sheets import Cutter, DealtSets
from kitwright.proposing.wish import Wish
from kitwright.units import Length, parse_length
from wishing import stock, wish


@dataclass(frozen=True)
class Small:
    """A small question, and its sort."""

    sort: str
    wish: Wish


def small(sort: str, sheet: str, card: str, cards: int = 1, sheets: int = 1, one_way: bool = False, **more) -> Small:
    """One paper; two where a piece lies over others, which is not seen on its own paper. Half inches unless something else is said."""
    usual = {"step": "1/2", "border": "1/2", "gap": "1/2", "waste": Fraction(1, 2)} | more
    stocks = [stock(sheets, sheet, one_way=one_way)]
    if sort == "band across":
        stocks.append(stock(sheets, sheet, "river", one_way=one_way))
    fold = "gate" if sort == "gate doors" else "side"
    return Small(sort, wish(*stocks, card=card, cards=cards * len(stocks), families=(sort,), fold=fold, **usual))


def fronts_of(asked: Wish) -> Iterator[Front]:
    """With a band of an inch for a greeting, and without; with the band that is asked for, where one is."""
    (card,), (border,), (gap,) = asked.cards_of, asked.borders, asked.gaps
    mat = card.mat or Length(0)
    width, height = (card.closed.width / 2 if card.fold == "gate" else card.closed.width) - mat * 2, card.closed.height - mat * 2
    sides = [(width - border * 2) / asked.step, (height - border * 2) / asked.step, gap / asked.step, 1 / asked.step.inches]
    assert all(side.denominator == 1 for side in sides), "not on the grid"
    whole = Front(*map(int, sides[:3]), width.inches * height.inches / asked.step.inches**2, int(sides[3]), kinds=asked.kinds)
    whole = replace(whole, turns=not any(stock.one_way for stock in asked.stocks))
    for band in [asked.band] if asked.band else [parse_length("1"), None]:
        yield replace(whole, band=int(-(-band.inches // asked.step.inches))) if band else whole


def from_a_sheet(pieces: Pieces, cards: int, sheets: int) -> dict[tuple[int, int], int]:
    """How many rectangles of each size every sheet gives; two triangles come of each."""
    found: dict[tuple[int, int], int] = {}
    for (width, height, halved), n in pieces:
        rectangles = -(-n * cards // sheets // (2 if halved else 1))
        found[width, height] = found.get((width, height), 0) + rectangles
    return found


def every(small: Small) -> dict[Pieces, tuple[int, int]]:
    """All sets of pieces within the ceiling: the square steps that they take in all, and up to which level of slack their sheets give
    them; -1 where they don't at all."""
    asked, step = small.wish, small.wish.step.inches
    sheets, size = sum(stock.sheets for stock in asked.stocks), asked.stocks[0].sheet.size
    least = parse_length("1/16") if asked.slack is None else asked.slack
    levels = [least, *(level for level in (Length(Fraction(n, 8)) for n in range(5)) if level > least)]
    rooms = [tuple(int((side - level).inches // step) for side in (size.width, size.height)) for level in levels]
    sets = set().union(*(wanted(front, small.sort) for front in fronts_of(asked)))
    cut = cutter(not asked.stocks[0].one_way)
    found = {}
    for pieces in sets:
        each = from_a_sheet(pieces, asked.cards, sheets)
        used = sheets * sum(w * h * n for (w, h), n in each.items())
        if used >= size.area * sheets * (1 - asked.waste) / step**2 and used <= rooms[0][0] * rooms[0][1] * sheets:
            fits = [cut(across, tuple(each), tuple(each.values())) <= down for across, down in rooms]
            found[pieces] = used, max((i for i, one in enumerate(fits) if one), default=-1)
    return found


@dataclass
class Decided:
    """What the proposer decided of a small question."""

    search: Proposing
    whole: bool
    """Whether it says that this is everything."""
    levels: dict[Pieces, int]
    grades: dict[Pieces, Grade]
    """Of those that come out."""
    front: set[Pieces]
    tested: int = 0
    """How many sets it says that its tables decided."""


def decided(small: Small) -> Decided:
    """Every set that there is to choose from, each cut anew, whether or not it could still join a front."""
    search = Proposing(small.wish, Work(10**9), None, None)
    answer = search.run()
    found = Decided(search, not answer.stopped and all(scope.whole for scope in answer.scopes), {}, {}, set())
    choices, desk = search.choices, search.desk
    (share,) = desk.shares
    for kinds, sets in choices.shapes():
        asked = asked_of(kinds, share, desk.groups, small.wish.sharing)
        cuts = Cutter(desk, DealtSets(share, kinds, asked, sets, np.zeros(len(sets), int), 1), choices.sets[sets], Work(10**9))
        for c, number in enumerate(sets.tolist()):
            of = kinds_in(choices.sets[number].tolist())
            used = sum(kind.width * kind.height * n for kind, n in zip(of, asked[0].need))
            if not desk.least <= used <= desk.room:
                continue  # of triangles one may be left over, so their sets are kept somewhat beyond the ceiling
            found.levels[said(of)] = int(cuts.levels[c])
            if sheets := cuts.sheets(c):
                found.grades[said(of)] = Grade(used, sheets.level, len(sheets.marks), sheets.alike)
    found.tested = answer.counted.tested
    found.front = {said(kinds_in(one.pieces.tolist())) for one in search.graded()}
    return found


def said(kinds: tuple[KindOf, ...]) -> Pieces:
    return tuple(sorted(((kind.width, kind.height, kind.sort == FALLING), kind.each) for kind in kinds))


def differences(mine: dict[Pieces, tuple[int, int]], theirs: Decided) -> Iterator[str]:
    """Where the proposer is not of one mind with every layout and every cut; nothing where it is."""
    if not theirs.whole:
        yield "says that it did not look at everything"
    if theirs.tested != len(mine):
        yield f"decided {theirs.tested} of {len(mine)}"
    yield from (f"missing: {pieces}" for pieces in mine.keys() - theirs.levels.keys())
    yield from (f"not asked for: {pieces}" for pieces in theirs.levels.keys() - mine.keys())
    for pieces in mine.keys() & theirs.levels.keys():
        used, level = mine[pieces]
        if level != theirs.levels[pieces]:
            yield f"comes out to level {level}, not {theirs.levels[pieces]}: {pieces}"
        grade = theirs.grades.get(pieces)
        if (level >= 0) != (grade is not None) or grade and (grade.used, grade.level) != (used, level):
            yield f"graded {grade}, not {used} and {level}: {pieces}"
    classes: dict[tuple[int, int], list[Pieces]] = {}
    for pieces in theirs.grades:
        classes.setdefault((len(pieces), sum(n for _, n in pieces)), []).append(pieces)
    best = {
        one for some in classes.values() for one in some if not any(betters(theirs.grades[other], theirs.grades[one]) for other in some)
    }
    yield from (f"not on its front: {pieces}" for pieces in best - theirs.front)
    yield from (f"bettered on its front: {pieces}" for pieces in theirs.front - best)
