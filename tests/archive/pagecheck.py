"""What must hold of every page of a site, read with Python's own HTML parser."""

from __future__ import annotations

import json
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

# HTML Living Standard, 13.1.2: elements without an end tag.
VOID = set("area base br col embed hr img input link meta source track wbr".split())
LINKS = {"a": "href", "link": "href", "img": "src", "script": "src", "source": "srcset", "iframe": "src"}
SVG = set("svg path g circle rect title defs".split())


class Page(HTMLParser):
    """One page: its links, ids and faults."""

    def __init__(self, file: Path) -> None:
        super().__init__()
        self.file = file
        self.links: list[tuple[str, str]] = []
        self.ids: Counter[str] = Counter()
        self.tags: Counter[str] = Counter()
        self.faults: list[str] = []
        self.canonical = ""
        """Where the page says that it stands, of a site with an address."""
        self._open: list[str] = []
        self.feed(file.read_text(encoding="utf-8"))
        self.close()
        if self._open:
            self.faults.append(f"never closed: {self._open}")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        self.tags[tag] += 1
        if len(said) != len(attrs):
            self.faults.append(f"<{tag}> says an attribute twice: {attrs}")
        if tag not in VOID and tag not in SVG:
            self._open.append(tag)
        if "id" in said:
            self.ids[said["id"]] += 1
        # A link that says so may lead out, to a maker's own page, to a video or to a letter; nothing else may.
        if tag == "a" and "external" in (said.get("rel") or "").split() and urlsplit(said["href"]).scheme in ("https", "mailto"):
            return
        if tag == "link" and said.get("rel") == "canonical":
            self.canonical = said["href"]
            return
        if tag in LINKS and said.get(LINKS[tag]):
            self.links.append((tag, said[LINKS[tag]]))
        if tag == "img" and said.get("alt") is None:
            self.faults.append(f"a picture without alt: {said.get('src')}")
        if tag == "img" and not (said.get("width") and said.get("height")) and "photos/" not in said.get("src", ""):
            self.faults.append(f"a picture without width and height: {said.get('src')}")

    def handle_endtag(self, tag: str) -> None:
        if tag in SVG or tag in VOID:
            return
        if not self._open or self._open.pop() != tag:
            self.faults.append(f"</{tag}> closes nothing, line {self.getpos()[0]}")


def tags_of(site: Path) -> dict[str, list[str]]:
    """What stands for each tag among all kits, by the tag as addresses have it."""
    said = (site / "find" / "facts.js").read_text(encoding="utf-8")
    return json.loads(said.removeprefix("kwFacts(").removesuffix(")\n"))["tags"]


def faults_of(site: Path) -> list[str]:
    """Everything wrong with a site: broken markup, links that lead nowhere, anything from outside."""
    pages = {file: Page(file) for file in sorted(site.rglob("*.html"))}
    found = []
    for file, page in pages.items():
        name = file.relative_to(site).as_posix()
        found += [f"{name}: {fault}" for fault in page.faults]
        found += [f"{name}: the id {one} stands {n} times" for one, n in page.ids.items() if n > 1]
        if page.tags["h1"] != 1:
            found.append(f"{name}: {page.tags['h1']} main headings")
        if page.canonical and not urlsplit(page.canonical).path.endswith(f"/{name}"):
            found.append(f"{name}: says that it stands at {page.canonical}")
        for tag, link in page.links:
            fault = _leads_nowhere(site, file, link, pages)
            if fault:
                found.append(f"{name}: <{tag}> {link}: {fault}")
    return found


def _leads_nowhere(site: Path, file: Path, link: str, pages: dict[Path, Page]) -> str:
    parts = urlsplit(link)
    if parts.scheme or parts.netloc:
        return "leads to another site"
    path = unquote(parts.path)
    # The page for what is not found is served for any address, so its links start at the top.
    target = site / path.lstrip("/") if path.startswith("/") else (file.parent / path if path else file)
    target = target.resolve()
    if target.is_dir():
        target /= "index.html"
    if path.startswith("/") and file.name != "404.html":
        return "starts at the top, so it breaks below a folder"
    if not target.is_file():
        return "no such file"
    anchor = unquote(parts.fragment)
    if anchor.startswith("tag=") and target == (site / "archive.html").resolve():
        # All kits that bear a tag: chosen by the page's script, which knows it by its data.
        return "" if anchor.removeprefix("tag=") in tags_of(site) else f"no {anchor} there"
    return f"no place {anchor} there" if anchor and target in pages and anchor not in pages[target].ids else ""
