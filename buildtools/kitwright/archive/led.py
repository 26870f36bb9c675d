"""Whatever a finished site leads to within itself, held against its files: pages, styles, feeds, the map of the site."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote

from kitwright.archive.finished import nowhere, whole_addresses
from kitwright.archive.placing import Placing
from kitwright.errors import Place
from kitwright.findings import Finding

LISTS = ("feed.xml", "sitemap.xml", "kits.json")
"""Files beside the pages that name addresses of the site."""
_URL = re.compile(r"""url\(\s*["']?((?!data:|#)[^"')]+)["']?\s*\)""")


def findings(site: Placing, address: str) -> list[Finding]:
    """Every address in a site that leads nowhere in it, told once.

    Args:
        site: the whole site.
        address: where it will stand; empty where that is not known.
    """
    lost: dict[str, list[str]] = {}
    for name, to in [*nowhere(site.pages, site.files), *_of_styles(site), *_of_lists(site, address)]:
        lost.setdefault(to, []).append(name)
    return [
        Finding("warning", Place(Path(names[0])), "site.leads-nowhere", page=names[0], to=to, many=len(names)) for to, names in lost.items()
    ]


def _of_styles(site: Placing) -> Iterator[tuple[str, str]]:
    for name in [name for name in site.files if name.endswith(".css")]:
        for url in dict.fromkeys(map(str.strip, _URL.findall(_read(site, name)))):
            file = posixpath.normpath(posixpath.join(posixpath.dirname(name), unquote(url.partition("#")[0].partition("?")[0])))
            if file not in site.files:
                yield name, url


def _of_lists(site: Placing, address: str) -> Iterator[tuple[str, str]]:
    for name in [name for name in LISTS if name in site.files]:
        for file, spot in dict.fromkeys(whole_addresses(_read(site, name), address)):
            if file not in site.files or (spot and file in site.pages and spot not in site.pages[file].ids):
                yield name, f"{file}#{spot}" if spot else file


def _read(site: Placing, name: str) -> str:
    return (site.folder / name).read_text(encoding="utf-8", errors="replace")
