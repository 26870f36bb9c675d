"""What lies on a proposed card, in the words of a maker: `Three strips under a long strip, and a band`."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence

from kitwright.geometry import Rect
from kitwright.proposing.makeable import LEAST
from kitwright.proposing.records import Kind, Proposal, Side, Spot
from kitwright.telling.words import article, led, listed, spelled


def family(name: str) -> str:
    """A family as something to choose."""
    return led(name)


def what(proposal: Proposal) -> str:
    """What it is, in a few words: `Three strips and a band`; of two designs both."""
    return led(lies(proposal))


def lies(proposal: Proposal) -> str:
    """The same within a sentence: `three strips and a band`."""
    return "; ".join(_side(side, proposal.kinds) for side in proposal.sides)


def _side(side: Side, kinds: Sequence[Kind]) -> str:
    shapes = _shapes(side, kinds)
    tell = _FAMILIES.get(side.family, _plain)
    return tell(side, shapes)


Shapes = Counter[str]
"""How many pieces of each sort lie on a card, by what a maker calls it."""


def _shapes(side: Side, kinds: Sequence[Kind]) -> Shapes:
    halved = {kind.label for kind in kinds if kind.halved}
    return Counter("triangle" if spot.label in halved else _shape(spot) for spot in side.spots)


def _shape(spot: Spot) -> str:
    width, height = spot.rect.width, spot.rect.height
    short, long = sorted((width, height))
    if long >= short * 2 or short < LEAST["in"].tile:
        return "strip"
    return "panel" if short >= LEAST["in"].panel else "tile"


def _counted(shapes: Shapes, *more: str) -> str:
    """`three strips, a panel and a band`, most of one sort first."""
    return listed([*(_some(n, name) for name, n in sorted(shapes.items(), key=lambda one: (-one[1], one[0]))), *more])


def _band(side: Side) -> tuple[str, ...]:
    return ("a band",) if side.band else ()


def _banded(text: str, side: Side) -> str:
    """With the free band that goes with it."""
    return f"{text}, and a band" if side.band else text


def _some(n: int, name: str) -> str:
    return f"{article(name)} {name}" if n == 1 else f"{spelled(n)} {name}s"


def _plain(side: Side, shapes: Shapes) -> str:
    return _counted(shapes, *_band(side))


def _columns(side: Side, shapes: Shapes) -> str:
    if all(spot.rect.height > spot.rect.width for spot in side.spots):
        said = _counted(Counter({f"upright {name}" if name == "strip" else name: n for name, n in shapes.items()}))
        return f"{said} over a band" if side.band else said
    return _banded(f"{_counted(shapes)} side by side", side)


def _grid(side: Side, shapes: Shapes) -> str:
    across, down = len({spot.rect.x for spot in side.spots}), len({spot.rect.y for spot in side.spots})
    return _banded(f"a grid of {spelled(across)} by {spelled(down)}", side)


def _beside(side: Side, shapes: Shapes) -> str:
    """One piece, and rows or columns at one side of it."""
    for spot in sorted(side.spots, key=lambda spot: -spot.rect.size.area):
        others = [other.rect for other in side.spots if other is not spot]
        where = next((word for word, lies in _LIES.items() if others and all(lies(other, spot.rect) for other in others)), None)
        if where:
            sort = _shape(spot)
            one = f"a {'tall' if where == 'beside' else 'long'} strip" if sort == "strip" else f"a {sort}"
            return _banded(f"{_counted(shapes - Counter((sort,)))} {where} {one}", side)
    return _plain(side, shapes)


def _apart(one: Rect, other: Rect) -> bool:
    """Whether one lies to the left or the right of another."""
    return one.x + one.width <= other.x or other.x + other.width <= one.x


_LIES: dict[str, Callable[[Rect, Rect], bool]] = {
    "beside": _apart,
    "under": lambda one, other: one.y >= other.y + other.height,
    "over": lambda one, other: one.y + one.height <= other.y,
}
"""Where one piece lies, seen from another."""


def _framed(side: Side, shapes: Shapes) -> str:
    return f"{_middle(side)} framed by {_counted(_around(side))}"


def _wound(side: Side, shapes: Shapes) -> str:
    return f"{_counted(_around(side))} wound round {_middle(side)}"


def _middle(side: Side) -> str:
    """What others lie round: a piece, or the free band."""
    if side.band:
        return "a band"
    within = [spot for spot in side.spots if not _at_the_edge(spot, side)]
    return _some(1, _shape(within[0])) if within else "a middle"


def _around(side: Side) -> Shapes:
    return Counter(_shape(spot) for spot in side.spots if _at_the_edge(spot, side))


def _at_the_edge(spot: Spot, side: Side) -> bool:
    """Whether it lies at an edge of all pieces together."""
    at = spot.rect
    ends = [(other.rect.x + other.rect.width, other.rect.y + other.rect.height) for other in side.spots]
    return (
        at.x == min(other.rect.x for other in side.spots)
        or at.y == min(other.rect.y for other in side.spots)
        or at.x + at.width == max(end for end, _ in ends)
        or at.y + at.height == max(end for _, end in ends)
    )


def _across(side: Side, shapes: Shapes) -> str:
    under, over = Counter(_shape(s) for s in side.spots if not s.over), Counter(_shape(s) for s in side.spots if s.over)
    return f"{_counted(under)} with {_counted(over)} across" if over else f"{_counted(shapes)}, one across"


def _bunting(side: Side, shapes: Shapes) -> str:
    rest = shapes - Counter({"triangle": shapes["triangle"]})
    flags = f"{spelled(shapes['triangle'])} flags in a row" if shapes["triangle"] != 1 else "one flag"
    return f"{flags} over {_counted(rest, *_band(side))}" if rest or side.band else flags


def _doors(side: Side, shapes: Shapes) -> str:
    over = Counter(_shape(s) for s in side.spots if s.over)
    upright = "upright " if len(side.spots) > 2 and len({spot.rect.y for spot in side.spots}) == 1 else ""
    each = Counter({f"{upright if name == 'strip' else ''}{name}": n // 2 for name, n in (shapes - over).items()})
    return f"doors of {_counted(each)} each{f', with {_counted(over)} across' if over else ''}"


_FAMILIES = {
    "columns": _columns,
    "grid": _grid,
    "rows beside a panel": _beside,
    "framed panel": _framed,
    "wound strips": _wound,
    "band across": _across,
    "bunting": _bunting,
    "gate doors": _doors,
}
"""Families that are told otherwise than by what lies on the card."""
