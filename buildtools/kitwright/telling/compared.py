"""An author's own guides beside the planner's, in words."""

from __future__ import annotations

from kitwright.telling.words import number, sheets_text
from kitwright.units import length_text, size_text
from kitwright.work.compared import Measured


def measured_text(found: Measured, unit: str) -> str:
    """What counts in a way of cutting: `1 sheet, 3 measures, 7 cuts, …`."""
    return (
        f"{sheets_text(found.sheets)}, {number(found.measures, 'measure', 'measures')}, {number(found.cuts, 'cut', 'cuts')}, "
        f"{f'least slack {length_text(found.slack, unit)}' if found.slack else 'no slack'}, "
        f"{f'largest leftover {size_text(found.leftover, unit)}' if found.leftover.area else 'nothing left over'}"
    )


def compared_text(yours: Measured, planned: Measured, proved: bool, unit: str) -> str:
    """Both beside each other, and whether the planner's sheets are proved the fewest."""
    return f"yours: {measured_text(yours, unit)}; planned: {measured_text(planned, unit)}{', proved the fewest sheets' if proved else ''}"
