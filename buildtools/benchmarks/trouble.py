"""Break kits and kill commands: `trouble.py [--minutes N]`.

Prints `name tries failed` a line: what was tried, how often, and how many tries ended in a
traceback, a hang, too much memory, a write outside, a half state or a leak. What failed is
told on stderr, with the seed that does it again. Without `--minutes` it makes the counts
below once; with it, it goes on for so long.
"""

from __future__ import annotations

import argparse
import gc
import itertools
import json
import os
import shutil
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

HERE = Path(__file__).resolve().parent
TESTS = HERE.parents[1] / "tests"
sys.path[:0] = [str(HERE), str(HERE.parent), str(TESTS)]

from file_faults import remembered  # noqa: E402
from ground import Ground, Result  # noqa: E402
from trials import TRIALS  # noqa: E402

SHARES = {"mutants": 10_000, "kills": 500, "pictures": 3_000, "disks": 200}
"""Tries of each kind in one whole run, and their shares in one that goes by the minute."""


def items(minutes: float | None, counts: dict[str, int]) -> Iterator[tuple[str, int]]:
    """Kinds and numbers of tries, mixed so that every kind has its share at any moment."""
    whole, done = max(counts.values()), Counter()
    for turn in itertools.count(1):
        for kind, count in counts.items():
            while done[kind] * whole < turn * count and (minutes is not None or done[kind] < count):
                yield kind, done[kind]
                done[kind] += 1
        if minutes is None and all(done[kind] >= count for kind, count in counts.items()):
            return


def work(number: int, jobs: int, options: argparse.Namespace, counts: dict[str, int], told: int) -> None:
    """What one process does: every `jobs`-th try; a result a line into `told`."""
    end = time.monotonic() + options.minutes * 60 if options.minutes is not None else None
    home, stack = Path(tempfile.mkdtemp(prefix="trouble-")), ExitStack()
    try:
        ground = Ground(home)
        stack.enter_context(remembered())
        # What is loaded is shared with every child, and no collector need look at it again.
        gc.freeze()
        for at, (kind, index) in enumerate(items(options.minutes, counts)):
            if end is not None and time.monotonic() >= end:
                break
            if at % jobs == number:
                for result in TRIALS[kind](ground, f"{options.seed}-{kind}-{index}"):
                    os.write(told, (json.dumps(result.as_data()) + "\n").encode())
    finally:
        shutil.rmtree(home, ignore_errors=True)


def main(arguments: list[str] | None = None) -> int:
    """Run from the command line; returns the exit status: 1 where anything failed."""
    parser = argparse.ArgumentParser(description="Break kits and kill commands, and see that nothing is lost.")
    parser.add_argument("--minutes", type=float, help="go on for so long, instead of one whole run")
    parser.add_argument("--seed", default="1", help="another seed breaks otherwise")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, help="processes side by side")
    parser.add_argument("--only", action="append", choices=list(SHARES), help="only tries of this kind")
    parser.add_argument("--tries", type=int, help="so many tries of each kind, instead of a whole run")
    parser.add_argument("--again", metavar="SEED", help="do one try again by the seed that was told, and say all it printed")
    options = parser.parse_args(arguments)
    if options.again:
        return again(options.again)
    counts = {kind: options.tries or count for kind, count in SHARES.items() if not options.only or kind in options.only}
    tries, failed = Counter(), Counter()
    reading, writing = os.pipe()
    children = []
    for number in range(options.jobs):
        child = os.fork()
        if child == 0:
            os.close(reading)
            work(number, options.jobs, options, counts, writing)
            os._exit(0)
        children.append(child)
    os.close(writing)
    with os.fdopen(reading, encoding="utf-8") as results:
        for line in results:
            result = Result.from_data(json.loads(line))
            tries[result.kind] += 1
            if result.faults:
                failed[result.kind] += 1
                print(f"{result.kind}: {result.name}: {'; '.join(result.faults)}", file=sys.stderr, flush=True)
    broken = [child for child in children if os.waitpid(child, 0)[1]]
    for name in tries:
        print(name, tries[name], failed[name], flush=True)
    if broken:
        print(f"{len(broken)} of the processes ended early", file=sys.stderr)
    return 1 if broken or failed else 0


def again(seed: str) -> int:
    """One try, by the seed that was told."""
    home = Path(tempfile.mkdtemp(prefix="trouble-"))
    try:
        kind = seed.split("-")[-2]
        failed = False
        with remembered():
            for result in TRIALS[kind](Ground(home), seed):
                failed |= bool(result.faults)
                print(result.kind, result.name, result.faults or "well", result.output, sep="\n")
        return int(failed)
    finally:
        shutil.rmtree(home, ignore_errors=True)


if __name__ == "__main__":
    sys.exit(main())
