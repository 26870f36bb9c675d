"""Every code has its words and every wording its code; values and parameters agree. Read from the source, so that none is forgotten."""

from __future__ import annotations

import ast
import inspect
import re
from functools import cache
from importlib import import_module
from pathlib import Path

import kitwright
import pytest

PACKAGE = Path(kitwright.__file__).parent
CARRIERS = {"UserError": 0, "Finding": 2, "trouble": 1, "Note": 0}
"""What carries a code, and the position of the code among its arguments; subclasses of the first are found by name."""
ADDS = {"trouble": {"why", "number"}}
"""Values that a carrier adds itself."""


FILES = sorted(PACKAGE.rglob("*.py"))


@cache
def _tree(file: Path) -> ast.Module:
    return ast.parse(file.read_text(encoding="utf-8"))


@cache
def _nodes() -> dict[Path, list[ast.ClassDef | ast.Call | ast.Constant]]:
    """What is looked at below, walked to once, and only by a process that asks."""
    return {file: [node for node in ast.walk(_tree(file)) if isinstance(node, (ast.ClassDef, ast.Call, ast.Constant))] for file in FILES}


@cache
def _subclasses() -> frozenset[str]:
    found = set(CARRIERS)
    classes = [node for nodes in _nodes().values() for node in nodes if isinstance(node, ast.ClassDef)]
    while True:
        more = {c.name for c in classes if any(isinstance(b, ast.Name) and b.id in found for b in c.bases)}
        if more <= found:
            return frozenset(found)
        found |= more


def _used(file: Path) -> list[tuple[str, str, str, set[str] | None]]:
    """Where in a file, in which catalogue, which code, and with which values; None where they are handed on as a mapping."""
    carriers, found = _subclasses(), []
    for node in _nodes()[file]:
        name = getattr(getattr(node, "func", None), "id", getattr(getattr(node, "func", None), "attr", ""))
        if not isinstance(node, ast.Call) or name not in carriers:
            continue
        at = CARRIERS.get(name, 0)
        code = node.args[at] if len(node.args) > at else None
        codes = [code] if isinstance(code, ast.Constant) else [code.body, code.orelse] if isinstance(code, ast.IfExp) else []
        values = {k.arg for k in node.keywords if k.arg} - {"place"} | ADDS.get(name, set())
        found += [
            (
                f"{file.relative_to(PACKAGE)}:{node.lineno}",
                "notes" if name == "Note" else "wrong",
                c.value,
                None if any(k.arg is None for k in node.keywords) else values,
            )
            for c in codes
            if isinstance(c, ast.Constant) and isinstance(c.value, str)
        ]
    return found


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.relative_to(PACKAGE).as_posix())
def test_every_code_has_words_that_take_its_values(file: Path):
    for where, catalogue, code, values in _used(file):
        assert re.fullmatch(r"[a-z-]+\.[a-z0-9-]+", code), f"{where}: a sentence, where a code belongs"
        kind, _, name = code.partition(".")
        tell = getattr(import_module(f"kitwright.telling.{catalogue}.{kind}"), name.replace("-", "_"))
        asks = inspect.signature(tell).parameters.values()
        if values is not None:
            needed, known = {p.name for p in asks if p.default is p.empty}, {p.name for p in asks}
            assert needed <= values <= known, f"{where} {code}"


def test_codes_are_found():
    """What the test above goes through is not nothing."""
    assert sum(len(_used(file)) for file in FILES) > 500


def test_no_wording_is_left_without_a_matter():
    told = {
        f"{file.stem}.{node.name}".replace("_", "-")
        for catalogue in ("wrong", "notes")
        for file in (PACKAGE / "telling" / catalogue).glob("*.py")
        for node in _tree(file).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    }
    named = {c.value for nodes in _nodes().values() for c in nodes if isinstance(c, ast.Constant) and isinstance(c.value, str)}
    named = {name.replace("_", "-") for name in named}
    # Reasons against a variation are named without their kind, where they are raised.
    assert {t for t in told if t not in named and not (t.startswith("variations.") and t.partition(".")[2] in named)} == set()
