"""What the spec lays out as one: a face of the card, or one of the doors that lead together, with its own entries."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from kitwright.card.face import Face, Placed
from kitwright.geometry import Rect
from kitwright.kit.faces import layers_on
from kitwright.kit.model import FaceSpec, Front, Item, Laid
from kitwright.kit.model.card import Layer
from kitwright.kit.names import Path, items_of, laid_on
from kitwright.labels import is_base
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class Ground:
    """One block of the spec and what it lays down."""

    said: Front
    path: Path
    """Where it stands in the spec: `front`, or `faces` and a name."""
    face: Face
    """What it lays down, and nothing besides."""
    whole: Face
    """The face that it is a part of: other than that only for doors."""
    laid: Mapping[Path, Laid]
    """Its pieces by position, by their paths."""
    items: Mapping[Path, Item]
    """Its rows and columns, likewise."""
    layers: Mapping[Path, Layer]
    """Its full layers, likewise."""

    def meant(self, placed: Placed) -> set[str]:
        """What the author said is meant of a piece: at its own entry, or for all of this."""
        entry = self.laid.get(placed.said) or self.items.get(placed.said) or self.layers.get(placed.said)
        return {*self.said.meant, *(entry.meant if entry else ())}


def grounds(worked: Worked) -> tuple[Ground, ...]:
    """Everything that the spec lays out on a card, what leads first, in the first look."""
    return worked.once("grounds", lambda: tuple(_grounds(worked)))


def _grounds(worked: Worked) -> Iterator[Ground]:
    faces = worked.kit.spec.faces
    for side in worked.face.every:
        if side.on:
            yield _ground(worked, faces.get(side.on, FaceSpec()), ("faces", side.on), side, side)
            continue
        doors = {door.panel: worked.base.part_at(door) for door in worked.base.doors}
        own = {("faces", door) for door in doors}
        pieces, over = (tuple(placed for placed in part if placed.said[:2] not in own) for part in (side.pieces, side.over))
        sums = tuple(line for line in side.sums if line.said not in own)
        yield _ground(worked, worked.kit.spec.front, ("front",), replace(side, pieces=pieces, over=over, sums=sums), side)
        for door, rect in doors.items():
            if door in faces:
                yield _ground(worked, faces[door], ("faces", door), _on_door(side, faces[door], ("faces", door), rect), side)


def _on_door(face: Face, said: Front, path: Path, rect: Rect) -> Face:
    """What one door carries of a front that is doors together."""
    own = [placed for placed in face.pieces if placed.said[:2] == path]
    layers = (replace(face.layers[0], rect=rect, outline=(), edges=()), *(placed for placed in own if "layers" in placed.said))
    under = next((layer for layer in layers if layer.label == said.on), layers[0] if is_base(said.on) else layers[-1])
    return replace(
        face,
        size=rect.size,
        layers=layers,
        field=under.rect,
        pieces=tuple(placed for placed in own if placed not in layers),
        over=tuple(placed for placed in face.over if placed.said[:2] == path),
        sums=tuple(line for line in face.sums if line.said == path),
        border=said.border,
        gap=said.gap,
    )


def _ground(worked: Worked, said: Front, path: Path, face: Face, whole: Face) -> Ground:
    layers, at = layers_on(worked.kit.spec, path)
    return Ground(
        said,
        path,
        face,
        whole,
        {where: laid for laid, where in laid_on(said, path)},
        {where: item for item, where in items_of(worked.kit, said, path)},
        {(*at, i): layer for i, layer in enumerate(layers)},
    )
