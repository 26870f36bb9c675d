"""What `check` finds in a kit: never fatal by itself, always with a place and a remedy."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kitwright.errors import Place

Level = Literal["error", "warning", "hint"]
LEVELS: tuple[Level, ...] = ("error", "warning", "hint")


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to look at."""

    level: Level
    """`error`: the kit can't be built; `warning`: likely a slip; `hint`: good to know."""
    place: Place
    """File and line."""
    problem: str
    """What is wrong."""
    remedy: str
    """What would be right."""

    def __str__(self) -> str:
        return f"{self.place}: {self.level}: {self.problem}\n  {self.remedy}"
