"""The browser that benchmarks and tests drive: the one that `run.py` finds, so that a machine needs no other."""

from __future__ import annotations

import importlib.util
from functools import cache
from pathlib import Path

ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"]
"""What a browser needs in a container, and what keeps it from talking to anybody."""


@cache
def found() -> str | None:
    """Where Chromium is; None where Playwright is to look for its own."""
    spec = importlib.util.spec_from_file_location("set_up", Path(__file__).parents[1] / "run.py")
    assert spec and spec.loader
    run = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(run)
    return run.find_browser() or None
