"""Look up every name in a spec: labels, papers, faces, and what lies on what."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from kitwright.errors import Place, UserError
from kitwright.kit.model import Item, Laid
from kitwright.words import listed

if TYPE_CHECKING:
    from kitwright.kit.read import Kit

Path = tuple[str | int, ...]
BASE = "base"
"""The label of the card base itself."""


def front_items(kit: "Kit") -> Iterator[tuple[Item, Path]]:
    """Every entry of the front's rows and columns with its path in the spec."""
    for direction in ("rows", "columns"):
        for i, item in enumerate(getattr(kit.spec.front, direction) or []):
            yield from _inner(kit, item, ("front", direction, i))


def _inner(kit: "Kit", item: Item, path: Path) -> Iterator[tuple[Item, Path]]:
    yield item, path
    for i, inner in enumerate(item.inside or []):
        yield from _inner(kit, inner, (*inner_path(kit, path), i))


def inner_path(kit: "Kit", path: Path) -> Path:
    """The path of a block's list: a block is typed as a bare list, or under “inside”."""
    under = (*path, "inside")
    return under if under in kit.document.lines else path


def laid_items(kit: "Kit") -> Iterator[tuple[Laid, Path]]:
    """Every piece of the front given by position, with its path in the spec."""
    for key in ("places", "over"):
        for i, laid in enumerate(getattr(kit.spec.front, key)):
            yield laid, ("front", key, i)


SPELT = "{{piece: {label}, paper: {paper}}}"


def paper_of(kit: "Kit", label: str, said: str | None, place: Place, example: str = SPELT) -> str:
    """The paper of a piece on the card.

    Raises:
        UserError: the label or paper is unknown, or which paper is meant is not said.
    """
    if label not in kit.spec.pieces:
        raise UserError(f"there is no piece {label} in this kit", _did_you_mean(label, kit.spec.pieces), place)
    share = kit.spec.pieces[label].share
    if said is None:
        if len(share) > 1:
            raise UserError(f"{label} comes in {listed(list(share))}, and this does not say which",
                            f"name its paper: {example.format(label=label, paper=next(iter(share)))}", place)
        return next(iter(share))
    if said not in kit.papers:
        raise UserError(f"there is no paper {said} in this kit", _did_you_mean(said, kit.papers), place)
    return said


def _did_you_mean(name: str, known: Iterable[str]) -> str:
    known = list(dict.fromkeys(known))
    near = difflib.get_close_matches(name, known, 1, 0.5)
    return f"did you mean {near[0]}?" if near else f"known here: {', '.join(known)}"


def _known(name: str, known: Iterable[str], what: str, place: Place) -> None:
    if name not in known:
        raise UserError(f"there is no {what} {name} in this kit", _did_you_mean(name, known), place)


def check_names(kit: "Kit") -> None:
    """Look up every name.

    Raises:
        UserError: the first that is unknown or does not say which is meant.
    """
    spec = kit.spec
    for label, piece in spec.pieces.items():
        for paper in piece.share:
            key = ("pieces", label, "paper") if piece.paper else ("pieces", label, "per card", paper)
            _known(paper, kit.papers, "paper", kit.place(*key))
    _known(spec.card.base.paper, kit.papers, "paper", kit.place("card", "base", "paper"))
    for i, layer in enumerate(spec.card.layers):
        paper_of(kit, layer.piece, layer.paper, kit.place("card", "layers", i))
    if spec.card.inside:
        paper_of(kit, spec.card.inside.piece, spec.card.inside.paper, kit.place("card", "inside"))
    layers = [layer.piece for layer in spec.card.layers]
    if spec.front.on:
        _known(spec.front.on, [*layers, BASE], "layer", kit.place("front", "on"))
    _check_front(kit)
    _check_lying_on(kit, layers)
    for i, look in enumerate(spec.front.looks):
        for one, other in look.swap.items():
            for name in (one, other):
                _known(name, kit.papers, "paper", kit.place("front", "looks", i, "swap", one))
    for i, guide in enumerate(spec.guides):
        for paper in guide.papers:
            _known(paper, kit.papers, "paper", kit.place("guides", i, "papers"))


def _check_front(kit: "Kit") -> None:
    for entry, path in (*front_items(kit), *laid_items(kit)):
        if entry.piece is None:
            continue
        place = kit.place(*path)
        paper = paper_of(kit, entry.piece, entry.paper, place, "{label} {paper}" if isinstance(entry, Item) else SPELT)
        if entry.face == "back" and kit.papers[paper].back is None:
            raise UserError(f"{kit.papers[paper].name} has no printed back", "describe its back under papers, or use its front", place)


def _check_lying_on(kit: "Kit", layers: list[str]) -> None:
    """What something lies on must be on the card before it."""
    spec = kit.spec
    items = [item for item, _ in front_items(kit)]
    there = ["front", BASE, *(["band"] if any(i.band is not None for i in items) else []), *layers, *(i.piece for i in items if i.piece)]
    for laid, path in laid_items(kit):
        place = kit.place(*path, "on") if laid.on != "front" else kit.place(*path)
        if laid.on not in there and laid.on in spec.pieces:
            raise UserError(f"{laid.piece} lies on {laid.on}, which is not on the card before it",
                            f"list {laid.on} first, or lay {laid.piece} on one of: {', '.join(dict.fromkeys(there))}", place)
        _known(laid.on, there, "place", place)
        there.append(laid.piece)
    for i, decoration in enumerate(spec.decorations):
        _known(decoration.on, there, "place", kit.place("decorations", i, "on"))
    if spec.sentiment:
        _known(spec.sentiment.on, there, "place", kit.place("sentiment", "on"))
