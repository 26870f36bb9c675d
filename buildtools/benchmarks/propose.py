"""What proposing costs: `propose.py [--only NAME,…]`.

A line a question: layouts listed, distinct sets of pieces within the ceiling on waste, sets that exact tables decided, how many
are on the fronts of their classes and how many are shown, steps of work, seconds of processor time, seconds until the first
pictures could be drawn, and the memory of the whole process in MB. Every question has one border and one gap and at most
15 % waste. Each runs in a process of its own.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
import time
from fractions import Fraction
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from kitwright.papers import NamedSize, sheet_named  # noqa: E402
from kitwright.proposing.search import propose  # noqa: E402
from kitwright.proposing.wish import CardWish, Stock, Unit, Wish  # noqa: E402
from kitwright.units import parse_length, parse_size  # noqa: E402

A2 = "4-1/4 x 5-1/2"
QUESTIONS: dict[str, dict] = {
    "eighths: two 6 × 6": {"sheet": "6 x 6", "sheets": 2, "card": A2, "cards": 6, "kinds": 5},
    "eighths: three 8 × 8": {"sheet": "8 x 8", "sheets": 3, "card": "5 x 7", "cards": 12},
    "eighths: three 8 × 8 uneven": {"sheet": "8 x 8", "sheets": 3, "card": "5 x 7", "cards": 8},
    "eighths: a 12 × 12": {"sheet": "12 x 12", "sheets": 1, "card": A2, "cards": 7},
    "eighths: any number of cards": {"sheet": "8 x 8", "sheets": 3, "card": A2, "cards": None},
    "eighths: two designs": {"sheet": "12 x 12", "sheets": 2, "card": A2, "cards": 14, "designs": 2},
    "sixteenths: two 6 × 6": {"sheet": "6 x 6", "sheets": 2, "card": A2, "cards": 6, "step": "1/16"},
    "sixteenths: three 8 × 8": {"sheet": "8 x 8", "sheets": 3, "card": "5 x 7", "cards": 9, "step": "1/16"},
    "millimetres: two 152 × 152": {"unit": "mm", "sheet": "152 x 152", "sheets": 2, "card": "105 x 148", "cards": 4},
    "millimetres: two A4 one-way": {"unit": "mm", "sheet": "210 x 297", "sheets": 2, "card": "105 x 148", "cards": 8, "one_way": True},
}
"""Each with a border and a gap of ⅛ in or 3 mm, the pieces on the base itself."""


def wish(sheet: str, sheets: int, card: str, cards: int | None, unit: Unit = "in", step: str = "", one_way: bool = False, **more) -> Wish:
    edge, mark = ("1/8", "1/8") if unit == "in" else ("3", "1")
    stock = Stock("meadow", "Meadow", NamedSize("", parse_size(sheet, unit), "measured"), sheets, one_way)
    front = CardWish(parse_size(card, unit), "side", None, None, sheet_named("Letter"))
    length = parse_length(edge, unit)
    return Wish(unit, parse_length(step or mark, unit), (stock,), cards, (front,), (length,), (length,), waste=Fraction(15, 100), **more)


def measure(name: str) -> None:
    asked, first, start = wish(**QUESTIONS[name]), [], time.process_time()
    answer = propose(asked, told=lambda _: first.append(time.process_time() - start))
    taken = time.process_time() - start
    counted, memory = answer.counted, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    whole = "in part" if answer.stopped else "all" if all(scope.whole for scope in answer.scopes) else "counted"
    figures = [counted.candidates, counted.distinct, counted.tested, counted.front, len(answer.proposals), counted.steps]
    print(
        f"| {name} | {' | '.join(f'{n:,}' for n in figures)} | {taken:.1f} | {min([taken, *first]):.1f} | {memory:.0f} | {whole} |",
        flush=True,
    )


def main(words: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--only", default="", metavar="NAME,…", help="parts of names of questions")
    parser.add_argument("--one", metavar="NAME", help=argparse.SUPPRESS)
    given = parser.parse_args(words)
    if given.one:
        measure(given.one)
        return 0
    print("| question | layouts | distinct | exact tests | front | shown | steps | seconds | first after | MB | looked at |")
    print("| --- | --: | --: | --: | --: | --: | --: | --: | --: | --: | --- |", flush=True)
    for name in QUESTIONS:
        if any(part.strip() in name for part in given.only.split(",")):
            subprocess.run([sys.executable, __file__, "--one", name], check=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
