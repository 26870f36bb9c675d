"""Exact tables of the proposer against the planner: `tables_and_planner.py COUNT [--seed N] [--steps N]`.

Draws sets of pieces that random questions (`tests/questions.py`) choose among, until COUNT of them were asked about: as many as can be
such as the tables say a sheet gives, and such as it doesn't. The planner is asked for so many sheets of what may be used of one as it
thinks the pieces take, with N steps of work (50 million) and a proof. Both may be right or wrong in two ways, so counts are printed of:
both say yes; both say no, and the planner proves it; both say no without a proof; the tables say yes, by a tree that is looked at here,
where the planner's work was not enough; and what neither can be: the tables say no where the planner has a tree (each such set is
told, and the exit status is 1).
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from random import Random

import numpy as np

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent), str(HERE.parents[1] / "tests")]

import kitwright.telling  # noqa: E402, F401 - opens the catalogue, so that errors have words
from kitwright.cutting import tree  # noqa: E402
from kitwright.cutting.batch.paper import Lattice as Paper  # noqa: E402
from kitwright.cutting.batch.search import Search  # noqa: E402
from kitwright.cutting.plan import Demand  # noqa: E402
from kitwright.cutting.solver.work import Work  # noqa: E402
from kitwright.cutting.stock import misfits  # noqa: E402
from kitwright.errors import UserError  # noqa: E402
from kitwright.kit.read import read_club  # noqa: E402
from kitwright.proposing.asked import read_question  # noqa: E402
from kitwright.proposing.dealing import asked_of  # noqa: E402
from kitwright.proposing.lattice import Lattice  # noqa: E402
from kitwright.proposing.pool import kinds_in, sizes_in  # noqa: E402
from kitwright.proposing.search import Proposing  # noqa: E402
from kitwright.proposing.tables import ExactTables, cost  # noqa: E402
from kitwright.proposing.traced import Cuttable, Tracer, to_tree  # noqa: E402
from making import CLUB  # noqa: E402
from questions import question  # noqa: E402

EACH = 24
"""Sets of one question, half of each sort."""
SAID = 200
"""After so many it says how things stand, for whoever ends it sooner."""
LISTED = 30_000
"""Steps of work for a question: its sets are wanted, not its answer."""
DEAR = 400_000
"""Steps of work that the tables of one set may take; more is left out here."""
LABELS = "ABCDE"


@dataclass(frozen=True)
class Asked:
    """Whether a sheet gives some pieces."""

    lattice: Lattice
    across: int
    """Steps of the sheet that may be used."""
    down: int
    sizes: tuple[tuple[int, int], ...]
    counts: tuple[int, ...]
    turns: bool

    def by_tables(self) -> bool:
        """What the tables say; where that is yes, after a look at the cuts."""
        tables = ExactTables(self.across, self.down, np.array([self.sizes]), self.counts, self.turns)
        if not tables.fits(self.across, self.down)[0]:
            return False
        sheet = self.lattice.size(self.across, self.down)
        trace = Tracer(tables, 0).trace(self.counts, self.across, self.down, (False, False), (self.across, self.down))
        node = to_tree(trace.taken, sheet, self.lattice, tuple(Cuttable(LABELS[i]) for i in range(len(self.sizes))))
        demand = self.demand
        wrong = tree.faults(node, sheet, demand.sizes, frozenset() if self.turns else frozenset(demand.sizes))
        assert not wrong and tree.yields(node) == dict(demand.needs), f"no such cuts: {self}"
        return True

    @property
    def demand(self) -> Demand:
        sizes = {LABELS[i]: self.lattice.size(*size) for i, size in enumerate(self.sizes)}
        needs = {LABELS[i]: n for i, n in enumerate(self.counts)}
        return Demand("paper", self.lattice.size(self.across, self.down), needs, sizes, {} if self.turns else dict.fromkeys(sizes, False))

    def by_planner(self, steps: int) -> bool | None:
        """What the planner proves; None where it can't in so many steps."""
        demand = self.demand
        if misfits(demand):
            return False
        paper = Paper.of(demand.sheet, demand.sizes, demand.lies, demand.needs)
        units, _, bound = Search(paper, Work(steps)).fewest(self.counts)
        # In half sheets.
        return True if units <= 2 else False if bound > 2 else None


def sets_of(typed: dict, club, random: Random) -> Iterator[tuple[Asked, bool]]:
    """Some of the sets that a question chooses among, and what the tables say of each: half of them such as a sheet gives, if there are."""
    try:
        wish = read_question(typed, club)
    except UserError:
        return
    search = Proposing(wish, Work(LISTED), None, None)
    search.run()
    desk, choices = search.desk, search.choices
    found: dict[bool, list[Asked]] = {True: [], False: []}
    shapes = list(choices.shapes()) if choices and desk.shares else []
    random.shuffle(shapes)
    for kinds, sets in shapes:
        for one in asked_of(kinds, random.choice(desk.shares), desk.groups, wish.sharing):
            room = desk.usable[one.group][0]
            counts = tuple(one.sheet)
            if one.none or not all(counts) or len(counts) > len(LABELS) or min(room) < 1 or cost(*room, counts, 1) > DEAR:
                continue
            for number in random.sample(sets.tolist(), min(4, len(sets))):
                sizes = sizes_in(choices.sets[[number]], len(kinds_in(choices.sets[number].tolist())))[0]
                if len(sizes) != len(counts):
                    continue
                asked = Asked(desk.lattice, *room, tuple((int(w), int(h)) for w, h in sizes), counts, not desk.groups[one.group].one_way)
                area = sum(w * h * n for (w, h), n in zip(asked.sizes, counts))
                # Beyond half of the sheet, and not beyond all of it: the others tell little.
                if Fraction(1, 2) * room[0] * room[1] <= area <= room[0] * room[1]:
                    found[asked.by_tables()].append(asked)
        if min(map(len, found.values())) >= EACH // 2:
            break
    for fits, some in found.items():
        yield from ((asked, fits) for asked in some[: EACH // 2])


def main(words: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("count", type=int, metavar="COUNT", help="how many sets of pieces")
    parser.add_argument("--seed", type=int, default=0, metavar="N")
    parser.add_argument("--steps", type=int, default=50_000_000, metavar="N", help="work of the planner for each")
    given = parser.parse_args(words)
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "club.yaml").write_text(CLUB, encoding="utf-8")
        club = read_club(Path(folder))
    random, counts, spent, questions = Random(given.seed), Counter[str](), [0.0, 0.0], 0
    while counts.total() < given.count:
        questions += 1
        start = time.process_time()
        some = list(sets_of(question(lambda choices: random.choice(list(choices))), club, random))
        spent[0] += time.process_time() - start
        for asked, tables in some[: given.count - counts.total()]:
            start = time.process_time()
            planner = asked.by_planner(given.steps)
            spent[1] += time.process_time() - start
            counts[f"tables {'yes' if tables else 'no'}, planner {({True: 'yes', False: 'no, proved', None: 'not proved'})[planner]}"] += 1
            if planner is not None and planner != tables:
                print(f"not of one mind: {asked}", flush=True)
            if counts.total() % SAID == 0:
                print(f"so far {', '.join(f'{what}: {n:,}' for what, n in sorted(counts.items()))}", flush=True)
    wrong = counts["tables no, planner yes"] + counts["tables yes, planner no, proved"]
    print(
        f"{counts.total():,} sets of {questions:,} questions, {spent[0]:.0f} s to list them and ask the tables, {spent[1]:.0f} s to ask the planner"
    )
    for what, n in sorted(counts.items()):
        print(f"  {what}: {n:,}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
