"""Words of the finder "From your paper": its page, and the sheets that it offers."""

from __future__ import annotations

from collections.abc import Iterable

from kitwright.materials import MATERIALS, Kind
from kitwright.papers import SHEETS
from kitwright.telling.materials import kind_text
from kitwright.telling.words import led
from kitwright.telling.yields import size_of
from kitwright.units import Size

PAPER_TITLE = "From your paper"
PAPER_DESCRIBED = "Say what sheets you have, and see which kits they make, how many cards, and what is left."


def kinds_of(used: Iterable[Kind]) -> list[tuple[Kind, str]]:
    """Kinds of paper, each with its name, in the order in which they are told."""
    wanted = set(used)
    return [(kind, led(kind_text(kind))) for kind in MATERIALS if kind in wanted]


def _offered() -> list[tuple[str, str]]:
    """Sheets by name, each with its sides: those that papers are sold as first, the largest squares leading."""
    sizes: dict[Size, str] = {}
    squares = sorted(MATERIALS["patterned"].sold, key=lambda one: -one[1].width.inches)
    known = (*squares, *((name, size) for material in MATERIALS.values() for name, size in material.sold))
    for name, size in (*known, *((sheet.name, sheet.size) for sheet in SHEETS)):
        sizes.setdefault(size, name)
    return [(name, "x".join(map(str, size_of(size)))) for size, name in sizes.items()]


OFFERED = _offered()
"""Each sheet's name, and its sides in nanometres: `304800000x304800000`."""
