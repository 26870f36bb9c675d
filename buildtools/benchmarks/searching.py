"""How large the search index grows, how long it takes to make, and how soon the browser answers.

    searching.py SITE [--kits 24,240,1200] [--seed N] [--slower 4]

SITE is a built site; its kits are varied until there are as many as asked for: words and sizes of
each come from several kits, one in ten of its words is its own. Prints a line each, `name kits value
unit`: processor time and memory for laying out all records, files and bytes of the index, what a
browser has loaded before the first word is typed (script, style and map, raw and packed), and from
the stroke of a key to painted results in Chromium slowed down so many times, first and again, by the
clock and as the page's own processor time. Works on copies in a temporary folder.
"""

from __future__ import annotations

import argparse
import functools
import gzip
import http.server
import json
import random
import shutil
import tempfile
import threading
import time
import tracemalloc
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import chromium
from kitwright.archive.search.index import CALL, FOLDER, MAP, index_files
from kitwright.archive.search.record import BREAK, DIGITS, Record, Thumbnail

ASKED = (
    "strips",
    "8x8",
    "4 1/4 x 5 1/2",
    "108 mm",
    "raised strip",
    "one-way paper",
    "half sheets",
    "where does B go",
    "envelope for a square card",
    "score the fold",
    "bir",
    "cards from one sheet",
    "A4 cardstock",
    "birthday 20 cards",
    "sea",
)
"""What is typed, each letter by letter as a hand would."""


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("site", type=Path)
    asked.add_argument("--kits", default="24,240,1200")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--slower", type=float, default=4)
    given = asked.parse_args()
    alone, kits = read(given.site)
    for many in map(int, given.kits.split(",")):
        records = [*alone, *varied(kits, many, random.Random(given.seed))]
        with tempfile.TemporaryDirectory() as folder:
            site = Path(folder) / "site"
            shutil.copytree(given.site, site, copy_function=_linked)
            shutil.rmtree(site / FOLDER)
            for name, value, unit in (*laid_out(records, site), *answered(site, given.slower)):
                print(f"{name} {many} {value} {unit}", flush=True)


def _linked(source: str, target: str) -> None:
    Path(target).symlink_to(Path(source).resolve())


# --- records, from an index that was written ------------------------------------------------------


def read(site: Path) -> tuple[list[Record], list[Record]]:
    """The records of a site's pages without a kit, and of its kits."""

    def said(name: str):
        return json.loads((site / FOLDER / f"{name}.js").read_text(encoding="utf-8").strip()[len(CALL) + 1 : -1])

    about = said("map")
    step, length = about["width"] + 1, about["name"]
    documents = [said(f"d-{about['documents'][at : at + length]}") for at in range(0, len(about["documents"]), length)]
    found: list[dict[str, str]] = [{} for _ in documents]
    for at in range(0, len(about["parts"]), length):
        for term, entry in said(f"t-{about['parts'][at : at + length]}").items():
            for field in filter(None, entry.removeprefix("*").split("|")):
                for n in range(1, len(field), step):
                    number = functools.reduce(lambda total, digit: total * len(DIGITS) + DIGITS.index(digit), field[n : n + step - 1], 0)
                    found[number][f"{term}{BREAK}{field[0]}"] = field[n + step - 1]
    records = []
    for (title, path, when, line, picture, places), terms in zip(documents, found):
        folder = f"{path.rpartition('/')[0]}/" if "/" in path else ""
        small = Thumbnail(folder + picture[0], *picture[1:]) if picture else None
        where = tuple((folder + address, label) for address, label in places)
        records.append(Record(title, path, Fraction(1 if when else "0.3"), when, tuple(line), small, (), "", where, terms))
    return [one for one in records if not one.when], [one for one in records if one.when]


def varied(kits: list[Record], many: int, chance: random.Random) -> Iterator[Record]:
    """Kits made of those, each with words of several and some of its own."""
    pool = sorted({key for kit in kits for key in kit.terms})
    letters = "abcdefghiklmnoprstuvwz"
    for n in range(many):
        kit = kits[n % len(kits)]
        terms = {}
        for key, digit in kit.terms.items():
            drawn = chance.random()
            if drawn < 0.6:
                terms[key] = digit
            elif drawn < 0.9:
                terms[chance.choice(pool)] = digit
            else:
                term, _, field = key.partition(BREAK)
                own = f"={chance.randrange(1000, 60000):07d}i" if term.startswith("=") else "".join(chance.choices(letters, k=7))
                terms[f"{own}{BREAK}{field}"] = digit
        yield Record(f"{kit.title} {n}", kit.path, kit.weight, kit.when, kit.line, kit.thumbnail, kit.tags, kit.card, kit.places, terms)


# --- the index --------------------------------------------------------------------------------------


def laid_out(records: list[Record], site: Path) -> Iterator[tuple[str, object, str]]:
    """Lay the index out below a site, and what that took."""
    began = time.process_time()
    files = index_files(records, len(records))
    yield "index-made", round(time.process_time() - began, 2), "s"
    tracemalloc.start()
    index_files(records, len(records))
    yield "index-memory", round(tracemalloc.get_traced_memory()[1] / 1e6, 1), "MB"
    tracemalloc.stop()
    for name, data in files.items():
        (site / name).parent.mkdir(exist_ok=True)
        (site / name).write_bytes(data)
    yield "index-files", len(files), "files"
    yield "index-bytes", sum(map(len, files.values())), "bytes"
    yield "index-packed", sum(len(gzip.compress(data, mtime=0)) for data in files.values()), "bytes"
    yield "largest-part", max(len(data) for name, data in files.items() if name != MAP), "bytes"
    before = [files[MAP], *((site / "look" / name).read_bytes() for name in ("search.js", "sizes.js", "search.css"))]
    yield "before-first", sum(map(len, before)), "bytes"
    yield "before-first-packed", sum(len(gzip.compress(data, mtime=0)) for data in before), "bytes"


# --- the browser --------------------------------------------------------------------------------------

WATCH = """() => {
    const dialog = document.querySelector("dialog.kw-search"), box = dialog.querySelector("input")
    window.took = typed => new Promise(done => {
        delete dialog.dataset.told
        const began = performance.now()
        box.value = typed
        box.dispatchEvent(new Event("input"))
        const look = () => {
            if (dialog.dataset.told !== typed.trim()) return requestAnimationFrame(look)
            requestAnimationFrame(() => setTimeout(() => done(performance.now() - began)))
        }
        look()
    })
}"""


def answered(site: Path, slower: float) -> Iterator[tuple[str, object, str]]:
    """From the stroke of a key to painted results, over http."""
    from playwright.sync_api import sync_playwright

    class Quiet(http.server.SimpleHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def log_message(self, *args) -> None:
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium.found(), args=chromium.ARGUMENTS)
        page = browser.new_page(viewport={"width": 390, "height": 844})
        page.goto(f"http://127.0.0.1:{server.server_port}/index.html")
        page.keyboard.press("/")
        page.wait_for_function("() => document.querySelector('dialog.kw-search[open]')?.dataset.told === ''")
        page.evaluate(WATCH)
        tools = page.context.new_cdp_session(page)
        tools.send("Performance.enable", {"timeDomain": "threadTicks"})
        tools.send("Emulation.setCPUThrottlingRate", {"rate": slower})

        def busy() -> float:
            return next(m["value"] for m in tools.send("Performance.getMetrics")["metrics"] if m["name"] == "TaskDuration") * 1000

        def answer(typed: str) -> tuple[float, float]:
            before = busy()
            return page.evaluate("typed => window.took(typed)", typed), busy() - before

        typed = [said[:end] for said in ASKED for end in range(1, len(said) + 1)]
        for turn in ("first", "again"):
            for name, times in zip(("answer", "answer-processor"), zip(*(answer(each) for each in typed))):
                ordered = sorted(times)
                yield f"{name}-{turn}-median", round(ordered[len(ordered) // 2]), "ms"
                yield f"{name}-{turn}-nine-of-ten", round(ordered[len(ordered) * 9 // 10]), "ms"
                yield f"{name}-{turn}-worst", round(ordered[-1]), "ms"
        browser.close()
    server.shutdown()
    server.server_close()


if __name__ == "__main__":
    main()
