"""How long it takes until a command answers: `starting.py [--times N] [KIT]`.

Prints `name seconds` a line, the best of N: an interpreter that does nothing, importing kitwright
and its library face, `kitwright --help`, the help of a command, and `check`, `show` and `calendar`.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import time
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]


def best(times: int, *words: str) -> float:
    """Seconds by the clock that a new interpreter takes, at best."""
    environment = {**os.environ, "PYTHONPATH": str(TOP / "buildtools"), "PYTHONDONTWRITEBYTECODE": ""}
    taken = []
    for _ in range(times):
        started = time.perf_counter()
        subprocess.run(
            [sys.executable, *words], cwd=TOP, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False
        )
        taken.append(time.perf_counter() - started)
    return min(taken)


def main(arguments: list[str] | None = None) -> int:
    """Run from the command line; returns the exit status."""
    parser = argparse.ArgumentParser(description="How long it takes until a command answers.")
    parser.add_argument("kit", nargs="?", default="2026-06-street-party", metavar="KIT")
    parser.add_argument("--times", type=int, default=5, help="the best of so many counts")
    options = parser.parse_args(arguments)
    command = ("-m", "kitwright")
    for name, words in {
        "python": ("-c", "pass"),
        "import kitwright": ("-c", "import kitwright"),
        "import kitwright.api": ("-c", "import kitwright.api"),
        "--help": (*command, "--help"),
        "check --help": (*command, "check", "--help"),
        "calendar": (*command, "calendar"),
        "show KIT": (*command, "show", options.kit),
        "check KIT": (*command, "check", options.kit),
    }.items():
        print(name, f"{best(options.times, *words):.2f}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
