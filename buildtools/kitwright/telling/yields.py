"""A kit's tables of yields as plain data for pages: `yields.js` beside its page, and its line in the finder's `find/tables.js`.

Lengths are whole nanometres, in which every sheet that is sold is exact; another is rounded up, so
that nobody's sheet passes for it that is smaller. A table is a character a step
(`cutting.yields.DIGITS`): the most cards from one half sheet, from two, from three …; its last
character, `y`, stands for 60 cards or more. So sheets for n cards are half the place of the first
character that is not below n's.

    kwYields({kit, cards, most, digits, groups: [{
        keys, papers,     its papers, cut alike: each takes what a table says
        kind,             "patterned", "cardstock", "vellum", "film", "chipboard", "foam"
        way,              what a one-way paper does: "none", it has no pattern; "same", all lies upright as it is;
                          "asked", see each sheet's `upright`; "never", since `turned` lie turned on the card
        turned,           labels
        sheets: [{        the kit's own first
            name,         as it is sold, or its size in the kit's unit
            size,         [width, height]
            own,          whether it is the kit's own
            drawn,        table, or absent where `lacks` do not fit
            by,           "guide": the author's own is counted; "best": nobody can do better; "plan": the best found
            lacks,        labels of pieces that the sheet can't give
            upright, byUpright, lacksUpright    the same with every piece upright, where `way` is "asked"
        }]
    }]})
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Any

from kitwright.cutting.stock import Misfit
from kitwright.cutting.yields import DIGITS, MOST, Yields
from kitwright.otherwise.yields import GroupYields, SheetYields, yields_of
from kitwright.units import Length, Size, size_text
from kitwright.work.worked import Worked

NANOMETRES = 1_000_000
"""In a millimetre."""


def in_nanometres(length: Length) -> int:
    """A length, rounded up where it is no whole number of them."""
    return ceil(length.inches * Fraction(254, 10) * NANOMETRES)


def size_of(size: Size) -> list[int]:
    """Width and height."""
    return [in_nanometres(size.width), in_nanometres(size.height)]


def as_data(worked: Worked) -> dict[str, Any]:
    """All tables of a kit."""
    found, unit = yields_of(worked), worked.kit.spec.unit
    groups = [_group(group, unit) for group in found.groups]
    return {"kit": worked.kit.id, "cards": found.cards, "most": MOST, "digits": DIGITS, "groups": groups}


def way_of(group: GroupYields) -> str:
    """What a one-way paper does to papers cut alike."""
    return "none" if not group.printed else "never" if group.turned else "same" if group.upright else "asked"


def _group(group: GroupYields, unit: str) -> dict[str, Any]:
    way = way_of(group)
    sheets = [_sheet(one, one.sheet == group.own, way, unit) for one in group.sheets]
    turned = {"turned": list(group.turned)} if group.turned else {}
    return {"keys": list(group.papers), "papers": list(group.names), "kind": group.kind, "way": way} | turned | {"sheets": sheets}


def _sheet(one: SheetYields, own: bool, way: str, unit: str) -> dict[str, Any]:
    said: dict[str, Any] = {"name": one.name or size_text(one.sheet, unit), "size": size_of(one.sheet)}
    said |= {"own": True} if own else {}
    said |= _table(one.drawn, one.misfits, ("drawn", "by", "lacks"))
    return said | (_table(one.upright, one.misfits_upright, ("upright", "byUpright", "lacksUpright")) if way == "asked" else {})


def _table(table: Yields | None, misfits: tuple[Misfit, ...], names: tuple[str, str, str]) -> dict[str, Any]:
    written, by, lacks = names
    if table is None:
        return {lacks: lacking(misfits)}
    return {written: table.written, by: "guide" if table.proved is None else "best" if table.proved else "plan"}


def lacking(misfits: tuple[Misfit, ...]) -> list[str]:
    """Labels of pieces that do not fit."""
    return [wrong.label for wrong in misfits]
