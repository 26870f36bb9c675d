"""Families of layouts: a module each, found by lying in this folder.

A family of a new kind is one more module with a `FAMILY`; nothing else names it.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from kitwright.proposing.families.family import Family

_PARTS = ("family", "face", "values")
"""Modules that families share."""


@cache
def families() -> dict[str, Family]:
    """Every family by its name, in the order in which they are listed."""
    modules = (import_module(f"{__name__}.{module.name}") for module in iter_modules(__path__) if module.name not in _PARTS)
    found: list[Family] = [module.FAMILY for module in modules]
    return {family.name: family for family in sorted(found, key=lambda family: family.place)}
