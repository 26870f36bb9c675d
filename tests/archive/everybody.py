"""axe-core over a page, each of its rules where it can say something new.

What things are called, which role they have and where they lie follows from the page and from the width of the screen. Whether text
stands out follows from its colours, its size and what lies behind it. The two rules that ask for that take four fifths of axe's time, so
they look at each kind of text once in a test process: at one of the same element, class and computed style, with the same all the way up.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

COLOURS = ["color-contrast", "link-in-text-block"]
"""The rules whose answer follows from a text's style, and that of what it stands in, alone."""
_looked_at: set[str] = set()
"""The kinds of text that axe has judged."""

# What a target for a hand has to be (WCAG 2.2, 2.5.8) axe only looks at where it is asked to. It need not fetch style sheets anew.
STRUCTURE = """colours => axe.run(document, {
    resultTypes: ['violations', 'incomplete'],
    preload: false,
    rules: {...Object.fromEntries(colours.map(rule => [rule, {enabled: false}])), 'target-size': {enabled: true}},
}).then(found => [
    ...found.violations.map(v => [v.id, v.nodes[0].html]),
    ...found.incomplete.map(v => [`undecided ${v.id}`, v.nodes[0].html]),
])"""

LOOK = """async ([colours, known]) => {
    const seen = new Set(known), kinds = new Map()
    const digest = text => {
        let a = 0xdeadbeef, b = 0x41c6ce57
        for (let i = 0; i < text.length; i++) {
            a = Math.imul(a ^ text.charCodeAt(i), 2654435761)
            b = Math.imul(b ^ text.charCodeAt(i), 1597334677)
        }
        return (a >>> 0).toString(36) + (b >>> 0).toString(36)
    }
    const kind = element => {
        if (!element) return ''
        if (!kinds.has(element)) {
            const s = getComputedStyle(element)
            kinds.set(element, digest([
                kind(element.parentElement), element.localName, element.getAttribute('class'),
                s.color, s.backgroundColor, s.backgroundImage, s.opacity, s.filter, s.mixBlendMode, s.textShadow, s.position,
                s.fontSize, s.fontWeight, s.textDecorationLine, s.borderBottom, s.clipPath,
            ].join('\\n')))
        }
        return kinds.get(element)
    }
    const texts = [...document.body.querySelectorAll('*')].filter(e =>
        (e.matches('input, select, textarea') || [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()))
        && e.getClientRects().length)
    const one = new Map()
    for (const e of texts) if (!seen.has(kind(e)) && !one.has(kind(e))) one.set(kind(e), e)
    if (!one.size) return [[], []]
    // A single sign, or an eighth, is judged as a word is.
    axe.configure({checks: [{id: 'color-contrast', options: {
        ignoreUnicode: false, ignoreLength: true, ignorePseudo: false, boldValue: 700, boldTextPt: 14, largeTextPt: 18,
        contrastRatio: {normal: {expected: 4.5}, large: {expected: 3}}, pseudoSizeThreshold: 0.25, shadowOutlineEmMax: 0.2, textStrokeEmMin: 0.03,
    }}]})
    const found = await axe.run({include: [...one.values()]}, {runOnly: colours, elementRef: true})
    // What axe passes over, since it is hidden now, may be seen another time.
    const judged = [...found.passes, ...found.violations, ...found.incomplete].flatMap(rule => rule.nodes.map(n => kind(n.element)))
    const told = [
        ...found.violations.map(v => [v.id, v.nodes[0].html]),
        ...found.incomplete.flatMap(v => v.nodes.map(n => [`undecided ${v.id}`, n.html])),
    ]
    return [told, judged]
}"""


def faults(page: Page, where: str) -> list[str]:
    """Whatever axe finds wrong with a page as it stands, or can't decide."""
    _bring(page)
    return _told(page.evaluate(STRUCTURE, COLOURS), where) + colour_faults(page, where)


def colour_faults(page: Page, where: str) -> list[str]:
    """The same by the rules of colour alone: for a page that differs in its light from one that every rule has looked at."""
    _bring(page)
    found, judged = page.evaluate(LOOK, [COLOURS, sorted(_looked_at)])
    _looked_at.update(judged)
    return _told(found, where)


@contextmanager
def in_the_other_light(page: Page) -> Iterator[None]:
    """The page as it is once the button in its head was pressed; it stays open, and the next one knows nothing of it."""
    schemes = [_scheme_after(page, "0"), _scheme_after(page, PRESS)]
    assert sorted(schemes) == ["default", "slate"]
    yield
    assert _scheme_after(page, PRESS) == schemes[0]
    page.evaluate("localStorage.clear()")


PRESS = "[...document.querySelectorAll('[data-md-component=palette] label')].find(l => !l.hidden).click()"


def _scheme_after(page: Page, script: str) -> str | None:
    page.evaluate(script)
    return page.locator("body").get_attribute("data-md-color-scheme")


def _bring(page: Page) -> None:
    if page.evaluate("!window.axe"):
        page.evaluate(AXE_SCRIPT)


def _told(found: list[list[str]], where: str) -> list[str]:
    return [f"{where}: {rule}: {html[:120]}" for rule, html in found]
