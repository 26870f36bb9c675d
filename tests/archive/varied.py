"""The fewest pages that between them show whatever any of them shows, for looks at pages that are dear: by a browser, at every width.

What a page shows is read from the page itself, so what is new on pages tomorrow is looked at without being named here.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from html import unescape
from pathlib import Path

TAG = re.compile(r"<(/?)([a-z][a-z0-9]*)((?:\s[^>]*)?)>([^<]*)")
SAID = re.compile(r'\s(class|id|role|data-unit|type)="([^"]*)"')
ROWS, CELLS, HEADINGS = {"tr"}, {"td", "th"}, {"h1", "h2", "h3", "h4", "summary", "figcaption"}


def shown(html: str) -> tuple[set[str], dict[str, int]]:
    """What a page shows.

    Returns:
        its features: each kind of element by each of its classes and by its role, the unit, and of each kind of table how many columns
        it has; and its measures, of which the most counts: of each kind of table the letters of its widest row that can't be broken,
        of each kind of heading those of its longest word.
    """
    features: set[str] = set()
    most: dict[str, int] = defaultdict(int)
    tables: list[str] = []
    row: list[int] = []
    heading = ""
    for closes, tag, said, text in TAG.findall(html):
        words = max(map(len, unescape(text).split()), default=0)
        if closes:
            if tag == "tr" and tables:
                features.add(f"{tables[-1]} of {len(row)}")
                most[f"{tables[-1]} wide"] = max(most[f"{tables[-1]} wide"], sum(row))
            if tag == "table" and tables:
                tables.pop()
            if tag == heading:
                heading = ""
        else:
            attributes = dict(SAID.findall(said))
            classes = attributes.get("class", "").split() or [""]
            features.update(f"{tag}.{one}" for one in classes)
            features.update(f"{tag} {name} {attributes[name]}" for name in ("role", "data-unit", "type") if name in attributes)
            if tag == "table":
                tables.append(f"table.{'.'.join(classes)}")
            elif tag in ROWS:
                row = []
            elif tag in CELLS:
                row.append(0)
            elif tag in HEADINGS:
                heading = tag
        if row and tables:
            row[-1] = max(row[-1], words)
        if heading:
            most[f"{heading} long"] = max(most[f"{heading} long"], words)
    return features, most


def fewest(pages: Mapping[str, str]) -> list[str]:
    """A few of these pages that show all that any of them shows, the most of everything too; the same each time, in their own order.

    Args:
        pages: their HTML by their names.
    """
    told = {name: shown(html) for name, html in pages.items()}
    top = {measure: max(most.get(measure, 0) for _, most in told.values()) for _, mine in told.values() for measure in mine}
    has = {
        name: features | {measure for measure, letters in most.items() if letters == top[measure]}
        for name, (features, most) in told.items()
    }
    left, taken = set[str]().union(*has.values()), set[str]()
    while left:
        # Of those that show as much that is new, the first.
        best = max(has, key=lambda name: len(has[name] & left))
        taken.add(best)
        left -= has[best]
    return [name for name in pages if name in taken]


def varied(site: Path, names: Iterable[str]) -> list[str]:
    """The same of pages of a site, by their paths in it."""
    return fewest({name: (site / name).read_text(encoding="utf-8") for name in names})
