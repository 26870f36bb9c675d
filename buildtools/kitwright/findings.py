"""What `check` finds in a kit: never fatal by itself, always with a place and a remedy."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Literal

from kitwright.errors import Matter, Place, UserError, phrase

Level = Literal["error", "warning", "hint"]
LEVELS: tuple[Level, ...] = ("error", "warning", "hint")


class Finding(Matter):
    """One thing to look at: a code, a place, and the values that it takes to tell it. Two are equal where these are."""

    level: Level
    """`error`: the kit can't be built; `warning`: likely a slip; `hint`: good to know."""
    place: Place
    """File and line."""

    def __init__(self, level: Level, place: Place, code: str, **values: Any) -> None:
        self.level, self.place, self.code, self.values = level, place, code, values

    def raised(self) -> UserError:
        """The same as an error that stops."""
        return UserError(self.code, place=self.place, **self.values)

    @property
    def _key(self) -> tuple[Any, ...]:
        return (self.level, self.place, self.code, tuple(sorted(self.values.items())))

    def digested(self) -> tuple[Any, ...]:
        """What it counts as where values are told apart by their digest."""
        return self._key

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Finding) and self._key == other._key

    def __hash__(self) -> int:
        return hash(self._key)

    def __repr__(self) -> str:
        return f"Finding({self.level!r}, {self.place}, {self.code!r}, {self.values!r})"

    def __str__(self) -> str:
        return f"{self.place}: {self.level}: {self.problem}\n  {self.remedy}"


def errors_in(error: UserError, place: Place | None = None) -> tuple[Finding, ...]:
    """Everything that a user error stands for, as findings; at `place` where it knows none of its own."""
    return tuple(Finding("error", one.place or place or Place(), one.code, **one.values) for one in error.each)


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    """Each once: errors first, then in the order of the file."""
    return sorted(dict.fromkeys(findings), key=lambda f: (LEVELS.index(f.level), str(f.place.file), f.place.line or 0))


class Note:
    """Something to be told that is neither wrong nor right: a code and the values that it takes. Two are equal where these are."""

    def __init__(self, code: str, **values: Any) -> None:
        self.code, self.values = code, values

    @property
    def words(self) -> str:
        """In the words of the catalogue."""
        return phrase(self.code, self.values)

    def told_in(self, unit: str) -> Note:
        """The same, its sizes told in a unit."""
        return Note(self.code, **{**self.values, "unit": unit}) if "unit" in self.values else self

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Note) and (self.code, self.values) == (other.code, other.values)

    def __hash__(self) -> int:
        return hash((self.code, tuple(sorted(self.values.items()))))

    def __repr__(self) -> str:
        return f"Note({self.code!r}, {self.values!r})"
