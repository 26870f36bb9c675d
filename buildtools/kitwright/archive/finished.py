"""Pages as the page generator finished them, remembered by what they are made from.

A page's HTML follows from its own Markdown and from the frame, which is everything that all pages
share: settings with the menu, blocks, versions. Of a page that was found sound it is kept where
it leads and which places it has, so that it is seen without it whether it may stand as it is.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Container, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import sha256
from html import unescape
from sys import intern
from urllib.parse import unquote

from kitwright import cache
from kitwright.cache import Blob

KIND = "pages"
"""What is kept of a site's pages, all of one site together."""


@dataclass(frozen=True)
class Finished:
    """A page that was made, and found sound."""

    source: str
    """Digest of its Markdown."""
    html: Blob
    ids: frozenset[str]
    """Every place in it that can be led to."""
    own: frozenset[str]
    """Those of them that are its own, not the frame's."""
    leads: frozenset[str] = frozenset()
    """Files of the site that it leads to, by name."""
    spots: frozenset[tuple[str, str]] = frozenset()
    """Places in other pages that it leads to: the page's file and the place."""
    loose: frozenset[tuple[str, str]] = frozenset()
    """Files, and places in them, that it leads to and that were not there when it was made: what is put beside pages comes later."""


@dataclass
class Ledger:
    """All pages of a site, as they were made last."""

    frame: str
    """Digest of what all pages share."""
    pages: dict[str, Finished] = field(default_factory=dict)
    """By their file."""
    shell: dict[str, Blob] | None = None
    """What the page generator itself adds: its styles and scripts, the page for what is not found. None where that is not known."""


def remembered(key: str, frame: str) -> Ledger:
    """What is known of a site's pages with this very frame.

    Args:
        key: tells sites apart: of which archive, for whom.
        frame: the digest of what all pages share.
    """
    found = cache.known(KIND, key)
    return found if isinstance(found, Ledger) and found.frame == frame else Ledger(frame)


def remember(key: str, ledger: Ledger) -> None:
    """Keep what is known of a site's pages."""
    cache.note(KIND, key, ledger)


def kept(data: bytes) -> Blob:
    """Bytes that are kept, where that can be."""
    if cache.handle().folder is not None:
        with suppress(OSError):
            return cache.keep(data)
    return Blob(sha256(data).hexdigest(), len(data))


_IDS = re.compile(r'\bid="([^"]*)"')
_NAMES = re.compile(r'<a\b[^>]*?\bname="([^"]*)"')
_LEADS = re.compile(r'\b(?:href|src|poster|data)="([^"]+)"')
_SETS = re.compile(r'\bsrcset="([^"]+)"')
_HERE = re.compile(r'\bhref="#([^"]+)"')
BY_SCRIPT = re.compile(r"[\w-]+=|bench-")
"""Behind the sign of a place: what a page's script reads, a choice of facts or a stroke at the bench."""
_OWN = re.compile(r"<article\b.*</article>", re.DOTALL)


def ids_in(text: str) -> frozenset[str]:
    """Every place of a page that can be led to, as its HTML writes it."""
    return frozenset(map(intern, _IDS.findall(text)))


def own_ids(text: str) -> frozenset[str]:
    """Those that are the page's own, not of what is around every page."""
    own = _OWN.search(text)
    inside = own[0] if own else text
    return frozenset(map(intern, (unescape(one) for one in [*_IDS.findall(inside), *_NAMES.findall(inside)])))


def leads_in(text: str, name: str) -> Iterator[tuple[str, str]]:
    """Where the HTML of a page leads within its site: the file, as it would be called there, and the place in it, if one is named."""
    folder = posixpath.dirname(name)
    sets = [part.split()[0] for one in _SETS.findall(text) for part in one.split(",") if part.split()]
    for address in dict.fromkeys([*_LEADS.findall(text), *sets]):
        if ":" in address.partition("/")[0] or address.startswith(("/", "#")):
            continue
        path, _, spot = unescape(address).partition("#")
        file = posixpath.normpath(posixpath.join(folder, unquote(path.partition("?")[0]))) if path else name
        yield intern(file), unquote(spot)


def whole_addresses(text: str, address: str) -> Iterator[tuple[str, str]]:
    """What a text names by its whole address: what goes with a link, structured data, feeds, maps of the site."""
    if address:
        for found in re.findall(re.escape(address) + r"""([^\s"'<>\\]*)""", text):
            path, _, spot = unescape(found).partition("#")
            path = unquote(path.partition("?")[0])
            yield intern(path + "index.html" if not path or path.endswith("/") else path), unquote(spot)


def finished(source: str, html: Blob, text: str, name: str, names: Container[str], address: str = "") -> Finished:
    """A page that was just made.

    Args:
        source: digest of its Markdown.
        html: where it is kept.
        text: what it says.
        name: its file.
        names: every file of the site.
        address: where the site will stand; empty where that is not known.
    """
    leading = list(leads_in(text, name))
    there = [(file, spot) for file, spot in leading if file in names]
    spots = frozenset(
        (file, intern(spot)) for file, spot in there if spot and not BY_SCRIPT.match(spot) and file != name and file.endswith(".html")
    )
    leads = frozenset(file for file, _ in there if file != name)
    ids = ids_in(text)
    loose = {(file, spot) for file, spot in [*leading, *whole_addresses(text, address)] if file not in names}
    here = {(name, spot) for spot in map(unquote, _HERE.findall(text)) if spot not in ids and unescape(spot) not in ids}
    return Finished(source, html, ids, own_ids(text), leads, spots, frozenset(loose | here))


def astray(pages: Mapping[str, Finished], name: str) -> Iterator[tuple[str, str]]:
    """Places that a page leads to and that are not there."""
    for file, spot in pages[name].spots:
        if file in pages and spot not in pages[file].own:
            yield file, spot


def nowhere(pages: Mapping[str, Finished], names: Container[str]) -> Iterator[tuple[str, str]]:
    """Each page that leads nowhere, and the address, once the whole site is there.

    Args:
        pages: all of them, by their file.
        names: every file of the site.
    """
    for name in sorted(pages):
        for file, spot in sorted(pages[name].loose):
            if file not in names:
                yield name, f"{file}#{spot}" if spot else file
            elif spot and not BY_SCRIPT.match(spot) and file in pages and spot not in pages[file].own | pages[file].ids:
                yield name, f"{file}#{spot}"
