"""Which card gets which paper: pieces that the sheets give, dealt to the cards of a batch as a few looks.

A look says for each group of pieces of a front from which paper they are; a kit's file says it by
swapping papers, so there are no more groups than papers. Looks are tried in the order that makes the
liveliest batch: papers mixed on every card and moving on by one, then cards of one paper, then any.
How many cards each look makes is whole numbers, found by going back where papers run out, within a
counted number of tries. Where sheets are cut in several ways, and no look comes out alike from all of
them, each group is dealt by itself, and looks are what lies side by side then.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import count, islice, product

from kitwright.cutting.tree import yields
from kitwright.proposing.faces import called
from kitwright.proposing.neighbours import neighbours
from kitwright.proposing.records import Proposal, SheetCut, Side, Spot
from kitwright.proposing.wish import Stock, Wish

TRIES, SOON = 20_000, 2_000
"""Steps of one search for whole numbers, and of one that may fail: past them a batch counts as one that can't be dealt so."""
APART = 4
"""Papers at most that sheets without a name are taken for: as many as a look at a table tells apart."""


@dataclass(frozen=True, slots=True)
class Papered:
    """Some cards of one design."""

    papers: tuple[str, ...]
    """Of each group of pieces, the key of its paper."""
    cards: int


@dataclass(frozen=True, slots=True)
class DealtCards:
    """How one design's pieces are dealt."""

    groups: tuple[int, ...]
    """Of each spot of the front, its group."""
    looks: tuple[Papered, ...]


def dealt(proposal: Proposal, wish: Wish, tries: int = TRIES) -> tuple[DealtCards, ...] | None:
    """The looks of each design; None where the pieces of these sheets can't be dealt to whole cards as it was wished.

    Args:
        proposal: the layout.
        wish: the question.
        tries: steps of one search for whole numbers.
    """
    given = supply(proposal)
    sheets = {stock.key: stock.sheets for stock in wish.stocks}
    papers = [stock.key for stock in wish.stocks if any(given.get(stock.key, {}).values())]
    for grouped in _groupings(proposal.sides, len(papers), wish):
        for ways in _ways(grouped, papers, wish):
            counts = _counted(proposal.sides, grouped, ways, given, sheets, tries)
            if counts is not None:
                return tuple(
                    DealtCards(groups, tuple(Papered(way, n) for way, n in zip(ways[d], counts[d]) if n))
                    for d, groups in enumerate(grouped)
                )
    return _group_by_group(proposal.sides, papers, given, sheets, tries) if wish.sharing == "free" and len(papers) > 1 else None


AsMade = tuple[Wish, Proposal]
"""Question and layout with the papers that cards are made of."""


def sheet_by_sheet(wish: Wish, proposal: Proposal) -> AsMade:
    """Question and layout with every sheet of a paper that she gave no name to as a paper of its own, as the sheets of a pad are.

    Returns:
        Both as they were, where there is no such paper, where there would be too many, or where pieces can't be dealt to
        whole cards so.
    """
    apart = [stock for stock in wish.stocks if not stock.named and not stock.face]
    if all(stock.sheets == 1 for stock in apart) or len(wish.stocks) + sum(stock.sheets - 1 for stock in apart) > APART:
        return wish, proposal
    keys = {stock.key for stock in wish.stocks if stock not in apart}
    free = (key for n in count(1) if (key := f"paper-{n}") not in keys)
    each = {
        stock.key: tuple(replace(stock, key=key, sheets=1) for key in islice(free, stock.sheets)) if stock in apart else (stock,)
        for stock in wish.stocks
    }
    given = {key: iter(some) for key, some in each.items()}
    cuts = tuple(
        SheetCut(tuple(split for key, n in cut.stocks for split in _first(given[key], each[key], n)), cut.tree) for cut in proposal.cuts
    )
    stocks = called([one for some in each.values() for one in some])
    split = replace(wish, stocks=stocks), replace(proposal, cuts=cuts)
    return split if dealt(split[1], split[0], SOON) else (wish, proposal)


def _first(given: Iterator[Stock], of: Sequence[Stock], sheets: int) -> list[tuple[str, int]]:
    """So many of the sheets of a paper that are still there."""
    return [(of[0].key, sheets)] if of[0].sheets > 1 else [(next(given).key, 1) for _ in range(sheets)]


def supply(proposal: Proposal) -> dict[str, dict[str, int]]:
    """What all sheets of each paper give, by label."""
    found: dict[str, dict[str, int]] = {}
    for cut in proposal.cuts:
        each = yields(cut.tree)
        for key, sheets in cut.stocks:
            its = found.setdefault(key, {})
            for label, n in each.items():
                its[label] = its.get(label, 0) + n * sheets
    return found


# --- groups -----------------------------------------------------------------------------------------


def _groupings(sides: Sequence[Side], papers: int, wish: Wish) -> Iterator[tuple[tuple[int, ...], ...]]:
    """Of each design, the groups of its spots: none more than there are papers."""
    alone = tuple(tuple(0 for _ in side.spots) for side in sides)
    if papers < 2 or wish.sharing == "whole":
        yield alone
        return
    lying = [neighbours(side) for side in sides]
    tried = [tuple(way(side.spots, papers) for side in sides) for way in (_said, _by_turns, _by_label, _each_by_turns)]
    tried.insert(1, tuple(near.groups(papers) for near in lying))
    # Where neighbours are of two papers comes first; what is as good, as it stands here.
    tried.sort(key=lambda grouped: sum(near.clashes(groups) for near, groups in zip(lying, grouped)))
    yield from dict.fromkeys(grouped for grouped in tried if grouped != alone)
    if wish.sharing == "free":
        yield alone


def _said(spots: Sequence[Spot], papers: int) -> tuple[int, ...]:
    """As the layout says itself."""
    lots = sorted({spot.lot for spot in spots})
    return tuple(lots.index(spot.lot) % papers for spot in spots)


def _by_turns(spots: Sequence[Spot], papers: int) -> tuple[int, ...]:
    """Neighbours of one size by turns; what is of another size goes on from there."""
    if len({spot.label for spot in spots}) == 1 or any(spot.point for spot in spots):
        return tuple(i % papers for i in range(len(spots)))
    return _by_label(spots, papers)


def _by_label(spots: Sequence[Spot], papers: int) -> tuple[int, ...]:
    """Each size its own group."""
    labels = sorted({spot.label for spot in spots})
    return tuple(labels.index(spot.label) % papers for spot in spots)


def _each_by_turns(spots: Sequence[Spot], papers: int) -> tuple[int, ...]:
    """Pieces of each size by turns, so that every card takes of all papers where it has pieces enough."""
    seen: Counter[str] = Counter()
    found = []
    for spot in spots:
        found.append(seen[spot.label] % papers)
        seen[spot.label] += 1
    return tuple(found)


# --- looks ------------------------------------------------------------------------------------------


def _ways(grouped: Sequence[Sequence[int]], papers: Sequence[str], wish: Wish) -> Iterator[list[list[tuple[str, ...]]]]:
    """Of each design, the looks that are tried, fewest first."""
    numbers = [max(groups) + 1 for groups in grouped]
    if max(numbers) > 1:
        yield [[tuple(papers[(g + move) % len(papers)] for g in range(n)) for move in range(len(papers))] for n in numbers]
        every = [list(product(papers, repeat=n)) for n in numbers]
        shared = [[way for way in ways if len(set(way)) > 1] for ways in every]
        if all(shared):
            yield shared
        if wish.sharing == "free":
            yield every
    else:
        yield [[(paper,) for paper in papers] for _ in grouped]


def _counted(
    sides: Sequence[Side],
    grouped: Sequence[Sequence[int]],
    ways: Sequence[Sequence[tuple[str, ...]]],
    given: dict[str, dict[str, int]],
    sheets: Mapping[str, int],
    most_tries: int,
) -> list[list[int]] | None:
    """How many cards of each design each look makes, so that no paper is short; None where no numbers were found."""
    looks = [(d, way, _used(sides[d].spots, grouped[d], way)) for d in range(len(sides)) for way in ways[d]]
    left = {(key, label): n for key, labels in given.items() for label, n in labels.items()}
    cards = [side.cards for side in sides]
    last = [max((i for i, look in enumerate(looks) if look[0] == d), default=-1) for d in range(len(sides))]
    weights = [_share(way, ways[d], sheets) for d, way, _ in looks]
    counts, tries = [0] * len(looks), [most_tries]

    def go(i: int) -> bool:
        if i == len(looks):
            return not any(cards)
        tries[0] -= 1
        if tries[0] < 0:
            return False
        d, _, used = looks[i]
        most = min([cards[d], *(left.get(one, 0) // n for one, n in used.items())])
        # As near as can be to an even share of the sheets, so that no paper is left with pieces of one size alone.
        even = round(sides[d].cards * weights[i])
        for n in [most] if i == last[d] else sorted(range(most + 1), key=lambda n: abs(n - even)):
            if i == last[d] and n < cards[d]:
                return False
            _take(left, used, n)
            cards[d], counts[i] = cards[d] - n, n
            if go(i + 1):
                return True
            _take(left, used, -n)
            cards[d], counts[i] = cards[d] + n, 0
        return False

    if not go(0):
        return None
    found: list[list[int]] = [[] for _ in sides]
    for (d, _, _), n in zip(looks, counts):
        found[d].append(n)
    return found


# --- group by group ---------------------------------------------------------------------------------

MOST_SPLITS = 24
"""Ways to part the pieces of a card in groups that are tried."""


def _group_by_group(
    sides: Sequence[Side], papers: Sequence[str], given: dict[str, dict[str, int]], sheets: Mapping[str, int], tries: int
) -> tuple[DealtCards, ...] | None:
    """Each group of a front from whatever papers have enough of it, whichever papers that brings together on a card."""
    even = {paper: Fraction(sheets[paper], sum(sheets[each] for each in papers)) for paper in papers}
    for grouped in islice(product(*(_splits(side.spots, len(papers)) for side in sides)), MOST_SPLITS):
        parts = [(d, group) for d, groups in enumerate(grouped) for group in range(max(groups) + 1)]
        takes = [Counter(spot.label for spot, its in zip(sides[d].spots, grouped[d]) if its == group) for d, group in parts]
        counts = _from_each([sides[d].cards for d, _ in parts], takes, even, given, tries)
        if counts is not None:
            found = [_side_by_side([its for (of, _), its in zip(parts, counts) if of == d], papers) for d in range(len(sides))]
            return tuple(DealtCards(groups, looks) for groups, looks in zip(grouped, found))
    return None


def _splits(spots: Sequence[Spot], papers: int) -> Iterator[tuple[int, ...]]:
    """Ways to part the pieces of a card: each size by itself, or so many of each size and the rest, the nearest to halves first."""
    labels = _by_label(spots, papers)
    if len(set(labels)) == len({spot.label for spot in spots}) > 1:
        yield labels
    counts = Counter(spot.label for spot in spots)

    def uneven(each: tuple[int, ...]) -> int:
        return sum(abs(2 * n - counts[label]) for label, n in zip(counts, each))

    for each in sorted(product(*(range(n + 1) for n in counts.values())), key=lambda each: (uneven(each), each)):
        if 0 < sum(each) < len(spots):
            left, groups = dict(zip(counts, each)), []
            for spot in spots:
                groups.append(0 if left[spot.label] else 1)
                left[spot.label] -= 1 if left[spot.label] else 0
            yield tuple(groups)


def _from_each(
    cards: Sequence[int],
    takes: Sequence[Mapping[str, int]],
    even: Mapping[str, Fraction],
    given: dict[str, dict[str, int]],
    most_tries: int,
) -> list[dict[str, int]] | None:
    """For how many cards each part of a front is from each paper; None where no numbers were found.

    Args:
        cards: how many have each part.
        takes: what a part takes, by label.
        even: the share of all sheets that each paper has.
        given: what the sheets of each paper give, by label.
        most_tries: steps that may be taken.
    """
    papers, tries = list(even), [most_tries]
    left = {(paper, label): n for paper in papers for label, n in given.get(paper, {}).items()}
    found: list[dict[str, int]] = [{} for _ in takes]

    def go(i: int, p: int, still: int) -> bool:
        if p == len(papers):
            return not still and (i + 1 == len(takes) or go(i + 1, 0, cards[i + 1]))
        tries[0] -= 1
        if tries[0] < 0:
            return False
        paper, used = papers[p], {(papers[p], label): n for label, n in takes[i].items()}
        most = min([still, *(left.get(one, 0) // n for one, n in used.items())])
        wanted = round(cards[i] * even[paper])
        for n in [still] if p + 1 == len(papers) else sorted(range(most + 1), key=lambda n: abs(n - wanted)):
            if n > most:
                return False
            _take(left, used, n)
            found[i][paper] = n
            if go(i, p + 1, still - n):
                return True
            _take(left, used, -n)
        return False

    return found if go(0, 0, cards[0]) else None


def _side_by_side(counts: Sequence[Mapping[str, int]], papers: Sequence[str]) -> tuple[Papered, ...]:
    """Looks of parts that are each from so many papers: every part begins with another paper, so that papers meet on a card."""
    rows = []
    for i, its in enumerate(counts):
        at = i % len(papers)
        rows.append([paper for paper in (*papers[at:], *papers[:at]) for _ in range(its[paper])])
    return tuple(Papered(way, n) for way, n in Counter(zip(*rows)).items())


def _share(way: tuple[str, ...], ways: Sequence[tuple[str, ...]], sheets: Mapping[str, int]) -> Fraction:
    """The share of all sheets that the papers which lead these looks have."""
    return Fraction(sheets[way[0]], sum(sheets[other[0]] for other in ways))


def _take(left: dict[tuple[str, str], int], used: dict[tuple[str, str], int], cards: int) -> None:
    for one, n in used.items():
        left[one] = left.get(one, 0) - n * cards


def _used(spots: Sequence[Spot], groups: Sequence[int], way: tuple[str, ...]) -> dict[tuple[str, str], int]:
    """What one card of a look takes, by paper and label."""
    found: dict[tuple[str, str], int] = {}
    for spot, group in zip(spots, groups):
        one = way[group], spot.label
        found[one] = found.get(one, 0) + 1
    return found
