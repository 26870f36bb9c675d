"""A reader at a screen: opens pages, searches, and remembers what the browser complained of."""

from __future__ import annotations

import time
from collections.abc import Sequence
from urllib.parse import urlsplit

from playwright.sync_api import BrowserContext, ConsoleMessage, Page, Request

PHONE, TABLET, DESKTOP = {"width": 360, "height": 780}, {"width": 820, "height": 1100}, {"width": 1440, "height": 900}
"""Screens, in pixels."""
QUIET = 0.03
"""Seconds without a request under way after which a page, once its pictures and fonts are there, is taken to have all it asks for."""
PATIENCE = 60
"""Seconds after which a page that never settles is a failure."""


class Reader:
    """Opens pages and remembers whatever the browser complained of or fetched."""

    def __init__(self, context: BrowserContext) -> None:
        self.page: Page = context.new_page()
        self.complaints: list[str] = []
        self.fetched: list[str] = []
        self.page.on("console", self._console)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("requestfailed", self._failed)
        self._under_way: set[Request] = set()
        self.page.on("request", self._asked)
        self.page.on("requestfinished", lambda request: self._under_way.discard(request))

    def _asked(self, request: Request) -> None:
        self.fetched.append(request.url)
        self._under_way.add(request)

    def _failed(self, request: Request) -> None:
        self._under_way.discard(request)
        # What was still on its way when the reader left the page is no fault of the page.
        if request.failure != "net::ERR_ABORTED":
            self.complaints.append(f"not loaded: {request.url}")

    def _console(self, message: ConsoleMessage) -> None:
        self.complaints.append(f"{message.type}: {message.text}")

    def open(self, address: str, whole: bool = True) -> Page:
        """Open a page and wait until it has settled, its lazy pictures too; those stay away where the page need not be `whole`."""
        self._under_way.clear()
        self.page.goto(address)
        if whole:
            self.page.evaluate("document.querySelectorAll('img[loading=lazy]').forEach(i => { i.loading = 'eager' })")
        self.settle()
        return self.page

    def leave(self) -> None:
        """Close the page, with its process and whatever that keeps; from a folder it is forgotten what was kept for another day."""
        if self.page.is_closed():
            return
        if urlsplit(self.page.url).scheme == "file":
            self.page.evaluate("localStorage.clear()")
        self.page.close()

    def resize(self, viewport: dict[str, int]) -> Page:
        """Give the page another width, and wait until it has settled again."""
        self.page.set_viewport_size(viewport)
        self.settle()
        return self.page

    def settle(self) -> None:
        """Wait until the page has nothing left to do: its pictures there or lost, drawn twice, its scripts at rest, nothing more under way."""
        self.page.evaluate(
            """async () => {
                const here = [...document.images].filter(i => i.loading !== 'lazy' && i.getAttribute('src') && !i.complete)
                await Promise.all(here.map(i => new Promise(done => { i.addEventListener('load', done); i.addEventListener('error', done) })))
                await document.fonts.ready
                await new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => requestIdleCallback(done))))
            }"""
        )
        began = quiet = time.monotonic()
        while time.monotonic() - quiet < QUIET:
            self.page.wait_for_timeout(QUIET * 1000 / 4)
            if self._under_way:
                quiet = time.monotonic()
                assert quiet - began < PATIENCE, f"still under way: {[r.url for r in self._under_way]}"

    def search(self, typed: str) -> list[str]:
        """Type into the search box; the titles of the pages that were found, best first."""
        dialog = self.page.locator("dialog.kw-search")
        if not self.page.evaluate("Boolean(document.querySelector('dialog.kw-search[open]'))"):
            self.page.keyboard.press("/")
        self._told("")
        dialog.evaluate("d => { delete d.dataset.told }")
        dialog.locator("input").fill(typed)  # as pasted: no key is pressed
        self._told(typed)
        return dialog.locator(".kw-hit__title").all_inner_texts()

    def searches(self, typed: Sequence[str], whole: bool = False) -> list[list[str]]:
        """The same for many, typed one after the other into the box; the browser is asked but once.

        Args:
            typed: what is typed.
            whole: whether more are asked for until all are shown.
        """
        self.search(typed[0])
        return self.page.evaluate(
            """async ([typed, whole]) => {
                const dialog = document.querySelector('dialog.kw-search[open]'), box = dialog.querySelector('input'), found = []
                const titles = () => [...dialog.querySelectorAll('.kw-hit__title')], more = dialog.querySelector('.kw-search__more')
                for (const text of typed) {
                    delete dialog.dataset.told
                    box.value = text
                    const told = new Promise(done => {
                        const seen = new MutationObserver(() => dialog.dataset.told === text.trim() && (seen.disconnect(), done()))
                        seen.observe(dialog, { attributes: true, attributeFilter: ['data-told'] })
                    })
                    box.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true }))
                    await told
                    while (whole && !more.hidden) {
                        const before = titles().length
                        more.click()
                        while (titles().length === before) await new Promise(done => setTimeout(done))
                    }
                    found.push(titles().map(title => title.innerText))
                }
                return found
            }""",
            [list(typed), whole],
        )

    def _told(self, typed: str) -> None:
        """Wait for the answer to what was typed, or for any where nothing was."""
        self.page.wait_for_function(
            "typed => { const told = document.querySelector('dialog.kw-search[open]')?.dataset.told; return typed ? told === typed : told !== undefined }",
            arg=typed.strip(),
        )
