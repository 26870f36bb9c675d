"""Sheets, card fronts and looks to draw in tests, chosen to be hard: tiny pieces, slim sheets, notches."""

from __future__ import annotations

from fractions import Fraction as F

from kitwright.card.base import Base
from kitwright.card.face import Face, Placed, Sentiment, Spot, Sum, Term
from kitwright.cutting.tree import Leaf, Node, Split
from kitwright.drawing.looks import DrawnLook
from kitwright.geometry import Rect
from kitwright.units import Length, Size, total


def long(value, unit: str = "in") -> Length:
    """A length in inches or millimetres."""
    return Length(F(value)) if unit == "in" else Length.mm(F(value))


def rect(x, y, width, height, unit: str = "in") -> Rect:
    return Rect(long(x, unit), long(y, unit), long(width, unit), long(height, unit))


def cut(area: Rect, axis: str, parts: list, unit: str = "in", off: str = "") -> Split:
    """A split from (size, label or nested (axis, parts)); a size of None takes what is left."""
    given = total(long(size, unit) for size, _ in parts if size is not None)
    at = area.x if axis == "x" else area.y
    found: list[Node] = []
    for size, what in parts:
        share = (area.width if axis == "x" else area.height) - given if size is None else long(size, unit)
        own = Rect(at, area.y, share, area.height) if axis == "x" else Rect(area.x, at, area.width, share)
        found.append(cut(own, *what, unit) if isinstance(what, tuple) else Leaf(own, what))
        at += share
    return Split(area, axis, tuple(found), off or ("left" if axis == "x" else "top"))


_COLUMN = ("y", [(F(5, 4), "A")] * 3 + [(F(7, 8), "B")] * 6 + [(None, None)])
SHEETS: dict[str, tuple[Node, str, DrawnLook | None]] = {
    "columns": (cut(rect(0, 0, 12, 12), "x", [(F(15, 4), _COLUMN)] * 3 + [(None, None)]), "in", DrawnLook("dots", ("butter", "clay"))),
    "one way": (
        cut(
            rect(0, 0, 6, 6),
            "y",
            [
                (2, ("x", [(3, "C"), (3, "C")])),
                (F(5, 2), ("x", [(F(15, 16), "D"), (F(15, 16), "D"), (None, "E")])),
                (None, ("x", [(F(11, 4), "F"), (F(11, 4), "F"), (None, None)])),
            ],
        ),
        "in",
        DrawnLook("houses", ("white", "sky", "plum"), "right"),
    ),
    "metric": (
        cut(
            rect(0, 0, 210, 297, "mm"),
            "y",
            [(148, ("x", [(105, "K"), (105, "K")])), (148, ("x", [(105, "K"), (95, "M"), (None, None)])), (None, None)],
            "mm",
        ),
        "mm",
        None,
    ),
    "pad": (
        cut(
            rect(0, 0, 152, 152, "mm"),
            "x",
            [
                (95, ("y", [(45, "A"), (45, "A"), (F(55, 2), "B"), (F(55, 2), "B"), (None, None)])),
                (50, ("y", [(20, "C")] * 7 + [(None, None)])),
                (None, None),
            ],
            "mm",
        ),
        "mm",
        DrawnLook("leaves", ("white", "sage"), "top"),
    ),
    "tiny": (
        cut(
            rect(0, 0, 12, 12),
            "y",
            [(2, ("x", [(2, "A")] * 6))] * 2
            + [(F(3, 4), ("x", [(3, "B")] * 4))] * 3
            + [(F(1, 4), ("x", [(3, "C")] * 4))] * 2
            + [(F(1, 2), ("x", [(F(1, 2), "D")] * 20 + [(None, None)])), (None, None)],
        ),
        "in",
        DrawnLook("stripes", ("white", "night", "sky")),
    ),
    "slim": (cut(rect(0, 0, 12, 2), "y", [(F(7, 8), ("x", [(F(7, 2), "S")] * 3 + [(None, None)]))] * 2 + [(None, None)]), "in", None),
    "tall strips": (
        cut(
            rect(0, 0, F(17, 2), 11), "x", [(F(17, 4), "M")] + [(F(7, 8), "V")] * 3 + [(None, ("y", [(5, "W"), (None, None)]))], off="right"
        ),
        "in",
        DrawnLook("plain", ("night",)),
    ),
    "whole": (Leaf(rect(0, 0, 6, 6), "A"), "in", DrawnLook("waves", ("sky", "white"))),
}
"""Cut trees by name, with the unit and the paper to draw them in."""

LOOKS = {
    (key, "front"): look
    for key, look in {
        "card": DrawnLook("plain", ("linen",)),
        "white": DrawnLook("plain", ("white",)),
        "night": DrawnLook("plain", ("night",)),
        "dots": DrawnLook("dots", ("blush", "white", "plum")),
        "stripes": DrawnLook("stripes", ("white", "sage", "butter")),
        "leaves": DrawnLook("leaves", ("butter", "clay", "night"), "top"),
        "waves": DrawnLook("waves", ("sky", "white", "night")),
    }.items()
}


def notched(area: Rect, depth: Length) -> tuple:
    """The outline of a strip with a V notch in both ends."""
    middle = area.y + area.height / 2
    return (
        (area.x, area.y),
        (area.right, area.y),
        (area.right - depth, middle),
        (area.right, area.bottom),
        (area.x, area.bottom),
        (area.x + depth, middle),
    )


def _sum(direction: str, unit: str, *terms) -> Sum:
    made = tuple(Term(name, long(size, unit)) for name, size in terms)
    return Sum(direction, "the mat", made, total(t.length for t in made))


def _side() -> Face:
    mat, e = rect(F(1, 8), F(1, 8), 4, F(21, 4)), F(1, 8)
    return Face(
        Size(long(F(17, 4)), long(F(11, 2))),
        "side",
        (Placed("base", "card", "front", rect(0, 0, F(17, 4), F(11, 2)), layer="base"), Placed("M", "white", "front", mat, layer="layer")),
        mat,
        (
            Placed("A", "dots", "front", rect(F(1, 4), F(1, 4), F(15, 4), F(5, 4))),
            Placed("B", "stripes", "front", rect(F(1, 4), F(13, 8), F(15, 4), F(7, 8))),
            Placed("B", "dots", "front", rect(F(1, 4), F(35, 8), F(15, 4), F(7, 8))),
        ),
        (),
        (rect(F(1, 4), F(21, 8), F(15, 4), F(13, 8)),),
        (
            _sum(
                "along",
                "in",
                ("border", e),
                ("A", F(5, 4)),
                ("gap", e),
                ("B", F(7, 8)),
                ("gap", e),
                ("band", F(13, 8)),
                ("gap", e),
                ("B", F(7, 8)),
                ("border", e),
            ),
            _sum("across", "in", ("border", e), ("A", F(15, 4)), ("border", e)),
        ),
        long(e),
        long(e),
        Sentiment("thinking of you", rect(F(5, 8), F(25, 8), 3, F(5, 8)), "band"),
        name="dots outside",
        cards=9,
    )


def _top() -> Face:
    mat, e, strip = rect(F(1, 8), F(1, 8), F(27, 4), F(19, 4)), F(1, 8), rect(F(1, 2), F(9, 4), 6, F(3, 4))
    return Face(
        Size(long(7), long(5)),
        "top",
        (Placed("base", "card", "front", rect(0, 0, 7, 5), layer="base"), Placed("K", "night", "front", mat, layer="layer")),
        mat,
        (
            Placed("C", "leaves", "front", rect(F(1, 4), F(1, 4), 3, F(9, 2))),
            Placed("D", "dots", "front", rect(F(27, 8), F(1, 4), F(27, 8), F(35, 16))),
            Placed("E", "stripes", "front", rect(F(27, 8), F(41, 16), F(27, 8), F(35, 16)), turned=True),
        ),
        (Placed("S", "card", "front", strip, outline=notched(strip, long(F(3, 8))), raised=True, layer="over"),),
        (),
        (
            _sum("across", "in", ("border", e), ("C", 3), ("gap", e), ("D", F(27, 8)), ("border", e)),
            _sum("along", "in", ("border", e), ("D", F(35, 16)), ("gap", e), ("E", F(35, 16)), ("border", e)),
        ),
        long(e),
        long(e),
        Sentiment("with all my thanks", rect(F(3, 2), F(19, 8), 4, F(1, 2)), "S"),
        (
            Spot("three dots", rect(F(21, 4), F(7, 2), F(9, 8), F(3, 8)), long(F(1, 16))),
            Spot("blossom", rect(F(1, 2), F(1, 2), 1, 1), None, True),
        ),
    )


def _square() -> Face:
    whole, papers = rect(0, 0, F(21, 4), F(21, 4)), (("dots", "leaves"), ("stripes", "dots"))
    return Face(
        whole.size,
        "side",
        (Placed("base", "night", "front", whole, layer="base"),),
        whole,
        tuple(
            Placed("Q", paper, "front", rect(F(1, 4) + F(5, 2) * i, F(1, 4) + F(5, 2) * j, F(9, 4), F(9, 4)))
            for j, row in enumerate(papers)
            for i, paper in enumerate(row)
        ),
        (Placed("T", "white", "front", rect(F(-1, 8), F(9, 4), F(11, 2), F(3, 4)), layer="over"),),
        (),
        (_sum("along", "in", *[("border", F(1, 4)), ("Q", F(9, 4)), ("gap", F(1, 4)), ("Q", F(9, 4)), ("border", F(1, 4))]),),
        long(F(1, 4)),
        long(F(1, 4)),
        Sentiment("hello, friend", rect(F(11, 8), F(19, 8), F(5, 2), F(1, 2)), "T"),
    )


def _metric() -> Face:
    mat = rect(3, 3, 99, 142, "mm")
    return Face(
        Size(long(105, "mm"), long(148, "mm")),
        "side",
        (Placed("base", "card", "front", rect(0, 0, 105, 148, "mm"), layer="base"), Placed("M", "night", "front", mat, layer="layer")),
        mat,
        (
            Placed("A", "waves", "front", rect(6, 6, 93, 60, "mm")),
            Placed("B", "dots", "front", rect(6, 69, 45, 40, "mm")),
            Placed("C", "stripes", "front", rect(54, 69, 45, 40, "mm")),
            Placed("D", "waves", "front", rect(6, 112, 93, 8, "mm")),
        ),
        (),
        (rect(6, 123, 93, 19, "mm"),),
        (
            _sum(
                "along",
                "mm",
                ("border", 3),
                ("A", 60),
                ("gap", 3),
                ("B/C", 40),
                ("gap", 3),
                ("D", 8),
                ("gap", 3),
                ("band", 19),
                ("border", 3),
            ),
        ),
        long(3, "mm"),
        long(3, "mm"),
        Sentiment("so many happy returns of the day", rect(20, 126, 65, 13, "mm"), "band"),
        (Spot("sequins", rect(70, 74, 20, 20, "mm"), None, True),),
    )


FACES: dict[str, tuple[Face, str]] = {
    "side fold": (_side(), "in"),
    "top fold": (_top(), "in"),
    "square": (_square(), "in"),
    "metric": (_metric(), "mm"),
}
BASES: dict[str, tuple[Base, str]] = {
    "side fold": (Base(Size(long(F(17, 2)), long(F(11, 2))), "side", long(F(17, 4))), "in"),
    "top fold": (Base(Size(long(7), long(10)), "top", long(5)), "in"),
    "uneven": (Base(Size(long(F(21, 4)), long(7)), "top", long(F(5, 2))), "in"),
    "metric": (Base(Size(long(210, "mm"), long(148, "mm")), "side", long(105, "mm")), "mm"),
}
