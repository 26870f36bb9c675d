"""Borders: a layer in the middle of what it lies on, and pieces set by position at even distances.

A layer lies in the middle unless the author moves it, and it is moved for a reason that she can
say: any two opposite borders that differ are told unless they are meant. The panel inside, pieces
by position, and those laid over others lie off the middle more often than not, with a free place
beside them: theirs are told only where they look as if they were to be equal, and the panel's
where it touches an edge.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from kitwright.card.face import Placed
from kitwright.card.layout import target_rect
from kitwright.check.grounds import Ground
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.kit.names import Path
from kitwright.units import ZERO, Length
from kitwright.work.worked import Worked

NEARLY = Length(Fraction(1, 8))
"""Margins that differ by no more than this look meant to be equal."""
FREE = Length(Fraction(1, 2))
"""A place as wide as this, or wider, may be left free for something."""


_MEANT = {"uneven", "overhang", "larger"}


def find(worked: Worked, ground: Ground) -> Iterator[Finding]:
    """Opposite borders, and gaps, that are not equal and are not said to be meant."""
    yield from _layers(worked, ground)
    yield from _placed(worked, ground)
    yield from _over(worked, ground)


def _layers(worked: Worked, ground: Ground) -> Iterator[Finding]:
    layers = ground.face.layers
    for below, layer in zip(layers, layers[1:]):
        if layer.said in ground.layers and below.rect.contains(layer.rect) and not _MEANT & set(ground.layers[layer.said].meant):
            yield from _margins(worked, below.rect, layer.rect, layer.label, below.label, layer.said, _differ)


def inside(worked: Worked) -> Iterator[Finding]:
    """The same of the panel inside."""
    said, lies = worked.kit.spec.card.inside, worked.enclosed.inside
    if said is None or lies is None or _MEANT & set(said.meant):
        return
    page, panel = Rect.of(worked.base.back), lies.rect
    from_fold = panel.x if worked.base.runs == "down" else panel.y
    # What reaches past an edge, or into the fold, is told with the envelope.
    if page.contains(panel) and from_fold:
        yield from _margins(worked, page, panel, said.piece, "inside", ("card", "inside"), _slid)


def _over(worked: Worked, ground: Ground) -> Iterator[Finding]:
    """Pieces laid over others: a place given as a distance that misses the middle by a little."""
    face, whole = ground.face, ground.whole
    if "uneven" in ground.said.meant:
        return
    for placed in face.over:
        entry, below = ground.laid[placed.said], whole.over[: whole.over.index(placed)]
        on = target_rect(entry.on, face.field, face.layers, whole.pieces + below, face.bands)
        if on.contains(placed.rect) and not _MEANT & set(entry.meant):
            yield from _margins(worked, on, placed.rect, placed.label, entry.on, placed.said, _misses)


def _margins(
    worked: Worked, outer: Rect, inner: Rect, label: str | None, on: str, path: Path, wrong: Callable[[Length, Length], bool]
) -> Iterator[Finding]:
    """Of what lies on something, by label; of all pieces on their layer where it is None."""
    place, unit, margins = worked.kit.place(*path), worked.kit.spec.unit, _to_edges(outer, inner)
    for one, other in (("left", "right"), ("top", "bottom")):
        a, b = margins[one], margins[other]
        if wrong(a, b):
            code = "borders.touching" if ZERO in (a, b) else "borders.uneven"
            yield Finding("warning", place, code, label=label, on=on, margins=((one, a), (other, b)), unit=unit)


def _differ(a: Length, b: Length) -> bool:
    return a != b


def _slid(a: Length, b: Length) -> bool:
    return _looks_equal(a, b) or a != b and ZERO in (a, b)


def _misses(a: Length, b: Length) -> bool:
    """Whether something lies off the middle by a little; what touches an edge lies there."""
    return a != b and abs(a - b) <= NEARLY and min(a, b) > ZERO


def _looks_equal(a: Length, b: Length) -> bool:
    """Whether two opposite borders differ, and neither is wide enough to be a free place of its own."""
    return a != b and (max(a, b) < FREE or abs(a - b) <= NEARLY)


def _placed(worked: Worked, ground: Ground) -> Iterator[Finding]:
    """Pieces set by position: opposite borders, and gaps of one row, that look meant to be equal."""
    face, front, unit = ground.face, ground.said, worked.kit.spec.unit
    placed = tuple(one for one in face.pieces if "places" in one.said)
    if not front.places or not placed or "uneven" in front.meant:
        return
    box = _around(placed)
    if placed == face.pieces and face.field.contains(box):
        yield from _margins(worked, face.field, box, None, "front", (*ground.path, "places"), _looks_equal)
    for i, (one, laid) in enumerate(zip(placed, front.places)):
        place = worked.kit.place(*ground.path, "places", i)
        for side, margin in _to_edges(face.field, one.rect).items():
            if front.border is not None and laid.on == "front" and not _MEANT & set(laid.meant) and _nearly(margin, front.border):
                border = front.border
                yield Finding(
                    "warning", place, "borders.not-the-border", label=one.label, side=side, margin=margin, border=border, unit=unit
                )
        for other in placed[i + 1 :]:
            apart = _apart(one.rect, other.rect)
            if front.gap is not None and apart is not None and _nearly(apart, front.gap):
                labels = (one.label, other.label)
                yield Finding("warning", place, "borders.not-the-gap", labels=labels, apart=apart, gap=front.gap, unit=unit)
    for sideways in (True, False):
        for row in _row_gaps(placed, sideways):
            if len(set(row)) > 1 and max(row) - min(row) <= NEARLY:
                place, way = worked.kit.place(*ground.path, "places"), "row" if sideways else "column"
                yield Finding("warning", place, "borders.gaps-differ", way=way, gaps=tuple(row), unit=unit)


def _nearly(length: Length, meant: Length) -> bool:
    """Whether it looks like the length that was meant, and is not; an edge that is touched never does."""
    return length != meant and abs(length - meant) < NEARLY and length > ZERO and meant > ZERO


def _to_edges(outer: Rect, inner: Rect) -> dict[str, Length]:
    return {"left": inner.x - outer.x, "right": outer.right - inner.right, "top": inner.y - outer.y, "bottom": outer.bottom - inner.bottom}


def _apart(a: Rect, b: Rect) -> Length | None:
    """The distance between two pieces that face each other; None where they don't."""
    if a.x < b.right and b.x < a.right:
        return max(b.y - a.bottom, a.y - b.bottom)
    if a.y < b.bottom and b.y < a.bottom:
        return max(b.x - a.right, a.x - b.right)
    return None


def _around(placed: tuple[Placed, ...]) -> Rect:
    x, y = min(p.rect.x for p in placed), min(p.rect.y for p in placed)
    return Rect(x, y, max(p.rect.right for p in placed) - x, max(p.rect.bottom for p in placed) - y)


def _row_gaps(placed: tuple[Placed, ...], sideways: bool) -> list[list[Length]]:
    """The gaps between neighbours that start on one line, for each such line."""
    rows: dict[tuple[Length, Length], list[Rect]] = {}
    for p in placed:
        key = (p.rect.y, p.rect.height) if sideways else (p.rect.x, p.rect.width)
        rows.setdefault(key, []).append(p.rect)
    found = []
    for row in rows.values():
        row.sort(key=lambda r: r.x if sideways else r.y)
        found.append([(b.x - a.right) if sideways else (b.y - a.bottom) for a, b in zip(row, row[1:])])
    return [gaps for gaps in found if gaps]
