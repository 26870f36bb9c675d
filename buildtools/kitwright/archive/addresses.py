"""Addresses that readers were once led to: kept beside the kits, one a line, and held against each site.

`publish` writes them down when a site has gone to its host, so that the list survives whatever is made
anew, goes into her backup and can be read. It knows pages and the places in them that have a name; numbered
ones (strokes, steps) move with a correction, and names of people are nobody's to keep here.

Of a page that is gone, a line says where it stands now: then its old address leads there.
"""

from __future__ import annotations

import difflib
import posixpath
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote, unquote

from jinja2 import Environment

from kitwright.archive.finished import own_ids
from kitwright.errors import Place, UserError
from kitwright.files import write_file
from kitwright.findings import Finding, Level
from kitwright.kit.theme import OVERRIDES, Theme
from kitwright.telling.site import ADDRESSES

FILE = "addresses.txt"
"""Its name, beside the kits."""
BLOCK = "moved.html"
"""What an old address shows while it leads on."""
GONE = "gone"
MOST = 20_000_000
"""Bytes of the file; 1,200 kits take half a megabyte."""
_NUMBERED = re.compile(r"(?:^|-)\d+(?:-\d+)*$")
_OF_PEOPLE = re.compile(r"people(?:\.html$|/)")
_PAGE = re.compile(r"(?!/)(?!.*:)(?!.*(?:^|/)\.\.?(?:/|$))[^\s\\]+\.html$")


@dataclass(frozen=True)
class Address:
    """One page that readers were led to."""

    line: int
    """Where it stands in the file."""
    places: frozenset[str] = frozenset()
    now: str = ""
    """Where it stands now, if it moved; `gone` where it is gone for good."""


Addresses = Mapping[str, Address]
"""By page."""


def read(kits: Path) -> Addresses:
    """The addresses that are kept; none where nothing was published yet.

    Raises:
        UserError: a line can't be read, or names a page twice.
    """
    file, found = kits / FILE, dict[str, Address]()
    if not file.is_file():
        return found
    if file.stat().st_size > MOST:
        raise UserError("lasting.too-large", place=Place(file), most=MOST)
    try:
        text = file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise UserError("files.no-utf-8", place=Place(file)) from None
    for number, line in enumerate(text.split("\n"), 1):
        words = line.split()
        if not words or words[0].startswith("#"):
            continue
        page, now, places = words[0], "", words[1:]
        if places[:1] == ["->"]:
            now, places = "".join(places[1:2]), places[2:]
            if now != GONE and not _PAGE.match(now):
                raise UserError("lasting.now", place=Place(file, number), page=page, now=now)
        if not _PAGE.match(page):
            raise UserError("lasting.page", place=Place(file, number), typed=page)
        if unquote(page) in found:
            raise UserError("lasting.twice", place=Place(file, number), page=page, first=found[unquote(page)].line)
        found[unquote(page)] = Address(number, frozenset(map(unquote, places)), unquote(now))
    return found


def keep(kits: Path, site: Path, names: Iterable[str]) -> None:
    """Write down the addresses of a site that has gone to its host, beside those that are kept; what she typed stays.

    Args:
        kits: the folder of kits.
        site: the folder of the site.
        names: its files.
    """
    kept = dict(read(kits))
    for name, places in of_site(site, names):
        was = kept.get(name, Address(0))
        kept[name] = Address(was.line, was.places | places)
    file = kits / FILE
    before = file.read_text(encoding="utf-8-sig") if file.is_file() else ""
    remarks = [line for line in before.split("\n") if line.startswith("#") and line not in ADDRESSES.split("\n")]
    text = ADDRESSES + "".join(f"{line}\n" for line in [*remarks, *(_line(page, kept[page]) for page in sorted(kept))])
    if text != before:
        write_file(file, text.encode())


def _line(page: str, address: Address) -> str:
    # As addresses are typed, so that a space in one parts nothing.
    return " ".join(
        [quote(page), *(["->", quote(address.now)] if address.now else []), *(quote(one, safe="") for one in sorted(address.places))]
    )


def of_site(site: Path, names: Iterable[str]) -> Iterator[tuple[str, frozenset[str]]]:
    """Every page of a site that stands at an address of its own, with the places in it that have a name."""
    for name in sorted(names):
        if not name.endswith(".html") or name == "404.html":
            continue
        text = (site / name).read_text(encoding="utf-8")
        if MOVED not in text:
            yield name, places_of(name, own_ids(text))


def places_of(name: str, ids: Iterable[str]) -> frozenset[str]:
    """Of the places of a page, those whose address is kept."""
    if _OF_PEOPLE.match(name):
        return frozenset()
    return frozenset(one for one in ids if one and not _NUMBERED.search(one))


STYLE = "look/moved.css"
"""What such a page wears."""
MOVED = 'name="kw-moved"'
"""Marks a page that only leads on."""


def leading_on(addresses: Addresses, there: Iterable[str], theme: Theme) -> dict[str, bytes]:
    """For each page that moved, what leads from its old address to where it stands now, by name.

    Args:
        addresses: what is kept.
        there: every file of the site.
        theme: the theme; how such a page looks is the program's.
    """
    names = frozenset(there)
    block = Environment(autoescape=True).from_string((theme.program / OVERRIDES / BLOCK).read_text(encoding="utf-8"))
    made = {}
    for page in addresses:
        to = _end(addresses, page, names)
        if page not in names and to in names:
            path, look = (quote(posixpath.relpath(one, posixpath.dirname(page) or ".")) for one in (to, STYLE))
            made[page] = block.render(to=path, look=look).encode()
    return made


def _end(addresses: Addresses, page: str, names: frozenset[str]) -> str:
    """Where a page stands now, however often it moved; itself where nothing says so."""
    seen = {page}  # a circle leads nowhere
    while page not in names and page in addresses and (now := addresses[page].now) and now not in seen:
        seen.add(now)
        page = now
    return page


def lost(addresses: Addresses, names: Iterable[str], site: Path, kits: Path, level: Level = "warning") -> list[Finding]:
    """What is kept and leads nowhere in a site, and what each line should say.

    Args:
        addresses: what is kept.
        names: every file of the site.
        site: its folder.
        kits: the folder of kits, to name the line.
        level: how much a page matters that is gone; a place in a page is worth a hint.
    """
    found, there = [], frozenset(names)
    pages = [name for name in there if name.endswith(".html")]
    for page, address in addresses.items():
        place = Place(kits / FILE, address.line)
        if page in there:
            gone = address.places - own_ids((site / page).read_text(encoding="utf-8")) if not address.now else frozenset()
            if gone:
                found.append(Finding("hint", place, "lasting.places-gone", page=page, gone=tuple(sorted(gone))))
        elif not address.now:
            near = difflib.get_close_matches(page, sorted(set(pages) - addresses.keys()) or sorted(pages), 1, 0.6)
            found.append(Finding(level, place, "lasting.gone", page=page, near=near[0] if near else None))
        elif address.now != GONE and _end(addresses, page, there) not in there:
            found.append(Finding(level, place, "lasting.nowhere", page=page, now=address.now))
    return found
