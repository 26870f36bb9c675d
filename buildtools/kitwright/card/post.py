"""What the post makes of a card: thickness, mass, and the limits for letters.

Limits apply to the sealed envelope. Thickness follows from a calliper measured for each
paper; where none is known a range is given and marked, since grammage does not tell how
bulky a paper is. Everything is exact; a figure is rounded only when it is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import lcm
from typing import Literal

from kitwright.card.base import Base, Point
from kitwright.card.face import Face, Placed
from kitwright.geometry import Rect
from kitwright.materials import BULK, NOTHING, Material, Range
from kitwright.sources import NOTED, Source
from kitwright.units import MM, Length, Size

GRAM_PER_SQUARE_INCH = Fraction(254, 10000) ** 2
"""Grams on a square inch at 1 g/m²."""
OUNCE = Fraction(45359237, 1_600_000)
"""Grams in an avoirdupois ounce: 28.349523125."""


ENVELOPE = Range(Fraction(90), Fraction(120))
"""Grams per square metre of an envelope of unknown weight."""
FOAM = Range(Fraction(1), Fraction(2))
"""Millimetres that foam raises a layer when its thickness is not given."""
ENVELOPE_PAPER = Fraction(9, 4)
"""Square envelopes' worth of paper in an envelope: front, back and flaps."""


@dataclass(frozen=True, slots=True)
class Stock:
    """A paper as the post feels it."""

    grammage: Range
    """Grams per square metre."""
    calliper: Range
    """Millimetres."""

    flexible: bool = True
    """Whether it bends as the post's machines want."""

    @classmethod
    def of(cls, grammage: Fraction | None, calliper: Length | None, material: Material) -> Stock:
        """What is known of a paper, and bounds for what is not."""
        return cls(*material.stock(grammage, calliper), material.flexible)


@dataclass(frozen=True, slots=True)
class Parcel:
    """A finished card in its sealed envelope."""

    envelope: Size
    """Longer side across."""
    thickness: Range
    """Millimetres at the thickest place, envelope included."""
    mass: Range
    """Grams, envelope included."""
    lumpy: bool
    """Whether raised layers or decoration make it uneven."""
    decorated: bool
    """Whether decoration of unknown mass or thickness comes on top."""
    stiff: bool = False
    """Whether anything in it hardly bends."""


def area(outline: Iterable[Point]) -> Fraction:
    """Square inches inside a polygon, by the shoelace formula."""
    corners = list(outline)
    twice = sum(x1.inches * y2.inches - x2.inches * y1.inches for (x1, y1), (x2, y2) in pairwise([*corners, corners[0]]))
    return abs(Fraction(twice)) / 2


def covered(placed: Placed) -> Fraction:
    """Square inches of paper in a piece."""
    return area(placed.outline) if placed.outline else placed.rect.area


Blocks = list[tuple[list[int], list[int]]]
"""Columns, and rows of each."""


def thickest(face: Face, stocks: Mapping[str, Stock], foam: Range, under: Iterable[Placed] = ()) -> Range:
    """Millimetres of paper, foam and decoration at the thickest place of a front and of whatever lies `under` it."""
    return _thickest(face, stocks, foam, under)[0]


def thickest_place(face: Face, stocks: Mapping[str, Stock], foam: Range) -> Point:
    """A point of that place: one at which all that makes it so thick truly lies."""
    return _thickest(face, stocks, foam, (), pinpoint=True)[1]


def _thickest(face: Face, stocks: Mapping[str, Stock], foam: Range, under: Iterable[Placed], pinpoint: bool = False) -> tuple[Range, Point]:
    """Both.

    The places looked at are the cells that all edges and corners cut out:
    nothing changes within one but where a slanted edge runs through it.
    """
    papers = (*face.stack, *under)
    things = [
        (
            p.rect,
            p.edges or ((p.outline,) if p.outline else ()),
            stocks[p.paper].calliper + (foam if p.raised and not (p.hold and p.hold.shaker) else NOTHING),
        )
        for p in papers
    ]
    beside_one_another = [
        (m, n) for m, one in enumerate(papers) for n in range(m) if one.rect.overlaps(papers[n].rect) and not one.lies_over(papers[n])
    ]
    # Foam round a window holds film and frame up, over the window too.
    things += [(p.rect, (), foam) for p in papers if p.raised and p.hold and p.hold.shaker]
    things += [(s.rect, s.edges, Range.exact(s.thickness.millimetres)) for s in face.spots if s.thickness is not None]
    corners = [corner for _, edges, _ in things for ring in edges for corner in ring]
    across = sorted({e for r, _, _ in things for e in (r.x, r.right)} | {x for x, _ in corners})
    along = sorted({e for r, _, _ in things for e in (r.y, r.bottom)} | {y for _, y in corners})
    # Everything on whole numbers: a lattice so fine that middles, and points near corners, lie on it; and the parts of a millimetre in which all are thick.
    fine = 100 * lcm(*(e.inches.denominator for e in (*across, *along)))
    part = lcm(*(each.denominator for _, _, thick in things for each in (thick.low, thick.high)))
    xs, ys = [int(e.inches * fine) for e in across], [int(e.inches * fine) for e in along]
    slopes = [_slopes(((int(x.inches * fine), int(y.inches * fine)) for x, y in ring) for ring in edges) for _, edges, _ in things]
    least, most = ([int(getattr(thick, end) * part) for _, _, thick in things] for end in ("low", "high"))
    column, row = {e: i for i, e in enumerate(across)}, {e: j for j, e in enumerate(along)}
    spans = [(column[r.x], column[r.right], row[r.y], row[r.bottom]) for r, _, _ in things]
    # What lies over a cell, a bit for each thing: what covers its column and its row.
    columns, rows = _alike([span[:2] for span in spans], len(xs) - 1), _alike([span[2:] for span in spans], len(ys) - 1)
    lying: dict[int, Blocks] = {}
    for over, columns_alike in columns.items():
        for beside, rows_alike in rows.items():
            lying.setdefault(over & beside, []).append((columns_alike, rows_alike))
    piles = [([n for n in range(len(things)) if bits >> n & 1], blocks) for bits, blocks in lying.items()]
    low_found = high_found = thickest_here = 0
    place = face.size.width / 2, face.size.height / 2
    # The most first: where all of a pile was found to lie over one another, no other of its cells can show more.
    for pile, blocks in sorted(piles, key=lambda each: (-sum(most[n] for n in each[0]), _first(each[1]))):
        at_least, at_most = sum(least[n] for n in pile), sum(most[n] for n in pile)
        for i, j in _cells(blocks):
            if at_most <= high_found and at_least <= low_found and (not pinpoint or at_most <= thickest_here):
                break
            x, y = (xs[i] + xs[i + 1]) // 2, (ys[j] + ys[j + 1]) // 2
            nearly = [(a + (x - a) // 50, b + (y - b) // 50) for a in (xs[i], xs[i + 1]) for b in (ys[j], ys[j + 1])]
            low = here = 0
            there: dict[int, int] = {}
            for n in pile:
                # A slanted edge may run through a cell: at most, paper lies there that reaches a corner of it.
                if _within(x, y, slopes[n]):
                    there[n] = most[n]
                    low += least[n]
                    here += most[n]
                elif any(_within(a, b, slopes[n]) for a, b in nearly):
                    there[n] = most[n]
            if here > thickest_here:
                thickest_here, place = here, (Length(Fraction(x, fine)), Length(Fraction(y, fine)))
            low_found, high_found = max(low_found, low), max(high_found, _piled(there, beside_one_another))
    return Range(Fraction(low_found, part), Fraction(high_found, part)), place


def _alike(spans: Sequence[tuple[int, int]], count: int) -> dict[int, list[int]]:
    """Columns or rows by what covers them, a bit for each thing: where each begins, and where it has ended."""
    found: dict[int, list[int]] = {}
    for at in range(count):
        found.setdefault(sum(1 << n for n, (first, end) in enumerate(spans) if first <= at < end), []).append(at)
    return found


def _first(blocks: Blocks) -> tuple[int, int]:
    """The first cell, by columns."""
    return min((columns[0], rows[0]) for columns, rows in blocks)


def _cells(blocks: Blocks) -> Iterator[tuple[int, int]]:
    """Every cell by columns; more than the first are only laid out where they are asked for."""
    yield _first(blocks)
    yield from sorted((i, j) for columns, rows in blocks for i in columns for j in rows)[1:]


def _piled(there: Mapping[int, int], beside: Sequence[tuple[int, int]]) -> int:
    """The most that things make which reach into one cell, where some of them lie beside one another: no two of those are in one pile."""
    parted = next(((m, n) for m, n in beside if m in there and n in there), None)
    if parted is None:
        return sum(there.values())
    return max(_piled({n: thick for n, thick in there.items() if n != one}, beside) for one in parted)


def lies_at(placed: Placed, at: Point) -> bool:
    """Whether there is paper of a piece at a point."""
    (x, y), r = at, placed.rect
    outlines = placed.edges or ((placed.outline,) if placed.outline else ())
    slopes = _slopes(((a.inches, b.inches) for a, b in corners) for corners in outlines)
    return r.x <= x <= r.right and r.y <= y <= r.bottom and _within(x.inches, y.inches, slopes)


Number = int | Fraction
Slopes = tuple[tuple[Number, Number, Number, Number], ...]
"""The edges of a shape, each from its upper end to its lower one; level ones are never crossed."""


def _slopes(rings: Iterable[Iterable[tuple[Number, Number]]]) -> Slopes:
    pairs = (pair for ring in map(list, rings) for pair in pairwise([*ring, ring[0]]))
    return tuple((x1, y1, x2, y2) if y1 < y2 else (x2, y2, x1, y1) for (x1, y1), (x2, y2) in pairs if y1 != y2)


def _within(x: Number, y: Number, slopes: Slopes) -> bool:
    """Whether a point lies on the paper of a shape: inside an odd number of its edges; anywhere in a plain rectangle."""
    if not slopes:
        return True
    inside = False
    for x1, y1, x2, y2 in slopes:
        # Whether it is left of where the edge meets this height; times the edge's own height.
        if y1 <= y < y2 and (x - x1) * (y2 - y1) < (x2 - x1) * (y - y1):
            inside = not inside
    return inside


def parcel(
    base: Base,
    face: Face,
    stocks: Mapping[str, Stock],
    inside: Placed | None,
    envelope: Size,
    *,
    foam: Range = FOAM,
    envelope_grammage: Range = ENVELOPE,
) -> Parcel:
    """A card in its envelope.

    Args:
        base: the card base.
        face: the front; or a whole closed card as one, with all its panels.
        stocks: every paper used, by key.
        inside: the panel inside, where it lies on the back, if there is one.
        envelope: its size.
        foam: millimetres that foam raises a layer.
        envelope_grammage: grams per square metre of the envelope.
    """
    base_stock = stocks[face.layers[0].paper]
    mass = base_stock.grammage * (base.cut.area * GRAM_PER_SQUARE_INCH)
    panels = (inside,) if inside else ()
    for placed in (*(p for p in face.stack if p.layer != "base"), *panels):
        mass = mass + stocks[placed.paper].grammage * (covered(placed) * GRAM_PER_SQUARE_INCH)
    behind = Placed(face.layers[0].label, face.layers[0].paper, "front", Rect.of(base.back), layer="base")
    told = sum(placed.layer == "base" for placed in face.stack) > 1 or not base.scored.scores
    thick = thickest(face, stocks, foam, panels if told else (behind, *panels))
    wrap = Stock(envelope_grammage, envelope_grammage.by(BULK) * Fraction(1, 1000))
    mass = mass + wrap.grammage * (envelope.area * ENVELOPE_PAPER * GRAM_PER_SQUARE_INCH)
    thick = thick + wrap.calliper + wrap.calliper
    wide = envelope if envelope.width >= envelope.height else envelope.turned
    raised = any(p.raised for p in (*face.stack, *panels))
    stiff = not all(stocks[p.paper].flexible for p in (*face.stack, *panels))
    return Parcel(wide, thick, mass, raised or any(s.thickness for s in face.spots), bool(face.spots), stiff)


def play(clearance: Length, thickness: Range) -> Length:
    """Room left in an envelope once its sides have closed over the card's thickness."""
    return clearance - Length(thickness.high * MM)


# --- limits ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Letters:
    """What one post office takes as a letter."""

    kind: Literal["us", "international"]
    rules: Source
    """Where the limits stand, and as of when: they change."""
    prices: Source | None
    """Where the price steps stand."""
    least: Size
    most: Size
    thinnest: Range
    """Millimetres: under `low` it is refused, over `high` it is dearer or no letter."""
    heaviest: Fraction
    """Grams."""
    steps: tuple[Fraction, ...]
    """Grams at which the price rises, in that country alone; none where each country has its own."""
    ratio: tuple[Fraction, Fraction] | None = None
    """Length ÷ height outside of this costs more."""
    flimsy: tuple[Fraction, Length, Length] | None = None
    """Thinner than so many millimetres and over this height or this length costs more."""


US_LETTERS = Letters(
    kind="us",
    rules=Source("USPS Domestic Mail Manual 101 and 201", NOTED),
    prices=Source("USPS Domestic Mail Manual: classes and price steps", NOTED, memory=True),
    least=Size(Length(5), Length(Fraction(7, 2))),
    most=Size(Length(Fraction(23, 2)), Length(Fraction(49, 8))),
    thinnest=Range(Fraction(7, 1000) / MM, Fraction(1, 4) / MM),
    heaviest=OUNCE * Fraction(7, 2),
    steps=(OUNCE, OUNCE * 2, OUNCE * 3),
    ratio=(Fraction(13, 10), Fraction(5, 2)),
    flimsy=(Fraction(9, 1000) / MM, Length(Fraction(17, 4)), Length(6)),
)
SMALL_LETTERS = Letters(
    kind="international",
    rules=Source("Universal Postal Union letter-post regulations", NOTED, memory=True),
    prices=None,
    least=Size(Length.mm(140), Length.mm(90)),
    most=Size(Length.mm(245), Length.mm(165)),
    thinnest=Range(Fraction(0), Fraction(5)),
    heaviest=Fraction(100),
    steps=(),
)
LETTERS = (US_LETTERS, SMALL_LETTERS)


def letters_for(unit: str) -> Letters:
    """The limits that a kit is held against, by its own unit: whoever measures in inches buys US envelopes and posts
    where they are sold, whoever measures in millimetres does so elsewhere."""
    return SMALL_LETTERS if unit == "mm" else US_LETTERS


Limit = Literal["small", "large", "thin", "thick", "heavy", "square", "nearly square", "long", "flimsy", "lumpy", "stiff"]
"""What a limit is about: the sealed envelope is too much so for a letter, or costs more for it."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What one limit says of a parcel."""

    about: Limit
    within: bool | None
    """None: it depends on what is not known exactly."""
    dearer: bool = False
    """Whether it still goes as a letter, at a higher price."""


def verdicts(card: Parcel, letters: Letters) -> tuple[Verdict, ...]:
    """Every limit that a parcel meets, or may not meet."""
    found = []
    size, least, most = card.envelope, letters.least, letters.most
    if size.width < least.width or size.height < least.height:
        found.append(Verdict("small", False))
    if size.width > most.width or size.height > most.height:
        found.append(Verdict("large", False))
    if card.thickness.low < letters.thinnest.low:
        found.append(Verdict("thin", None if card.thickness.high >= letters.thinnest.low else False))
    if card.thickness.high > letters.thinnest.high:
        found.append(Verdict("thick", None if card.thickness.low <= letters.thinnest.high else False))
    if card.mass.high > letters.heaviest:
        found.append(Verdict("heavy", None if card.mass.low <= letters.heaviest else False))
    if letters.ratio:
        ratio = size.width / size.height
        if ratio < letters.ratio[0]:
            found.append(Verdict("square" if ratio == 1 else "nearly square", False, True))
        elif ratio > letters.ratio[1]:
            found.append(Verdict("long", False, True))
    if letters.flimsy:
        thick, height, length = letters.flimsy
        if card.thickness.low < thick and (size.height > height or size.width > length):
            found.append(Verdict("flimsy", False if card.thickness.high < thick else None, True))
    if card.lumpy:
        found.append(Verdict("lumpy", None, True))
    if card.stiff:
        found.append(Verdict("stiff", None, True))
    return tuple(found)


def step_of(mass: Range, letters: Letters) -> tuple[int, int]:
    """In which price step the mass lies, at least and at most, counted from 1."""

    def step(grams: Fraction) -> int:
        return 1 + sum(grams > limit for limit in letters.steps)

    return step(mass.low), step(mass.high)
