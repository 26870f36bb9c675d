"""Look up every name in a spec: labels, papers, faces, and what lies on what."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING, Any, Literal

from kitwright.errors import Place, Slips, UserError
from kitwright.folding.faces import DOORS, INSIDE, Part
from kitwright.kit.faces import card_faces, decorations, doors_of, fronts, greetings, layers_on
from kitwright.kit.folds import faults
from kitwright.kit.model import FORGOTTEN, KEY_FORM, LABEL_FORM, LYING_WORDS, Front, Item, Laid
from kitwright.labels import BASE, PINWHEEL

if TYPE_CHECKING:
    from kitwright.kit.kit import Kit
    from kitwright.kit.yamltext import Document

Path = tuple[str | int, ...]


def front_items(kit: Kit) -> Iterator[tuple[Item, Path]]:
    """Every entry of rows and columns, of the front and then of the other faces, with its path in the spec."""
    for said, path in fronts(kit.spec):
        yield from items_of(kit, said, path)


def items_of(kit: Kit, said: Front, path: Path) -> Iterator[tuple[Item, Path]]:
    """Those of one face."""
    for direction in ("rows", "columns"):
        for i, item in enumerate(getattr(said, direction) or []):
            yield from _inner(kit, item, (*path, direction, i))


def _inner(kit: Kit, item: Item, path: Path) -> Iterator[tuple[Item, Path]]:
    yield item, path
    for i, inner in enumerate(item.pinwheel or []):
        yield inner, (*path, PINWHEEL, i)
    for i, inner in enumerate(item.inside or []):
        yield from _inner(kit, inner, (*inner_path(kit, path), i))


def inner_path(kit: Kit, path: Path) -> Path:
    """The path of a block's list: a block is typed as a bare list, or under “inside”."""
    under = (*path, "inside")
    return under if kit.stands(*under) else path


def laid_items(kit: Kit) -> Iterator[tuple[Laid, Path]]:
    """Every piece given by position, of the front and then of the other faces, with its path in the spec."""
    for said, path in fronts(kit.spec):
        yield from laid_on(said, path)


def laid_on(said: Front, path: Path) -> Iterator[tuple[Laid, Path]]:
    """Those of one face."""
    for key in ("places", "over"):
        for i, laid in enumerate(getattr(said, key)):
            yield laid, (*path, key, i)


def paper_of(kit: Kit, label: str, said: str | None, place: Place, *, in_words: bool = False) -> str:
    """The paper of a piece on the card.

    Args:
        kit: whose.
        label: the piece.
        said: the paper, if it is said.
        place: where that should be said, for an error.
        in_words: whether an entry there is a word or two, rather than spelt out.

    Raises:
        UserError: the label or paper is unknown, or which paper is meant is not said.
    """
    _known(label, kit.spec.pieces, "piece", place, kit.papers)
    share = kit.spec.pieces[label].share
    if said is None:
        if len(share) > 1:
            raise UserError("names.which-paper", place=place, label=label, papers=tuple(share), in_words=in_words)
        return next(iter(share))
    _known(said, kit.papers, "paper", place, kit.spec.pieces)
    return said


What = Literal["piece", "paper", "layer", "place"]
_OTHER: dict[What, What] = {"piece": "paper", "paper": "piece"}


def _known(name: str, known: Iterable[str], what: What, place: Place, others: Iterable[str] = ()) -> None:
    """Refuse a name that is not known; one that names something of the other kind is told as such."""
    known = tuple(dict.fromkeys(known))
    if name in known:
        return
    if name in others and what in _OTHER:
        raise UserError("names.other-kind", place=place, what=what, name=name, other=_OTHER[what], known=known)
    near = next(iter(difflib.get_close_matches(name, known, 1, 0.5)), None)
    raise UserError("names.unknown", place=place, what=what, name=name, near=near, known=known)


def check_names(kit: Kit) -> None:
    """Look up every name.

    Raises:
        UserError: all that are unknown or do not say which is meant.
    """
    spec, slips = kit.spec, Slips()

    def paper(name: str, *path: str | int) -> None:
        slips.trying(_known, name, kit.papers, "paper", kit.place(*path), spec.pieces)

    for label, piece in spec.pieces.items():
        for name in piece.share:
            paper(name, "pieces", label, *(("paper",) if piece.paper else ("papers",) if piece.papers else ("per card", name)))
        if piece.pocket and piece.pocket.holds:
            slips.trying(_known, piece.pocket.holds, spec.pieces, "piece", kit.place("pieces", label, "pocket", "holds"), kit.papers)
        if piece.band and piece.band.design is not None:
            slips.trying(known_design, kit, piece.band.design, "pieces", label, "band", "design")
    for key in ("samples", "questions"):
        for i, one in enumerate(getattr(spec, key)):
            if one.design is not None:
                slips.trying(known_design, kit, one.design, key, i, "design")
    for design in kit.designs:
        _check_design(design, slips)
    for i, guide in enumerate(spec.guides):
        for name in guide.papers:
            paper(name, "guides", i, "papers")
    slips.stop()


def known_design(kit: Kit, name: str, *path: str | int) -> None:
    """Refuse a design that the kit does not have.

    Raises:
        UserError: no such design, with those that there are.
    """
    known = tuple(kit.spec.designs)
    if name not in known:
        near = next(iter(difflib.get_close_matches(name, known, 1, 0.5)), None)
        raise UserError("designs.unknown", place=kit.place(*path), name=name, near=near, known=known)


def _check_design(kit: Kit, slips: Slips) -> None:
    spec = kit.spec

    def paper(name: str, *path: str | int) -> None:
        slips.trying(_known, name, kit.papers, "paper", kit.place(*path), spec.pieces)

    paper(spec.card.base.paper, "card", "base", "paper")
    for path, wrong in faults(spec.card, spec.unit):
        slips.add(wrong.at(kit.place("card", *path)))
    for i, layer in enumerate(spec.card.layers):
        slips.trying(paper_of, kit, layer.piece, layer.paper, kit.place("card", "layers", i))
    if spec.card.inside:
        slips.trying(paper_of, kit, spec.card.inside.piece, spec.card.inside.paper, kit.place("card", "inside"))
    _check_front(kit, slips)
    _check_faces(kit, slips)
    doors = doors_of(spec.card, spec.unit)
    there: list[str] = []
    on_doors: list[str] = []
    # What lies across doors may lie on what is on one of them, so these come first.
    for said, path in sorted(fronts(kit.spec), key=lambda each: each[1] == ("front",)):
        found = _check_face(kit, said, path, on_doors if path == ("front",) else [], slips)
        there += found
        on_doors += found if path[-1] in doors else []
    there += [spec.card.inside.piece] if spec.card.inside else []
    faces = list(card_faces(spec.card, spec.unit))
    for decoration, path in decorations(spec):
        slips.trying(_known, decoration.on, [*there, *faces], "place", kit.place(*path, "on"))
    for greeting, path in greetings(spec):
        slips.trying(_known, greeting.on, [*there, *faces], "place", kit.place(*path, "on"))
    for i, look in enumerate(spec.front.looks):
        for one, other in look.swap.items():
            for name in (one, other):
                paper(name, "front", "looks", i, "swap", one)


def _check_front(kit: Kit, slips: Slips) -> None:
    entries: list[tuple[Item | Laid, Path]] = [*front_items(kit), *laid_items(kit)]
    for entry, path in entries:
        if entry.piece is None:
            continue
        place = kit.place(*path)
        read = partial(paper_of, in_words=isinstance(entry, Item))
        paper = slips.trying(read, kit, entry.piece, entry.paper, place)
        if paper in kit.papers and entry.face == "back" and kit.papers[paper].back is None:
            slips.add(UserError("names.no-printed-back", place=place, paper=kit.papers[paper].name))
        piece = kit.spec.pieces.get(entry.piece)
        if entry.upside_down and piece and piece.pocket:
            slips.add(UserError("names.pocket-upside-down", place=place, label=entry.piece))
        if entry.point and piece and not (piece.shape and piece.shape.triangle):
            slips.add(UserError("names.point-of-no-triangle", place=place, label=entry.piece))
    for entry, path in entries:
        if isinstance(entry, Item) and entry.pinwheel:
            _check_pinwheel(kit, entry.pinwheel, kit.place(*path), slips)


def _check_pinwheel(kit: Kit, around: list[Item], place: Place, slips: Slips) -> None:
    """The triangles of a pinwheel come from squares of one size, cut the same way."""
    found = {item.piece: kit.spec.pieces[item.piece] for item in around if item.piece in kit.spec.pieces}
    for label, piece in found.items():
        if not piece.diagonal or piece.size.width != piece.size.height:
            slips.add(UserError("names.pinwheel-of-others", place=place, label=label, size=piece.size, unit=kit.spec.unit))
            return
    if len({(piece.size.width, piece.diagonal) for piece in found.values()}) > 1:
        slips.add(UserError("names.pinwheel-uneven", place=place, labels=tuple(found)))


def _check_faces(kit: Kit, slips: Slips) -> None:
    """Faces that the fold does not give, or that are told of under two names."""
    known = card_faces(kit.spec.card, kit.spec.unit)
    if kit.spec.card.inside and known and INSIDE not in known:
        slips.add(UserError("faces.no-inside", place=kit.place("card", "inside"), label=kit.spec.card.inside.piece, known=tuple(known)))
    seen: dict[tuple[Part, ...], str] = {}
    for name, said in kit.spec.faces.items():
        place = kit.place("faces", name)
        if known and name not in known:
            near = next(iter(difflib.get_close_matches(name, known, 1, 0.5)), None)
            slips.add(UserError("faces.unknown", place=place, name=name, near=near, known=tuple(known)))
            continue
        if name in known and (other := seen.setdefault(known[name].parts, name)) != name:
            slips.add(UserError("faces.twice", place=place, name=name, other=other))
        if said.looks:
            slips.add(UserError("faces.looks-elsewhere", place=kit.place("faces", name, "looks"), name=name))


def _check_face(kit: Kit, said: Front, at: Path, before: list[str], slips: Slips) -> list[str]:
    """What something lies on must be on its face before it; on the doors together, what is on one of them is.

    Returns:
        All that something may lie on.
    """
    spec, (said_layers, layers_at) = kit.spec, layers_on(kit.spec, at)
    for i, layer in enumerate(said_layers if at != ("front",) else []):
        slips.trying(paper_of, kit, layer.piece, layer.paper, kit.place(*layers_at, i))
    layers = [layer.piece for layer in said_layers]
    if said.on:
        slips.trying(_known, said.on, [*layers, BASE], "layer", kit.place(*at, "on"))
    items = [item for item, _ in items_of(kit, said, at)]
    set_down = [
        *((layer.piece, (*layers_at, i)) for i, layer in enumerate(said_layers)),
        *((i.piece, path) for i, path in items_of(kit, said, at)),
    ]
    for label, path in [*set_down, *((laid.piece, path) for laid, path in laid_on(said, at))]:
        piece = spec.pieces.get(label) if label else None
        if piece and (piece.band or piece.liner):
            slips.add(UserError("fixing.not-on-the-card", place=kit.place(*path), label=label, band=bool(piece.band)))
    there = ["front", BASE, *(["band"] if any(i.band is not None for i in items) else []), *layers, *(i.piece for i in items if i.piece)]
    # A face goes by its own name too.
    there += [str(at[-1])] if at != ("front",) else []
    there += [PINWHEEL] if any(i.pinwheel for i in items) else []
    there += before
    over: list[str] = []
    for laid, path in laid_on(said, at):
        place = kit.place(*path, "on") if laid.on != "front" else kit.place(*path)
        if laid.on not in there and laid.on in spec.pieces:
            slips.add(UserError("names.not-there-yet", place=place, piece=laid.piece, on=laid.on, there=tuple(dict.fromkeys(there))))
        else:
            slips.trying(_known, laid.on, there, "place", place)
        if laid.fixed_to and card_faces(spec.card, spec.unit):
            doors = doors_of(spec.card, spec.unit) if at in (("front",), ("faces", DOORS)) else ()
            if laid.fixed_to not in doors:
                place = kit.place(*path, "fixed to")
                slips.add(UserError("fixing.no-such-panel", place=place, label=laid.piece, panel=laid.fixed_to, known=tuple(doors)))
        if path[-2] != "over" and (laid.within or laid.shaker):
            slips.add(UserError("fixing.only-over", place=kit.place(*path), label=laid.piece, key="in" if laid.within else "shaker"))
        elif laid.within:
            _check_pocket(kit, laid.piece, laid.within, over, path, slips)
        elif laid.shaker:
            _check_shaker(kit, laid, path, slips)
        there.append(laid.piece)
        if path[-2] == "over":
            over.append(laid.piece)
    return there


def _check_pocket(kit: Kit, label: str, within: str, over: list[str], path: Path, slips: Slips) -> None:
    """What a piece is pushed into is a pocket that was laid over the front before it."""
    place, pieces = kit.place(*path, "in"), kit.spec.pieces
    if within in pieces and pieces[within].pocket is None:
        slips.add(UserError("fixing.no-pocket", place=place, label=label, within=within))
    elif within in pieces and within not in over:
        slips.add(UserError("fixing.pocket-not-there-yet", place=place, label=label, within=within))
    else:
        slips.trying(_known, within, pieces, "piece", place, kit.papers)


def _check_shaker(kit: Kit, laid: Laid, path: Path, slips: Slips) -> None:
    """A shaker's film is a paper, and gets a label of its own; its frame has a window."""
    shaker, piece = laid.shaker, kit.spec.pieces.get(laid.piece)
    if shaker is None:
        return
    slips.trying(_known, shaker.film, kit.papers, "paper", kit.place(*path, "shaker", "film"), kit.spec.pieces)
    if shaker.label in kit.spec.pieces:
        slips.add(UserError("fixing.film-label-taken", place=kit.place(*path, "shaker", "label"), label=shaker.label))
    if piece and not (piece.shape and piece.shape.window):
        slips.add(UserError("fixing.frame-without-window", place=kit.place(*path, "shaker"), label=laid.piece))


# --- names in a file that can't be read as a whole --------------------------------------------------

_FORMS: dict[What, re.Pattern[str]] = {"piece": re.compile(LABEL_FORM), "paper": re.compile(KEY_FORM)}


def look_up_raw(document: Document, club: Iterable[str] | None) -> None:
    """Look up what the text of a kit names, where the model refused it for something else.

    Args:
        document: the text.
        club: the club's usual papers; None where they are not known, and no paper is looked up.

    Raises:
        UserError: all that are unknown.
    """
    data, slips = document.data, Slips()
    pieces, papers = _mapping(data.get("pieces")), _mapping(data.get("papers"))
    layers = [_label(layer) for part, _ in _raw_designs(data) for layer in _list(_mapping(part.get("card")).get("layers"))]
    known: dict[What, list[str]] = {
        # A name in the wrong form was told; what it was meant for is not told again.
        "piece": [form for name in pieces for form in (name, name.capitalize(), name.upper())],
        "paper": [form for name in (*papers, *club) for form in (name, name.lower())] if club is not None else [],
        "layer": [*filter(None, layers), BASE] if pieces else [],
        "place": ["front", BASE, "band", PINWHEEL, *pieces] if pieces else [],
    }
    hidden = {path[0] for path in document.broken if len(path) == 1} | document.unread
    # What can't be read may be one of the names.
    for name in (*document.unread, *(str(path[1]) for path in document.broken if len(path) > 1)):
        for names in known.values():
            names += [name] if names else []
    of_designs = [found for part, path in _raw_designs(data) for found in (*_raw_front(part, path), *_raw_on(part, path))]
    for what, name, path in (*_raw_papers(data, pieces), *of_designs):
        # What is no name at all was refused already, and so was a file without any piece or paper.
        form = _FORMS.get(what)
        if isinstance(name, str) and (not form or form.fullmatch(name)) and known[what] and not hidden & set(_HOMES[what]):
            other = _OTHER.get(what)
            slips.trying(_known, name, known[what], what, document.place(path), known[other] if other else ())
    slips.stop()


_HOMES: dict[What, tuple[str, ...]] = {
    "piece": ("pieces",),
    "paper": ("papers",),
    "layer": ("pieces", "card", "designs"),
    "place": ("pieces",),
}
"""Entries of a kit that say which names there are."""


def _label(entry: Any) -> str | None:
    said = entry.get("piece") if isinstance(entry, dict) else entry
    return said if isinstance(said, str) else None


def look_up_people(document: Document, people: Iterable[str]) -> None:
    """Look up the people whom the text of a kit names.

    Raises:
        UserError: all who are not on file.
    """
    data, slips, known = document.data, Slips(), tuple(people)
    said: list[tuple[Any, Path]] = [(data.get("by"), ("by",))]
    for key, who in (("tested", "by"), ("samples", "by"), ("team", "who"), ("guests", "who")):
        for i, entry in enumerate(_list(data.get(key))):
            said.append((entry.get(who) if isinstance(entry, dict) else entry, (key, i, who)))
    for name, path in said:
        if isinstance(name, str) and _PERSON.fullmatch(name) and name not in (*known, FORGOTTEN):
            slips.add(UserError("people.nobody", place=document.place(path), key=name, known=known))
    slips.stop()


_PERSON = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


def _mapping(value: Any) -> dict[str, Any]:
    return value if isinstance(value, dict) else {}


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []


Raw = Iterator[tuple[What, Any, Path]]


def _raw_designs(data: dict[str, Any]) -> list[tuple[dict[str, Any], Path]]:
    """What says how cards are made, with its path: the file itself, or each of its designs."""
    designs = _mapping(data.get("designs"))
    return [(_mapping(design), ("designs", name)) for name, design in designs.items()] or [(data, ())]


def _raw_papers(data: dict[str, Any], pieces: dict[str, Any]) -> Raw:
    for label, piece in pieces.items():
        piece = _mapping(piece)
        yield "paper", piece.get("paper"), ("pieces", label, "paper")
        for name in _names(piece.get("papers")):
            yield "paper", name, ("pieces", label, "papers")
        for name in _mapping(piece.get("per card")):
            yield "paper", name, ("pieces", label, "per card", name)
    for i, guide in enumerate(_list(data.get("guides"))):
        for name in _names(_mapping(guide).get("papers")):
            yield "paper", name, ("guides", i, "papers")


def _names(said: Any) -> list[Any]:
    return [said] if isinstance(said, str) else _list(said)


def _raw_on(part: dict[str, Any], path: Path) -> Raw:
    """What things lie on, and looks that exchange papers."""
    front = _mapping(part.get("front"))
    yield "layer", front.get("on"), (*path, "front", "on")
    for key in ("places", "over"):
        for i, entry in enumerate(_list(front.get(key))):
            yield "place", _mapping(entry).get("on"), (*path, "front", key, i, "on")
    for i, entry in enumerate(_list(part.get("decorations"))):
        yield "place", _mapping(entry).get("on"), (*path, "decorations", i, "on")
    yield "place", _mapping(part.get("sentiment")).get("on"), (*path, "sentiment", "on")
    for i, look in enumerate(_list(front.get("looks"))):
        for one, other in _mapping(_mapping(look).get("swap")).items():
            for name in (one, other):
                yield "paper", name, (*path, "front", "looks", i, "swap", one)


def _raw_front(part: dict[str, Any], path: Path) -> Raw:
    card, front = _mapping(part.get("card")), _mapping(part.get("front"))
    yield "paper", _mapping(card.get("base")).get("paper"), (*path, "card", "base", "paper")
    for i, layer in enumerate(_list(card.get("layers"))):
        yield from _raw_entry(layer, (*path, "card", "layers", i))
    yield from _raw_entry(card.get("inside"), (*path, "card", "inside"))
    for key in ("rows", "columns", "places", "over"):
        for i, entry in enumerate(_list(front.get(key))):
            yield from _raw_entry(entry, (*path, "front", key, i))


def _raw_entry(entry: Any, path: Path) -> Raw:
    if isinstance(entry, dict):
        yield "piece", entry.get("piece"), path
        yield "paper", entry.get("paper"), path
        yield from (one for inner in _list(entry.get(PINWHEEL)) for one in _raw_entry(inner, path))
        entry = entry.get("inside")
    if isinstance(entry, list):
        for i, inner in enumerate(entry):
            yield from _raw_entry(inner, (*path, i))
    elif isinstance(entry, str):
        label, *words = entry.split() or [""]
        if label != "band":
            yield "piece", label, path
            for word in words:
                if word not in LYING_WORDS:
                    yield "paper", word, path
