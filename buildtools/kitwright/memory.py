"""How often Python looks for what refers to itself in a circle and nobody needs any more (its reference: `gc`)."""

from __future__ import annotations

import gc

SOON, LATER, LAST = 50_000, 20, 50
"""After so many new objects that stay, where Python's own are 700, 10 and 10: a plan or a picture is thousands of small
numbers and tuples without a circle among them. Looking for one took a quarter of a build's time, and leaving it be takes 15 MB."""


def sweep_seldom() -> None:
    """For this process, from now on; who has it swept as seldom already, as the tests do, is left alone."""
    if gc.get_threshold()[0] < SOON:
        gc.set_threshold(SOON, LATER, LAST)
