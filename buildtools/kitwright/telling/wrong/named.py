"""Names that promise what the numbers don't give."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.kit.looks import COLOURS
from kitwright.telling.words import typed_size
from kitwright.units import Length, Size, length_text, size_text


def no_circle(label: str, called: bool, size: Size, radius: Length | None, unit: str) -> Said:
    corners = f"with corners rounded at {length_text(radius, unit)}" if radius else "without corners rounded all round"
    return f"{label} {'is called' if called else 'looks like'} a circle, but {size_text(size, unit)} {corners} is none", _circle(size, unit)


def window_no_circle(label: str, size: Size, radius: Length, unit: str) -> Said:
    return (
        f"the window of {label} looks like a circle, but {size_text(size, unit)} with corners rounded at {length_text(radius, unit)} is none",
        _circle(size, unit),
    )


def _circle(size: Size, unit: str) -> str:
    side = min(size.width, size.height)
    typed, radius = typed_size(Size(side, side), unit), length_text(side / 2, unit, plain=True)
    return f"a circle {length_text(side, unit)} across is written  size: {typed}  and  rounded: {radius}"


def no_square(label: str, size: Size, unit: str) -> Said:
    return f"{label} is called a square, but it is {size_text(size, unit)}", _even(size, unit)


def decoration_not_even(name: str, kind: str, size: Size, unit: str) -> Said:
    return f"{name} is called a {kind}, but its place is {size_text(size, unit)}", _even(size, unit)


def _even(size: Size, unit: str) -> str:
    side = min(size.width, size.height)
    return f"write {typed_size(Size(side, side), unit)}, or call it something else"


def no_half_circle(label: str, called: bool, arch: str | None, straight: Length, across: Length, unit: str) -> Said:
    have = f"its sides run straight for {length_text(straight, unit)}" if arch else "it has no arch"
    return (
        f"{label} {'is called' if called else 'looks like'} a half circle, but {have}",
        f"a half circle {length_text(across, unit)} across is {length_text(across / 2, unit)} deep, with  shape: {{arch: {arch or 'top'}}}",
    )


def colour_unsaid(paper: str, colour: str | None) -> Said:
    return (
        f"{paper} says no colour and is drawn white",
        f'add  front: {{colours: {colour or "…"}}}, one of: {", ".join(COLOURS)}, or any as "#7a9e7e"',
    )
