"""The layouts that are shown, whole: fronts built, labels given, sheets cut by one and the same tree that was graded."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from kitwright.cutting import tree
from kitwright.cutting.solver.work import Work
from kitwright.proposing.choices import Place
from kitwright.proposing.families.family import LABELS, labelled
from kitwright.proposing.fronts import Grade
from kitwright.proposing.graded import Graded, side_of
from kitwright.proposing.neighbours import neighbours
from kitwright.proposing.papered import dealt
from kitwright.proposing.pool import FIRST_MADE, KindOf, Origin, kinds_in, turnable
from kitwright.proposing.records import Kind, Measured, Proposal, SheetCut, Side, Spot, Twin
from kitwright.proposing.shares import Desk
from kitwright.proposing.sheets import Cutter, SheetCuts
from kitwright.proposing.spread import dozen
from kitwright.proposing.traced import Cuttable, to_tree
from kitwright.proposing.twins import merged
from kitwright.units import Size


class Showing:
    """Layouts made whole."""

    def __init__(self, desk: Desk, sources: Sequence[Origin], work: Work) -> None:
        self._desk, self._sources, self._work = desk, sources, work

    def proposal(self, number: int, found: Graded, twins: Sequence[Graded]) -> Proposal:
        """One layout with the cuts behind it."""
        desk = self._desk
        kinds, sides = self._labelled(found)
        cards = found.item.share.cards
        sides = tuple(replace(side, cards=cards, spots=_in_lots(side, found.item.lots)) for side in sides)
        sheets = Cutter(desk, found.item, found.pieces[None, :], self._work).sheets(0)
        assert sheets is not None, "what came out before does so again"
        cuts = tuple(self._cuts(sheets, kinds, kinds_in(found.pieces.tolist())))
        halves = sum(cut_sheets * sum(1 for _ in tree.slants(cut.tree)) for cut in cuts for _, cut_sheets in cut.stocks)
        measured = replace(self.measured(found.grade), strokes=sheets.strokes + halves)
        return Proposal(number, sides, kinds, cuts, cards * len(sides), measured, tuple(self._twin(found, kinds, twin) for twin in twins))

    def measured(self, grade: Grade) -> Measured:
        """What a layout is judged by, in the maker's measures."""
        left = self._desk.area - grade.used * self._desk.square
        return Measured(left / self._desk.area, left, self._desk.levels[grade.level], grade.marks, grade.strokes, grade.alike)

    def _twin(self, found: Graded, kinds: tuple[Kind, ...], twin: Graded) -> Twin:
        of, _ = self._labelled(twin)
        sizes = tuple((one.label, other.size) for one, other in zip(kinds, of) if one.size != other.size)
        return Twin(sizes, self.measured(twin.grade))

    # --- labels -------------------------------------------------------------------------------

    def _labelled(self, found: Graded) -> tuple[tuple[Kind, ...], tuple[Side, ...]]:
        """The kinds of all designs together, and the fronts with their labels."""
        of = [self._kinds(place) for place in found.places]
        sides = [side_of(self._sources, place) for place in found.places]
        if len(sides) == 1:
            return of[0], (sides[0],)
        together: list[Kind] = []
        for kind in (kind for kinds in of for kind in kinds):
            i = next((i for i, other in enumerate(together) if self._same(kind, other)), None)
            if i is None:
                together.append(kind)
            else:
                together[i] = replace(together[i], each=together[i].each + kind.each)
        together.sort(key=lambda kind: (-kind.size.area, -kind.size.width.inches, kind.halved or ""))
        together = [replace(kind, label=LABELS[i]) for i, kind in enumerate(together)]
        called = []
        for kinds, side in zip(of, sides):
            names = {}
            for kind in kinds:
                other = next(other for other in together if self._same(kind, other))
                names[kind.label] = other.label, other.size != kind.size
            called.append(_renamed(side, names))
        return tuple(together), tuple(called)

    def _kinds(self, place: Place) -> tuple[Kind, ...]:
        source = self._sources[place[0]]
        kinds = sorted(dict.fromkeys(labelled(source.field, source.batch, place[1])), key=lambda kind: kind.label)
        return tuple(self._made(kind) for kind in kinds)

    def _made(self, kind: Kind) -> Kind:
        """The same with what is cut for it, where a tool makes it."""
        if kind.halved is None:
            for made in self._desk.wish.made:
                for size, blank in ((made.size, made.blank), (made.size.turned, made.blank.turned)):
                    if size == kind.size:
                        return replace(kind, cut=self._whole(blank), tool=made.tool)
        return kind

    def _whole(self, size: Size) -> Size:
        lattice = self._desk.lattice
        return lattice.size(lattice.up(size.width), lattice.up(size.height))

    def _same(self, one: Kind, other: Kind) -> bool:
        turns = not any(group.one_way for group in self._desk.groups)
        return one.halved == other.halved and (one.size == other.size or turns and one.halved is None and one.size.turned == other.size)

    # --- sheets -------------------------------------------------------------------------------

    def _cuts(self, sheets: SheetCuts, kinds: tuple[Kind, ...], rows: tuple[KindOf, ...]) -> list[SheetCut]:
        desk = self._desk
        cuttable = tuple(self._cuttable(row, kinds) for row in rows)
        wanted = {kind.label: kind.cut for kind in kinds}
        halved = {kind.label: kind.halved for kind in kinds if kind.halved}
        found = []
        for given in sheets.given:
            group = desk.groups[given.group]
            node = to_tree(given.trace.taken, group.sheet, desk.lattice, cuttable)
            fixed = frozenset(wanted) if group.one_way else frozenset()
            faults = tree.faults(node, group.sheet, wanted, fixed, halved)
            assert not faults, faults
            # The very rule of `check`; the tracer reckons it in whole steps, which are never wider than the paper.
            assert desk.wish.hold is None or tree.holds(node, desk.wish.hold), "a stroke that her trimmer can't make"
            found.append(SheetCut(_stocks(group.stocks, given.first, given.sheets), node))
        return found

    def _cuttable(self, row: KindOf, kinds: tuple[Kind, ...]) -> Cuttable:
        """The label of a kind of the table; where papers have an up, it lies there as it stands on the card."""
        size = self._desk.lattice.size(row.width, row.height)
        alike = [
            kind for kind in kinds if (row.sort >= FIRST_MADE) == (kind.tool is not None) and turnable(row.sort) == (kind.halved is None)
        ]
        exact = next((kind for kind in alike if kind.cut == size), None)
        kind = exact or next(kind for kind in alike if kind.cut.turned == size)
        return Cuttable(kind.label, exact is None, kind.halved)


def _stocks(stocks: Sequence[Any], first: int, sheets: int) -> tuple[tuple[str, int], ...]:
    """Whose sheets those are, counted through the papers of a group."""
    found, start = [], 0
    for stock in stocks:
        n = min(first + sheets, start + stock.sheets) - max(first, start)
        if n > 0:
            found.append((stock.key, n))
        start += stock.sheets
    return tuple(found)


def _in_lots(side: Side, lots: int) -> tuple[Spot, ...]:
    """Pieces dealt to so many lots, neighbours to two of them; what lies over others, to another than they."""
    if any(spot.over for spot in side.spots):
        return tuple(replace(spot, lot=lots - 1 if spot.over else 0) for spot in side.spots)
    return tuple(replace(spot, lot=lot) for spot, lot in zip(side.spots, neighbours(side).groups(lots)))


def _renamed(side: Side, names: Mapping[str, tuple[str, bool]]) -> Side:
    """A front with other labels, and pieces turned that are the same size the other way round."""

    def spot(old: Spot) -> Spot:
        label, turned = names[old.label]
        return replace(old, label=label, turned=old.turned != turned)

    def entry(old: Any) -> Any:
        if isinstance(old, Mapping):
            new = {key: names[value][0] if key in ("piece", "on") and value in names else entry(value) for key, value in old.items()}
            if "piece" in old and names[old["piece"]][1]:
                new = {key: value for key, value in new.items() if key != "turned"} | ({} if old.get("turned") else {"turned": True})
            return new
        if isinstance(old, (list, tuple)):
            return type(old)(entry(one) for one in old)
        return old

    return replace(side, spots=tuple(map(spot, side.spots)), front=entry(side.front))


def proposals(desk: Desk, sources: Sequence[Origin], found: Sequence[Graded], work: Work) -> tuple[Proposal, ...]:
    """A dozen that differ, the least waste first, each with its twins."""
    shown = Showing(desk, sources, work)
    clusters = merged(desk, sources, found)
    some = (shown.proposal(0, cluster[0], cluster[1:]) for cluster in dozen(desk, sources, clusters))
    # Two designs share sheets that need not give whole pairs of them.
    made = (one for one in some if desk.wish.designs == 1 or dealt(one, desk.wish))
    return tuple(replace(one, number=i) for i, one in enumerate(made, 1))
