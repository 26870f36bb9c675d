"""Folds that have a name: a module each, found by lying in this folder.

A fold of a new kind is one more module with a `KIND`; nothing else names them.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from kitwright.folding.kinds.kind import Asked, Kind
from kitwright.folding.scored import Scored
from kitwright.units import Length

ACROSS = "across"
"""Said after the name of a fold: its score lines run across the base."""
_ASIDE = {"left": "top", "right": "bottom"}
"""Words in the names of panels, and what they are where panels lie one below the other."""


@cache
def kinds() -> dict[str, Kind]:
    """Every fold that has a name, by that name."""
    modules = (import_module(f"{__name__}.{module.name}") for module in iter_modules(__path__) if module.name != "kind")
    found: dict[str, Kind] = {}
    for kind in sorted((module.KIND for module in modules), key=lambda kind: kind.place):
        found[kind.name] = kind
        if len(kind.panels) > 1:
            found[kind.across or f"{kind.name} {ACROSS}"] = _laid_across(kind)
    return found


def meant(text: str) -> str:
    """The name of the fold that is meant by `gate fold`, `z`, `tri fold` or `stepped front`; the text itself where none is."""
    return next((name for name in kinds() if _bare(name) == _bare(text)), text)


def _bare(name: str) -> list[str]:
    """Its words, without those that say that it is a fold."""
    return [word for word in re.split(r"[\s-]+", name.strip().casefold()) if word not in ("fold", "front")]


def counterpart(name: str) -> str:
    """The name of the same fold with its score lines running the other way; its own where it has none."""
    pairs = {kind.name: kind.across or f"{kind.name} {ACROSS}" for kind in kinds().values() if kind.runs == "down" and len(kind.panels) > 1}
    return pairs.get(name) or next((down for down, across in pairs.items() if across == name), name)


def scored(name: str, length: Length, asked: Asked) -> Scored:
    """The flat base of a fold.

    Args:
        name: one of `kinds()`.
        length: the side of the base that its score lines part.
        asked: what is typed besides.
    """
    kind = kinds()[name]
    return Scored(length, kind.lies, kind.runs, kind.scores(length, asked), kind.panels, kind.front, kind.back)


def _laid_across(kind: Kind) -> Kind:
    def named(panel: str) -> str:
        return " ".join(_ASIDE.get(word, word) for word in panel.split())

    return replace(
        kind,
        name=kind.across or f"{kind.name} {ACROSS}",
        runs="across",
        panels=tuple(named(panel) for panel in kind.panels),
        front=named(kind.front),
        back=named(kind.back),
    )
