"""What a name says and the numbers do not: circles, squares, and the colour of cardstock."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kitwright.card.outlines import CORNERS
from kitwright.check.typed import singular
from kitwright.findings import Finding
from kitwright.kit.looks import COLOURS
from kitwright.kit.model import Piece
from kitwright.units import ZERO, Length, Size, length_text, size_text
from kitwright.work.worked import Worked

_CIRCLES = frozenset("circle disc disk roundel round".split())
_SQUARES = frozenset(("square",))
_HALF = frozenset("half-circle semicircle half-disc half-disk half-round".split())
_WHITE = frozenset("white snow snowy chalk milk cream ivory vanilla natural alabaster pearl eggshell".split())
"""Names of cardstock that white, on the screen and in print, stands for well enough."""
_COLOUR = frozenset(
    """black grey gray charcoal slate silver graphite ink night midnight navy blue sky teal turquoise aqua denim petrol cobalt indigo green moss sage olive mint forest fern pine
lime red brick rust clay terracotta crimson scarlet cherry wine burgundy maroon pink rose blush coral salmon peach orange apricot pumpkin yellow butter straw mustard honey gold lemon amber
purple plum lilac lavender violet aubergine mauve brown kraft chocolate coffee tan sand beige taupe caramel linen""".split()
) | frozenset(COLOURS) - {"white"}
_NEARLY = Length(1) / 8
"""A straight stretch no longer than this between two arcs looks like a slip."""


def find(worked: Worked) -> Iterator[Finding]:
    """Names that promise what the numbers don't give."""
    yield from _pieces(worked)
    yield from _decorations(worked)
    yield from _colours(worked)


def _words(text: str) -> set[str]:
    words = [singular(word) for word in re.findall(r"[^\W\d_][\w’'-]*", text)]
    return {*words, *(f"{a}-{b}" for a, b in zip(words, words[1:]))}


# --- shapes -----------------------------------------------------------------------------------


def _round(piece: Piece) -> Length | None:
    """The radius of a piece whose corners are all rounded; None for any other."""
    shape = piece.shape
    return shape.rounded if shape and shape.rounded and set(shape.corners or CORNERS) == set(CORNERS) else None


def _flats(size: Size, radius: Length) -> tuple[Length, Length]:
    """What stays straight between two arcs, across and down."""
    return size.width - radius * 2, size.height - radius * 2


def _pieces(worked: Worked) -> Iterator[Finding]:
    kit, unit = worked.kit, worked.kit.spec.unit
    for label, piece in kit.spec.pieces.items():
        words, size, radius = _words(piece.use), piece.size, _round(piece)
        if piece.shape and piece.shape.window:
            # A round window lies in a piece of any shape.
            words -= {"round"}
        place = kit.place("pieces", label, "shape" if piece.shape else "size")
        flats = _flats(size, radius) if radius else None
        nearly = flats is not None and max(flats) > ZERO and all(ZERO <= f <= _NEARLY for f in flats)
        if (_CIRCLES & words and not _HALF & words and "corner" not in words and flats != (ZERO, ZERO)) or nearly:
            called = "is called a circle, but" if _CIRCLES & words else "looks like a circle, but"
            yield Finding(
                "warning",
                place,
                f"{label} {called} {size_text(size, unit)} {f'with corners rounded at {length_text(radius, unit)}' if radius else 'without corners rounded all round'} is none",
                _circle(size, unit),
            )
        elif _SQUARES & words and size.width != size.height and label_only(words, "square"):
            yield Finding(
                "warning",
                kit.place("pieces", label, "size"),
                f"{label} is called a square, but it is {size_text(size, unit)}",
                f"write {_side(min(size.width, size.height), unit)}, or call it something else",
            )
        arch = piece.shape.arch if piece.shape else None
        if arch or _HALF & words:
            yield from _half_circle(worked, label, piece, bool(_HALF & words))
        window = piece.shape.window if piece.shape else None
        if window and window.rounded and window.size:
            flats = _flats(window.size, window.rounded)
            if max(flats) > ZERO and all(ZERO <= f <= _NEARLY for f in flats):
                yield Finding(
                    "warning",
                    kit.place("pieces", label, "shape", "window"),
                    f"the window of {label} looks like a circle, but {size_text(window.size, unit)} with corners rounded at {length_text(window.rounded, unit)} is none",
                    _circle(window.size, unit),
                )


def label_only(words: set[str], name: str) -> bool:
    """Whether a name is not the tool's or another thing's: a square punch cuts what it likes."""
    return not {"punch", "corner", "foot", "inch"} & words and name in words


def _side(side: Length, unit: str) -> str:
    return size_text(Size(side, side), unit, plain=True).replace(" × ", " x ")


def _circle(size: Size, unit: str) -> str:
    side = min(size.width, size.height)
    return f"a circle {length_text(side, unit)} across is written  size: {_side(side, unit)}  and  rounded: {length_text(side / 2, unit, plain=True)}"


def _half_circle(worked: Worked, label: str, piece: Piece, called: bool) -> Iterator[Finding]:
    """An arch whose straight part is a slip, or that is called a half circle and has one."""
    arch, size, unit = piece.shape.arch if piece.shape else None, piece.size, worked.kit.spec.unit
    across, along = (size.width, size.height) if arch in ("top", "bottom", None) else (size.height, size.width)
    straight = along - across / 2
    if arch is None and called or ZERO < straight and (called or straight <= _NEARLY):
        says = "is called a half circle" if called else "looks like a half circle"
        have = f"its sides run straight for {length_text(straight, unit)}" if arch else "it has no arch"
        yield Finding(
            "warning",
            worked.kit.place("pieces", label, "shape" if piece.shape else "size"),
            f"{label} {says}, but {have}",
            f"a half circle {length_text(across, unit)} across is {length_text(across / 2, unit)} deep, with  shape: {{arch: {arch or 'top'}}}",
        )


def _decorations(worked: Worked) -> Iterator[Finding]:
    unit = worked.kit.spec.unit
    for i, one in enumerate(worked.kit.spec.decorations):
        words = _words(one.name)
        kinds = [kind for kind, names in (("circle", _CIRCLES - {"round"}), ("square", _SQUARES)) if names & words]
        several = any(word.casefold().endswith("s") and singular(word) in _CIRCLES | _SQUARES for word in re.findall(r"\w+", one.name))
        if kinds and not several and one.size.width != one.size.height:
            yield Finding(
                "warning",
                worked.kit.place("decorations", i),
                f"{one.name} is called a {kinds[0]}, but its place is {size_text(one.size, unit)}",
                f"write {_side(min(one.size.width, one.size.height), unit)}, or call it something else",
            )


# --- colours ------------------------------------------------------------------------------------


def _colours(worked: Worked) -> Iterator[Finding]:
    kit = worked.kit
    for plan in worked.plans:
        paper = kit.papers[plan.paper]
        if paper.kind != "cardstock" or paper.front.colours:
            continue
        words = {word.casefold() for word in re.findall(r"[^\W\d_]+", paper.name)}
        if not words & (_WHITE | _COLOUR):
            words |= set(plan.paper.split("-"))
        if words & _WHITE:
            continue
        named = sorted(words & _COLOUR)
        place = kit.place("papers", plan.paper, "front") if "front" in paper.model_fields_set else kit.place("papers", plan.paper)
        remedy = f"add  front: {{colours: {named[0] if named and named[0] in COLOURS else '…'}}}, one of: {', '.join(COLOURS)}"
        yield Finding("warning" if named else "hint", place, f"{paper.name} says no colour and is drawn white", remedy)
