"""The long run of the tests' properties: `properties.py [--examples TIMES] [--seed N] [FILE]…`.

The suite tries each property (`@given`) a few times, always with the same examples where CI is set. Here
each is tried TIMES as often (10, if nothing is said), with others at every run, or those of a seed; FILE
is a file or folder of tests. Prints what pytest prints: a property that fails, with the smallest example
that does, and the seed. The exit status is pytest's.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def main(words: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--examples", default="10", metavar="TIMES", help="how many times the suite's own number")
    parser.add_argument("--seed", type=int, help="for the very examples of an earlier run")
    parser.add_argument("files", nargs="*", default=["tests"], metavar="FILE")
    given = parser.parse_args(words)
    env = {name: value for name, value in os.environ.items() if name != "CI"} | {"KITWRIGHT_EXAMPLES": given.examples}
    seed = [] if given.seed is None else [f"--hypothesis-seed={given.seed}"]
    command = [sys.executable, "-m", "pytest", "-n", "2", "--dist", "worksteal", "-m", "hypothesis", *seed, *given.files]
    return subprocess.run(command, cwd=ROOT, env=env).returncode


if __name__ == "__main__":
    sys.exit(main())
