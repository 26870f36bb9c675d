"""What is wrong with the sheets and the guides."""

from __future__ import annotations

from fractions import Fraction

from kitwright.errors import Said
from kitwright.telling.compared import compared_text
from kitwright.telling.words import label_text, listed, sheets_text
from kitwright.units import Length, Size, both_text, length_text, seen_text, size_text
from kitwright.work.compared import Measured


def planned_better(papers: tuple[str, ...], yours: Measured, planned: Measured, proved: bool, unit: str) -> Said:
    return (
        f"{listed(papers)}: {compared_text(yours, planned, proved, unit)}",
        "your guide stays as it is;  cuts: auto  would take the planner's",
    )


def piece_too_large(label: str, size: Size, over: Length, sheet: Size, held: bool, largest: Size, unit: str) -> Said:
    return (
        f"{label}, {size_text(size, unit)}, is {seen_text(over, unit)} larger than the sheet, {size_text(sheet, unit)}"
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


# --- what comes out -----------------------------------------------------------------------------------


def too_few(paper: str, label: str, made: int, needed: int, sheets: Fraction, spare: tuple[tuple[str, int], ...]) -> Said:
    short, more = needed - made, listed([f"{n} {label_text(other, n)}" for other, n in spare])
    return (
        f"{paper}: {short} {label_text(label, short)} too few come out of {sheets_text(sheets)} ({made} of {needed})",
        f"cut more {label_text(label, 2)} from a sheet, or use more sheets"
        + (f"; {more} more than needed come off it: are two counts swapped?" if more else ""),
    )


def more_than_at_hand(paper: str, sheets: Fraction, given: Fraction) -> Said:
    return (
        f"{paper}: the batch takes {sheets_text(sheets)}, but {sheets_text(given)} {_are(given)} at hand",
        "use more sheets, or make fewer cards",
    )


def fewer_are_enough(paper: str, enough: Fraction, sheets: Fraction) -> Said:
    return (
        f"{paper}: {sheets_text(enough)} cut by this guide {_are(enough)} enough, and it says {sheets_text(sheets)}",
        "leave the line out, unless the batch is meant to have spare pieces",
    )


def blanks_from_leftovers(label: str, paper: str, gives: int, needed: int, size: Size, unit: str) -> Said:
    every = "all" if gives == needed else f"{gives} of the"
    return (
        f"{label} is on no guide of {paper}, and what these leave gives {every} {needed} blanks of {size_text(size, unit)}",
        f"cut them from what the guide leaves over: put {label} on it",
    )


def _are(sheets: Fraction) -> str:
    return "is" if sheets <= 1 else "are"


def cut_turned(paper: str, labels: tuple[str, ...], one_way: bool) -> Said:
    return (
        f"{paper} {'is one-way' if one_way else 'keeps its pieces upright'}, and {', '.join(labels)} would be cut turned",
        "cut these upright: across is the piece's width, down its height",
    )


def not_asked_for(labels: tuple[str, ...], paper: str, key: str, counted: bool) -> Said:
    """`counted`: whether what lies on the cards says how many pieces are asked for, and no line of the piece."""
    return (
        f"{', '.join(labels)} on this guide is not asked for from {paper}",
        f"take it off the guide, or lay {labels[0]} {key} on a card"
        if counted
        else f"take it off the guide, or add {key} under “per card” of {labels[0]}",
    )


# --- the trimmer, and slack -----------------------------------------------------------------------------


def cut_too_long(cut: int, guide: str, run: Length, longest: Length, unit: str) -> Said:
    return (
        f"cut {cut} of {guide} is {length_text(run, unit)} long, past the trimmer's {both_text(longest, unit)}",
        "make a shorter cut first, across the other way",
    )


def corners_too_far(label: str, guide: str, size: Size, longest: Length, unit: str) -> Said:
    return (
        f"the corners of a {size_text(size, unit)} rectangle lie further apart than the trimmer's {both_text(longest, unit)}: {label} on {guide}",
        f"make {label} smaller; or cut it with a ruler and a knife, on no guide",
    )


def cut_past_the_ruler(cut: int, guide: str, at: Length, reach: Length, unit: str) -> Said:
    return (
        f"cut {cut} of {guide} is set at {length_text(at, unit)}, past the ruler's {both_text(reach, unit)} on either side",
        "make a cut the other way first, or say how far the ruler reaches in club.yaml",
    )


def too_narrow_to_hold(cut: int, guide: str, held: Length, wider: Length, least: Length, unit: str) -> Said:
    return (
        f"cut {cut} of {guide} leaves too narrow a piece to hold: the wider side of {length_text(held, unit)} is "
        f"{length_text(wider, unit)}, and the trimmer holds no less than {length_text(least, unit)}",
        "cut this strip to length before cutting it narrow, or make the piece wider",
    )


_SMALLER = {"in": "a sixteenth", "mm": "a millimetre or two"}


def hardly_any_slack(guide: str, tight: tuple[tuple[str, Length], ...], unit: str) -> Said:
    rooms = listed([f"{length_text(room, unit) if room else 'none'} {way} the sheet" for way, room in tight])
    return (
        f"hardly any slack on {guide}: {rooms}",
        f"a sheet a hair short fails this guide; a piece {_SMALLER[unit]} smaller would give it slack",
    )
