"""A reader's hand on a phone: it taps what she sees, by its name, and counts.

A field is one tap, whether she types into it or takes one from the list that her phone shows for it. Turning the page up and
down is none, and neither is a key. It never calls a script of the page.
"""

from __future__ import annotations

import time

from archive.reading import Reader
from playwright.sync_api import Locator, Page, expect

PATIENCE = 6_000
"""Milliseconds after which what does not come is missing."""
IN_SIGHT = """all => all.some(each => {
  if (!each.checkVisibility({visibilityProperty: true, opacityProperty: true})) return false
  const box = each.getBoundingClientRect(), y = box.top + Math.min(box.height, 60) / 2, x = box.left + Math.min(box.width, 40) / 2
  if (!box.width || y < 0 || y >= innerHeight || x < 0 || x >= innerWidth) return false
  const there = document.elementFromPoint(x, y)
  return Boolean(there) && (each.contains(there) || there.contains(each))
})"""
"""Whether the head of one of them is on the screen with nothing over it."""


class Hand:
    """One reader's hand, for one task."""

    def __init__(self, reader: Reader, address: str) -> None:
        self.page: Page = reader.page
        self.address = address
        self.taps = 0

    def opens(self, place: str) -> None:
        """Be on a page of the site: where a task begins, or begins again on another day."""
        self.page.goto(self.address + place)

    def seen(self, role: str, name: str, exact: bool = False) -> Locator:
        """What of that role and name can be seen; of what lies under a dialog nothing can."""
        over = self.page.locator("dialog[open]")
        return (over if over.count() else self.page).get_by_role(role, name=name, exact=exact).filter(visible=True).first

    def taps_on(self, role: str, name: str, exact: bool = False) -> Locator:
        """Tap it."""
        one = self.seen(role, name, exact)
        one.click(timeout=PATIENCE)
        self.taps += 1
        return one

    def writes(self, role: str, name: str, text: str) -> None:
        """Type into a field: its tap, unless the page has put her into it already."""
        field = self.seen(role, name)
        expect(field).to_be_enabled(timeout=PATIENCE)
        if not field.evaluate("field => field === document.activeElement"):
            field.click(timeout=PATIENCE)
            self.taps += 1
        field.fill(text)

    def takes(self, name: str, choice: str) -> None:
        """Take one from a list of choices: the tap that opens it."""
        self.seen("combobox", name).select_option(label=choice, timeout=PATIENCE)
        self.taps += 1

    def asks(self, text: str) -> None:
        """Open the search and ask it; it puts her into its field."""
        self.taps_on("button", "Find a kit")
        dialog = self.page.get_by_role("dialog", name="Find a kit")
        field = dialog.get_by_role("textbox")
        expect(field).to_be_focused(timeout=PATIENCE)
        field.fill(text)

    def taps_text(self, text: str) -> None:
        """Tap what says so, whatever it is: the head of something that is folded in."""
        over = self.page.locator("dialog[open]")
        (over if over.count() else self.page).get_by_text(text).filter(visible=True).first.click(timeout=PATIENCE)
        self.taps += 1

    def finds(self, title: str) -> Locator:
        """The search has it first."""
        first = self.page.locator(".kw-hit").first
        expect(first.locator(".kw-hit__title")).to_have_text(title, timeout=PATIENCE)
        self.sees(first)
        return first

    def sees(self, what: Locator | str) -> None:
        """It is on the screen, without turning the page."""
        one = self.page.get_by_text(what) if isinstance(what, str) else what
        until = time.monotonic() + PATIENCE / 1000
        while not one.evaluate_all(IN_SIGHT):
            assert time.monotonic() < until, f"not on the screen: {what}"
            self.page.wait_for_timeout(20)

    def turns_to(self, what: Locator | str) -> None:
        """Turn the page until it is on the screen."""
        one = (self.page.get_by_text(what) if isinstance(what, str) else what).filter(visible=True).first
        one.scroll_into_view_if_needed(timeout=PATIENCE)
        self.sees(one)
