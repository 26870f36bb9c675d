"""How long a saved change takes until a browser has painted it: `previewing.py [--kits 24] [--seed N] [--times 10] [--archive DIR]`.

Makes an archive of generated kits (`generated.py`), or takes one that is there, starts
`python3 -m kitwright preview` in it, as its author does, opens a page in a real browser, and saves
changes in the newest kit one after another. By the clock of this machine, from the file's save to
the frame that shows what was saved:

    size    a size in the kit's file, on the kit's own page: drawn, cut and printed anew
    word    a word in its notes, on the same page
    error   a slip, until it stands on the page
    mended  the same put right, until the page is without it

Prints `name kits value unit`: the median, the longest, and of `first` how long the preview took
until its first page. A machine that others use too is slower by what they take.
"""

from __future__ import annotations

import argparse
import os
import re
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import chromium
from playwright.sync_api import Page, sync_playwright

HERE = Path(__file__).resolve().parent
PORT = 8147
LONG = 600.0
"""Seconds after which it is given up."""
SEEN = """
const look = () => {
  const said = document.querySelector("main")?.textContent.match(/Turn \\d+ end/g)?.join(" ") ?? ""
  const found = document.querySelectorAll(".kw-found--error").length
  const state = `${said} ${found}`
  if (document.readyState !== "loading" && state !== window.kwSeen?.state) {
    // The second frame from now begins after this one was painted.
    const seen = { state, at: 0 }
    window.kwSeen = seen
    requestAnimationFrame(() => requestAnimationFrame(() => { seen.at = Date.now() }))
  }
  requestAnimationFrame(look)
}
requestAnimationFrame(look)
"""


class Writer:
    """Saves changes in one kit as an author does, each with a number that its page shows."""

    def __init__(self, kit: Path) -> None:
        self._spec, self._notes = kit / "kit.yaml", kit / "notes.md"
        self._text = self._spec.read_text(encoding="utf-8")
        self._words = self._notes.read_text(encoding="utf-8") if self._notes.exists() else ""
        size = re.search(r"\nsentiment:\n(?:  .*\n)*?  size: (\S+) x", self._text)
        assert size, f"{kit.name} has no sentiment whose size could change"
        self._at = size.span(1)
        self._turn = 0
        self._now = self._text

    def size(self) -> str:
        """A size, and the summary."""
        start, end = self._at
        changed = self._text[:start] + ("1", "7/8")[self._turn % 2] + self._text[end:]
        self._turn += 1
        self._now = re.sub(r"\nsummary: .*", f"\nsummary: Turn {self._turn} end.", changed, count=1)
        self._save(self._spec, self._now)
        return f"Turn {self._turn} end"

    def word(self) -> str:
        """The last word of the notes."""
        self._turn += 1
        self._save(self._notes, f"{self._words}\n\nTurn {self._turn} end.\n")
        return f"Turn {self._turn} end"

    def slip(self) -> None:
        """A paper that is not there."""
        self._save(self._spec, re.sub(r"\n  fold: \w+", "\n  fold: sideways", self._now))

    def mend(self) -> None:
        """The slip put right."""
        self._save(self._spec, self._now)

    def _save(self, file: Path, text: str) -> None:
        file.write_text(text, encoding="utf-8")


def painted(page: Page, shown: Callable[[str], bool]) -> float:
    """When the page had painted what is looked for, in seconds since 1970."""
    until = time.monotonic() + LONG
    while time.monotonic() < until:
        try:
            seen: Any = page.evaluate("window.kwSeen")
        except Exception:
            seen = None  # the page is being loaded
        if seen and seen["at"] and shown(seen["state"]):
            return seen["at"] / 1000
        time.sleep(0.02)
    raise SystemExit(f"not painted within {LONG:.0f} s: {page.inner_text('main')[:400]}")


def timed(page: Page, save: Callable[[], object], shown: Callable[[str, object], bool]) -> float:
    """Seconds from a save to its being painted."""
    time.sleep(0.5)  # the browser and the preview are at rest
    started = time.time()
    said = save()
    return painted(page, lambda state: shown(state, said)) - started


def measure(root: Path, times: int) -> dict[str, list[float]]:
    """Everything, by name."""
    kit = sorted(folder for folder in (root / "kits").iterdir() if (folder / "kit.yaml").is_file() and not (folder / "published").exists())[
        -1
    ]
    writer = Writer(kit)
    command = [sys.executable, "-m", "kitwright", "preview", "--port", str(PORT)]
    environment = {"PYTHONPATH": str(HERE.parent)}
    started = time.time()
    with subprocess.Popen(command, cwd=root, env=os.environ | environment, stdout=sys.stderr, stderr=sys.stderr) as preview:
        try:
            with sync_playwright() as playwright:
                browser = playwright.chromium.launch(executable_path=chromium.found(), args=chromium.ARGUMENTS)
                page = browser.new_page(viewport={"width": 1280, "height": 900})
                page.add_init_script(SEEN)
                address, found = f"http://127.0.0.1:{PORT}/kits/{kit.name}/index.html", {}
                while time.time() < started + LONG:
                    try:
                        page.goto(address)
                        break
                    except Exception:
                        time.sleep(0.2)  # it does not serve yet
                page.wait_for_selector(".kw-facts", timeout=LONG * 1000)
                found["first"] = [time.time() - started]
                timed(page, writer.size, lambda state, said: str(said) in state)  # the first of a kind loads what it needs
                found["size"] = [timed(page, writer.size, lambda state, said: str(said) in state) for _ in range(times)]
                found["word"] = [timed(page, writer.word, lambda state, said: str(said) in state) for _ in range(times)]
                found["error"], found["mended"] = [], []
                for _ in range(times):
                    found["error"].append(timed(page, writer.slip, lambda state, _: not state.endswith(" 0")))
                    found["mended"].append(timed(page, writer.mend, lambda state, _: state.endswith(" 0")))
                return found
        finally:
            preview.terminate()


def main() -> None:
    """Measure, and print."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--kits", type=int, default=24)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--times", type=int, default=10)
    asked.add_argument("--archive", type=Path, help="one that is there already; the newest kit in it is changed")
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        root = given.archive or Path(folder) / "archive"
        if given.archive is None:
            making = [sys.executable, str(HERE / "generated.py"), str(root), "--kits", str(given.kits), "--seed", str(given.seed)]
            subprocess.run(making, check=True, stdout=sys.stderr)
        for name, seconds in measure(root, given.times).items():
            print(f"preview.{name} {given.kits} {statistics.median(seconds):.2f} s")
            if len(seconds) > 1:
                print(f"preview.{name}.longest {given.kits} {max(seconds):.2f} s", flush=True)


if __name__ == "__main__":
    main()
