"""Every sentence: records turned into a maker's words, for the terminal, the pages, the printables and the briefs.

What is wrong stands in `telling/wrong/`, a module for each kind of matter and a function for each
code: `front.past-the-edge` is `past_the_edge` in `wrong/front.py`. A module is loaded when its first
matter is told. Importing this package opens the catalogue for errors and findings.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Any

from kitwright import errors


def said(code: str, values: Mapping[str, Any]) -> errors.Said:
    """A matter in words: what is wrong, and what would be right."""
    kind, _, name = code.partition(".")
    return getattr(import_module(f"kitwright.telling.wrong.{kind}"), name.replace("-", "_"))(**values)


errors.speak(said)
