"""Fronts of plain rectangles on a mat of 4 × 4 in, every label typed as one likes, for tests that count by trying."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from kitwright.card.layout import base_of, faces_of
from kitwright.work.worked import Worked
from making import make_kit

Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, top, width, height on the mat, inches."""
SIDE = Fraction(4)


def boxes(*eighths: tuple[int, int, int, int]) -> tuple[Box, ...]:
    return tuple(tuple(Fraction(n, 8) for n in box) for box in eighths)


LAYOUTS: dict[str, tuple[Box, ...]] = {
    "pinwheel": boxes((1, 1, 20, 9), (22, 1, 9, 20), (11, 22, 20, 9), (1, 11, 9, 20)),
    "window": boxes((1, 1, 14, 14), (17, 1, 14, 14), (1, 17, 14, 14), (17, 17, 14, 14)),
    "cross": boxes((8, 1, 16, 6), (25, 8, 6, 16), (8, 25, 16, 6), (1, 8, 6, 16)),
    "middle": boxes((8, 1, 16, 6), (25, 8, 6, 16), (8, 25, 16, 6), (1, 8, 6, 16), (10, 10, 12, 12)),
    "two": boxes((1, 1, 30, 14), (1, 17, 30, 14)),
    "crooked": boxes((1, 1, 16, 8), (18, 1, 8, 16), (1, 20, 16, 8)),
}


@dataclass(frozen=True)
class Laid:
    """One piece as the sketch lays it: its label's size is typed as it lies, or the other way and turned."""

    paper: str
    other_way: bool = False
    may_turn: bool = True
    alone: bool = False
    """Under a label of its own, even if another is typed alike."""


def text_of(layout: Sequence[Box], laid: Sequence[Laid], *, up: Iterable[str] = (), extra: str = "", mat: str = "") -> str:
    """The spec of such a kit."""
    labels: dict[tuple, str] = {}
    counts: dict[str, Counter[str]] = {}
    places = []
    for i, ((x, y, w, h), one) in enumerate(zip(layout, laid)):
        size = (h, w) if one.other_way else (w, h)
        label = labels.setdefault((size, one.may_turn, i if one.alone else None), "ABCDEFGH"[len(labels)])
        counts.setdefault(label, Counter())[one.paper] += 1
        places.append(f"    - {{piece: {label}, paper: {one.paper}, left: {x}, top: {y}{', turned: yes' if one.other_way else ''}}}")
    lines = ["title: A square front", "summary: Pieces on a square mat.", "cards: 12", "papers:"]
    lines += [
        f"  {paper}: {{kind: patterned, name: {paper.capitalize()}, size: 12 x 12, front: {{look: dots, colours: [sky, white]{', up: top' if paper in up else ''}}}}}"
        for paper in dict.fromkeys(one.paper for one in laid)
    ]
    lines += [
        "  white: {kind: cardstock, name: White cardstock, size: Letter}",
        "pieces:",
        f"  M: {{size: {SIDE} x {SIDE}, paper: white{mat}}}",
    ]
    for ((w, h), may_turn, _), label in labels.items():
        shares = ", ".join(f"{paper}: {n}" for paper, n in counts[label].items())
        lines.append(f"  {label}: {{size: {w} x {h}, per card: {{{shares}}}{'' if may_turn else ', may turn: no'}}}")
    lines += ["card:", "  base: {size: 8-1/2 x 4-1/4, paper: white}", "  fold: side", "  layers: [M]", "front:", "  places:", *places]
    return "\n".join(lines) + "\n" + extra


def front_of(root: Path, text: str) -> Worked:
    """The kit without cutting plans, which arrangements are counted without."""
    kit = make_kit(root, text)
    return Worked(kit, base_of(kit), faces_of(kit), (), (), ())


# --- by trying --------------------------------------------------------------------------------

Seen = frozenset[tuple[Box, str]]
"""Which paper is seen where: all that there is to see of plain rectangles."""


def tried(layout: Sequence[Box], laid: Sequence[Laid], up: Iterable[str]) -> set[Seen]:
    """Every front that the very pieces of the sketch make: each dealt out in every order, upright or on its side."""
    found = set()
    for order in itertools.permutations(range(len(laid))):
        if all(_fits(layout[place], layout[piece], laid[piece], place == piece, up) for place, piece in enumerate(order)):
            found.add(frozenset((layout[place], laid[piece].paper) for place, piece in enumerate(order)))
    return found


def _fits(place: Box, own: Box, piece: Laid, as_laid: bool, up: Iterable[str]) -> bool:
    w, h = own[2:]
    typed = (h, w) if piece.other_way else (w, h)
    if as_laid or typed == place[2:]:
        return True
    return (typed[1], typed[0]) == place[2:] and piece.may_turn and piece.paper not in up


def quarter(box: Box) -> Box:
    x, y, w, h = box
    return SIDE - y - h, x, h, w


def flipped(box: Box) -> Box:
    x, y, w, h = box
    return SIDE - x - w, y, w, h


def cards(fronts: set[Seen], up: Iterable[str], *, mirror: bool, quarters: bool = True) -> int:
    """How many different cards: fronts that a turn of the mat, or the mirror, makes of one another are one."""
    left, n = set(fronts), 0
    while left:
        n += 1
        reached = [left.pop()]
        while reached:
            front = reached.pop()
            moves = [flipped] if mirror else []
            if not any(paper in up for _, paper in front):
                moves += [lambda box: quarter(quarter(box)), *([quarter] if quarters else [])]
            for move in moves:
                other = frozenset((move(box), paper) for box, paper in front)
                if other in left:
                    left.remove(other)
                    reached.append(other)
    return n
