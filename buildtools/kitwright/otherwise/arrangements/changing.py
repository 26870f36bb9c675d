"""A kit's spec, changed in one way: what the card would be if the maker did this differently.

Each function gives the changed spec, or says why the change makes no sense here.
Nothing is judged: the changed kit is worked out and checked like any other.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from kitwright.card.base import Base, doubled
from kitwright.card.layout import faces_of, target_rect
from kitwright.findings import Note
from kitwright.kit.kit import Kit
from kitwright.kit.model import At, Item, KitSpec, Laid, SentimentSpec
from kitwright.units import ZERO, Length, Size

Turn = dict[str, str]
HALF: Turn = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
QUARTER: Turn = {"top": "left", "left": "bottom", "bottom": "right", "right": "top"}
"""Where each side goes when the front is turned a quarter to the left."""
MIRROR: Turn = {"left": "right", "right": "left", "top": "top", "bottom": "bottom"}


class NoChange(Exception):
    """A change makes no sense for this kit; `why` says what stands in its way."""

    def __init__(self, why: str, **values: Any) -> None:
        super().__init__(why)
        self.why = Note(f"variations.{why}", **values)


def with_front(spec: KitSpec, **changes: Any) -> KitSpec:
    """A kit's spec with these fields of its front replaced."""
    return spec.model_copy(update={"front": spec.front.model_copy(update=changes)})


# --- the front turned ------------------------------------------------------------------------


def half_turned(kit: Kit) -> KitSpec:
    """The whole front turned round on its layer, before anything lies over it."""
    if any(piece.notch and piece.notch.ends != "both" for piece in _front_pieces(kit)):
        raise NoChange("one-notched-end")
    front = kit.spec.front
    return with_front(
        kit.spec, rows=_backwards(front.rows), columns=_backwards(front.columns), places=[_at(laid, HALF) for laid in front.places]
    )


def _backwards(items: list[Item] | None) -> list[Item] | None:
    if items is None:
        return None
    return [
        item.model_copy(update={"place": HALF.get(item.place or "", item.place), "inside": _backwards(item.inside)})
        for item in reversed(items)
    ]


def _at(entry: Any, turn: Turn, **more: Any) -> Any:
    """Something placed by its distances from edges, after the turn."""
    return entry.model_copy(update={turn[side]: getattr(entry, side) for side in turn} | more)


def quarter_turned(kit: Kit) -> KitSpec:
    """The front turned a quarter to the left, what lies over it and the words left level."""
    spec, front = kit.spec, kit.spec.front
    layers = {layer.piece for layer in spec.card.layers}
    if any(spec.pieces[label].notch for label in layers):
        raise NoChange("notched-layer")
    turned = with_front(
        spec,
        rows=_quarter(kit, front.columns, reverse=True),
        columns=_quarter(kit, front.rows, reverse=False),
        places=[_at(laid, QUARTER, turned=not laid.turned) for laid in front.places],
        over=[_at(laid, QUARTER) for laid in front.over],
    )
    pieces = {
        label: piece.model_copy(update={"size": piece.size.turned}) if label in layers else piece for label, piece in spec.pieces.items()
    }
    return turned.model_copy(
        update={
            "pieces": pieces,
            "card": spec.card.model_copy(update={"layers": [_at(layer, QUARTER) for layer in spec.card.layers]}),
            "decorations": [_at(d, QUARTER) for d in spec.decorations],
            "sentiment": spec.sentiment.model_copy(update={"place": "centre"}) if spec.sentiment else None,
        }
    )


def _quarter(kit: Kit, items: list[Item] | None, reverse: bool) -> list[Item] | None:
    """Columns become rows read backwards, rows become columns; a block inside runs the other way, so it does the other."""
    if items is None:
        return None

    def side(item: Item) -> Item:
        changes = {"place": QUARTER.get(item.place or "", item.place), "inside": _quarter(kit, item.inside, not reverse)}
        return item.model_copy(update=changes | ({"turned": not item.turned} if item.piece else {}))

    return [side(item) for item in (reversed(items) if reverse else items)]


def _front_pieces(kit: Kit) -> list:
    labels = {placed.label for placed in faces_of(kit)[0].pieces}
    return [kit.spec.pieces[label] for label in sorted(labels)]


# --- the base and the mat ------------------------------------------------------------------------


def refolded(spec: KitSpec, front: Size, fold: str) -> KitSpec:
    """A base for a card of this front, folded at this edge, both panels alike."""
    base = spec.card.base.model_copy(update={"size": doubled(front, fold)})
    return spec.model_copy(update={"card": spec.card.model_copy(update={"base": base, "fold": fold, "score": None})})


def mat_moved(kit: Kit, base: Base) -> list[tuple[str, KitSpec]]:
    """The lowest layer moved to an end of the base, its border there as narrow as across."""
    card = kit.spec.card
    if not card.layers:
        raise NoChange("no-mat")
    mat, size = card.layers[0], kit.spec.pieces[card.layers[0].piece].size
    across, along = (base.front.width - size.width) / 2, (base.front.height - size.height) / 2
    if across == along:
        raise NoChange("even-mat")
    if min(across, along) < ZERO:
        raise NoChange("larger-mat")
    ends, border = (("left", "right"), along) if across > along else (("top", "bottom"), across)
    found = []
    for end in ends:
        nothing: dict[str, Length | None] = dict.fromkeys(("left", "right", "top", "bottom"))
        moved = mat.model_copy(update=nothing | {end: border, "meant": (*mat.meant, "uneven")})
        if all(getattr(moved, side) == getattr(mat, side) for side in nothing):
            continue
        found.append((end, kit.spec.model_copy(update={"card": card.model_copy(update={"layers": [moved, *card.layers[1:]]})})))
    return found


# --- the sentiment -------------------------------------------------------------------------------


def strip_of(kit: Kit) -> int | None:
    """Which of the pieces laid over the others carries the sentiment."""
    said = kit.spec.sentiment
    return next((i for i, laid in enumerate(kit.spec.front.over) if said and laid.piece == said.on), None)


def sentiment_placed(kit: Kit, place: str) -> KitSpec:
    """The sentiment, on its strip if it has one, in the middle or at one end."""
    spec, said, strip = kit.spec, kit.spec.sentiment, strip_of(kit)
    if said is None:
        raise NoChange("no-sentiment")
    on, room = _room_beside(kit, strip)
    if room < LEAST_MOVE:
        raise NoChange("fills", what="sentiment" if strip is None else "strip", on=on)
    if strip is None:
        return _decorations_away(spec.model_copy(update={"sentiment": said.moved(place)}), said.across, place)
    laid = spec.front.over[strip]
    inset = None if place == "centre" else _end_inset(kit, laid)
    moved = laid.model_copy(update={"left": inset if place == "left" else None, "right": inset if place == "right" else None})
    return _decorations_away(_with_over(spec, strip, moved), place_of(laid), place)


LEAST_MOVE = Length(Fraction(1, 4))
"""Moved less than this, nobody sees it."""


def _room_beside(kit: Kit, strip: int | None) -> tuple[str, Length]:
    """What the sentiment, or its strip, lies on, and how much longer that is than it."""
    face, spec = faces_of(kit)[0], kit.spec
    if spec.sentiment is None:
        raise NoChange("no-sentiment")
    what: SentimentSpec | Laid = spec.sentiment if strip is None else spec.front.over[strip]
    width = spec.pieces[what.piece].size.width if isinstance(what, Laid) else what.size.width
    on = target_rect(what.on, face.field, face.layers, face.pieces + face.over, face.bands)
    border = (spec.front.border or ZERO) * 2 if what.on == "front" else _INSET * 2 if strip is None else ZERO
    return what.on, (on.width - border - width) / 2


_INSET = Length(Fraction(1, 8))
"""How far in a sentiment at one end is stamped, unless said."""


def place_of(laid: At) -> str:
    """Where something sits across: in the middle, at an end, or somewhere of its own."""
    if laid.left is None and laid.right is None:
        return "centre"
    return "left" if laid.left is not None else "right"


def _end_inset(kit: Kit, laid: Laid) -> Length:
    """How far from the end a strip stops: at the front's border, flush in a band, and evenly on another strip."""
    face = faces_of(kit)[0]
    on = target_rect(laid.on, face.field, face.layers, face.pieces + face.over, face.bands)
    if laid.on == "front":
        return kit.spec.front.border or ZERO
    if laid.on == "band":
        return ZERO
    return (on.height - kit.spec.pieces[laid.piece].size.height) / 2


def _decorations_away(spec: KitSpec, before: str, after: str) -> KitSpec:
    """Decoration beside the sentiment changes ends with it; in the middle, what may be left out is left out."""
    if after == "centre":
        kept = [d for d in spec.decorations if not (d.optional and d.on == _ground(spec))]
    elif {before, after} == {"left", "right"}:
        kept = [_at(d, MIRROR) if d.on == _ground(spec) else d for d in spec.decorations]
    else:
        kept = list(spec.decorations)
    return spec.model_copy(update={"decorations": kept})


def _ground(spec: KitSpec) -> str:
    """What the sentiment, or its strip, lies on."""
    said = spec.sentiment
    return next((laid.on for laid in spec.front.over if said and laid.piece == said.on), said.on if said else "")


def _with_over(spec: KitSpec, i: int, laid: Laid | None) -> KitSpec:
    over = [*spec.front.over[:i], *([laid] if laid else []), *spec.front.over[i + 1 :]]
    return with_front(spec, over=over)


def strip_raised(kit: Kit, raised: bool) -> KitSpec:
    """The sentiment strip on foam, or flat."""
    strip = strip_of(kit)
    if strip is None:
        raise NoChange("no-strip")
    return _with_over(kit.spec, strip, kit.spec.front.over[strip].model_copy(update={"raised": raised, "fixing": None}))


def stamped(kit: Kit) -> KitSpec:
    """No strip; the sentiment is stamped on what the strip lay on."""
    spec, strip = kit.spec, strip_of(kit)
    if strip is None or spec.sentiment is None:
        raise NoChange("no-strip")
    laid = spec.front.over[strip]
    if not faces_of(kit)[0].bands:
        raise NoChange("no-band")
    if laid.on != "band":
        raise NoChange("off-band", on=laid.on)
    changed = _with_over(spec, strip, None)
    said: SentimentSpec = spec.sentiment.model_copy(update={"on": "band", "place": "centre", "inset": None})
    pieces = dict(spec.pieces)
    if _lies_once(kit, laid.piece):
        del pieces[laid.piece]
    return changed.model_copy(update={"sentiment": said, "pieces": pieces})


def _lies_once(kit: Kit, label: str) -> bool:
    face = faces_of(kit)[0]
    inside = kit.spec.card.inside
    return sum(p.label == label for p in face.stack) == 1 and (inside is None or inside.piece != label)
