"""Differences on the card: what lies where, its looks, its greeting and decoration, its layers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from kitwright.card.face import Face, Placed
from kitwright.geometry import Rect
from kitwright.labels import BASE, is_base
from kitwright.release.both import Both, Copy, Difference
from kitwright.release.marks import front_marks
from kitwright.release.on_sheets import named, use_of
from kitwright.release.values import Value
from kitwright.units import Length
from kitwright.work.worked import Worked

Pair = tuple[Placed, Placed]


def fronts_changed(both: Both) -> Iterator[Difference]:
    """Look by look; what the first look has told, the others do not repeat."""
    old, new = both.old.worked, both.new.worked
    before, after = ([_said(one, k) for k in range(len(one.worked.faces))] for one in (both.old, both.new))
    if before != after and Counter(before) == Counter(after):
        yield both.change(
            "fronts[]", "looks-in-order", grade="cosmetic", tells=both.below(*(f"fronts[{k}]" for k in range(len(after))), "front.looks")
        )
        return
    first: list[Difference] = []
    for k, (one, other) in enumerate(zip(old.faces, new.faces)):
        told = list(_pieces(both, k, one, other))
        known = [_but_place(change) for change in first]
        yield from (change for change in told if _but_place(change) not in known)
        if k == 0:
            first = told
            yield from _greeting(both, one, other)
            yield from _further_words(both, one, other)
            yield from _decoration(both, one, other)
        if (one.name or other.name) and (one.cards, one.name) != (other.cards, other.name):
            yield both.change(
                f"fronts[{k}].cards", "look-cards", one.cards, other.cards, tells=(f"fronts[{k}].name",), before=one.name, name=other.name
            )
    if len(old.faces) != len(new.faces):
        shared = min(len(old.faces), len(new.faces))
        rest = [f"fronts[{k}]" for k in range(shared, max(len(old.faces), len(new.faces)))]
        yield both.change("fronts[]", "looks", len(old.faces), len(new.faces), grade="write in", tells=both.below(*rest))


def _said(copy: Copy, k: int) -> frozenset[tuple[str, Value]]:
    """All that a copy says of one look."""
    start = f"fronts[{k}]."
    return frozenset((path.removeprefix(start), value) for path, value in copy.values.items() if path.startswith(start))


def _but_place(change: Difference) -> tuple[object, ...]:
    return change.kind, change.was, change.now, change.values


def _pieces(both: Both, k: int, one: Face, other: Face) -> Iterator[Difference]:
    """Every piece of two fronts, each matched with one of the other as closely as can be; what has none is told too."""
    old, new = both.old.worked, both.new.worked
    left, there = [p for p in one.stack if not is_base(p.label)], [p for p in other.stack if not is_base(p.label)]

    def matched(alike: Callable[[Placed, Placed], bool]) -> Iterator[Pair]:
        for placed in list(left):
            same = [q for q in there if alike(placed, q)]
            if same:
                best = next((q for q in same if _place(q, other) == _place(placed, one)), same[0])
                left.remove(placed)
                there.remove(best)
                yield placed, best

    def is_now(p: Placed, q: Placed) -> bool:
        return both.renamed.get(p.label, p.label) == q.label

    def seen(p: Placed) -> tuple[str, str]:
        return p.paper, p.face

    def lies(p: Placed, face: Face) -> tuple[object, ...]:
        return _place(p, face), p.lies, p.raised

    path = f"fronts[{k}].pieces"
    list(matched(lambda p, q: p.label == q.label and seen(p) == seen(q) and lies(p, one) == lies(q, other)))
    swapped: dict[tuple[str, str], list[Pair]] = {}
    for p, q in matched(lambda p, q: _place(p, one) == _place(q, other) and seen(p) == seen(q) and p.label != q.label):
        swapped.setdefault((p.label, q.label), []).append((p, q))
    for (was, now), pairs in swapped.items():
        yield both.change(
            path,
            "label-on-card",
            was,
            now,
            tells=named(both, was, now),
            old=front_marks(k, tuple(p.rect for p, _ in pairs)),
            new=front_marks(k, tuple(q.rect for _, q in pairs)),
            use=use_of(new, now),
            pieces=len(pairs),
        )
        for p, q in pairs:
            yield from _moved(both, path, k, p, q, one, other, placed=False)
    for alike in (
        lambda p, q: is_now(p, q) and seen(p) == seen(q),
        lambda p, q: is_now(p, q) and _place(p, one) == _place(q, other),
        is_now,
    ):
        pairs_now = list(matched(alike))
        yield from _together(change for p, q in pairs_now for change in _moved(both, path, k, p, q, one, other, placed=True))
        for p, q in pairs_now:
            if seen(p) != seen(q):
                yield both.change(
                    path,
                    "paper-on-card",
                    seen(p),
                    seen(q),
                    old=front_marks(k, (p.rect,)),
                    new=front_marks(k, (q.rect,)),
                    label=q.label,
                    look=other.name,
                    before=_paper(old, p),
                    paper=_paper(new, q),
                )
    for kind, alone, labels in (("fewer-on-card", left, new.sizes), ("more-on-card", there, old.sizes)):
        for label, n in Counter(p.label for p in alone).items():
            if both.renamed.get(label, label) in labels or label in labels:
                marks = front_marks(k, tuple(p.rect for p in alone if p.label == label))
                old_marks, new_marks = (marks, ()) if alone is left else ((), marks)
                yield both.change(
                    path,
                    kind,
                    grade="write in",
                    old=old_marks,
                    new=new_marks,
                    label=label,
                    pieces=n,
                    use=use_of(old if alone is left else new, label),
                )


def _paper(worked: Worked, placed: Placed) -> tuple[str, bool]:
    """A paper's name, and whether its back shows."""
    return worked.kit.papers[placed.paper].name, placed.face == "back"


def _moved(both: Both, path: str, k: int, p: Placed, q: Placed, one: Face, other: Face, *, placed: bool) -> Iterator[Difference]:
    """Where a piece lies elsewhere on its ground or otherwise, and did not merely grow, or its ground, from where it lies."""
    was, now = _gaps(p, one), _gaps(q, other)
    grown = both.old.worked.sizes.get(p.label) != both.new.worked.sizes.get(q.label) or _ground(p, one).size != _ground(q, other).size
    stays = [was[edge] == now[edge] or (grown and any(was[side] == now[side] for side in sides)) for edge, sides in _EDGES.items()]
    far = {edge: (was[edge], now[edge]) for edge in _EDGES if was[edge] != now[edge] and placed and not all(stays)}
    turned, raised = p.lies[0] != q.lies[0] and placed, p.raised != q.raised
    # A triangle, or what lies upside down, has more ways round than two.
    otherwise = placed and p.lies != q.lies and len(p.lies + q.lies) > 2
    if not far and not turned and not otherwise and not raised:
        return
    yield both.change(
        path,
        "moved",
        (p.rect.x, p.rect.y, *p.lies, p.raised),
        (q.rect.x, q.rect.y, *q.lies, q.raised),
        old=front_marks(k, (p.rect,)),
        new=front_marks(k, (q.rect,)),
        label=q.label,
        turned=q.turned if turned and not otherwise else None,
        otherwise=otherwise,
        raised=q.raised if raised else None,
        far=far,
        ground=BASE if q.layer == "layer" else next((each.label for each in reversed(other.layers) if each.rect == other.field), BASE),
        unit=both.new.worked.kit.spec.unit,
        pieces=1,
    )


def _together(moves: Iterable[Difference]) -> Iterator[Difference]:
    """Pieces of a label that moved alike as one change, since they read alike: which ones, its marks show."""
    found: list[list[Difference]] = []
    for move in moves:
        group = next((group for group in found if group[0].values == move.values), None)
        if group is None:
            found.append([move])
        else:
            group.append(move)
    for group in found:
        if len(group) == 1:
            yield group[0]
        else:
            was, now = tuple(each.was for each in group), tuple(each.now for each in group)
            old, new = tuple(m for each in group for m in each.old), tuple(m for each in group for m in each.new)
            yield replace(group[0], was=was, now=now, old=old, new=new, values={**group[0].values, "pieces": len(group)})


_EDGES = {"left": ("right", "middle across"), "top": ("bottom", "middle along")}


def _ground(placed: Placed, face: Face) -> Rect:
    """What a piece is measured from: a layer from the base, anything else from what the front is built on."""
    return Rect.of(face.size) if placed.layer == "layer" else face.field


def _place(placed: Placed, face: Face) -> Rect:
    """Where a piece lies on its ground."""
    ground = _ground(placed, face)
    return placed.rect.moved(-ground.x, -ground.y)


def _gaps(placed: Placed, face: Face) -> dict[str, Length]:
    """How far a piece lies from every edge of its ground, and from its middle."""
    ground, rect = _ground(placed, face), placed.rect
    return {
        "left": rect.x - ground.x,
        "right": ground.right - rect.right,
        "middle across": rect.centre[0] - ground.centre[0],
        "top": rect.y - ground.y,
        "bottom": ground.bottom - rect.bottom,
        "middle along": rect.centre[1] - ground.centre[1],
    }


def _greeting(both: Both, one: Face, other: Face) -> Iterator[Difference]:
    a, b = one.sentiment, other.sentiment
    if (a and a.rect) != (b and b.rect):
        yield both.change(
            "fronts[0].sentiment",
            "sentiment",
            None if a is None else (),
            None if b is None else (),
            grade="write in",
            tells=() if a and b else both.below("sentiment"),
            old=front_marks(0, (a.rect,)) if a else (),
            new=front_marks(0, (b.rect,)) if b else (),
        )


def _further_words(both: Both, one: Face, other: Face) -> Iterator[Difference]:
    was, now = tuple(said.rect for said in one.words), tuple(said.rect for said in other.words)
    if was != now:
        yield both.change(
            "fronts[0].words",
            "further-words",
            len(was),
            len(now),
            grade="write in",
            tells=both.below("sentiments"),
            old=front_marks(0, was),
            new=front_marks(0, now),
        )


def _decoration(both: Both, one: Face, other: Face) -> Iterator[Difference]:
    was, now = ([(s.name, s.rect, s.optional) for s in face.spots] for face in (one, other))
    if was != now:
        yield both.change(
            "fronts[0].spots",
            "decoration",
            len(was),
            len(now),
            moved=[s.rect for s in one.spots] != [s.rect for s in other.spots],
            tells=() if was and now else both.below("decorations"),
            old=front_marks(0, tuple(s.rect for s in one.spots)),
            new=front_marks(0, tuple(s.rect for s in other.spots)),
        )


def layers_changed(both: Both) -> Iterator[Difference]:
    """The full layers over the base."""
    was, now = (tuple(layer.piece for layer in one.worked.kit.spec.card.layers) for one in (both.old, both.new))
    if tuple(both.renamed.get(label, label) for label in was) != now:
        yield both.change("card.layers", "layers", was, now, grade="write in", tells=both.below("card.layers"))


def sides_changed(both: Both) -> Iterator[Difference]:
    """What stands on the faces besides the one that leads: face by face, what lies there otherwise, came or went."""
    old, new = both.old.worked.faces, both.new.worked.faces
    told: dict[str, list[str]] = {}
    for one, other in zip(old, new):
        before, after = ({side.on: _on_side(side) for side in face.sides} for face in (one, other))
        for name in dict.fromkeys((*before, *after)):
            was, now = before.get(name, Counter()), after.get(name, Counter())
            if was != now:
                told.setdefault(name, []).extend(label for label, *_ in (*(was - now), *(now - was)))
    if told:
        first, *rest = both.below(*(f"fronts[{k}].sides" for k in range(max(len(old), len(new)))))
        yield both.change(
            first,
            "other-faces",
            grade="write in",
            tells=rest,
            faces=tuple((name, tuple(dict.fromkeys(labels))) for name, labels in told.items()),
        )


def _on_side(side: Face) -> Counter[tuple[str, ...]]:
    """What stands on a face: every piece, words wherever they are, decoration by its name; each with all that says how it lies."""
    pieces = [(p.label, p.paper, p.face, str(p.rect), str(p.lies), str(p.raised)) for p in side.stack if not is_base(p.label)]
    words = [("words", str(said.rect)) for said in side.sentiments]
    return Counter([*pieces, *words, *((spot.name, str(spot.rect)) for spot in side.spots)])
