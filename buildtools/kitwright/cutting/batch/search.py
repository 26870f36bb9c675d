"""From needs to sheets: one layout where it can be, two where it must be, then more.

Counts are in half sheets throughout.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain, islice, product
from typing import Literal, TypeVar

from kitwright.cutting.batch.builds import Candidate, from_plate, judged, layings, ordered, real_turns, serves
from kitwright.cutting.batch.cover import Cover, cover
from kitwright.cutting.batch.frontier import frontier
from kitwright.cutting.batch.natural import blocks, in_half, natural
from kitwright.cutting.batch.paper import Counts, Lattice
from kitwright.cutting.batch.prices import Pricing
from kitwright.cutting.solver.pieces import AXES, Build, Plate, lay
from kitwright.cutting.solver.work import Work

T = TypeVar("T")

SPLITS = 64
"""Ways to share a batch between whole sheets and a half sheet that are looked at."""
TRIED = 6
"""Of them, those that are laid out."""
TRIED_EXACTLY = 2
"""And those for which the exact search is asked."""
NATURAL, BLOCKS = 10_000, 20_000
"""Steps of work that the layouts in strips, and those in blocks, of one such way are reckoned to take."""
JUDGED = 250
"""Builds judged for one question."""
PLAIN = 4
"""Half sheets up to which a number is first tried with strips alone."""
MANY = 6
"""Labels above which numbers of sheets are not tried one by one."""
FINALISTS = 8
"""Layouts whose turns are counted stroke by stroke."""
PAIR_UNITS = 80
"""Half sheets up to which two layouts are sought one after the other."""
PAIRS = 6
"""Good pairs of layouts among which the best is chosen."""
PAIR_TRIES = 20
"""Questions asked on the way."""
FIRST_TRIES = 6
"""Of them, those before it is known whether so few sheets can do at all."""


@dataclass(frozen=True)
class Share:
    """So many half sheets, all cut by one layout."""

    layout: Candidate
    units: int


@dataclass(frozen=True)
class Solution:
    """A way to cut a batch."""

    parts: tuple[Share, ...]

    @cached_property
    def rank(self) -> tuple[int, ...]:
        """Less is better, level by level."""
        ranks = [part.layout.rank for part in self.parts]
        return (len(self.parts), *map(sum, zip(*ranks)))

    @property
    def units(self) -> int:
        return sum(part.units for part in self.parts)


class Search:
    """Looks for the best way to cut batches from one paper; remembers what it has learnt."""

    def __init__(self, paper: Lattice, work: Work, limits: Counts | None = None) -> None:
        """Args:
        work: what may be spent; soon after that the search ends with what it has.
        limits: the largest batch that will be asked for, when several will be.
        """
        self.paper = paper
        self.limits = limits
        self.work = work
        self._singles: dict[tuple[Counts, int], list[Candidate]] = {}
        self._holds: dict[tuple[Counts, int | None], Build | Literal[False] | None] = {}
        self._frontiers: dict[Counts, tuple[list[Counts] | None, list[Counts] | None]] = {}

    @cached_property
    def pricing(self) -> Pricing:
        """What is known of bounds; that takes a while, and a batch whose area alone says enough does without."""
        return Pricing(self.paper, self.work)

    @property
    def late(self) -> bool:
        """Whether the work allowed is done: then the plainest answer that is known is the answer."""
        return self.work.over

    # --- one layout -------------------------------------------------------------------------

    def single(self, needs: Counts, units: int) -> list[Candidate]:
        """Layouts by which so many half sheets, all cut alike, give a batch, best first."""
        key = (needs, units)
        if key not in self._singles:
            self._singles[key] = [] if self.pricing.forbid(needs, units) else self._chosen(needs, units)
        return self._singles[key]

    def _chosen(self, needs: Counts, units: int) -> list[Candidate]:
        found: list[Candidate] = []
        for builds in (self._plain_builds, self._block_builds, self._exact_builds):
            found = sorted(found + self._serving(islice(builds(needs, units), JUDGED), needs, units), key=lambda f: f.rank)
            if found and (not found[0].strange or builds == self._block_builds) or self.late:
                break
        return found

    def any_single(self, needs: Counts, units: int) -> bool:
        """Whether `single` finds some; the first does."""
        key = (needs, units)
        if key in self._singles:
            return bool(self._singles[key])
        if not self.pricing.forbid(needs, units):
            for builds in (self._plain_builds, self._block_builds):
                if self._any_of(builds(needs, units), needs, units):
                    return True
                if self.late:
                    break
            else:
                # Here work is spent on the way: all of it before anything is judged, as ever.
                if self._any_of(list(islice(self._exact_builds(needs, units), JUDGED)), needs, units):
                    return True
        self._singles[key] = []
        return False

    def _any_of(self, builds: Iterable[Build], needs: Counts, units: int) -> bool:
        """Whether any of them serves, with nothing judged but that."""
        whole, half = divmod(units, 2)
        known: set[Build] = set()
        plates: set[Plate] = set()
        for build in islice(builds, JUDGED):
            self.work.charge(100)
            counts = self.paper.counted(build.kinds())
            if any(n > (whole + half) * c for n, c in zip(needs, counts)):
                continue
            if not half:
                return True
            if not _is_new(build := ordered(build), known):
                continue
            for plate in layings(build, self.paper.width, self.paper.height):
                if _is_new(plate, plates) and serves(self.paper, plate, needs, units):
                    return True
        return False

    def _judged(self, builds: Iterable[Build], needs: Counts, units: int) -> Iterator[Candidate]:
        """Layouts that serve, as they come."""
        known: set[Build] = set()
        plates: set[Plate] = set()
        for build in map(ordered, builds):
            if not _is_new(build, known):
                continue
            for plate in layings(build, self.paper.width, self.paper.height):
                if not _is_new(plate, plates):
                    continue
                layout = judged(self.paper, plate)
                self.work.charge(100 + 25 * layout.cuts)
                if layout.serves(needs, units):
                    yield layout

    def _serving(self, builds: Iterable[Build], needs: Counts, units: int) -> list[Candidate]:
        found = sorted(self._judged(list(builds), needs, units), key=lambda layout: layout.rank)
        if not found:
            return []
        # Turns count only between layouts that are equal in all that counts before them.
        best = [layout for layout in found if layout.order[:3] == found[0].order[:3]][:FINALISTS]
        return sorted((replace(layout, turns=real_turns(self.paper, layout.plate)) for layout in best), key=lambda layout: layout.rank)

    def _plain_builds(self, needs: Counts, units: int) -> Iterator[Build]:
        for wanted, half in islice(self._splits(needs, units), TRIED):
            self.work.charge(NATURAL)
            if half is not None:
                yield from in_half(self.paper, half, tuple(a - b for a, b in zip(wanted, half)), plain=True)
            yield from natural(self.paper, wanted)

    def _block_builds(self, needs: Counts, units: int) -> Iterator[Build]:
        for wanted, half in islice(self._splits(needs, units), TRIED):
            self.work.charge(BLOCKS)
            if half is not None:
                yield from in_half(self.paper, half, tuple(a - b for a, b in zip(wanted, half)))
            yield from blocks(self.paper, wanted, self.paper.width, self.paper.height)

    def _splits(self, needs: Counts, units: int) -> Iterator[tuple[Counts, Counts | None]]:
        """What a whole sheet and half of it would have to yield, were all cut alike."""
        whole, half = divmod(units, 2)
        if not half:
            yield tuple(-(-n // whole) for n in needs), None
        elif not whole:
            yield needs, needs
        else:
            ranges = [range(-(-n // (whole + 1)), -(-n // whole) + 1) for n in needs]
            found = []
            for wanted in islice(product(*ranges), SPLITS):
                kept = tuple(max(0, n - whole * w) for n, w in zip(needs, wanted))
                if self.paper.area_of(wanted) <= self.paper.area and self.paper.area_of(kept) * 2 <= self.paper.area:
                    found.append((sum(wanted), self.paper.area_of(wanted), wanted, kept))
            for *_, wanted, kept in sorted(found):
                yield wanted, kept

    def _exact_builds(self, needs: Counts, units: int) -> Iterator[Build]:
        for wanted, half in islice(self._splits(needs, units), TRIED_EXACTLY):
            if half is None:
                build = self.holds(wanted, None)
                if isinstance(build, Build):
                    yield build
                continue
            rest = tuple(a - b for a, b in zip(wanted, half))
            for way in range(2):
                one = self.holds(half, way) if any(half) else None
                other = self.holds(rest, way) if any(rest) else None
                if (isinstance(one, Build) or not any(half)) and (isinstance(other, Build) or not any(rest)):
                    w, h = self.paper.halves[way]
                    yield Build(
                        self.paper.width,
                        self.paper.height,
                        axis=AXES[way],
                        parts=tuple(Build(w, h, axis="x" if b.axis is None else b.axis, parts=b.parts or (b,)) for b in (one, other) if b),
                    )

    def holds(self, counts: Counts, way: int | None) -> Build | Literal[False] | None:
        """Whether a sheet, or half of one, yields these pieces, by any tree; see `Region.holds`."""
        key = (counts, way)
        if key not in self._holds:
            region = self.pricing.sheet if way is None else self.pricing.halves[way]
            build = region.holds(counts)
            if isinstance(build, Build):
                # Out of the lattice's raster: rows in rows are merged, leftovers left out.
                build = from_plate(lay(build, region.width, region.height))
            self._holds[key] = build
        return self._holds[key]

    def none_alike(self, needs: Counts, units: int) -> bool:
        """Whether it is proved that so many half sheets can't all be cut alike."""
        whole, half = divmod(units, 2)
        if self.holds(tuple(-(-n // (whole + half)) for n in needs), None) is False:
            return True
        if not half or not whole:
            return False
        ranges = [range(-(-n // (whole + 1)), -(-n // whole) + 1) for n in needs]
        ways = list(islice(product(*ranges), SPLITS + 1))
        if len(ways) > SPLITS:
            return False
        for wanted in ways:
            kept = tuple(max(0, n - whole * w) for n, w in zip(needs, wanted))
            if self.holds(wanted, None) is False:
                continue
            if any(kept) and all(self.holds(kept, way) is False for way in range(2)):
                continue
            return False
        return True

    # --- several layouts --------------------------------------------------------------------

    def pair(self, needs: Counts, units: int, tries: int = PAIR_TRIES) -> Solution | None:
        """Two layouts, where some can be found after so many tries."""
        found = (
            Solution((Share(first[0], 2 * sheets), Share(second[0], units - 2 * sheets)))
            for sheets, first, second in self._pairs(needs, units, tries, self.single)
        )
        return min(islice(found, PAIRS), key=lambda f: f.rank, default=None)

    def _pairs(self, needs: Counts, units: int, tries: int, single: Callable[[Counts, int], T]) -> Iterator[tuple[int, T, T]]:
        """Whole sheets cut by the first layout, and what `single` has to say of either."""
        if units > PAIR_UNITS:
            return
        for counts, sheets in self._firsts(needs, units):
            rest = tuple(max(0, n - sheets * c) for n, c in zip(needs, counts))
            if not tries or self.late:
                return
            if not any(rest) or self.pricing.forbid(rest, units - 2 * sheets):
                continue
            tries -= 1
            second = single(rest, units - 2 * sheets)
            if not second:
                continue
            used = tuple(min(c, -(-n // sheets)) for c, n in zip(counts, needs))
            first = single(tuple(sheets * c for c in used), 2 * sheets)
            if first:
                yield sheets, first, second

    def _firsts(self, needs: Counts, units: int) -> Iterator[tuple[Counts, int]]:
        """Patterns for the first layout and how many sheets, plain ones first."""
        known = sorted(self.pricing.patterns.whole, key=lambda c: (sum(map(bool, c)), -self.paper.area_of(c), c))
        for counts in chain(known, (c for c in self._group_patterns(needs) if c not in known)):
            useful = [-(-n // c) for n, c in zip(needs, counts) if n and c]
            if useful:
                for sheets in range(min(units // 2 - (units % 2 == 0), max(useful)), 0, -1):
                    yield counts, sheets

    def _group_patterns(self, needs: Counts) -> Iterator[Counts]:
        """What one layout can yield of some of the labels, in the measure in which they are needed."""
        some = [k for k, n in enumerate(needs) if n]
        if not 2 < len(some) <= 5:
            return
        for mask in range(1, 2 ** len(some) - 1):
            group = tuple(n if n and mask >> some.index(k) & 1 else 0 for k, n in enumerate(needs))
            if sum(map(bool, group)) < 2 or self.late:
                continue
            units = self.pricing.least(group)
            sheets = max(1, -(-units // 2))
            if layouts := self.single(group, 2 * sheets):
                yield layouts[0].counts

    def covered(self, needs: Counts, units: int) -> Solution | None:
        """Any number of layouts, from the patterns known."""
        patterns = self.pricing.patterns
        picked = cover(list(patterns.whole), list(patterns.half), needs, units, work=self.work)
        if not picked:
            return None
        return self._realised(picked.whole, picked.half, needs)

    def _realised(self, whole: tuple[tuple[Counts, int], ...], half: Counts | None, needs: Counts) -> Solution | None:
        """Patterns as layouts, with no piece that is not needed."""
        given = [(list(c), 2 * n) for c, n in sorted(whole, key=lambda w: (-w[1], w[0]))]
        if half is not None:
            given.append((list(half), 1))
        for k, need in enumerate(needs):
            spare = sum(c[k] * max(u // 2, 1) for c, u in given) - need
            for counted, units in reversed(given):
                fewer = min(counted[k], max(spare, 0) // max(units // 2, 1))
                counted[k] -= fewer
                spare -= fewer * max(units // 2, 1)
        items = [(tuple(c), u) for c, u in given if any(c)]
        if len(items) > 1 and items[-1][1] == 1:
            *before, (last, _) = items
            for i, (counts, units) in enumerate(before):
                both = tuple(c * (units // 2) + n for c, n in zip(counts, last))
                if layouts := self.single(both, units + 1):
                    others = self._parts(before[:i] + before[i + 1 :])
                    return None if others is None else Solution((Share(layouts[0], units + 1), *others))
        parts = self._parts(items)
        return None if parts is None else Solution(parts)

    def _parts(self, items: Sequence[tuple[Counts, int]]) -> tuple[Share, ...] | None:
        """Counts as parts; None where one of them can't be laid out."""
        parts = [self._part(counts, units) for counts, units in items]
        found = tuple(part for part in parts if part is not None)
        return found if len(found) == len(parts) else None

    def _part(self, counts: Counts, units: int) -> Share | None:
        each = max(units // 2, 1)
        layouts = self.single(tuple(c * each for c in counts), units)
        if not layouts:
            layouts = self._serving(self._known_builds(counts, units), tuple(c * each for c in counts), units)
        return Share(layouts[0], units) if layouts else None

    def _known_builds(self, counts: Counts, units: int) -> Iterator[Build]:
        """Builds of known patterns that yield at least so much."""
        if units > 1:
            for known, build in self.pricing.patterns.whole.items():
                if all(a >= b for a, b in zip(known, counts)):
                    yield build
            return
        for known, (build, way) in self.pricing.patterns.half.items():
            if all(a >= b for a, b in zip(known, counts)):
                w, h = self.paper.halves[way]
                yield Build(
                    self.paper.width,
                    self.paper.height,
                    axis=AXES[way],
                    parts=(Build(w, h, axis=build.axis or "x", parts=build.parts or (build,)),),
                )

    # --- the fewest sheets ------------------------------------------------------------------

    def count(self, needs: Counts, known: int | None = None) -> tuple[int, int]:
        """The fewest half sheets found, and a bound: `fewest` without a choice of layouts.

        Args:
            needs: pieces by kind.
            known: half sheets that are known to do, if any are.
        """
        units = bound = self.pricing.least(needs)
        while not self.late and units != known:
            given, impossible = self._can(needs, units)
            if given:
                return units, bound
            if impossible and bound == units:
                bound = units + 1
            units = max(units + 1, self.pricing.least(needs))
            bound = max(bound, self.pricing.least(needs))
        if units == known:
            return known, min(bound, known)
        picked = self._as_few(needs)
        found = picked[1] if picked else 2 * sum(sheets for _, sheets, _ in self._each_apart(needs))
        return found if known is None else min(found, known), bound

    def _can(self, needs: Counts, units: int) -> tuple[bool, bool]:
        """Whether so many half sheets give a batch, and whether it is proved that they can't."""
        patterns = self.pricing.patterns
        some = [k for k, n in enumerate(needs) if n]
        if len(some) == 1:
            k = some[0]
            given = max(c[k] for c in patterns.whole) * (units // 2) + units % 2 * max((c[k] for c in patterns.half), default=0)
            return given >= needs[k], False
        if cover(list(patterns.whole), list(patterns.half), needs, units, fewest=False, work=self.work):
            return True, False
        # Few sheets: whether plain strips do is sooner seen than proved.
        if units <= PLAIN and self._any_of(self._plain_builds(needs, units), needs, units):
            return True, False
        if self.pricing.rule_out(needs, units):
            return False, True
        picked = self._from_all(needs, units, fewest=False)
        if picked is not None:
            return bool(picked), not picked
        found, impossible = self._at(needs, units)
        return found is not None, impossible

    def number(self, needs: Counts) -> tuple[int, int] | None:
        """How many half sheets `fewest` finds, and its bound, where nobody asks how they are cut; None where the work allowed is not enough."""
        by_area = max(1, -(-2 * self.paper.area_of(needs) // self.paper.area))
        if self._any_of(self._plain_builds(needs, by_area), needs, by_area):
            return None if self.late else (by_area, by_area)
        units = bound = self.pricing.least(needs)
        while True:
            given, impossible = self._whether(needs, units)
            if self.late:
                return None
            if given:
                return units, min(bound, units)
            if not impossible and self._many(needs, units) and (found := self._cheapest(needs)):
                return found.units, bound
            units, bound = self._next(needs, units, bound, impossible)

    def _whether(self, needs: Counts, units: int) -> tuple[bool, bool]:
        """Whether `_at` finds a way, and whether there can be none: what is soon known is asked first."""
        if sum(map(bool, needs)) == 1:
            return bool(self._one_label(needs, units) or self.any_single(needs, units)), False
        if self._known(needs, units) or self._any_of(self._plain_builds(needs, units), needs, units):
            return True, False
        if self.pricing.rule_out(needs, units):
            return False, True
        # Looking for prices has found patterns.
        if self._known(needs, units) or self.any_single(needs, units):
            return True, False
        picked = self._from_all(needs, units)
        if picked is False:
            return False, True
        if picked and self._realised(picked.whole, picked.half, needs):
            return True, False
        return any(self._pairs(needs, units, PAIR_TRIES, self.any_single)) or self._known(needs, units), False

    def _known(self, needs: Counts, units: int) -> bool:
        """Whether the patterns known give a batch: each has a build."""
        patterns = self.pricing.patterns
        return bool(cover(list(patterns.whole), list(patterns.half), needs, units, fewest=False, work=self.work))

    def fewest(self, needs: Counts) -> tuple[int, Solution, int]:
        """The fewest half sheets found, how, and a bound."""
        units = bound = self.pricing.least(needs)
        while True:
            if self.late:
                last = self._cheapest(needs) or self._apart(needs)
                return last.units, last, bound
            found, impossible = self._at(needs, units)
            if found:
                return found.units, found, min(bound, found.units)
            if not impossible and self._many(needs, units):
                if found := self._cheapest(needs):
                    return found.units, found, bound
            units, bound = self._next(needs, units, bound, impossible)

    def _many(self, needs: Counts, units: int) -> bool:
        """Whether step by step would take long."""
        return units > PAIR_UNITS or sum(map(bool, needs)) > MANY

    def _next(self, needs: Counts, units: int, bound: int, impossible: bool) -> tuple[int, int]:
        """The next number of half sheets to try, and the bound."""
        least = self.pricing.least(needs)
        return max(units + 1, least), max(units + 1 if impossible and bound == units else bound, least)

    def _at(self, needs: Counts, units: int) -> tuple[Solution | None, bool]:
        """A way with so many half sheets; or none, and whether there can be none."""
        if layouts := self.single(needs, units):
            return Solution((Share(layouts[0], units),)), False
        if sum(map(bool, needs)) == 1:
            return self._one_label(needs, units), False
        # A few tries first: where they do, the larger machinery need not even be loaded.
        found = self.pair(needs, units, FIRST_TRIES) and self.pair(needs, units)
        if found:
            return found, False
        if self.pricing.rule_out(needs, units):
            return None, True
        picked = self._from_all(needs, units)
        if picked is False:
            return None, True
        found = self.pair(needs, units)
        if not found and picked:
            found = self._realised(picked.whole, picked.half, needs)
        return found or self.covered(needs, units), False

    def _from_all(self, needs: Counts, units: int, fewest: bool = True) -> Cover | Literal[False] | None:
        """A cover from everything that a sheet can yield; None when that is too much to list."""
        whole, half = self._frontiers_of(self.limits or needs)
        if whole is None or units % 2 and half is None:
            return None
        return cover(whole, half or [], needs, units, fewest, work=self.work)

    def least_alike(self, needs: Counts, units: int, known: int) -> int:
        """Fewer layouts than this can't give a batch from so many half sheets; `known` layouts can."""
        if not self.none_alike(needs, units):
            return 1
        if known == 2:
            return 2
        picked = self._from_all(needs, units)
        return max(2, picked.least) if picked else 2

    def _cheapest(self, needs: Counts) -> Solution | None:
        """As few sheets as the patterns known allow."""
        if not (found := self._as_few(needs)):
            return None
        picked, units = found
        return self.covered(needs, units) or self._realised(picked.whole, picked.half, needs)

    def _as_few(self, needs: Counts) -> tuple[Cover, int] | None:
        """Patterns known that give a batch from as few half sheets as they can, and how many these are."""
        patterns = self.pricing.patterns
        picked = cover(list(patterns.whole), list(patterns.half), needs, None, work=self.work)
        return (picked, 2 * sum(n for _, n in picked.whole) + (picked.half is not None)) if picked else None

    def _apart(self, needs: Counts) -> Solution:
        """Every label from sheets of its own: for when there is no work left."""
        parts = []
        for k, sheets, build in self._each_apart(needs):
            alone = tuple(n if j == k else 0 for j, n in enumerate(needs))
            parts.append(Share(self._serving([build], alone, 2 * sheets)[0], 2 * sheets))
        return Solution(tuple(parts))

    def _each_apart(self, needs: Counts) -> Iterator[tuple[int, int, Build]]:
        """Every kind that is needed, with the sheets it takes by itself and how they are cut."""
        for k, n in enumerate(needs):
            if n:
                most, build = max(((c[k], b) for c, b in self.pricing.patterns.whole.items() if c[k]), key=lambda m: m[0])
                yield k, -(-n // most), build

    def _one_label(self, needs: Counts, units: int) -> Solution | None:
        """With one label and no layout for all: the fullest sheets, and another for the last half."""
        patterns = self.pricing.patterns
        whole = max(patterns.whole, key=sum)
        half = max(patterns.half, key=sum, default=None) if units % 2 else None
        kind = next(k for k, n in enumerate(needs) if n)
        ones = max((c for c in patterns.whole if c[kind]), key=lambda c: c[kind], default=whole)
        halves = max((c for c in patterns.half if c[kind]), key=lambda c: c[kind], default=half)
        given = ones[kind] * (units // 2) + (halves[kind] if units % 2 and halves else 0)
        if given < needs[kind]:
            return None
        return self._realised(((ones, units // 2),) if units > 1 else (), halves if units % 2 else None, needs)

    def _frontiers_of(self, needs: Counts) -> tuple[list[Counts] | None, list[Counts] | None]:
        if needs not in self._frontiers:
            whole = frontier(self.pricing.sheet, needs)
            halves = [frontier(half, needs) for half in self.pricing.halves] if whole is not None else []
            listed = [half for half in halves if half is not None]
            every = whole is not None and len(listed) == len(halves)
            self._frontiers[needs] = whole, [c for half in listed for c in half] if every else None
        return self._frontiers[needs]


def _is_new(tried: T, known: set[T]) -> bool:
    """Whether it was not tried before; from now on it was. A tree's hash walks over all of it, and is asked for once."""
    before = len(known)
    known.add(tried)
    return len(known) > before
