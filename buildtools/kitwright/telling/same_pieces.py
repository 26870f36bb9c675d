"""What else a kit's pieces make, in words and for other programs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from kitwright.proposing.records import Side
from kitwright.proposing.same import MOST, Again, SamePieces
from kitwright.telling.words import article, led, listed, number
from kitwright.units import Length, figure, length_text, size_text


def same_text(same: SamePieces) -> list[str]:
    """Line after line: what the sheets give, what that makes, how much was looked at."""
    unit = same.worked.unit
    pieces = listed([f"{n} {label} {size_text(size, unit)}" for label, size, n in same.there])
    told = [
        f"The sheets of {same.worked.kit.spec.title} give {pieces}." if pieces else "None of its patterned pieces is a plain rectangle."
    ]
    if same.left_out and pieces:
        told.append(f"{listed(same.left_out)} stayed out of it: no plain {'rectangle' if len(same.left_out) == 1 else 'rectangles'}.")
    for i, one in enumerate(same.found, 1):
        told += ["", f"{i}. {led(_card(one.side, one.cards, one.each, unit))}."]
        if one.beside:
            told.append(f"   Of the rest {_card(one.beside.side, one.beside.cards, one.beside.each, unit)}.")
        told.append(f"   {_stays(one)}")
    return [*told, "", *_looked(same)]


def _card(side: Side, cards: int, each: Sequence[tuple[str, int]], unit: str) -> str:
    """`12 cards 5¼ × 5¼ in, 4 A each as a grid; border ⅛ and gap ¼ in; a band of 1½ in stays free`."""
    on = listed([f"{n} {label}" for label, n in each])
    envelope = f" for {article(side.card.envelope.name)} {side.card.envelope.name}" if side.card.envelope else ""
    mat = f" on a mat that shows {length_text(side.card.mat, unit)} of the base" if side.card.mat else ""
    band = f"; a band of {length_text(side.band.height, unit)} stays free" if side.band else ""
    laid = (
        f"border {figure(side.border, unit)} and gap {figure(side.gap, unit)} {unit}"
        if sum(n for _, n in each) > 1
        else _border(side, unit)
    )
    size = size_text(side.card.closed, unit)
    return f"{number(cards, 'card', 'cards')} {size}{envelope}{mat}: {on} on each{_as(side, each)}; {laid}{band}"


def _border(side: Side, unit: str) -> str:
    return f"border {length_text(side.border, unit)}"


def _as(side: Side, each: Sequence[tuple[str, int]]) -> str:
    return f", {_FAMILIES[side.family]}" if sum(n for _, n in each) > 1 else ""


_FAMILIES = {"rows": "in rows", "columns": "in columns", "grid": "in a grid", "rows beside a panel": "some beside others"}


def _stays(one: Again) -> str:
    if not one.stays:
        return "All pieces are used."
    alone = len(one.stays) == 1 and one.stays[0].pieces == 1
    return f"{led(listed([f'{stays.pieces} {stays.label}' for stays in one.stays]))} {'is' if alone else 'are'} left over."


def _looked(same: SamePieces) -> Iterator[str]:
    if not same.found and same.there:
        yield "These pieces make no other usual card with an even border and enough of it covered."
    if same.there:
        yield (
            f"{number(same.blocks, 'way', 'ways')} to fill a rectangle with up to {MOST} of them a card, held against "
            f"{number(same.cards, 'usual card', 'usual cards')} each{'' if same.whole else '; not all ways there are'}."
        )


# --- for other programs -----------------------------------------------------------------------------


def as_json(same: SamePieces) -> dict[str, Any]:
    """The same as plain values; lengths are exact, in inches, as text."""
    return {
        "kit": same.worked.kit.id,
        "pieces": [{"label": label, "size": [_exact(size.width), _exact(size.height)], "pieces": n} for label, size, n in same.there],
        "left out": list(same.left_out),
        "found": [
            _side_json(one.side, one.cards, one.each)
            | {"stays": {stays.label: stays.pieces for stays in one.stays}, "used": str(one.taken)}
            | ({"beside": _side_json(one.beside.side, one.beside.cards, one.beside.each)} if one.beside else {})
            for one in same.found
        ],
        "ways": same.blocks,
        "all": same.whole,
    }


def _side_json(side: Side, cards: int, each: Sequence[tuple[str, int]]) -> dict[str, Any]:
    return {
        "card": [_exact(side.card.closed.width), _exact(side.card.closed.height)],
        "envelope": side.card.envelope.name if side.card.envelope else None,
        "mat": _exact(side.card.mat) if side.card.mat else None,
        "family": side.family,
        "cards": cards,
        "on each": dict(each),
        "border": _exact(side.border),
        "gap": _exact(side.gap),
        "band": _exact(side.band.height) if side.band else None,
        "lies": [{"label": spot.label, "at": [_exact(spot.rect.x), _exact(spot.rect.y)], "turned": spot.turned} for spot in side.spots],
    }


def _exact(length: Length) -> str:
    return str(length.inches)
