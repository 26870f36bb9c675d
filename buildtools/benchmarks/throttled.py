"""The same plans on a slow machine: `throttled.py [--share 0.1] [--cards N,N…] [KIT]…`.

Plans every paper of the kits for several sizes of batch in two processes of its own: one left
alone; one that is stopped and let go again so often that it has that share of a processor,
with another order of sets (PYTHONHASHSEED). Prints a line per plan: kit, paper, cards, sheets,
and `same` or `OTHER`. The exit status is 1 when any differs.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import signal
import subprocess
import sys
import time
from fractions import Fraction
from functools import partial
from pathlib import Path

from kitwright.cutting.auto import plan_paper
from kitwright.cutting.batch.table import sheets_table
from kitwright.cutting.plan import Demand, PaperPlan
from kitwright.cutting.stock import for_cards
from kitwright.kit.kit import Kit
from kitwright.kit.read import read_club, read_kit
from kitwright.work.working import work

KITS = Path(__file__).resolve().parents[2] / "kits"
TURN = 0.1
"""Seconds of one round of running and resting."""


def plans(names: list[str], cards: list[int], table: int) -> None:
    """Print every plan: the child's part."""
    club = read_club(KITS)
    kits = [work(kit) for name in names if isinstance(kit := read_kit(KITS / name, club), Kit)]
    print("ready", flush=True)
    for worked in kits:
        for plan in worked.plans:
            for n in cards:
                made = plan_paper(for_cards(plan.demand, n, worked.kit.spec.cards), "paper")
                digest = hashlib.sha256(repr(made).encode()).hexdigest()[:12]
                print(worked.kit.id, plan.paper, n, made.sheets, digest, flush=True)
            if table:
                rows = sheets_table(partial(_demand, plan, worked.kit.spec.cards), table)
                print(worked.kit.id, plan.paper, f"1-{table}", hashlib.sha256(repr(rows).encode()).hexdigest()[:12], flush=True)


def _demand(plan: PaperPlan, cards: int, n: int) -> Demand:
    """What a paper has to give for so many cards."""
    return for_cards(plan.demand, n, cards)


def child(names: list[str], cards: list[int], table: int, share: Fraction | float, seed: int) -> list[str]:
    """The lines of a child that has this share of a processor."""
    asked = [sys.executable, __file__, "--child", "--cards", ",".join(map(str, cards)), "--table", str(table), *names]
    process = subprocess.Popen(asked, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONHASHSEED": str(seed)})
    first = process.stdout.readline()
    while share < 1 and first and process.poll() is None:
        process.send_signal(signal.SIGSTOP)
        time.sleep(TURN * float(1 - share))
        process.send_signal(signal.SIGCONT)
        time.sleep(TURN * float(share))
    lines = process.stdout.read().splitlines()
    if process.wait():
        raise SystemExit(f"a child ended with status {process.returncode}")
    return lines


def main(arguments: list[str] | None = None) -> int:
    """Run from the command line; returns the exit status."""
    parser = argparse.ArgumentParser(description="The same plans on a slow machine.")
    parser.add_argument("kits", nargs="*", metavar="KIT")
    parser.add_argument("--share", type=float, default=0.1, help="of a processor for the slow one")
    parser.add_argument("--cards", default="10,60,137", help="sizes of batch")
    parser.add_argument("--table", type=int, default=60, help="and a table of batches up to so many cards; 0 for none")
    parser.add_argument("--child", action="store_true", help=argparse.SUPPRESS)
    options = parser.parse_args(arguments)
    names = options.kits or sorted(f.name for f in KITS.iterdir() if (f / "kit.yaml").is_file())
    asked = names, [int(n) for n in options.cards.split(",")], options.table
    if options.child:
        plans(*asked)
        return 0
    quick, slow = child(*asked, 1, 0), child(*asked, options.share, 1)
    for one, other in zip(quick, slow, strict=True):
        print(*one.split()[:-1], "same" if one == other else "OTHER", flush=True)
    return int(quick != slow)


if __name__ == "__main__":
    sys.exit(main())
