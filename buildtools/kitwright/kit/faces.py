"""The faces of a card that a design stands on, as its spec has them.

What leads, the front panel or the doors together, is `spec.front`, wherever it was typed; the
others are `spec.faces`, by name.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TypeVar

from kitwright.errors import Slips, UserError
from kitwright.folding.faces import DOORS, CardFace, known_faces
from kitwright.kit.folds import scored_of
from kitwright.kit.model.card import CardSpec, Layer
from kitwright.kit.model.designs import DesignSpec
from kitwright.kit.model.front import Decoration, Front, SentimentSpec
from kitwright.kit.model.kit import KitSpec
from kitwright.kit.yamltext import Document

Path = tuple[str | int, ...]
S = TypeVar("S", KitSpec, DesignSpec)


def card_faces(card: CardSpec, unit: str) -> Mapping[str, CardFace]:
    """Every face that the fold of a card gives, by each of its names, the leading one first; none where it can't be folded."""
    return known_faces(scored_of(card, unit))


def led(spec: KitSpec, document: Document, slips: Slips) -> KitSpec:
    """The spec with what leads as its front, wherever it was typed, of each of its designs; what is told twice is noted."""
    if spec.designs:
        designs = {name: _led(design, spec.unit, ("designs", name), document, slips) for name, design in spec.designs.items()}
        return spec.model_copy(update={"designs": designs})
    return _led(spec, spec.unit, (), document, slips)


def _led(spec: S, unit: str, at: Path, document: Document, slips: Slips) -> S:
    name = leading_name(spec.card, unit)
    if name not in spec.faces:
        return spec
    said, place = spec.faces[name], document.place((*at, "faces", name))
    if (*at, "front") in document.lines:
        slips.add(UserError("faces.front-twice", place=place, name=name))
        return spec
    card = spec.card
    if said.layers:
        if card.layers:
            slips.add(UserError("faces.layers-twice", place=place, name=name))
        card = card.model_copy(update={"layers": said.layers})
    typed = {field: getattr(said, field) for field in Front.model_fields if field in said.model_fields_set}
    rest = {other: face for other, face in spec.faces.items() if other != name}
    return spec.model_copy(update={"front": Front(**typed), "faces": rest, "card": card})


def leading_name(card: CardSpec, unit: str) -> str:
    """The face that leads on a card; empty where its base can't be folded."""
    return next(iter(card_faces(card, unit)), "")


def moved(spec: KitSpec, at: Path, document: Document) -> dict[Path, Path]:
    """Where the front stands in the file, if that is among the faces; `at`: the path of its design."""
    if (*at, "faces") not in document.lines or (*at, "front") in document.lines:
        return {}
    there = (*at, "faces", leading_name(spec.card, spec.unit))
    found: dict[Path, Path] = {("front",): there} if there in document.lines else {}
    if (*there, "layers") in document.lines:
        found[("card", "layers")] = (*there, "layers")
    return found


def doors_of(card: CardSpec, unit: str) -> tuple[str, ...]:
    """The panels that lead together; none where one does."""
    known = card_faces(card, unit)
    return tuple(part.panel for part in known[DOORS].parts) if leading_name(card, unit) == DOORS else ()


def fronts(spec: KitSpec) -> Iterator[tuple[Front, Path]]:
    """What stands on each face, the leading one first, with its path in the spec."""
    yield spec.front, ("front",)
    for name, said in spec.faces.items():
        yield said, ("faces", name)


def layers_on(spec: KitSpec, path: Path) -> tuple[list[Layer], Path]:
    """The full layers of a face, with the path of their list."""
    if path == ("front",):
        return spec.card.layers, ("card", "layers")
    said = spec.faces.get(str(path[1]))
    return (said.layers if said else []), (*path, "layers")


def greetings(spec: KitSpec) -> Iterator[tuple[SentimentSpec, Path]]:
    """Every sentiment, with its path in the spec."""
    if spec.sentiment:
        yield spec.sentiment, ("sentiment",)
    for i, said in enumerate(spec.sentiments):
        yield said, ("sentiments", i)


def decorations(spec: KitSpec) -> Iterator[tuple[Decoration, Path]]:
    """Every place kept for decoration, with its path in the spec."""
    for i, said in enumerate(spec.decorations):
        yield said, ("decorations", i)
