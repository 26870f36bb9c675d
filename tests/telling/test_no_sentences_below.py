"""Below `telling/` nothing holds a sentence: whatever is told stands in the catalogue, and a second language would be one more."""

import ast
import builtins
import re
from collections.abc import Iterator
from pathlib import Path

import kitwright
import pytest

PACKAGE = Path(kitwright.__file__).parent
ROOMS = [
    "api.py",
    "errors.py",
    "units.py",
    "geometry.py",
    "papers.py",
    "sources.py",
    "files.py",
    "findings.py",
    "kit",
    "past",
    "card",
    "cutting",
    "work",
    "check",
    "otherwise",
    "release",
    "drawing",
    "printable",
    "cutfiles",
    "archive",
    "cli",
]
"""Rooms that are free of sentences; whatever else becomes so is added here."""
MODULES = sorted(path for room in ROOMS for path in ([PACKAGE / room] if room.endswith(".py") else (PACKAGE / room).rglob("*.py")))
WORD = r"[^\W\d_]+(?:[’'-][^\W\d_]+)*"
SENTENCE = re.compile(rf"(?:{WORD}[,;:.]? ){{5}}{WORD}")
"""More than five words in a row are no label."""


def texts(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Every text that a user could come to read: no docstring, no pattern, no list of words to split, no bug's message, no source, no line of a file."""
    passed: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            passed.add(id(node.value))
        elif isinstance(node, ast.Assert) or isinstance(node, ast.Raise) and _is_a_bugs(node.exc):
            passed |= {id(inner) for inner in ast.walk(node)}
        elif isinstance(node, ast.Call):
            called = ast.unparse(node.func)
            if called in ("re.compile", "Source"):
                passed |= {id(inner) for inner in ast.walk(node)}
            elif called.endswith(".split") and isinstance(node.func, ast.Attribute):
                passed |= {id(inner) for inner in ast.walk(node.func.value)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr) and id(node) not in passed:
            passed |= {id(part) for part in node.values}
            parts = [part.value if isinstance(part, ast.Constant) else "so" for part in node.values]
            yield node.lineno, "".join(map(str, parts))
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in passed:
            yield node.lineno, node.value


def _is_a_bugs(raised: ast.expr | None) -> bool:
    """Whether only a programmer reads it: Python's own errors are never told to a user."""
    return isinstance(raised, ast.Call) and isinstance(getattr(builtins, ast.unparse(raised.func), None), type)


def sentences(text: str) -> list[str]:
    return [
        f"{line}: {said}" for line, said in texts(ast.parse(text)) if SENTENCE.search(" ".join(said.split())) and not said.endswith("\n")
    ]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_no_sentence_below(path):
    assert sentences(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "code, found",
    [
        ('said = "this is longer than any label"', True),
        ('said = f"{n} pieces of {label} are larger"', True),
        ('raise UserError("this piece is larger than its sheet")', True),
        ('"""A docstring may be as long as it likes."""', False),
        ('raise ValueError("a bug may be told in full words")', False),
        ('NAMES = "one two three four five six seven".split()', False),
        ('said = "no more than five words"', False),
    ],
)
def test_what_counts_as_a_sentence(code, found):
    assert bool(sentences(code)) is found
