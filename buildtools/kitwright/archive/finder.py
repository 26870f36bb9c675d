"""What the finder "From your paper" knows of all kits: one script, `find/tables.js`, put together from a line that each kit's listing keeps.

A folder on disk can't fetch data, so it is a script that calls a function:

    kwTables({most, digits, usual, envelopes, kits})

`usual` has the sheets that each kind is sold as, `[name, width, height]`, `envelopes` those with a
name likewise; lengths are whole nanometres (`telling.yields`). A kit is

    [id, title, month, line in its unit, line in the other, unit, picture, upcoming, cards, sizes, strokes, steps, groups]

`picture` being `[address, width, height]` or 0, `sizes` the closed cards that it makes, `strokes` those of the blade
for its own batch of `cards`. A group of papers that are cut alike is

    [kind, way, names, turned, own, tables, more]

`way` and `turned` as `telling.yields` says them, `tables` in the order of `usual` of its kind: a
table, or with every piece upright too `[drawn, upright]`; `-A,B` where those pieces do not fit.
`more` are sheets that nobody sells, `[name, width, height, table]`; `own` counts through both.
"""

from __future__ import annotations

from typing import Any

from kitwright.archive.called import dense
from kitwright.archive.make import Made
from kitwright.cutting.yields import Yields
from kitwright.kit.kit import PastKit
from kitwright.materials import MATERIALS
from kitwright.otherwise.yields import GroupYields, SheetYields, yields_of
from kitwright.telling.steps import steps_of
from kitwright.telling.yields import lacking, size_of, way_of
from kitwright.units import size_text
from kitwright.work.traits import cuts_of
from kitwright.work.worked import Worked

EASY = {"little": (7, 16), "quick": (10, 20)}
"""Strokes of the blade a card, and steps, up to which making a kit is called so: by the finder, the search and the facts alike."""


def steps_in(worked: Worked) -> int:
    """Lines of what is to be done, of the design that has most."""
    return max(sum(len(step.lines) for step in steps_of(design)) for design in worked.designs)


def is_easy(worked: Worked, pace: str) -> bool:
    """Whether making it is called so, by `EASY`."""
    strokes, steps = EASY[pace]
    return cuts_of(worked) <= strokes * worked.kit.spec.cards and steps_in(worked) <= steps


def entry_of(made: Made) -> str:
    """A kit's own part of its line, as JSON; empty for a past kit."""
    if isinstance(made.entry, PastKit):
        return ""
    worked = made.entry
    sizes = [size_of(size) for size in dict.fromkeys(design.base.finished for design in worked.designs)]
    groups = [_group(group, worked.unit) for group in yields_of(worked).groups]
    return dense([worked.kit.spec.cards, sizes, cuts_of(worked), steps_in(worked), groups])[1:-1]


def _group(group: GroupYields, unit: str) -> list[Any]:
    way, usual = way_of(group), [sheet for _, sheet in MATERIALS[group.kind].sold]
    known = {one.sheet: one for one in group.sheets}
    more = [one for one in group.sheets if one.sheet not in usual]
    own = [*usual, *(one.sheet for one in more)].index(group.own)
    tables = [_both(known[sheet], way) for sheet in usual]
    further = [[one.name or size_text(one.sheet, unit), *size_of(one.sheet), _both(one, way)] for one in more]
    return [group.kind, way, list(group.names), list(group.turned), own, tables, further]


def _both(one: SheetYields, way: str) -> str | list[str]:
    drawn = _written(one.drawn, lacking(one.misfits))
    return [drawn, _written(one.upright, lacking(one.misfits_upright))] if way == "asked" and one.upright is not one.drawn else drawn


def _written(table: Yields | None, lacks: list[str]) -> str:
    return table.written if table else "-" + ",".join(lacks)
