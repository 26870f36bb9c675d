"""What a name says and the numbers do not: circles, squares, and the colour of cardstock."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from kitwright.card.outlines import CORNERS
from kitwright.check.typed import singular
from kitwright.findings import Finding
from kitwright.kit.looks import COLOURS
from kitwright.kit.model import Piece
from kitwright.units import ZERO, Length, Size
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
_NEARLY = Length(Fraction(1, 8))
"""A straight stretch no longer than this between two arcs looks like a slip."""


def find(worked: Worked) -> Iterator[Finding]:
    """Names that promise what the numbers don't give."""
    yield from _pieces(worked)
    for design in worked.designs:
        yield from _decorations(design)
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
        circle = piece.shape is not None and piece.shape.circle
        if (_CIRCLES & words and not circle and not _HALF & words and "corner" not in words and flats != (ZERO, ZERO)) or nearly:
            called = bool(_CIRCLES & words)
            yield Finding("warning", place, "named.no-circle", label=label, called=called, size=size, radius=radius, unit=unit)
        elif _SQUARES & words and size.width != size.height and label_only(words, "square"):
            yield Finding("warning", kit.place("pieces", label, "size"), "named.no-square", label=label, size=size, unit=unit)
        arch = piece.shape.arch if piece.shape else None
        if arch or _HALF & words:
            yield from _half_circle(worked, label, piece, bool(_HALF & words))
        window = piece.shape.window if piece.shape else None
        if window and window.rounded and window.size:
            flats = _flats(window.size, window.rounded)
            if max(flats) > ZERO and all(ZERO <= f <= _NEARLY for f in flats):
                place = kit.place("pieces", label, "shape", "window")
                yield Finding("warning", place, "named.window-no-circle", label=label, size=window.size, radius=window.rounded, unit=unit)


def label_only(words: set[str], name: str) -> bool:
    """Whether a name is not the tool's or another thing's: a square punch cuts what it likes."""
    return not {"punch", "corner", "foot", "inch"} & words and name in words


def _half_circle(worked: Worked, label: str, piece: Piece, called: bool) -> Iterator[Finding]:
    """An arch whose straight part is a slip, or that is called a half circle and has one."""
    arch, size, unit = piece.shape.arch if piece.shape else None, piece.size, worked.kit.spec.unit
    across, along = (size.width, size.height) if arch in ("top", "bottom", None) else (size.height, size.width)
    straight = along - across / 2
    if arch is None and called or ZERO < straight and (called or straight <= _NEARLY):
        yield Finding(
            "warning",
            worked.kit.place("pieces", label, "shape" if piece.shape else "size"),
            "named.no-half-circle",
            label=label,
            called=called,
            arch=arch,
            straight=straight,
            across=across,
            unit=unit,
        )


def _decorations(worked: Worked) -> Iterator[Finding]:
    for i, one in enumerate(worked.kit.spec.decorations):
        words = _words(one.name)
        kinds = [kind for kind, names in (("circle", _CIRCLES - {"round"}), ("square", _SQUARES)) if names & words]
        several = any(word.casefold().endswith("s") and singular(word) in _CIRCLES | _SQUARES for word in re.findall(r"\w+", one.name))
        if one.shape == "circle" and "circle" not in kinds:
            kinds.append("circle")
        if kinds and (one.shape == "circle" or not several) and one.size.width != one.size.height:
            place, unit = worked.kit.place("decorations", i), worked.kit.spec.unit
            yield Finding("warning", place, "named.decoration-not-even", name=one.name, kind=kinds[0], size=one.size, unit=unit)


# --- colours ------------------------------------------------------------------------------------


def _colours(worked: Worked) -> Iterator[Finding]:
    kit = worked.kit
    for plan in worked.plans:
        paper = kit.papers[plan.paper]
        if not paper.material.dyed or paper.front.colours or paper.front.scan:
            continue
        words = {word.casefold() for word in re.findall(r"[^\W\d_]+", paper.name)}
        if not words & (_WHITE | _COLOUR):
            words |= set(plan.paper.split("-"))
        if words & _WHITE:
            continue
        named = sorted(words & _COLOUR)
        place = kit.place("papers", plan.paper, "front") if "front" in paper.model_fields_set else kit.place("papers", plan.paper)
        colour = named[0] if named and named[0] in COLOURS else None
        yield Finding("warning" if named else "hint", place, "named.colour-unsaid", paper=paper.name, colour=colour)
