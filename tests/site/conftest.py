"""The demo archive's site, built once for all test processes, and a real browser to look at it."""

from __future__ import annotations

import datetime as dt
import functools
import http.server
import pickle
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import urlsplit

import chromium
import pytest
from archive import conftest as of_archive
from archive.reading import DESKTOP, Reader
from kitwright.archive.build import build_archive
from kitwright.archive.gather import Archive, gather
from playwright.sync_api import Browser, BrowserContext, sync_playwright
from sharing import once

ROOT = Path(__file__).resolve().parents[2]
small_site = of_archive.small_site
"""The small archive's site, drawn once for the pages' tests too."""
# A page has one process, which draws it by one thread: nobody else's pages are kept apart from ours, and the other core has its own tests.
# It ends with its page: one that drew all of them would keep their pictures too, and take twice as long for each after twenty.
ARGUMENTS = [*chromium.ARGUMENTS, "--disable-site-isolation-trials", "--num-raster-threads=1"]
# Without windows nobody measures the line, and pictures are fetched from further off; with it, as on a line that is usual today, from so far.
ARGUMENTS += ["--blink-settings=lazyLoadingImageMarginPxUnknown=1250"]


ONE_DAY = dt.datetime(2027, 6, 1, tzinfo=dt.UTC)
"""After every reveal of the demo: each kit as it was released, with what older revisions left; one was never released."""


@pytest.fixture(scope="session")
def archive(tmp_path_factory, worker_id: str) -> Archive:
    """The demo archive as it was read; one test process reads it and works it out for all."""

    def made(folder: Path) -> None:
        (folder / "archive.pickle").write_bytes(pickle.dumps(gather(ROOT, ONE_DAY)))

    return pickle.loads((once(tmp_path_factory, worker_id, "demo-archive", made) / "archive.pickle").read_bytes())


@pytest.fixture(scope="session")
def site(tmp_path_factory, worker_id: str) -> Path:
    """The demo archive's site; not to be changed."""
    return once(tmp_path_factory, worker_id, "demo-site", lambda folder: build_archive(ROOT, folder, as_of=ONE_DAY, now=ONE_DAY))


@pytest.fixture(scope="session")
def address(site: Path) -> Iterator[str]:
    """The site on a server of this machine, below a folder as on many hosts."""

    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *args) -> None:
            pass

        def translate_path(self, path: str) -> str:
            return super().translate_path(path.removeprefix("/some/folder"))

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/some/folder/"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Chromium, from the system or as Playwright installs it. None is a failure, not a reason to skip."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium.found(), args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def room(browser: Browser) -> Iterator[BrowserContext]:
    """Where all pages are opened: a page of its own for each test costs half of a room of its own."""
    context = browser.new_context(reduced_motion="reduce")
    yield context
    context.close()


@pytest.fixture
def reader(browser: Browser, room: BrowserContext) -> Iterator[Callable[..., Reader]]:
    """Makes readers: a width and a light. What one leaves behind, the next does not find.

    One who turns what all pages of a room share, such as the clock, is to be `alone` in it.
    """
    made: list[Reader] = []
    visited: set[tuple[str, str]] = set()

    def make(viewport: dict[str, int] = DESKTOP, scheme: str = "light", *, alone: bool = False) -> Reader:
        made.append(Reader(browser.new_context() if alone else room))
        made[-1].page.set_viewport_size(viewport)
        made[-1].page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
        made[-1].page.on("framenavigated", lambda frame: visited.add(urlsplit(frame.url)[:2]))
        return made[-1]

    yield make
    for one in made:
        if one.page.context is not room:
            one.page.context.close()
        else:
            one.leave()
    stores = sorted(f"{scheme}://{host}" for scheme, host in visited if scheme == "http")
    if stores:
        # Wherever they were, not only where they are now; and once all are gone, so that none writes after it.
        page = room.new_page()
        devtools = room.new_cdp_session(page)
        for store in stores:
            devtools.send("Storage.clearDataForOrigin", {"origin": store, "storageTypes": "all"})
        page.close()
    room.clear_cookies()
