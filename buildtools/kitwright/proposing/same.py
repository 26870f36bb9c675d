"""What else the very pieces make that a kit's sheets give: other cards, other layouts, other numbers of pieces a card.

The families the other way round: sizes are given, and asked for is the card on which they lie with an
even border. What the pieces fill is found first (`packed`); a usual card takes a block where what is
left beside it is the same on all sides, or where a free band takes the rest of its height.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from math import lcm
from typing import Any

import numpy as np

from kitwright.cutting.solver.work import Work
from kitwright.kit.model import Piece
from kitwright.proposing.families.face import BAND, InRow, Item, Walk
from kitwright.proposing.families.family import Batch, field_of
from kitwright.proposing.makeable import COVERED
from kitwright.proposing.packed import Block, blocks, used
from kitwright.proposing.records import Side
from kitwright.proposing.usual import CARDS, HABITS
from kitwright.proposing.wish import CardWish, FoldName, Unit, Wish
from kitwright.units import ZERO, Length, Size, on_grid
from kitwright.work.traits import leading_plans
from kitwright.work.worked import Worked

MOST = 8
"""Pieces on a card."""
HANDFUL = 8
GAPS: dict[Unit, tuple[Length, ...]] = {
    "in": tuple(Length(Fraction(n, 16)) for n in (2, 1, 3, 4)),
    "mm": tuple(map(Length.mm, (3, 2, 4, 5))),
}
"""Gaps that are tried beside the kit's own."""
WIDEST: dict[Unit, Length] = {"in": Length(Fraction(3, 4)), "mm": Length.mm(18)}
"""A border may be so wide."""
NARROWEST: dict[Unit, Length] = {"in": Length(Fraction(1, 8)), "mm": Length.mm(3)}
"""And no narrower than this."""
BANDS: dict[Unit, Length] = {"in": Length(Fraction(3, 4)), "mm": Length.mm(19)}
"""A band is at least so high: words have to stand in it."""
SAME_REST = 2
"""As often one card is told to take the rest: once more is the same advice again."""
LEAST_TAKEN = Fraction(1, 3)
"""Cards that leave more than two thirds of the pieces are not worth a look."""
STEPS = 3_000_000
"""What may be spent."""


@dataclass(frozen=True, slots=True)
class Stays:
    """Pieces of a label that no card takes."""

    label: str
    pieces: int


@dataclass(frozen=True, slots=True)
class Beside:
    """Further cards, from what others leave."""

    side: Side
    cards: int
    each: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Again:
    """Cards that the same pieces make otherwise."""

    side: Side
    cards: int
    each: tuple[tuple[str, int], ...]
    """Pieces of each label on a card."""
    stays: tuple[Stays, ...]
    """What is left of the pieces; empty where all are used."""
    taken: Fraction
    """The share of all the pieces, by area, that lies on cards."""
    beside: Beside | None = None
    """What is made of the rest; then `stays` and `taken` are those of both."""


@dataclass(frozen=True)
class SamePieces:
    """What else the pieces of a kit make."""

    worked: Worked
    there: tuple[tuple[str, Size, int], ...]
    """The pieces that its patterned sheets give for the batch: label, size, how many; labels of one size together, as `A/B`."""
    whose: Mapping[str, tuple[str, ...]]
    """The kit's own labels behind each of those."""
    left_out: tuple[str, ...]
    """Labels that were not laid otherwise, since they are no plain rectangles."""
    found: tuple[Again, ...]
    blocks: int
    """Ways in which some of the pieces fill a rectangle."""
    cards: int
    """Cards that each of these was held against, by size."""
    whole: bool
    """Whether every such way was looked at, up to so many pieces a card."""

    @property
    def sizes(self) -> dict[str, Size]:
        """Of each label, and of labels of one size together."""
        return {label: size for label, size, _ in self.there}


def same_pieces(worked: Worked, work: Work | None = None) -> SamePieces:
    """What else the pieces make that the patterned sheets of a kit give.

    Args:
        worked: the kit, free of errors; all its designs together.
        work: what may be spent.
    """
    worked, work = worked.whole, work or Work(STEPS)
    unit = worked.kit.spec.unit
    there, whose, left_out = _there(worked)
    cards = _cards(worked, unit)
    seen, count = [], 0
    own = [design.face.gap for design in worked.designs if design.face.gap]
    for gap in dict.fromkeys((*own, *GAPS[unit])):
        search = _Search(worked, there, gap, cards)
        found = search.found(work)
        count += search.blocks
        seen += found
    spread = _spread(seen, worked, there, whose)
    return SamePieces(worked, there, whose, left_out, tuple(spread), count, len(cards), not work.over)


def _there(worked: Worked) -> tuple[tuple[tuple[str, Size, int], ...], dict[str, tuple[str, ...]], tuple[str, ...]]:
    made: dict[str, int] = {}
    turns = _turns(worked)
    for plan in leading_plans(worked):
        for label, n in plan.made.items():
            made[label] = made.get(label, 0) + n
    pieces = {label: piece for label, piece in worked.kit.spec.pieces.items() if label in made}
    plain = [label for label, piece in pieces.items() if _plain(piece)]
    alike: dict[tuple[Size, str], list[str]] = {}
    for label in plain:
        # The finished size: what a punch or a die makes of it lies on the card. Corners that differ make two kinds of one size.
        size, corners = pieces[label].size, repr(pieces[label].shape)
        alike.setdefault((size.turned, corners) if turns and (size.turned, corners) in alike else (size, corners), []).append(label)
    there = [("/".join(labels), size, sum(made[label] for label in labels)) for (size, _), labels in alike.items()]
    whose = {"/".join(labels): tuple(labels) for labels in alike.values()}
    return tuple(sorted(there, key=lambda one: (-one[1].area, one[0]))), whose, tuple(label for label in pieces if label not in plain)


def _turns(worked: Worked) -> bool:
    """Whether pieces may lie turned on the card: no paper has an up."""
    return not any(plan.demand.lies for plan in leading_plans(worked))


def _plain(piece: Piece) -> bool:
    """Whether it is a rectangle to whoever lays it down; rounded or snipped corners make no difference."""
    shape = piece.shape
    plain = shape is None or shape.window is None and (shape.rounded is not None or shape.snipped is not None)
    return plain and not (piece.notch or piece.pocket or piece.band or piece.liner)


def _cards(worked: Worked, unit: Unit) -> tuple[CardWish, ...]:
    """The usual cards of the kit's ruler, standing and lying, with a mat and without; each with its envelope."""
    found: list[CardWish] = []
    cardstock = HABITS[unit].cardstock
    margin = HABITS[unit].border
    for size, envelope in CARDS[unit]:
        for closed in dict.fromkeys((size, size.turned)):
            fold: FoldName = "side" if closed.width <= closed.height else "top"
            found += [CardWish(closed, fold, envelope, mat, cardstock) for mat in (None, margin)]
    return tuple(found)


class _Search:
    """All cards with one gap."""

    def __init__(self, worked: Worked, there: tuple[tuple[str, Size, int], ...], gap: Length, cards: tuple[CardWish, ...]) -> None:
        self.unit: Unit = worked.kit.spec.unit
        self.there, self.gap, self.cards = there, gap, cards
        self.turns = _turns(worked)
        sides = [gap, *(side for _, size, _ in there for side in (size.width, size.height))]
        self.step = Length(Fraction(1, lcm(*(side.inches.denominator for side in sides))))
        self.area = sum((size.area * n for _, size, n in there), Fraction(0))
        self.blocks = 0

    def found(self, work: Work) -> list[Again]:
        """Every card that a block lies on evenly."""
        if not self.there:
            return []
        kinds = [(int(size.width / self.step), int(size.height / self.step)) for _, size, _ in self.there]
        across = max(card.closed.width // self.step for card in self.cards)
        down = max(card.closed.height // self.step for card in self.cards)
        counts = [n for *_, n in self.there]
        every = blocks(kinds, counts, int(self.gap / self.step), (across, down), MOST, self.turns, work)
        self.blocks = len(every)
        return [again for block in every for card in self.cards if (again := self._on(card, block)) is not None]

    def _on(self, card: CardWish, block: Block) -> Again | None:
        mat = card.mat or ZERO
        room = Size(card.closed.width - mat * 2, card.closed.height - mat * 2)
        width, height = self.step * block.width, self.step * block.height
        border = (room.width - width) / 2
        if not NARROWEST[self.unit] <= border <= WIDEST[self.unit] or not on_grid(border, self.unit):
            return None
        band = room.height - border * 2 - height
        if band and band < BANDS[self.unit] + self.gap:
            return None
        if width.inches * height.inches < room.width.inches * room.height.inches * COVERED:
            return None
        cards = used(block.counts, dict(enumerate(n for *_, n in self.there)))
        if cards < 2:
            return None
        return self._again(card, border, block, cards, bool(band))

    def _again(self, card: CardWish, border: Length, block: Block, cards: int, band: bool) -> Again:
        on = [(k, n) for k, n in enumerate(block.counts) if n]
        stays = [Stays(label, n - cards * block.counts[k]) for k, (label, _, n) in enumerate(self.there)]
        taken = sum((self.there[k][1].area * n * cards for k, n in on), Fraction(0))
        each = tuple((self.there[k][0], n) for k, n in on)
        return Again(self._side(card, border, block, band), cards, each, tuple(one for one in stays if one.pieces), taken / self.area)

    def _side(self, card: CardWish, border: Length, block: Block, band: bool) -> Side:
        """The block as a face, built as families build theirs."""
        lying = {(leaf.kind, leaf.turned) for leaf in _leaves(block) if leaf.kind is not None}
        # Upright first, even where none lies so: a label's size is the kit's.
        cells = sorted(lying | {(k, False) for k, _ in lying})
        sizes = [self.there[k][1].turned if turned else self.there[k][1] for k, turned in cells]
        each = tuple(sum((leaf.kind, leaf.turned) == cell for leaf in _leaves(block)) for cell in cells)
        steps = np.array([[[int(side / self.step) for side in (size.width, size.height)] for size in sizes]], dtype=np.int64)
        batch = Batch(None, steps, each, np.zeros((1, 0), dtype=np.int64))
        wish = Wish(self.unit, self.step, (), None, (card,), (border,), (self.gap,), kinds=len(cells))
        walk = Walk(field_of(wish, card, border, self.gap), batch, 0)
        places: dict[tuple[int | None, bool], int] = {cell: i for i, cell in enumerate(cells)}
        items = [_item(part, places) for part in block.parts] if block.parts else [_item(block, places)]
        down = block.down
        if band:
            rows = items if down else [items]
            items, down = [*rows[:-1], BAND, rows[-1]] if len(rows) > 1 else [*rows, BAND], True
        side = walk.side(_family(block), walk.laid(items, down))
        own = {kind.label: self.there[k][0] for kind, (k, _) in zip(walk.kinds, cells)}
        return replace(side, spots=tuple(replace(spot, label=own[spot.label]) for spot in side.spots), front=_labelled(side.front, own))


def _labelled(said: Any, own: Mapping[str, str]) -> Any:
    """What the file says of a front, with the kit's own labels."""
    if isinstance(said, list):
        return [_labelled(one, own) for one in said]
    if isinstance(said, Mapping):
        return {key: own[value] if key == "piece" else _labelled(value, own) for key, value in said.items()}
    return said


def _leaves(block: Block) -> Iterator[Block]:
    if block.parts:
        for part in block.parts:
            yield from _leaves(part)
    else:
        yield block


def _item(block: Block, places: dict[tuple[int | None, bool], int]) -> Item:
    return [_item(part, places) for part in block.parts] if block.parts else InRow(places[block.kind, block.turned])


def _family(block: Block) -> str:
    """The family that it is of."""
    if all(not part.parts for part in block.parts):
        return "rows" if block.down else "columns"
    shapes = {tuple((one.width, one.height) for one in part.parts) for part in block.parts}
    if len(shapes) == 1 and all(part.depth == 1 for part in block.parts):
        return "grid"
    return "rows beside a panel" if any(not part.parts for part in block.parts) else "rows"


def _spread(
    found: list[Again], worked: Worked, there: tuple[tuple[str, Size, int], ...], whose: Mapping[str, tuple[str, ...]]
) -> list[Again]:
    """A handful that differ: what uses the pieces best first, no card and family twice while there are others; the kit itself left out."""
    own = [_lying(design, there, whose) for design in worked.designs]
    found = [one for one in found if (one.side.card.closed, one.each) not in own]
    found.sort(key=_plainest)
    sorts: dict[object, Again] = {}
    for one in found:
        sorts.setdefault(_sort(one), one)
    rest = list(sorts.values())
    whole = sorted((_with_rest(one, rest, there) for one in rest), key=_plainest)
    picked: list[Again] = []
    for key in (_shape, _sort):
        seen = {key(one) for one in picked}
        for one in whole:
            # What stands beside another already is no news the other way round.
            known = any(one.beside and again.beside and again.side == one.beside.side and one.side == again.beside.side for again in picked)
            again = one.beside and sum(other.beside is not None and other.beside.side == one.beside.side for other in picked) >= SAME_REST
            if len(picked) < HANDFUL and one.taken >= LEAST_TAKEN and key(one) not in seen and not known and not again:
                seen.add(key(one))
                picked.append(one)
    return sorted(picked, key=lambda one: (-one.taken, one.beside is not None))


def _plainest(one: Again) -> tuple[Any, ...]:
    spots = one.side.spots
    return -one.taken, one.beside is not None, one.side.card.mat is not None, -one.cards, len(spots), one.side.border, one.side.gap


def _with_rest(one: Again, others: list[Again], there: tuple[tuple[str, Size, int], ...]) -> Again:
    """The same with whatever card takes most of what it leaves."""
    left = {stays.label: stays.pieces for stays in one.stays}
    sizes = {label: (size, n) for label, size, n in there}
    area = sum((size.area * n for size, n in sizes.values()), Fraction(0))

    def cards(other: Again) -> int:
        return min(left.get(label, 0) // n for label, n in other.each)

    def takes(other: Again) -> Fraction:
        return sum((sizes[label][0].area * n for label, n in other.each), Fraction(0)) * cards(other)

    best = max(others, key=takes, default=None)
    if best is None or not takes(best):
        return one
    used_up = {label: n * cards(best) for label, n in best.each}
    stays = tuple(Stays(label, n - used_up.get(label, 0)) for label, n in left.items() if n > used_up.get(label, 0))
    return replace(one, stays=stays, taken=one.taken + takes(best) / area, beside=Beside(best.side, cards(best), best.each))


def _sort(one: Again) -> object:
    """What makes it another card to look at: size, family, pieces."""
    return one.side.card.closed, one.side.family, one.each, one.side.band is None


def _shape(one: Again) -> object:
    return one.side.card.closed, one.side.family


def _lying(
    design: Worked, there: tuple[tuple[str, Size, int], ...], whose: Mapping[str, tuple[str, ...]]
) -> tuple[Size, tuple[tuple[str, int], ...]]:
    """A design of the kit as it is, by its size and pieces."""
    known = {label: together for together, labels in whose.items() for label in labels}
    each: dict[str, int] = {}
    for placed in (*design.face.pieces, *design.face.over):
        if placed.label in known:
            each[known[placed.label]] = each.get(known[placed.label], 0) + 1
    return design.face.size, tuple((names, each[names]) for names, *_ in there if names in each)
