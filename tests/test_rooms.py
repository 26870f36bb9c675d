"""The rooms of the house (DEVELOPERS.md, “Rooms”): an import goes down the list, never up, wherever in a file it stands."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import kitwright
import pytest
from importing import imports_of

PACKAGE = Path(kitwright.__file__).parent
ROOMS = [
    "errors",
    "exact",
    "memory",
    "units",
    "sources",
    "geometry",
    "labels",
    "papers",
    "materials",
    "folding",
    "findings",
    "files",
    "cache",
    "colours",
    "schemes",
    "kit",
    "past",
    "cutting",
    "card",
    "work",
    "check",
    "otherwise",
    "proposing",
    "release",
    "telling",
    "drawing",
    "printable",
    "cutfiles",
    "archive",
    "api",
    "cli",
]
"""From the ground up."""
FACES = {"__init__", "__main__"}
"""The package's own face and its command stand above all rooms."""


def room_of(module: str) -> str:
    return module.split(".")[1] if "." in module else "__init__"


def _module(of: str, name: str) -> str:
    folder = PACKAGE.parent.joinpath(*of.split("."))
    return f"{of}.{name}" if (folder / f"{name}.py").is_file() or (folder / name).is_dir() else of


@cache
def imports() -> list[tuple[str, str, str]]:
    """Every import: where it stands, in which room, and of which module."""
    return list(_imports())


def _imports() -> Iterator[tuple[str, str, str]]:
    for file in sorted(PACKAGE.rglob("*.py")):
        path = file.relative_to(PACKAGE)
        for node in imports_of(file):
            named = [node.module] if isinstance(node, ast.ImportFrom) and node.module else [a.name for a in node.names]
            if isinstance(node, ast.ImportFrom):
                # A name that is a module of its own is what is imported, not the package that holds it.
                named = [_module(named[0], a.name) for a in node.names]
            yield from (
                (f"{path}:{node.lineno}", path.parts[0].removesuffix(".py"), name) for name in named if name.split(".")[0] == "kitwright"
            )


@pytest.mark.parametrize("room", ROOMS)
def test_no_import_runs_up(room):
    up = [f"{where} imports {module}" for where, at, module in imports() if at == room and ROOMS.index(room_of(module)) > ROOMS.index(room)]
    assert up == []


def test_every_module_stands_in_a_room():
    assert {path.name.removesuffix(".py") for path in PACKAGE.iterdir() if path.suffix in ("", ".py") and path.name != "__pycache__"} == {
        *ROOMS,
        *FACES,
    }


def test_no_circle_of_modules():
    above: dict[str, set[str]] = {}
    for where, _, module in imports():
        name = where.partition(":")[0].removesuffix(".py").removesuffix("/__init__").replace("/", ".")
        above.setdefault(name, set()).add(module.removeprefix("kitwright."))
    done: set[str] = set()

    def visit(name: str, path: tuple[str, ...]) -> None:
        assert name not in path, " → ".join((*path[path.index(name) :], name))
        if name not in done:
            for each in sorted(above.get(name, ())):
                visit(each, (*path, name))
            done.add(name)

    for name in sorted(above):
        visit(name, ())
