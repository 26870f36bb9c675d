"""Counts on an author's guide that cost a sheet."""

from __future__ import annotations

from fractions import Fraction

from kitwright.errors import Said
from kitwright.telling.words import listed, sheets_text


def fewer_sheets(
    papers: tuple[str, ...], have: int, write: int, others: tuple[tuple[int, int, int], ...], sheets: Fraction, then: Fraction, short: bool
) -> Said:
    """`others`: further lines to change, each with its number, the count there and the count to write."""
    now = f"{sheets_text(sheets)}{' each' if len(papers) > 1 else ''}"
    takes = f"too few pieces come out of {now}" if short else f"the batch takes {now}"
    why = " More of one piece than needed is cut beside too few of another." if others else ""
    besides = "".join(f", and {new} instead of {old} on line {line}" for line, old, new in others)
    return (
        f"{listed(papers)}: with {have} here {takes}; {sheets_text(then)} would do.{why}",
        f"write {write} instead of {have} here{besides}; or say the sheets that you mean with  sheets: …",
    )
