"""What is wrong with a sheet that a kit may also be cut from."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.findings import Finding
from kitwright.telling.questions import first_of
from kitwright.units import Length, Size, seen_both, size_text


def nothing_to_change(sheet: str) -> Said:
    other = "Letter" if sheet == "A4" else "A4"
    return f"nothing in this kit is cut from {other}, so that its {sheet} edition is the same", f"leave {sheet} out of  also from"


def does_not_fit(sheet: str, paper: str, label: str, size: Size, over: Length, unit: str) -> Said:
    return (
        f"{paper} can’t be {sheet}: {label}, {size_text(size, unit)}, is {seen_both(over, unit)} too large for it",
        f"make {label} smaller, or leave {sheet} out of  also from: its edition then says what does not come out",
    )


def breaks(sheet: str, broken: tuple[Finding, ...]) -> Said:
    return (
        f"cut from {sheet}, it no longer comes out: {first_of(broken)}",
        f"change that, or leave {sheet} out of  also from: its edition then says what changes",
    )
