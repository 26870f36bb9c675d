"""The finder's script over all kits, `find/tables.js`, put together from a line that each kit's listing keeps (`archive.finder` says the form)."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from kitwright.archive.called import dense
from kitwright.archive.listing import Kits, Listed
from kitwright.cutting.yields import DIGITS, MOST
from kitwright.materials import MATERIALS
from kitwright.papers import ENVELOPES
from kitwright.telling.words import month_text
from kitwright.telling.yields import size_of

TABLES = "find/tables.js"
"""Below the top of the site."""


def tables_script(kits: Kits) -> bytes:
    """The whole script, newest kit first; kits without tables have no line."""
    head = {
        "most": MOST,
        "digits": DIGITS,
        "usual": {kind: [[name, *size_of(size)] for name, size in material.sold] for kind, material in MATERIALS.items()},
        "envelopes": [[one.name, *size_of(one.size)] for one in ENVELOPES],
    }
    lines = ",\n".join(_lines(kits))
    return f'kwTables({dense(head)[:-1]},"kits":[\n{lines}\n]}})\n'.encode()


def _lines(kits: Kits) -> Iterable[str]:
    for one in reversed(kits):
        if one.listing.yields:
            yield f"{dense(_said(one))[:-1]},{one.listing.yields}]"


def _said(one: Listed) -> list[Any]:
    image = one.images.get("thumbnail")
    picture = [image.src, image.width, image.height] if image else 0
    line, beside, upcoming = " · ".join(one.line), " · ".join(one.listing.line_beside), 1 if one.upcoming else 0
    return [one.id, one.kit.spec.title, month_text(one.kit.month), line, beside, one.listing.unit, picture, upcoming]
