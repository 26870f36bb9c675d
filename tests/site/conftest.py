"""The demo archive's site, built once for all test processes, and a real browser to look at it."""

from __future__ import annotations

import functools
import http.server
import os
import shutil
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, sync_playwright
from archive.reading import DESKTOP, Reader

from kitwright.archive.build import build_archive
from kitwright.archive.gather import Archive, gather

ROOT = Path(__file__).resolve().parents[2]
BROWSERS = ("chromium", "chromium-browser", "google-chrome-stable")
# What a browser needs in a container, and what keeps it from talking to anybody.
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"]


@pytest.fixture(scope="session")
def archive() -> Archive:
    """The demo archive as it was read."""
    return gather(ROOT)


@pytest.fixture(scope="session")
def site(tmp_path_factory, worker_id: str) -> Path:
    """The demo archive's site; not to be changed. Whichever test process comes first builds it."""
    shared = tmp_path_factory.getbasetemp() if worker_id == "master" else tmp_path_factory.getbasetemp().parent
    folder, mine = shared / "demo-site", shared / "demo-site.mine"
    try:
        os.close(os.open(mine, os.O_CREAT | os.O_EXCL))
    except FileExistsError:
        failed = shared / "demo-site.failed"
        while not folder.exists():
            assert not failed.exists(), "the site could not be built; another test process tells why"
            time.sleep(0.1)
        return folder
    try:
        build_archive(ROOT, folder)
    except BaseException:
        (shared / "demo-site.failed").touch()
        raise
    return folder


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
    found = next((path for path in map(shutil.which, BROWSERS) if path), None)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def reader(browser: Browser) -> Iterator[Callable[..., Reader]]:
    """Makes readers: a width and a light."""
    contexts: list[BrowserContext] = []

    def make(viewport: dict[str, int] = DESKTOP, scheme: str = "light") -> Reader:
        contexts.append(browser.new_context(viewport=viewport, color_scheme=scheme, reduced_motion="reduce"))
        return Reader(contexts[-1])
    yield make
    for context in contexts:
        context.close()
