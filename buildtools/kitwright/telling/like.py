"""Why a kit is like another, in a phrase."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Any

from kitwright.telling.facets import Both, size_both
from kitwright.telling.folds import name_text
from kitwright.telling.words import led, sheets_text


def why(shared: Sequence[tuple[str, Any]]) -> Both:
    """`The same card, 4¼ × 5½ in; sheets of 12 × 12 in too`, in inches and in millimetres.

    Args:
        shared: what the two share: `card` and a size, `sheets` with their number and size in both units, `sheet` and that, `technique`, `fold`, `tag`.
    """
    found = [led("; ".join(_SAID[what](value, unit) for what, value in shared)) for unit in (0, 1)]
    return found[0], found[1]


def _sheets(value: tuple[Fraction, Both], unit: int) -> str:
    n, size = value
    return f"{sheets_text(n)} of {size[unit]} too"


_SAID: dict[str, Callable[[Any, int], str]] = {
    "card": lambda size, unit: f"the same card, {size_both(size)[unit]}",
    "sheets": _sheets,
    "sheet": lambda size, unit: f"sheets of {size[unit]} too",
    "technique": lambda technique, unit: f"{technique} too",
    "fold": lambda fold, unit: f"{name_text(fold)} too",
    "tag": lambda tag, unit: f"{tag} too",
}
