"""Papers whose key alone was renamed: readers see names, and never keys, so that the old state is read with the new keys."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from kitwright.card.face import Face, Placed
from kitwright.kit.kit import Kit
from kitwright.kit.model import Paper, Piece
from kitwright.kit.model.card import CardSpec
from kitwright.release.both import Copy
from kitwright.release.designpaths import below, within
from kitwright.release.values import Value
from kitwright.work.worked import Worked

Keys = Mapping[str, str]
"""Old key → new key."""


def renamed_papers(old: Worked, new: Worked) -> dict[str, str]:
    """Papers that are gone under one key and there under another: the same but for their name, or of the same name, kind and size."""
    before, after = old.kit.papers, new.kit.papers
    found: dict[str, str] = {}
    for alike in (_same, _named_alike):
        for key, paper in before.items():
            if key not in after and key not in found:
                came = [k for k, other in after.items() if k not in before and k not in found.values() and alike(paper, other)]
                if came:
                    found[key] = came[0]
    return found


def _same(one: Paper, other: Paper) -> bool:
    return one.model_copy(update={"name": other.name}) == other


def _named_alike(one: Paper, other: Paper) -> bool:
    return (one.name, one.kind, one.size) == (other.name, other.kind, other.size)


def rekeyed(copy: Copy, keys: Keys) -> Copy:
    """What a copy says, with other keys for some papers."""
    return Copy(_worked(copy.worked, keys), dict(_values(copy.values, keys))) if keys else copy


def _worked(worked: Worked, keys: Keys) -> Worked:
    kit = _kit(worked.kit, keys)
    parts = tuple(replace(part, kit=_kit(part.kit, keys), faces=tuple(_face(face, keys) for face in part.faces)) for part in worked.parts)
    vars(kit)["views"] = tuple(part.kit for part in parts)
    return replace(
        worked,
        kit=kit,
        faces=tuple(_face(face, keys) for face in worked.faces),
        plans=tuple(replace(plan, demand=replace(plan.demand, paper=_key(keys, plan.paper))) for plan in worked.plans),
        layouts=tuple(replace(layout, papers=tuple(_key(keys, key) for key in layout.papers)) for layout in worked.layouts),
        parts=parts,
    )


def _kit(kit: Kit, keys: Keys) -> Kit:
    spec = kit.spec
    update: dict[str, Any] = {"pieces": {label: _piece(piece, keys) for label, piece in spec.pieces.items()}}
    if spec.designs:
        update["designs"] = {name: design.model_copy(update={"card": _card(design.card, keys)}) for name, design in spec.designs.items()}
    else:
        update["card"] = _card(spec.card, keys)
    papers = {_key(keys, key): paper for key, paper in kit.papers.items()}
    return replace(kit, spec=spec.model_copy(update=update), papers=papers)


def _card(card: CardSpec, keys: Keys) -> CardSpec:
    base = card.base.model_copy(update={"paper": _key(keys, card.base.paper)})
    return card.model_copy(update={"base": base})


def _key(keys: Keys, key: str) -> str:
    return keys.get(key, key)


def _piece(piece: Piece, keys: Keys) -> Piece:
    per_card = {_key(keys, key): count for key, count in piece.per_card.items()}
    papers = tuple(_key(keys, key) for key in piece.papers)
    return piece.model_copy(update={"paper": piece.paper and _key(keys, piece.paper), "papers": papers, "per_card": per_card})


def _face(face: Face, keys: Keys) -> Face:
    def with_keys(placed: tuple[Placed, ...]) -> tuple[Placed, ...]:
        return tuple(replace(each, paper=_key(keys, each.paper)) for each in placed)

    return replace(face, layers=with_keys(face.layers), pieces=with_keys(face.pieces), over=with_keys(face.over))


_AT = {"papers": 1, "sheets": 1, "sheet": 1, "runs": 1, "made": 1, "counts": 2, "pieces": 3}
"""Which part of a path is a paper's key, by its first part."""


def _values(values: Mapping[str, Value], keys: Keys) -> Iterator[tuple[str, Value]]:
    for whole, value in values.items():
        design, path = within(whole)
        parts = path.split(".")
        at = len(parts) - 1 if parts[-2:-1] == ["swap"] else _AT.get(parts[0], len(parts))
        if at < len(parts) and (parts[0] != "pieces" or parts[2] == "per_card"):
            parts[at] = _key(keys, parts[at])
        named = parts[-1] in ("paper", "papers", "papers[]") or parts[-2:-1] == ["swap"]
        if named and isinstance(value, tuple):
            value = tuple(_key(keys, each) for each in value)
        elif named and isinstance(value, str):
            value = _key(keys, value)
        elif parts[0].startswith("fronts[") and parts[-1] == "pieces" and isinstance(value, tuple):
            value = tuple((label, _key(keys, paper), *rest) for label, paper, *rest in value)
        yield below(design, ".".join(parts)), value
