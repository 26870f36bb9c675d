"""Random small questions of every sort, face and cuts as one problem for OR-Tools CP-SAT: `outright.py [--times N] [--seed N] [SORT]…`.

The model is that of the tests (`tests/outright.py`), the questions those of `layouts_listed.py`. Each sort is asked about N times (5, if
nothing is said); a question with more than `MOST` sets of pieces or on a sheet of more than `LARGE` steps is left out. Prints for each sort how many
questions, classes at a level of slack, and those of which something comes out, with seconds of processor time; before that a line for
each of which the two are not of one mind. Exit status 1 where there are such.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from random import Random

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent), str(HERE.parents[1] / "tests")]

from every_layout import SORTS, wanted  # noqa: E402
from layouts_listed import asked, typed  # noqa: E402
from outright import compared, listed  # noqa: E402
from small_questions import fronts_of  # noqa: E402

MOST, LARGE = 120, 130


def main(words: list[str] | None = None) -> int:
    given = typed(__doc__, 5, words)
    random, differ = Random(given.seed), 0
    print("| sort | questions | classes and levels | come out | s |\n| --- | --: | --: | --: | --: |")
    for sort in given.sorts or SORTS:
        counts, start = [0, 0, 0], time.process_time()
        while counts[0] < given.times:
            question = asked(random, sort)
            (size,) = {stock.sheet.size for stock in question.wish.stocks}
            sets = set().union(*(wanted(of, sort) for of in fronts_of(question.wish)))
            if not 0 < len(sets) <= MOST or size.area > LARGE * question.wish.step.inches**2:
                continue
            counts[0] += 1
            for mine, theirs in compared(listed(sort), question):
                differ += mine != theirs
                counts[1:] = counts[1] + 1, counts[2] + (mine is not None)
                if mine != theirs:
                    print(f"{sort} {counts[0]}: uses {mine}, and {theirs} by the solver", flush=True)
        print(f"| {sort} | {' | '.join(f'{n:,}' for n in counts)} | {time.process_time() - start:.1f} |", flush=True)
    return 1 if differ else 0


if __name__ == "__main__":
    sys.exit(main())
