"""How V notches are made, and what each way asks for.

A notched strip has two lengths: from tip to tip, and between the notch bottoms. A piece's
size is the finished strip, tip to tip, made the author's way; another tool cuts deeper,
shallower, or trims the end, so that one of the two lengths changes. The author says
which one is kept.

The lengths made with a punch hold for that punch alone, so its measures stand beside them
wherever they are told; `readers` gives a small table for others.

The facts are geometry. That makers use a square punch's corner so, that shaped punches may
trim the end, and which measures such punches often have, is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isqrt
from typing import Literal

from kitwright.kit.model import Notch, Piece, ShapedPunch
from kitwright.units import HALF_MM, SIXTEENTH, ZERO, Length, Size

Tool = Literal["scissors", "square punch", "shaped punch"]
Ends = tuple[str, ...]
_RULER = {"in": SIXTEENTH, "mm": HALF_MM}


@dataclass(frozen=True, slots=True)
class Way:
    """One way to make the notches of a strip."""

    tool: Tool
    own: bool
    """Whether it is the author's way, for which the sheets are planned."""
    ends: Ends
    """The notched ends, as the piece is written."""
    cut: Size
    """The strip to cut from the sheet."""
    finished: Size
    """The notched strip, tip to tip."""
    depth: Length
    """From the tips to the notch bottom."""
    trim: Length
    """What the tool takes off each notched end beyond the tips."""
    clear: Length
    """Along the strip, between the notch bottoms, or from one to the other end."""
    big_enough: bool | None
    """Whether the tool takes the strip; None when its size is not said."""
    least: Length
    """The smallest such tool on the ruler that takes the strip: a square's side, a punch's width; zero for scissors."""
    punch: ShapedPunch | None = None
    """The shaped punch that the lengths hold for."""
    side: Length | None = None
    """The side of the author's square punch, if that takes the strip; the lengths hold for any that does."""


def _punches(unit: Literal["in", "mm"], *measures: tuple[Fraction | int, Fraction | int, Fraction | int]) -> tuple[ShapedPunch, ...]:
    of = Length if unit == "in" else Length.mm
    return tuple(ShapedPunch(width=of(Fraction(w)), depth=of(Fraction(d)), trim=of(Fraction(t))) for w, d, t in measures)


USUAL: dict[str, tuple[ShapedPunch, ...]] = {
    "in": _punches(
        "in",
        (1, Fraction(1, 2), 0),
        (1, Fraction(1, 2), Fraction(1, 8)),
        (Fraction(3, 2), Fraction(1, 2), Fraction(1, 8)),
        (Fraction(3, 2), Fraction(3, 4), 0),
        (2, Fraction(1, 2), Fraction(1, 8)),
        (2, 1, 0),
        (3, 1, Fraction(1, 8)),
        (3, Fraction(3, 2), 0),
    ),
    "mm": _punches(
        "mm",
        (25, Fraction(25, 2), 0),
        (25, Fraction(25, 2), 3),
        (38, 12, 3),
        (38, 19, 0),
        (50, 12, 3),
        (50, 25, 0),
        (75, 25, 3),
        (75, Fraction(75, 2), 0),
    ),
}
"""Width, depth and trim of shaped punches by the ruler's unit, the smallest first; common practice, no source."""
ROWS = 4
"""Punches of common measures in a reader's table."""


def notch_ends(size: Size, notch: Notch) -> Ends:
    """The notched ends of a strip as it is written; `both` means both short ends."""
    if notch.ends == "both":
        return ("left", "right") if size.width >= size.height else ("top", "bottom")
    return (notch.ends,)


def along(size: Size, ends: Ends) -> Length:
    """How long a strip is between its ends."""
    return size.width if ends[0] in ("left", "right") else size.height


def strip_height(size: Size, notch: Notch) -> Length:
    """How tall the strip is, lying with its notched ends left and right."""
    return size.height if notch_ends(size, notch)[0] in ("left", "right") else size.width


def _longer(size: Size, ends: Ends, by: Length) -> Size:
    if ends[0] in ("left", "right"):
        return Size(size.width + by, size.height)
    return Size(size.width, size.height + by)


def square_takes(side: Length, height: Length) -> bool:
    """Whether the corner of a square notches a strip of this height: up to side × √2, its diagonal.

    Compared as squares, so that no root is rounded.
    """
    return height.inches**2 <= 2 * side.inches**2


def least_square(height: Length, unit: str) -> Length:
    """The smallest square on the ruler whose corner notches a strip of this height."""
    step = _RULER[unit]
    # The fewest steps n with 2n² ≥ (height in steps)², found on whole numbers.
    twice = (height.inches / step) ** 2 / 2
    n = isqrt(-(-twice.numerator // twice.denominator))
    while n * n < twice:
        n += 1
    return Length(n * step)


def punched(punch: ShapedPunch, height: Length) -> tuple[Length, Length]:
    """Depth and trim that a shaped punch gives a strip, in the middle of its opening.

    Its V meets a strip lower than the opening nearer to the notch bottom: the V is as much
    shallower as the strip is lower, and the rest is trimmed. The bottom always lies as far
    from the uncut end.
    """
    share = min(height / punch.width, Fraction(1))
    depth = punch.depth * share
    return depth, punch.trim + punch.depth - depth


def _made(tool: Tool, size: Size, notch: Notch) -> tuple[Length, Length]:
    """Depth, and what is trimmed, with one tool."""
    height = strip_height(size, notch)
    if tool == "shaped punch" and notch.shaped_punch:
        return punched(notch.shaped_punch, height)
    if tool == "scissors" and notch.depth is not None:
        return notch.depth, ZERO
    # A right angle between the corners of the end: as deep as half the strip is tall.
    return height / 2, ZERO


def notch_depth(size: Size, notch: Notch) -> Length:
    """How deep the V of the finished piece is, made the author's way."""
    return _made(notch.made_with, size, notch)[0]


USUAL_MARGIN = {"in": Length(Fraction(1, 8)), "mm": Length.mm(3)}
"""Paper that a punch or a die needs beyond the piece on each side, where no other is said."""


def margin_of(piece: Piece, unit: str) -> Length:
    """Paper that the piece's tool needs beyond it on each side; nothing at the trimmer."""
    return (piece.made_with.margin or USUAL_MARGIN[unit]) if piece.made_with else ZERO


def cut_size(piece: Piece, unit: str = "in") -> Size:
    """The rectangle to cut from the sheet.

    Longer than the finished piece where the author's punch trims its ends; the blank, where a punch or a die
    stamps the whole piece out of it.

    Args:
        piece: as the spec has it.
        unit: the kit's, in which a margin that is not said is usual.
    """
    if piece.notch is None:
        more = margin_of(piece, unit) * 2
        return Size(piece.size.width + more, piece.size.height + more)
    ends = notch_ends(piece.size, piece.notch)
    return _longer(piece.size, ends, _made(piece.notch.made_with, piece.size, piece.notch)[1] * len(ends))


def ways(piece: Piece, unit: str = "in") -> tuple[Way, ...]:
    """Every way to make a piece's notches, the author's own first; empty for a piece without.

    Scissors and the corner of a square punch are always told; a shaped punch when the spec
    describes it.

    Args:
        piece: as the spec has it.
        unit: on whose ruler the smallest tool is sought.
    """
    notch, size = piece.notch, piece.size
    if notch is None:
        return ()
    tools: list[Tool] = ["scissors", "square punch"]
    if notch.shaped_punch:
        tools.append("shaped punch")
    tools.sort(key=lambda tool: tool != notch.made_with)
    return tuple(_way(tool, size, notch, unit) for tool in tools)


def readers(piece: Piece, unit: str = "in") -> tuple[Way, ...]:
    """A small table for a reader's own shaped punch: the author's if there is one, then a few of common measures; empty without notches.

    Args:
        piece: as the spec has it.
        unit: in which the measures of punches are round.
    """
    notch, size = piece.notch, piece.size
    if notch is None:
        return ()
    punches = dict.fromkeys(((notch.shaped_punch,) if notch.shaped_punch else ()) + _taking(strip_height(size, notch), unit))
    return tuple(way for punch in punches if (way := _way("shaped punch", size, notch, unit, punch)).big_enough)


def _taking(height: Length, unit: str) -> tuple[ShapedPunch, ...]:
    """The smallest punches of common measures that take a strip of this height."""
    return tuple(punch for punch in USUAL[unit] if punch.width >= height)[:ROWS]


def _way(tool: Tool, size: Size, notch: Notch, unit: str, punch: ShapedPunch | None = None) -> Way:
    ends, height = notch_ends(size, notch), strip_height(size, notch)
    punch = (punch or notch.shaped_punch) if tool == "shaped punch" else None
    depth, trim = punched(punch, height) if punch else _made(tool, size, notch)
    finished = size
    if notch.keeps == "bottoms":
        finished = _longer(size, ends, (depth - notch_depth(size, notch)) * len(ends))
    big_enough: bool | None = True
    least = ZERO
    if tool == "square punch":
        least = least_square(height, unit)
        big_enough = square_takes(notch.square_punch, height) if notch.square_punch else None
    elif punch:
        least = height
        big_enough = height <= punch.width
    own = tool == notch.made_with and punch in (None, notch.shaped_punch)
    return Way(
        tool=tool,
        own=own,
        ends=ends,
        cut=_longer(finished, ends, trim * len(ends)),
        finished=finished,
        depth=depth,
        trim=trim,
        clear=along(finished, ends) - depth * len(ends),
        big_enough=big_enough,
        least=least,
        punch=punch,
        side=notch.square_punch if tool == "square punch" and big_enough else None,
    )


def strip_height_of(way: Way) -> Length:
    """How tall the strip is, lying with its notched ends left and right."""
    return way.cut.height if way.ends[0] in ("left", "right") else way.cut.width
