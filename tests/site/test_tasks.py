"""What readers come for, each task done on a phone through the pages alone, with the taps that it takes.

The table is TASKS: a task stands with where it begins, its taps, and whether it is one of the usual, which take three at
most. How a tap is counted, hand.py says. A task ends where the answer is on the screen, or a link on the right file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from urllib.parse import unquote

import pytest
from archive.hand import PATIENCE, Hand
from archive.reading import Reader
from playwright.sync_api import Browser, expect

pytestmark = pytest.mark.browser
SMALL = {"width": 390, "height": 844}
FEW = 3
"""Taps at most for what is usual."""
HOME, FINDER = "index.html", "paper.html"
WEATHERVANE, STREET, WINDFALLS, PANTRY, POOL = (
    f"kits/{kit}/index.html"
    for kit in ("2026-11-weathervane", "2026-06-street-party", "2026-10-windfalls", "2025-07-jam-pantry", "2026-08-rock-pool")
)


@dataclass(frozen=True)
class Task:
    """One thing that a reader wants."""

    name: str
    taps: int
    start: str
    usual: bool
    does: Callable[[Hand], None]


TASKS: list[Task] = []


def task(name: str, taps: int, start: str = HOME, *, usual: bool = True) -> Callable[[Callable[[Hand], None]], None]:
    """Puts what is below it into the table."""
    return lambda does: TASKS.append(Task(name, taps, start, usual, does))


@pytest.fixture(scope="module")
def phone(browser: Browser) -> Iterator[Reader]:
    """One page for all tasks; what would go to a clipboard is kept where it can be read."""
    context = browser.new_context(viewport=SMALL, reduced_motion="reduce", has_touch=True)
    context.add_init_script(
        "Object.defineProperty(navigator, 'clipboard', {value: {writeText: async text => { window.copied = text }}}); window.print = () => { window.printed = true }"
    )
    one = Reader(context)
    yield one
    context.close()


@pytest.mark.parametrize("n", range(51))
def test_it_is_done_in_so_many_taps(phone: Reader, address: str, n: int):
    one, hand = TASKS[n], Hand(phone, address)
    phone.complaints.clear()
    hand.opens(one.start)
    try:
        one.does(hand)
    finally:
        phone.page.evaluate("localStorage.clear()")  # the next is another reader's phone
    assert hand.taps == one.taps, one.name
    assert phone.complaints == []


def test_the_usual_take_few_and_all_are_done():
    assert len(TASKS) == 51
    assert [(one.name, one.taps) for one in TASKS if one.usual and one.taps > FEW] == []


# --- which kit ------------------------------------------------------------------------------------


@task("one 12 × 12 sheet, one-way, five cards: which kit?", 3)
def _(hand: Hand) -> None:
    hand.taps_on("link", "From your paper")
    hand.taps_on("checkbox", "one-way")
    hand.writes("spinbutton", "Cards", "5")
    hand.sees(hand.page.get_by_role("link", name="Harbour lights"))


@task("two 6 × 6 sheets, ten cards: what can I make, and what is missing?", 3)
def _(hand: Hand) -> None:
    hand.taps_on("link", "From your paper")
    hand.writes("spinbutton", "Sheets", "2")
    hand.takes("Size", "6 × 6 in")
    hand.turns_to("Missing for 10: 1 more 6 × 6 in")


@task("quick square kits", 1)
def _(hand: Hand) -> None:
    hand.asks("quick square")
    hand.finds("Weathervane")


@task("a kit for metric A6 cards", 1)
def _(hand: Hand) -> None:
    hand.asks("metric A6 cards")
    hand.finds("Low tide")


@task("slimline kits", 2)
def _(hand: Hand) -> None:
    hand.taps_on("button", "Find a kit")
    hand.taps_on("button", "slimline")
    hand.sees("Bud vases")


@task("kits with a gate fold", 1)
def _(hand: Hand) -> None:
    hand.asks("gate fold")
    hand.finds("Winter shutters")


@task("kits from a single patterned sheet", 1)
def _(hand: Hand) -> None:
    hand.asks("one sheet")
    hand.finds("First thaw")


@task("what goes into a US A2 envelope", 1)
def _(hand: Hand) -> None:
    hand.asks("A2 envelope")
    hand.finds("First thaw")


@task("kits with cut files and a raised strip", 1)
def _(hand: Hand) -> None:
    hand.asks("raised strip cut files")
    hand.finds("First thaw")


@task("kits in at most 75 cuts, the fewest first", 6, usual=False)
def _(hand: Hand) -> None:
    hand.taps_on("link", "All kits", exact=True)
    hand.takes("Sort by", "Fewest cuts")
    hand.taps_on("button", "Choose")
    hand.taps_text("Cuts for the batch")
    hand.taps_on("button", "up to 75 cuts")
    hand.taps_on("button", "Show")
    hand.sees("Round robin")


@task("the same by the search", 2)
def _(hand: Hand) -> None:
    hand.asks("fewest cuts")
    hand.finds("All kits")
    hand.taps_on("link", "Fewest cuts first")
    hand.sees("Round robin")
    assert hand.seen("combobox", "Sort by").input_value() == "cuts"


@task("half a sheet of A4 and three of 6 × 6 for eight cards, typed into the search", 2)
def _(hand: Hand) -> None:
    hand.asks("half a sheet of A4 and 3 sheets of 6x6 for 8 cards")
    hand.finds("From your paper")
    hand.taps_on("link", "Filled in: 1 of half A4 and 3 of 6x6")
    hand.sees(hand.page.get_by_role("heading", name="From your paper"))
    assert [one.input_value() for one in hand.page.locator("input[name=n]").all()] == ["1", "3"]
    assert hand.seen("spinbutton", "Cards").input_value() == "8"
    assert hand.page.locator("select[name=size]").nth(1).locator("option:checked").inner_text() == "6 × 6 in"


# --- what there is to print, and to cut --------------------------------------------------------------


@task("the newest kit’s printable, on Letter", 1)
def _(hand: Hand) -> None:
    with hand.page.expect_download(timeout=PATIENCE) as loaded:
        hand.taps_on("link", "Printable Letter")
    assert loaded.value.suggested_filename == "2027-02-two-of-us-letter.pdf"


@task("the same on A4, and it is A4 that stands out from then on", 2)
def _(hand: Hand) -> None:
    fill = "link => getComputedStyle(link).backgroundColor"
    letter = hand.seen("link", "Printable Letter").evaluate(fill)
    with hand.page.expect_download(timeout=PATIENCE) as loaded:
        hand.taps_on("link", "Printable A4")
    assert loaded.value.suggested_filename == "2027-02-two-of-us-a4.pdf"
    hand.taps_on("link", "First thaw")
    hand.turns_to(hand.page.get_by_role("link", name="Printable A4"))
    assert hand.seen("link", "Printable A4").evaluate(fill) == letter != hand.seen("link", "Printable Letter").evaluate(fill)


@task("the sizes of all pieces", 1, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("link", "Pieces", exact=True)
    for size in ("10½ × 5¼ in", "5 × 5 in", "3¼ × 1⅜ in", "1¾ × 1¾ in"):
        hand.sees(hand.page.locator("#pieces .kw-lines__size").get_by_text(size))


@task("the cutting guide of the white cardstock", 2, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("link", "Cut", exact=True)
    hand.taps_on("link", "White cardstock")
    hand.sees(hand.page.get_by_role("heading", name="White cardstock"))
    hand.sees(hand.page.locator("#guide-2 .kw-plate--sheet"))


@task("share stroke 4 of the white sheet", 3, STREET)
def _(hand: Hand) -> None:
    hand.taps_on("link", "Cut", exact=True)
    hand.taps_on("link", "White cardstock")
    strokes = hand.page.locator("#guide-4 li")
    strokes.nth(3).get_by_role("link", name="Link to cut").click(timeout=PATIENCE)
    hand.taps += 1
    assert hand.page.url == f"{hand.address}{STREET}#cut-4-4"
    hand.sees(strokes.nth(3))


@task("a link to step 3", 2, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("link", "Build", exact=True)
    hand.taps_on("link", "3 Score and fold the bases")
    assert "#step-" in hand.page.url
    hand.sees(hand.page.get_by_role("heading", name="Score and fold the bases"))


# --- her numbers -------------------------------------------------------------------------------------


@task("20 cards with cardstock from A4: what do I buy? The list copied", 3, STREET)
def _(hand: Hand) -> None:
    hand.writes("textbox", "Cards", "20")
    hand.takes("Cardstock sheets", "A4")
    hand.taps_on("button", "Copy list")
    hand.page.wait_for_function("() => window.copied", timeout=PATIENCE)
    copied = hand.page.evaluate("copied")
    assert copied.startswith("Street party, 20 cards") and "Straw cardstock, A4" in copied
    hand.sees("copied")


@task("24 cards: how many sheets for the bases", 1, WEATHERVANE, usual=False)
def _(hand: Hand) -> None:
    hand.writes("textbox", "Cards", "24")
    hand.turns_to(hand.page.locator("#need tr").filter(has_text="Snow cardstock").get_by_text("12 sheets"))


@task("the whole page in millimetres, and the next kit too", 2, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("button", "mm, millimetres")
    hand.sees(hand.page.locator(".kw-top").get_by_text("133.5 × 133.5 mm"))
    hand.taps_on("link", "Evening post")
    hand.sees(hand.page.locator(".kw-top").get_by_text("178 × 127 mm"))


# --- at the bench ------------------------------------------------------------------------------------


@task("begin at the bench, one cut; the phone is laid aside and shows the next one when it wakes", 2, STREET)
def _(hand: Hand) -> None:
    hand.taps_on("button", "Make it at the bench")
    hand.taps_on("button", "Done", exact=True)
    hand.sees("2 of ")
    hand.page.reload()
    hand.sees("2 of ")


@task("another day go on at the bench where she was", 1, STREET)
def _(hand: Hand) -> None:
    # What she did the day before: no part of the task.
    hand.page.get_by_role("button", name="Make it at the bench").first.click(timeout=PATIENCE)
    for _ in range(3):
        hand.page.get_by_role("button", name="Done", exact=True).click(timeout=PATIENCE)
    hand.opens("index.html")
    hand.opens(STREET)
    hand.taps_on("button", "Go on at the bench")
    hand.sees("4 of ")


@task("the bench by arrow keys", 1, STREET, usual=False)
def _(hand: Hand) -> None:
    hand.taps_on("button", "Make it at the bench")
    hand.sees("1 of ")  # she presses keys once she sees it
    hand.page.keyboard.press("ArrowRight")
    hand.page.keyboard.press("ArrowRight")
    hand.sees("3 of ")


@task("tick one paper of four", 2, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("button", "Make it at the bench")
    hand.taps_on("button", "Barley")
    expect(hand.seen("button", "Barley")).to_have_attribute("aria-pressed", "true")
    hand.sees(hand.seen("button", "Barley"))


@task("the list of all cuts and steps, and on to the last", 3, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("button", "Make it at the bench")
    hand.sees("1 of ")  # “Copy list” lies beneath
    hand.taps_on("button", "List")
    hand.taps_on("button", "Raised pieces and decoration last")
    hand.sees(hand.page.get_by_role("dialog").get_by_role("heading", name="Raised pieces and decoration last"))


# --- trust -------------------------------------------------------------------------------------------


@task("is my copy current? Its code, typed into the search", 2)
def _(hand: Hand) -> None:
    hand.asks("rf7y mlhh")
    hand.finds("Is my copy current?")
    hand.taps_on("link", "Is my copy current?")
    hand.sees(hand.page.locator(".kw-answer").get_by_text("Weathervane"))


@task("the same from the menu", 3)
def _(hand: Hand) -> None:
    hand.taps_text("Menu")
    hand.taps_on("link", "Is my copy current?")
    hand.writes("textbox", "The code on your pages", "RF7YMLHH")
    hand.page.keyboard.press("Enter")
    hand.sees(hand.page.locator(".kw-answer").get_by_text("Weathervane"))


@task("what was wrong in revision 1", 1, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("link", "What was wrong, and what to do")
    hand.sees("The notes were reworded.")


@task("what is “slack”? From the word on a page", 2, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_text("Why this is right")
    hand.taps_on("link", "Slack", exact=True)
    hand.sees(hand.page.locator("#slack"))


@task("what is “slack”? By the search", 2)
def _(hand: Hand) -> None:
    hand.asks("what is slack")
    hand.finds("Glossary")
    hand.taps_on("link", "Glossary Slack")
    hand.sees(hand.page.locator("#slack"))


@task("questions about a kit", 2, WINDFALLS)
def _(hand: Hand) -> None:
    hand.taps_on("link", "More", exact=True)
    hand.taps_text("4 answers")
    hand.sees(hand.page.locator("#more .kw-asked__ask"))


@task("where does B go?", 2)
def _(hand: Hand) -> None:
    hand.asks("where does B go on evening post")
    hand.finds("Evening post")
    hand.taps_on("link", "Evening post")
    hand.sees(hand.page.locator("#piece-b"))


@task("other arrangements of the same pieces", 2, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("link", "More", exact=True)
    hand.taps_text("Other arrangements")
    hand.sees("Cool sails level")


@task("what others made of it", 2, WINDFALLS)
def _(hand: Hand) -> None:
    hand.taps_on("link", "More", exact=True)
    hand.taps_text("What others made")
    hand.sees(hand.page.locator(".kw-sample"))


@task("by post: does it go, and how heavy is it?", 1, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("link", "More", exact=True)
    hand.sees("18 to 22 g with its envelope")


@task("only one sheet of each: how many cards?", 1, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("link", "More", exact=True)
    hand.sees("One sheet of each patterned paper makes 24 cards")


# --- the way on --------------------------------------------------------------------------------------


@task("mark two kits to make, and see what to buy for both", 3)
def _(hand: Hand) -> None:
    hand.taps_on("button", "To make: Two of us")
    hand.taps_on("button", "To make: First thaw")
    hand.taps_on("link", "2 kits to make")
    hand.sees("2 kits")
    hand.turns_to(hand.page.locator(".kw-buy"))


@task("mark two kits to make, and print what to buy for both", 3)
def _(hand: Hand) -> None:
    hand.taps_on("button", "To make: Two of us")
    hand.taps_on("button", "To make: First thaw")
    hand.taps_on("link", "Print list")
    hand.sees("2 kits")
    hand.page.wait_for_function("window.printed")
    # Whoever comes back to the list is not asked again.
    hand.page.reload()
    hand.sees("2 kits")
    assert not hand.page.evaluate("window.printed")


@task("mark a kit on its page, and print its list", 3, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("button", "To make")
    hand.taps_on("link", "1 kit to make")
    hand.taps_on("button", "Print this list")
    assert hand.page.evaluate("window.printed")


@task("from a kit’s page to what her own paper makes", 1, STREET)
def _(hand: Hand) -> None:
    hand.taps_on("link", "From your paper")
    hand.sees(hand.page.get_by_role("heading", name="From your paper"))


@task("what is new since my last visit", 0)
def _(hand: Hand) -> None:
    hand.page.evaluate("localStorage.setItem('kw:seen', JSON.stringify({was: 1796261400, here: 1796261400, when: 1796261400000}))")
    hand.opens(HOME)
    hand.sees("2 kits are new since you were last here.")


@task("kits like this one", 0, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.turns_to(hand.page.get_by_role("heading", name="Kits like this one"))
    hand.turns_to(hand.page.locator(".kw-like li").last)


@task("the kit before, and back to the one after it", 2, WEATHERVANE)
def _(hand: Hand) -> None:
    hand.taps_on("link", "Evening post")
    hand.sees(hand.page.get_by_role("heading", name="Evening post", level=1))
    hand.taps_on("link", "Weathervane")
    hand.sees(hand.page.get_by_role("heading", name="Weathervane", level=1))


@task("an old kit that is only a PDF, by its title", 3)
def _(hand: Hand) -> None:
    hand.asks("paper kites")
    hand.finds("Paper kites")
    hand.taps_on("link", "Paper kites")
    with hand.page.expect_download(timeout=PATIENCE) as loaded:
        hand.taps_on("link", "Download the old printable")
    assert loaded.value.suggested_filename.endswith(".pdf")


@task("safety with blades, from anywhere", 2, FINDER)
def _(hand: Hand) -> None:
    hand.taps_text("Menu")
    hand.taps_on("link", "Safety")
    hand.sees(hand.page.get_by_role("heading", name="Safety"))
    hand.sees("blade")


@task("a size in another spelling: 10.8 x 14 cm", 1)
def _(hand: Hand) -> None:
    hand.asks("10.8 x 14 cm")
    hand.sees(hand.finds("First thaw").get_by_text("4¼ × 5½ in"))


@task("nothing is found: a way on", 2)
def _(hand: Hand) -> None:
    hand.asks("zzzqq")
    hand.taps_on("link", "See all kits")
    hand.sees(hand.page.get_by_role("heading", name="All kits"))


@task("addresses of before lead to the same things", 0, f"{WEATHERVANE}#by-post")
def _(hand: Hand) -> None:
    for anchor, words in {
        "by-post": "Fits a 5½ square envelope",
        "what-you-need": "Breeze",
        "the-pieces": "10½ × 5¼ in",
        "cutting-guides": "All four patterned papers",
        "step-by-step": "Cut everything",
    }.items():
        hand.opens(f"{WEATHERVANE}#{anchor}")
        hand.sees(hand.page.locator(".kw-part").get_by_text(words))


@task("a page that is not there leads on", 1)
def _(hand: Hand) -> None:
    hand.opens("404.html")
    hand.sees("This page was trimmed away")
    assert unquote(hand.seen("link", "See all kits").get_attribute("href") or "").endswith("archive.html")
    hand.taps_on("button", "Find a kit")
    hand.sees(hand.page.get_by_role("dialog", name="Find a kit"))


@task("without scripts all of a kit stands there", 0)
def _(hand: Hand) -> None:
    browser = hand.page.context.browser
    assert browser
    context = browser.new_context(java_script_enabled=False, viewport=SMALL)
    page = context.new_page()
    page.goto(hand.address + WEATHERVANE, wait_until="domcontentloaded")
    for what in (
        page.get_by_role("link", name="Printable Letter"),
        page.locator("#piece-a"),
        page.get_by_role("heading", name="Snow cardstock"),
        page.get_by_role("heading", name="Raised pieces and decoration last"),
        page.get_by_text("Fits a 5½ square envelope"),
    ):
        expect(what.first).to_be_visible()
    context.close()
