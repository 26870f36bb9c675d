"""How soon the page of all kits answers in a real browser.

    facets.py SITE [--kits 24,240,1200] [--seed N] [--slower 4] [--times N]

SITE is a built site; its kits are varied until there are as many as asked for: each takes some of its
values from other kits. Prints a line each, `name kits value unit`: bytes of what the page's script
loads, raw and packed; from a press on a value, another sorting, or the other view to the painted list in
Chromium slowed down so many times, median and worst, by the clock and as the page's own processor
time. Works on a copy in a temporary folder.
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

import chromium
from kitwright.archive.facets import FACTS_FILE

CALL = "kwFacts("
PRESS = """index => new Promise(done => {
    const all = [...document.querySelectorAll(".kw-value:not([aria-disabled]), [data-view]")]
    const button = all[index % all.length], began = performance.now()
    button.click()
    const painted = () => requestAnimationFrame(() => setTimeout(() => done(performance.now() - began)))
    Promise.resolve().then(painted)
})"""
SORT = """name => new Promise(done => {
    const select = document.querySelector(".kw-all__sort select"), began = performance.now()
    select.value = name
    select.dispatchEvent(new Event("change"))
    Promise.resolve().then(() => requestAnimationFrame(() => setTimeout(() => done(performance.now() - began))))
})"""


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("site", type=Path)
    asked.add_argument("--kits", default="24,240,1200")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--slower", type=float, default=4)
    asked.add_argument("--times", type=int, default=60)
    given = asked.parse_args()
    data = json.loads((given.site / FACTS_FILE).read_text(encoding="utf-8").strip().removeprefix(CALL).removesuffix(")"))
    for many in map(int, given.kits.split(",")):
        chance = random.Random(given.seed)
        with tempfile.TemporaryDirectory() as folder:
            site = Path(folder) / "site"
            shutil.copytree(given.site, site, copy_function=_linked)
            text = f"{CALL}{json.dumps({**data, 'kits': list(varied(data['kits'], many, chance))}, ensure_ascii=False, separators=(',', ':'))})\n"
            (site / FACTS_FILE).unlink()
            (site / FACTS_FILE).write_text(text, encoding="utf-8")
            print(f"facts {many} {len(text.encode())} bytes\nfacts-packed {many} {len(gzip.compress(text.encode(), mtime=0))} bytes")
            for name, value in answered(site, given.slower, given.times, chance):
                print(f"{name} {many} {value} ms", flush=True)


def _linked(source: str, target: str) -> None:
    Path(target).symlink_to(Path(source).resolve())


def varied(kits: list[list], many: int, chance: random.Random) -> Iterator[list]:
    """Kits made of those, each with values of another besides, and ranks of a third."""
    for n in range(many):
        kit, other, third = kits[n % len(kits)], chance.choice(kits), chance.choice(kits)
        mixed = {value if chance.random() < 0.7 else chance.choice(other[-1] or "Ā") for value in kit[-1]}
        yield [f"{kit[0]}-{n}", f"{kit[1]} {n}", *kit[2:-2], third[-2], "".join(sorted(mixed))]


def answered(site: Path, slower: float, times: int, chance: random.Random) -> Iterator[tuple[str, int]]:
    """From a press to the painted list, from a folder on disk."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium.found(), args=chromium.ARGUMENTS)
        page = browser.new_page(viewport={"width": 390, "height": 844})
        page.goto((site / "archive.html").as_uri())
        page.locator(".kw-all__sort select").select_option("oldest")
        page.wait_for_selector(".kw-all__found .kw-card")
        tools = page.context.new_cdp_session(page)
        tools.send("Performance.enable", {"timeDomain": "threadTicks"})
        tools.send("Emulation.setCPUThrottlingRate", {"rate": slower})

        def busy() -> float:
            return next(m["value"] for m in tools.send("Performance.getMetrics")["metrics"] if m["name"] == "TaskDuration") * 1000

        took, processor = [], []
        for n in range(times):
            before = busy()
            took.append(
                page.evaluate(SORT, ("sheets", "cards", "cuts", "left")[n % 4])
                if n % 5 == 4
                else page.evaluate(PRESS, chance.randrange(9999))
            )
            processor.append(busy() - before)
        browser.close()
    for name, found in (("answer", sorted(took)), ("answer-processor", sorted(processor))):
        yield f"{name}-median", round(found[len(found) // 2])
        yield f"{name}-worst", round(found[-1])


if __name__ == "__main__":
    main()
