"""What a page costs before it is seen, and whether anything moves while it comes, beside a bare page of Material's.

    .venv/bin/python buildtools/benchmarks/first_view.py SITE [PAGE]… [--times N]

For each page of a built site, at three widths, in a browser slowed four times behind a line of 200 kB/s: requests, bytes
as a host sends them (text packed by gzip) and as they lie on the disk, how much the layout shifted (the sum that browsers
tell, 0.1 being much), and the first paint in milliseconds, the median of N. Then the same words and pictures as the only
page of a bare MkDocs site with Material as it comes (its font switched off, since that is another host's), built here and
opened in turn with ours; × is our first paint by its. Without a PAGE: the three kits with the largest pages.
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
from dataclasses import dataclass
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

BROWSERS = ("chromium", "chromium-browser", "google-chrome-stable")
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"]
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


@dataclass
class View:
    """One opening of a page."""

    requests: int
    packed: int
    raw: int
    moved: float
    painted: float


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


def opened(browser: Browser, address: str, folder: Path, page: str, width: int) -> View:
    """Open a page as somebody does who was never here."""
    context = browser.new_context(viewport={"width": width, "height": SCREENS[width]})
    tab = context.new_page()
    devtools = context.new_cdp_session(tab)
    devtools.send("Network.enable")
    devtools.send(
        "Network.emulateNetworkConditions", {"offline": False, "latency": LATENCY, "downloadThroughput": SPEED, "uploadThroughput": SPEED}
    )
    devtools.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    tab.add_init_script(SEEN)
    asked: list[str] = []
    tab.on("request", lambda request: asked.append(request.url))
    tab.goto(f"{address}{page}", wait_until="networkidle")
    painted = tab.evaluate(PAINTED)
    tab.wait_for_timeout(600)
    moved = tab.evaluate("window.moved")
    context.close()
    files = [folder / url.removeprefix(address).partition("?")[0].partition("#")[0] for url in asked if url.startswith(address)]
    sizes = [
        (len(data), len(gzip.compress(data, 6)) if file.suffix in TEXT else len(data))
        for file in files
        if file.is_file()
        for data in [file.read_bytes()]
    ]
    return View(len(asked), sum(packed for _, packed in sizes), sum(raw for raw, _ in sizes), moved, painted)


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
    found = next((path for path in map(shutil.which, BROWSERS) if path), None)
    print(
        "| page | width | requests | packed kB | raw kB | shift | first paint ms | bare Material ms, kB | × |\n| --- | --: | --: | --: | --: | --: | --: | --: | --: |"
    )
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as made:
        browser = playwright.chromium.launch(executable_path=found, args=ARGUMENTS)
        for n, page in enumerate(pages):
            other = bare(Path(made) / str(n), given.site, page)
            beside, theirs = served(other)
            for width in SCREENS:
                both = [
                    (opened(browser, ours, given.site, page, width), opened(browser, theirs, other, "index.html", width))
                    for _ in range(given.times)
                ]
                mine = [one for one, _ in both]
                painted, bare_painted = (statistics.median(view.painted for view in views) for views in zip(*both))
                view = mine[0]
                print(
                    f"| {page} | {width} | {view.requests} | {view.packed / 1000:.0f} | {view.raw / 1000:.0f} | {max(one.moved for one in mine):.3f} "
                    f"| {painted:.0f} | {bare_painted:.0f}, {both[0][1].packed / 1000:.0f} | {painted / bare_painted:.2f} |",
                    flush=True,
                )
            beside.shutdown()
        browser.close()
    server.shutdown()


if __name__ == "__main__":
    main()
