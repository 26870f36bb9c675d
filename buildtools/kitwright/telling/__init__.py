"""Every sentence: records turned into a maker's words, for the terminal, the pages, the printables and the briefs.

What is wrong stands in `telling/wrong/`, a module for each kind of matter and a function for each
code: `front.past-the-edge` is `past_the_edge` in `wrong/front.py`; what is told besides stands alike in
`telling/notes/`. A module is loaded when its first matter is told. Importing this package opens the catalogue for errors and findings.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any

from kitwright import errors


def said(code: str, values: Mapping[str, Any]) -> errors.Said:
    """A matter in words: what is wrong, and what would be right."""
    found: errors.Said = _teller("wrong", code)(**values)
    return found


def phrase(code: str, values: Mapping[str, Any]) -> str:
    """A note in words."""
    found: str = _teller("notes", code)(**values)
    return found


def _teller(catalogue: str, code: str) -> Callable[..., Any]:
    kind, _, name = code.partition(".")
    teller: Callable[..., Any] = getattr(import_module(f"kitwright.telling.{catalogue}.{kind}"), name.replace("-", "_"))
    return teller


errors.speak(said, phrase)
