"""What is found in a PDF. Read by helping processes too, so it needs next to nothing."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, NamedTuple

Fault = Literal["past.encrypted", "past.broken", "past.no-page"]
"""Why a PDF can't be used: nobody can open it without a password; nobody can open it; there is nothing in it."""


class Drawn(NamedTuple):
    """A picture of page 1."""

    ending: str
    """`.png` or `.jpg`, whichever is the smaller file."""
    data: bytes


class Found(NamedTuple):
    """What one PDF holds."""

    pages: int
    sizes: tuple[tuple[Fraction, Fraction], ...]
    """Width and height in points, each size once, in the order of the pages."""
    words: str
    """A line a line, as far as they are taken."""
    title: str
    """As its maker's program noted it; often that of another file, or none."""
    created: str
    """When, as a date of ISO 32000 is written; empty where nothing says it."""
    large: Drawn
    small: Drawn
