"""What a page costs before it is seen, and whether anything moves while it comes, beside a bare page of Material's.

    .venv/bin/python buildtools/benchmarks/first_view.py SITE [PAGE]… [--times N]

For each page of a built site, at three widths, in a browser behind a line of 200 kB/s: requests, bytes as a host sends
them (text packed by gzip) and as they lie on the disk, and how much the layout shifted in a browser slowed four times (the
sum that browsers tell, 0.1 being much). Then the same words and pictures as the only page of a bare MkDocs site with
Material as it comes (its font switched off, since that is another host's), built here and opened in turn with ours, N
times each. × is the median of N ratios of two neighbours, ours by bare:

- of the work to the first paint: the processor time of the page's own thread until then, by the browser's trace; so it
  does not go by the clock, and others who compute beside it blur it little;
- of the first paint by the clock, slowed as above;
- of the first paint by the clock with neither line nor browser slowed, as on a quick machine beside its host.

On a busy machine the first of the three is the one to trust.

Without a PAGE: the three kits with the largest pages.
"""

from __future__ import annotations

import argparse
import gzip
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import chromium
from playwright.sync_api import Browser, CDPSession, Page, sync_playwright

SCREENS = {390: 844, 820: 1180, 1440: 900}
SPEED, LATENCY, SLOWER = 200_000, 20, 4
TEXT = (".html", ".css", ".js", ".svg", ".json", ".xml", ".txt")
SEEN = """
window.moved = 0
new PerformanceObserver(list => list.getEntries().forEach(e => { if (!e.hadRecentInput) window.moved += e.value })).observe({ type: "layout-shift", buffered: true })
"""
PAINTED = """() => new Promise(done => {
    const found = () => performance.getEntriesByName("first-contentful-paint")[0]
    const look = () => found() ? done(found().startTime) : setTimeout(look, 20)
    look()
})"""
TRACED = ["toplevel", "loading", "devtools.timeline"]
"""Categories of the trace: tasks, and the paint."""


@dataclass
class View:
    """One opening of a page."""

    requests: int
    packed: int
    raw: int
    moved: float
    painted: float
    """Milliseconds by the clock, slowed."""
    plain: float
    """The same, not slowed."""
    work: float
    """Milliseconds of processor time to the first paint, not slowed."""


class Packed(SimpleHTTPRequestHandler):
    """A host that packs text."""

    def log_message(self, *args: object) -> None:
        pass

    def do_GET(self) -> None:
        file = Path(self.translate_path(self.path))
        if file.is_dir():
            file /= "index.html"
        if not file.is_file():
            self.send_error(404)
            return
        data, text = file.read_bytes(), file.suffix in TEXT
        data = gzip.compress(data, 6) if text else data
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(str(file)))
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", "no-store")
        if text:
            self.send_header("Content-Encoding", "gzip")
        self.end_headers()
        self.wfile.write(data)


def new_tab(browser: Browser, width: int, slower: int) -> tuple[Page, CDPSession]:
    """A tab of somebody who was never here, behind the slow line."""
    context = browser.new_context(viewport={"width": width, "height": SCREENS[width]})
    tab = context.new_page()
    devtools = context.new_cdp_session(tab)
    devtools.send("Network.enable")
    devtools.send(
        "Network.emulateNetworkConditions", {"offline": False, "latency": LATENCY, "downloadThroughput": SPEED, "uploadThroughput": SPEED}
    )
    devtools.send("Emulation.setCPUThrottlingRate", {"rate": slower})
    return tab, devtools


def opened(browser: Browser, address: str, folder: Path, page: str, width: int) -> View:
    """Open a page once by the clock, and once with an eye on its work."""
    tab, _ = new_tab(browser, width, SLOWER)
    tab.add_init_script(SEEN)
    asked: list[str] = []
    tab.on("request", lambda request: asked.append(request.url))
    tab.goto(f"{address}{page}", wait_until="networkidle")
    painted = tab.evaluate(PAINTED)
    tab.wait_for_timeout(600)
    moved = tab.evaluate("window.moved")
    tab.context.close()
    files = [folder / url.removeprefix(address).partition("?")[0].partition("#")[0] for url in asked if url.startswith(address)]
    sizes = [
        (len(data), len(gzip.compress(data, 6)) if file.suffix in TEXT else len(data))
        for file in files
        if file.is_file()
        for data in [file.read_bytes()]
    ]
    work = worked(browser, f"{address}{page}", width)
    plain = unslowed(browser, f"{address}{page}", width)
    return View(len(asked), sum(packed for _, packed in sizes), sum(raw for raw, _ in sizes), moved, painted, plain, work)


def unslowed(browser: Browser, address: str, width: int) -> float:
    """Milliseconds by the clock to the first paint, for somebody who was never here, with nothing slowed."""
    context = browser.new_context(viewport={"width": width, "height": SCREENS[width]})
    tab = context.new_page()
    tab.goto(address, wait_until="load")
    painted = float(tab.evaluate(PAINTED))
    context.close()
    return painted


def worked(browser: Browser, address: str, width: int) -> float:
    """Milliseconds of processor time that the page's own thread takes to the first paint."""
    tab, devtools = new_tab(browser, width, 1)
    found: list[dict[str, Any]] = []
    ended: list[object] = []
    devtools.on("Tracing.dataCollected", lambda said: found.extend(said["value"]))
    devtools.on("Tracing.tracingComplete", lambda said: ended.append(said))
    devtools.send("Tracing.start", {"transferMode": "ReportEvents", "traceConfig": {"includedCategories": TRACED}})
    tab.goto(address, wait_until="networkidle")
    tab.evaluate(PAINTED)
    devtools.send("Tracing.end")
    while not ended:
        tab.wait_for_timeout(20)
    tab.context.close()
    paint = next(event for event in found if event["name"] == "firstContentfulPaint")
    thread = paint["pid"], paint["tid"]
    return outermost(event for event in found if (event.get("pid"), event.get("tid")) == thread and event["ts"] < paint["ts"]) / 1000


def outermost(events: Iterable[dict[str, Any]]) -> float:
    """Microseconds of processor time of the tasks that lie in no other."""
    whole, until = 0.0, 0.0
    for event in sorted((one for one in events if one.get("ph") == "X" and "tdur" in one), key=lambda one: (one["ts"], -one["dur"])):
        if event["ts"] >= until:
            whole += event["tdur"]
            until = event["ts"] + event["dur"]
    return whole


def bare(folder: Path, site: Path, page: str) -> Path:
    """The page's words and pictures as the one page of a bare site."""
    text = (site / page).read_text(encoding="utf-8")
    article = re.search(r"<article\b[^>]*>(.*)</article>", text, re.DOTALL)
    assert article, f"{page} has no article"
    docs = folder / "docs"
    docs.mkdir(parents=True)
    words = re.sub(r"<script\b.*?</script>|\sclass=\"[^\"]*\"", "", article[1], flags=re.DOTALL)
    (docs / "index.md").write_text("\n".join(line.strip() for line in words.split("\n") if line.strip()), encoding="utf-8")
    for file in (site / page).parent.iterdir():
        if file.suffix in (".svg", ".png", ".webp", ".jpg") and file.name in words:
            shutil.copy(file, docs)
    (folder / "mkdocs.yml").write_text(
        "site_name: Bare\ntheme: {name: material, font: false}\nuse_directory_urls: false\n", encoding="utf-8"
    )
    subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "-q", "-f", str(folder / "mkdocs.yml"), "-d", str(folder / "site")],
        check=True,
        stderr=subprocess.DEVNULL,
    )
    return folder / "site"


def served(folder: Path) -> tuple[ThreadingHTTPServer, str]:
    """A folder on a host of this machine."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Packed, directory=str(folder)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    return server, f"http://127.0.0.1:{server.server_port}/"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("site", type=Path)
    parser.add_argument("pages", nargs="*")
    parser.add_argument("--times", type=int, default=5)
    given = parser.parse_args()
    largest = sorted(given.site.glob("kits/*/index.html"), key=lambda file: -file.stat().st_size)[:3]
    pages = given.pages or [file.relative_to(given.site).as_posix() for file in largest]
    server, ours = served(given.site)
    print(
        "| page | width | requests | packed kB | raw kB | shift | work ms | bare ms | × | first paint ms | bare ms, kB | × | unslowed ms | bare ms | × |"
    )
    print("| --- |" + " --: |" * 14)
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as made:
        browser = playwright.chromium.launch(executable_path=chromium.found(), args=chromium.ARGUMENTS)
        for n, page in enumerate(pages):
            other = bare(Path(made) / str(n), given.site, page)
            beside, theirs = served(other)
            for width in SCREENS:
                both = [
                    (opened(browser, ours, given.site, page, width), opened(browser, theirs, other, "index.html", width))
                    for _ in range(given.times)
                ]
                mine, material = zip(*both)
                told = [
                    cell
                    for name in ("work", "painted", "plain")
                    for cell in (
                        f"{statistics.median(getattr(one, name) for one in mine):.0f}",
                        f"{statistics.median(getattr(one, name) for one in material):.0f}"
                        + (f", {material[0].packed / 1000:.0f}" if name == "painted" else ""),
                        f"{statistics.median(getattr(one, name) / getattr(two, name) for one, two in both):.2f}",
                    )
                ]
                view = mine[0]
                print(
                    f"| {page} | {width} | {view.requests} | {view.packed / 1000:.0f} | {view.raw / 1000:.0f} "
                    f"| {max(one.moved for one in mine):.3f} | {' | '.join(told)} |",
                    flush=True,
                )
            beside.shutdown()
        browser.close()
    server.shutdown()


if __name__ == "__main__":
    main()
