"""A kit's page filled in from a worked kit at once: nothing is drawn, so that its words can be looked at quickly."""

from __future__ import annotations

import html
import re
from pathlib import Path

from kitwright.archive.asked import questions_of
from kitwright.archive.downloads import Download
from kitwright.archive.gather import Archive
from kitwright.archive.kinds import KINDS
from kitwright.archive.make import Made
from kitwright.archive.page import Site
from kitwright.archive.pages import filled, shared_by_all
from kitwright.archive.picture import Image
from kitwright.archive.theme import environment
from kitwright.kit.read import Club
from kitwright.kit.theme import Theme
from kitwright.work.worked import Worked

ENVIRONMENT = environment(Theme())


class Undrawn(dict):
    """An image of any name."""

    def __missing__(self, name: str) -> Image:
        return Image(f"{name}.svg", f"{name}.svg", f"{name}.png", f"drawing {name}", 1, 1, 1, 1)


def made_of(worked: Worked, **more) -> Made:
    """A kit as if it had been drawn."""
    return Made(worked, {}, Undrawn(), {"full": (Download("Letter", "x.pdf", 9),)}, asked=questions_of(worked), **more)


def site_of(*made: Made, club: Club | None = None, **more) -> Site:
    """A site of such kits."""
    archive = Archive(club or made[0].kit.club, tuple(one.entry for one in made), tuple(one.kit for one in made), Path("kits"), **more)
    return Site(archive, made)


def page(template: str, site: Site) -> str:
    """The first page of the kind that has this template; empty where it has none."""
    kinds = [kind for kind in KINDS if site.archive.audience in kind.audiences]
    stands = {each.path for kind in kinds for each in kind.pages(site)}
    return next(
        (
            filled(ENVIRONMENT, kind, each, shared_by_all(site, stands))
            for kind in kinds
            if kind.template == template
            for each in kind.pages(site)
        ),
        "",
    )


def kit_page(worked: Worked, **more) -> str:
    """A kit's own page, as it reads in the kit's own unit."""
    return in_own_unit(page("kit.md", site_of(made_of(worked), **more)))


def in_own_unit(text: str) -> str:
    """A page without what stands in the other unit; sizes that readers without scripts see in both are left."""
    for tag in ("span", "div"):
        while whole := re.search(rf'<{tag} class="kw-two kw-two--whole[^>]*>', text):
            end = _inside(text, whole.end(), tag)
            first = re.match(rf"\s*<{tag}[^>]*>", text[whole.end() :])
            assert first, "a pair begins with what is told in the own unit"
            start = whole.end() + first.end()
            text = text[: whole.start()] + text[start : _inside(text, start, tag)].strip() + text[end + len(f"</{tag}>") :]
    return text


def _inside(text: str, at: int, tag: str) -> int:
    """Where what was opened just before a place is closed."""
    depth = 1
    for found in re.finditer(rf"<(/?){tag}\b", text[at:]):
        depth += -1 if found[1] else 1
        if not depth:
            return at + found.start()
    raise AssertionError("never closed")


def unwrapped(text: str) -> str:
    """A text without what is wrapped round measures, and round the fractions in them."""
    for _ in range(2):
        text = re.sub(r'<span class="kw-(?:size|frac)">([^<]*)</span>', r"\1", text)
    return text


def words(text: str) -> str:
    """What a reader sees."""
    text = unwrapped(text)
    said = html.unescape(re.sub(r"<[^>]+>", "", re.sub(r"</(?:li|p|td|th|span|b|h\d|summary)>", " ", text)))
    return re.sub(r" (?=[:,])", "", " ".join(said.split()))


def phrases(text: str) -> list[str]:
    """What a reader sees, block by block; the page's head, headings' anchors and comments aside."""
    text = unwrapped(re.sub(r"^---\n.*?\n---\n|<!--.*?-->| \{ #[^}]*\}", "", text, flags=re.DOTALL))
    return [
        said
        for block in re.split(r"</?(?:p|ul|ol|li|td|th|tr|h\d|summary|figcaption|span|div|img)\b[^>]*>|\n", text)
        if (said := words(block))
    ]


def section(text: str, heading: str) -> str:
    """One section of a page, from its heading to the next of its level."""
    level = heading.split()[0]
    after = text.partition(f"\n{heading}")[2]
    return re.split(rf"\n#{{2,{len(level)}}} ", after)[0]


def part(text: str, anchor: str) -> str:
    """One part of a kit's page, a section or what lies closed: by its own id, or by that of its heading."""
    at = re.search(rf'<(\w+)[^>]*\sid="{re.escape(anchor)}"', text)
    if at is None:
        return ""
    tag, start = at[1], at.start()
    if re.fullmatch(r"h\d", tag):
        tag, start = max(((name, text.rfind(f"<{name}", 0, start)) for name in ("section", "details")), key=lambda found: found[1])
    depth = 0
    for found in re.compile(rf"<(/?){tag}\b").finditer(text, start):
        depth += -1 if found[1] else 1
        if not depth:
            return text[start : found.start()]
    return text[start:]


def lines(text: str) -> dict[str, str]:
    """The lines of lists of facts: name to what is said."""
    found = re.findall(r'<li\b[^>]*><span class="kw-name">(.*?)</span> <span>(.*?)</span></li>', text)
    return {words(name): words(said) for name, said in found}


def rows(text: str) -> list[list[str]]:
    """The rows of tables, cell by cell."""
    return [
        [words(cell) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL)]
        for row in re.findall(r"<tr\b[^>]*>(.*?)</tr>", text, re.DOTALL)
    ]
