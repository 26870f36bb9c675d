"""What is wrong with the sheets and the guides."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.compared import compared_text
from kitwright.telling.words import listed
from kitwright.units import Length, Size, length_text, size_text
from kitwright.work.compared import Measured


def planned_better(papers: tuple[str, ...], yours: Measured, planned: Measured, proved: bool, unit: str) -> Said:
    return (
        f"{listed(list(papers))}: {compared_text(yours, planned, proved, unit)}",
        "your guide stays as it is;  cuts: auto  would take the planner's",
    )


def piece_too_large(label: str, size: Size, over: Length, sheet: Size, held: bool, largest: Size, unit: str) -> Said:
    return (
        f"{label}, {size_text(size, unit)}, is {length_text(over, unit)} larger than the sheet, {size_text(sheet, unit)}"
        + ("; it may not be turned" if held else ""),
        f"at {size_text(largest, unit)} it fits; or use a larger sheet" + (", or a paper that is not one-way" if held else ""),
    )


def piece_too_small(label: str, size: Size, most: int, sheet: Size) -> Said:
    return (
        f"{label} ({size_text(size)}) is so small that more than {most} lie on one sheet ({size_text(sheet)})",
        "give it a size that hands can cut, or take a smaller sheet",
    )


def nothing_to_cut() -> Said:
    return "nothing is to be cut from this paper", "give the number of cards, or leave the paper out"


def fewer_than_none() -> Said:
    return "fewer than no pieces are asked for", "a number of pieces is 0 or more"
