"""Where a number that is not ours comes from: kept as data beside each, and told on one page of the site."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Source:
    """Where a number comes from."""

    name: str
    """A standard, a rule book, or the trade's habit."""
    noted: str
    """When it was written down here, such as `November 2026`."""
    memory: bool = False
    """Whether it was written down from memory: look it up before you rely on it."""


@dataclass(frozen=True, slots=True)
class Known:
    """One number from outside, in words, with its source."""

    what: str
    value: str
    source: Source


NOTED = "November 2026"
TRADE = "common practice, no source"
PRACTICE = Source(TRADE, NOTED)
"""What makers and shops do, for which no book is named."""


def told(source: Source) -> str:
    """A source as a printable names it, where there is room for no more."""
    return f"{source.name}, {source.noted}"
