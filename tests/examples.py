"""How many examples a property is tried with: few in the suite, as many as one likes by `buildtools/benchmarks/properties.py`."""

from __future__ import annotations

import os
from fractions import Fraction

from hypothesis import settings

TIMES = Fraction(os.environ.get("KITWRIGHT_EXAMPLES", "1"))
"""How many times the suite's own number."""


def tried(count: int, **more) -> settings:
    """Decorates a property that is tried `count` times in the suite; the rest is for `hypothesis.settings`."""
    return settings(max_examples=max(1, round(count * TIMES)), **more)
