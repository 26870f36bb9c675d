"""The makers of odd pictures, odd prose and invented papers, which live beside the scripts that use them for longer than tests can."""

from __future__ import annotations

import importlib.util
from pathlib import Path

_BENCHMARKS = Path(__file__).parents[1] / "buildtools" / "benchmarks"


def _read(name: str):
    spec = importlib.util.spec_from_file_location(name, _BENCHMARKS / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


pictures = _read("odd_pictures")
prose = _read("odd_prose")
papers = _read("scan")
