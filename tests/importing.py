"""What a file imports, wherever in it that stands; each file is taken apart once."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

INNER = ("body", "orelse", "finalbody", "handlers", "cases")
"""Where a statement has statements in it; an import is one, so nothing else need be walked over."""


@cache
def imports_of(file: Path) -> tuple[ast.Import | ast.ImportFrom, ...]:
    """Every import of a file."""
    return tuple(
        node for node in _statements(ast.parse(file.read_text(encoding="utf-8"))) if isinstance(node, (ast.Import, ast.ImportFrom))
    )


def _statements(within: ast.AST) -> Iterator[ast.AST]:
    for name in INNER:
        for node in getattr(within, name, ()):
            yield node
            yield from _statements(node)
