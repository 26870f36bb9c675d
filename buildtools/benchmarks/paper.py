"""How large the finder's tables grow, and how soon "From your paper" answers.

    paper.py SITE [--kits 24,240,1200] [--seed N] [--slower 4]

SITE is a built site; its kits are varied until there are as many as asked for: the patterned papers
of each are one kit's, all else another's. Prints a line each, `name kits value unit`: bytes of the
tables, raw and packed; from the page's address to its first answer; and from a changed field to
painted results in Chromium slowed down so many times, for questions of several kinds: by the clock,
and as the page's own processor time, its layout and all. Works on a copy in a temporary folder.
"""

from __future__ import annotations

import argparse
import gzip
import json
import random
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from typing import Any
from urllib.parse import quote

import chromium
from kitwright.archive.finder_tables import TABLES
from playwright.sync_api import Page, sync_playwright

ASKED = {
    "one sheet": ["2,patterned,,12 × 12 in"],
    "one-way": ["1,patterned,one-way,12 × 12 in"],
    "too little": ["1,patterned,,6 × 6 in"],
    "a drawer full": [
        "3,patterned,,6 × 6 in",
        "2,patterned,one-way,=7 x 10 1/4 in",
        "2,patterned,,12 × 12 in",
        "6,cardstock,,Letter",
        "3,cardstock,,A4",
    ],
    "scraps": [f"1,patterned,,={4 + n} x {9 - n} in" for n in range(6)],
}
"""Her sheets, as they stand in the address."""
TIMED = """async n => {
    const cards = document.querySelector('[name=cards]'), began = performance.now()
    cards.value = n
    cards.dispatchEvent(new Event('input', {bubbles: true}))
    await new Promise(next => requestAnimationFrame(() => setTimeout(next)))
    return performance.now() - began
}"""
CARDS = (20, 7, 12, 33)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("site", type=Path)
    asked.add_argument("--kits", default="24,240,1200")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--slower", type=float, default=4)
    asked.add_argument("--browser", default=chromium.found())
    given = asked.parse_args()
    head, kits = read(given.site / TABLES)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        shutil.copytree(given.site, site, ignore=lambda at, names: [name for name in names if name == "kits"])
        page = playwright.chromium.launch(executable_path=given.browser, args=chromium.ARGUMENTS).new_page(
            viewport={"width": 390, "height": 844}
        )
        page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": given.slower})
        for n in map(int, given.kits.split(",")):
            data = f"kwTables({json.dumps({**head, 'kits': list(varied(kits, n, given.seed))}, ensure_ascii=False, separators=(',', ':'))})\n".encode()
            (site / TABLES).write_bytes(data)
            told("tables", n, len(data) / 1000, "kB")
            told("tables packed", n, len(gzip.compress(data, 6)) / 1000, "kB")
            measure(page, (site / "paper.html").as_uri(), n)


def told(name: str, kits: int, value: float, unit: str) -> None:
    print(f"{name:32} {kits:5} {value:8.1f} {unit}", flush=True)


def read(file: Path) -> tuple[dict[str, Any], list[list[Any]]]:
    data = json.loads(file.read_text(encoding="utf-8").removeprefix("kwTables(").removesuffix(")\n"))
    kits = data.pop("kits")
    return data, kits


def varied(kits: list[list[Any]], n: int, seed: int) -> Iterator[list[Any]]:
    chance = random.Random(seed)
    for i in range(n):
        if i < len(kits):
            yield kits[i]
            continue
        one, other = chance.choice(kits), chance.choice(kits)
        groups = [group for group in one[-1] if group[0] == "patterned"] + [group for group in other[-1] if group[0] != "patterned"]
        yield [f"{one[0]}-{i}", f"{one[1]} {i}", *other[2:8], *one[8:-1], groups]


def measure(page: Page, address: str, n: int) -> None:
    page.goto(address)
    page.wait_for_selector(".kw-found__kit")
    told("first answer after loading", n, page.evaluate("performance.now()"), "ms")
    counter = page.context.new_cdp_session(page)
    counter.send("Performance.enable", {"timeDomain": "threadTicks"})

    def spent() -> float:
        return next(one["value"] for one in counter.send("Performance.getMetrics")["metrics"] if one["name"] == "TaskDuration") * 1000

    every = []
    for name, sheets in ASKED.items():
        page.goto("about:blank")
        page.goto(address + "#" + "&".join(f"sheets={quote(one)}" for one in sheets) + "&cards=10")
        page.wait_for_function("document.querySelector('.kw-found__says').textContent.trim()")
        for cards in CARDS:
            before = spent()
            clock = page.evaluate(TIMED, cards)
            every.append((name, spent() - before, clock))
        mine = [one for one in every if one[0] == name]
        told(f"{name}: processor", n, median(own for _, own, _ in mine), "ms")
        told(f"{name}: clock", n, median(clock for *_, clock in mine), "ms")
    told("worst: processor", n, max(own for _, own, _ in every), "ms")
    told("worst: clock", n, max(clock for *_, clock in every), "ms")


if __name__ == "__main__":
    main()
