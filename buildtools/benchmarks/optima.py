"""Time the one-sheet solver on instance files: `optima.py FILE… [--turn] [--limited] [--steps N]`.

A file holds whole numbers, separated by blanks and line ends: how many kinds of piece; the
length and width of the sheet; then length, width and value of each kind, with `--limited`
length, width, limit and value. Prints a line per file: name, value, bound and seconds, and
`not proved` where the work allowed was done first.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

from kitwright.errors import Place
from onesheet import LONGEST_SIDE, PieceKind, solve


class BadInstance(Exception):
    """An instance file can't be read, or does not hold what it should."""

    def __init__(self, problem: str, remedy: str, place: Place) -> None:
        super().__init__(f"{place}: {problem}\n  {remedy}")


def read(path: Path, turn: bool = False, limited: bool = False) -> tuple[int, int, list[PieceKind]]:
    """The sheet's length and width, and the kinds of piece.

    Raises:
        BadInstance: the file can't be read, or does not hold what it should.
    """
    try:
        lines = path.read_text(encoding="utf-8").splitlines()
    except OSError as error:
        raise BadInstance(f"can't be read: {error.strerror}", "name an instance file", Place(path)) from error
    except UnicodeDecodeError as error:
        raise BadInstance("is not plain text", "name an instance file", Place(path)) from error
    numbers = [(_number(word, Place(path, line)), line) for line, text in enumerate(lines, 1) for word in text.split()]
    what = ("length", "width", "limit", "value") if limited else ("length", "width", "value")
    order = f"give the number of kinds, the sheet's length and width, then {', '.join(what)} of each"
    count, line = numbers[0] if numbers else (0, None)
    if count < 1:
        raise BadInstance("there is no kind of piece", order, Place(path, line))
    expected = 3 + len(what) * count
    if len(numbers) != expected:
        raise BadInstance(
            f"{count} kinds of piece need {expected} numbers, and here are {len(numbers)}",
            order,
            Place(path, numbers[min(len(numbers), expected) - 1][1]),
        )
    for value, line in numbers[1:3]:
        _at_least(1, value, "a side of the sheet", Place(path, line))
        if value > LONGEST_SIDE:
            raise BadInstance(f"a side of {value} is too long", f"at most {LONGEST_SIDE}", Place(path, line))
    kinds = []
    for start in range(3, expected, len(what)):
        row = dict(zip(what, numbers[start : start + len(what)]))
        for name, (value, line) in row.items():
            _at_least(1 if name in ("length", "width") else 0, value, f"the {name} of a piece", Place(path, line))
        limit = row["limit"][0] if limited else None
        kinds.append(PieceKind(row["length"][0], row["width"][0], row["value"][0], limit, turn))
    return numbers[1][0], numbers[2][0], kinds


def _number(word: str, place: Place) -> int:
    if word.isascii() and word.removeprefix("-").isdigit() and len(word) <= 18:
        return int(word)
    raise BadInstance(f"“{word[:20]}” is not a whole number of at most 18 digits", "use whole numbers only", place)


def _at_least(least: int, value: int, what: str, place: Place) -> None:
    if value < least:
        raise BadInstance(f"{what} is {value}", f"it is at least {least}", place)


def main(arguments: list[str] | None = None) -> int:
    """Run from the command line; returns the exit status."""
    parser = argparse.ArgumentParser(description="Time the one-sheet solver on instance files.")
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
    parser.add_argument("--turn", action="store_true", help="pieces may turn by 90°")
    parser.add_argument("--limited", action="store_true", help="a limit stands before each value")
    parser.add_argument("--steps", type=_steps, metavar="N", help="at most so much work for each file")
    options = parser.parse_args(arguments)
    try:
        for path, sheet in [(path, read(path, options.turn, options.limited)) for path in options.files]:
            start = time.perf_counter()
            answer = solve(*sheet, steps=options.steps)
            spent = time.perf_counter() - start
            print(path.stem, answer.value, answer.bound, f"{spent:.3f}", *([] if answer.proved else ["not proved"]), flush=True)
    except BadInstance as error:
        print(error, file=sys.stderr)
        return 2
    return 0


def _steps(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 0 < int(text[:19]) < 10**18):
        raise argparse.ArgumentTypeError(f"“{text}” is not a whole number of steps above 0")
    return int(text)


if __name__ == "__main__":
    sys.exit(main())
