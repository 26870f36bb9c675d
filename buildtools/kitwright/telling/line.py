"""One line of a list of facts."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """What it is about, and what it says."""

    about: str
    """A key, the same in any language."""
    title: str
    text: str
    rule: str = ""
    """By what rule, where one stands behind the figure."""

    @property
    def whole(self) -> str:
        """What it says, rule and all."""
        return f"{self.text}: {self.rule}" if self.rule else self.text
