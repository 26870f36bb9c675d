"""Papers whose key alone was renamed: readers see names, and never keys, so that the old state is read with the new keys."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from kitwright.card.face import Face, Placed
from kitwright.kit.model import Paper, Piece
from kitwright.release.both import Copy
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
    kit, spec = worked.kit, worked.kit.spec
    base = spec.card.base.model_copy(update={"paper": _key(keys, spec.card.base.paper)})
    pieces = {label: _piece(piece, keys) for label, piece in spec.pieces.items()}
    spec = spec.model_copy(update={"pieces": pieces, "card": spec.card.model_copy(update={"base": base})})
    return replace(
        worked,
        kit=replace(kit, spec=spec, papers={_key(keys, key): paper for key, paper in kit.papers.items()}),
        faces=tuple(_face(face, keys) for face in worked.faces),
        plans=tuple(replace(plan, demand=replace(plan.demand, paper=_key(keys, plan.paper))) for plan in worked.plans),
        layouts=tuple(replace(layout, papers=tuple(_key(keys, key) for key in layout.papers)) for layout in worked.layouts),
    )


def _key(keys: Keys, key: str) -> str:
    return keys.get(key, key)


def _piece(piece: Piece, keys: Keys) -> Piece:
    per_card = {_key(keys, key): count for key, count in piece.per_card.items()}
    return piece.model_copy(update={"paper": piece.paper and _key(keys, piece.paper), "per_card": per_card})


def _face(face: Face, keys: Keys) -> Face:
    def with_keys(placed: tuple[Placed, ...]) -> tuple[Placed, ...]:
        return tuple(replace(each, paper=_key(keys, each.paper)) for each in placed)

    return replace(face, layers=with_keys(face.layers), pieces=with_keys(face.pieces), over=with_keys(face.over))


_AT = {"papers": 1, "sheets": 1, "sheet": 1, "runs": 1, "made": 1, "counts": 2, "pieces": 3}
"""Which part of a path is a paper's key, by its first part."""


def _values(values: Mapping[str, Value], keys: Keys) -> Iterator[tuple[str, Value]]:
    for path, value in values.items():
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
        yield ".".join(parts), value
