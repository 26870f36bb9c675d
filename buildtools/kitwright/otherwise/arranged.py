"""Arrangements that a kit names: in its own mix, and by its samples."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.findings import Finding
from kitwright.work.worked import Worked


def find(worked: Worked) -> Iterator[Finding]:
    """What the kit says of its arrangements and can't be done."""
    # Only now, since variations of a card are checked by this very package.
    from kitwright.otherwise.arrangements import mistakes

    for error in mistakes(worked):
        yield Finding("error", error.place, error.problem, error.remedy)
