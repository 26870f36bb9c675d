"""Random small questions of every sort against all their layouts listed anew: `layouts_listed.py [--times N] [--seed N] [SORT]…`.

The lists and every way to cut are those of the tests (`tests/every_layout.py`). Each sort is asked about N times (20, if nothing is
said); a question with more than `MOST` sets of pieces is left out, since every way to cut them would take long. Prints for each sort how
many questions, sets within their ceilings, sets that come out, sets on the fronts of their classes, and seconds of processor time of
the search and of the list; before that a line for each question of which the two are not of one mind. Exit status 1 where there are such.
"""

from __future__ import annotations

import argparse
import sys
import time
from fractions import Fraction
from pathlib import Path
from random import Random

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parent), str(HERE.parents[1] / "tests")]

from every_layout import SORTS  # noqa: E402
from small_questions import Small, decided, differences, every, small  # noqa: E402

MOST = 500


def asked(random: Random, sort: str) -> Small:
    """A front of 3 to 7 in, in halves or quarters, on sheets that its cards fill to between two thirds and more than there is."""
    fine = random.random() < 0.4

    def half_inches(low: int, high: int) -> Fraction:
        return Fraction(random.randint(2 * low, 2 * high), 2)

    width, height = (half_inches(3, 5), half_inches(3, 5)) if fine else (half_inches(4, 7), half_inches(4, 7))
    if sort == "gate doors":
        width = 2 * half_inches(2, 3)
    border = random.choice(["1/4", "1/2", "0"] if fine else ["1/2", "0"])
    cards, sheets = random.choice([(1, 1), (1, 1), (1, 1), (2, 2)] if fine else [(1, 1), (1, 1), (2, 1), (2, 2)])
    area = (width - 2 * Fraction(border)) * (height - 2 * Fraction(border)) * cards / sheets * random.uniform(0.6, 1.3)
    if sort == "band across":
        area *= 1.25  # what lies over the others comes out of the sheets as well
    across = Fraction(round(8 * max(2, area**0.5 * random.uniform(0.7, 1.3))), 8)
    down = Fraction(round(8 * max(2, area / across)), 8)
    more = {"step": "1/4" if fine else "1/2", "border": border, "gap": random.choice(["0", "1/4"] if fine else ["0", "1/2"])}
    if random.random() < 0.3:
        more["band"] = random.choice(["1", "1-1/2"])
    if random.random() < 0.3:
        more["slack"] = random.choice(["0", "1/4", "1/2"])
    kinds, waste = random.choice([1, 2, 3, 3, 4]), Fraction(random.randint(20, 60), 100)
    sheet, card = f"{float(across)} x {float(down)}", f"{float(width)} x {float(height)}"
    return small(sort, sheet, card, cards, sheets, random.random() < 0.25, kinds=kinds, waste=waste, **more)


def typed(about: str | None, times: int, words: list[str] | None) -> argparse.Namespace:
    """What is typed after a benchmark of random small questions: how many of each sort, which, from which seed."""
    parser = argparse.ArgumentParser(description=(about or "").splitlines()[0])
    parser.add_argument("--times", type=int, default=times, metavar="N", help="questions of each sort")
    parser.add_argument("--seed", type=int, default=0, metavar="N")
    parser.add_argument("sorts", nargs="*", metavar="SORT", help="all, where none is named")
    return parser.parse_args(words)


def main(words: list[str] | None = None) -> int:
    given = typed(__doc__, 20, words)
    random, differ = Random(given.seed), 0
    print("| sort | questions | sets | come out | on fronts | search, s | list, s |\n| --- | --: | --: | --: | --: | --: | --: |")
    for sort in given.sorts or SORTS:
        counts, spent = [0, 0, 0, 0], [0.0, 0.0]
        for number in range(given.times):
            question, start = asked(random, sort), time.process_time()
            theirs = decided(question)
            searched = time.process_time()
            if len(theirs.levels) > MOST:
                continue
            mine = every(question)
            listed = time.process_time()
            for line in differences(mine, theirs):
                differ += 1
                print(f"{sort} {number}: {line}", flush=True)
            counts = [a + b for a, b in zip(counts, (1, len(mine), len(theirs.grades), len(theirs.front)))]
            spent = [spent[0] + searched - start, spent[1] + listed - searched]
        print(f"| {sort} | {' | '.join(f'{n:,}' for n in counts)} | {spent[0]:.1f} | {spent[1]:.1f} |", flush=True)
    return 1 if differ else 0


if __name__ == "__main__":
    sys.exit(main())
