"""What a printable says of the state that it was made from."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from kitwright.release.both import Difference


@dataclass(frozen=True, slots=True)
class Stamp:
    """The state in which a printable was released."""

    revision: int
    """Counted from 1."""
    date: dt.date
    """When it was released, in the club's own time."""
    code: str = ""
    """A short mark by which this very state can be told, if any."""
    corrects: tuple[Difference, ...] = ()
    """What it mends of the revision before, gravest first; empty for one that mends nothing."""


@dataclass(frozen=True, slots=True)
class PreviewStamp:
    """The state of a printable that was made before its release."""

    code: str = ""
    """By which this very state can be told; empty where whoever prints it knows none."""

    @property
    def mark(self) -> str:
        """What stands at the head of every page."""
        return f"PREVIEW {self.code}".rstrip()
