"""The one family of errors that a user's own files can raise.

Anything else that escapes is a bug in kitwright and may show a traceback.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Place:
    """Where in the user's files something stands."""

    file: Path | None = None
    """The file, or None for something typed on the command line."""
    line: int | None = None
    """Line number, counted from 1."""

    def __str__(self) -> str:
        if self.file is None:
            return "command line"
        return f"{self.file}:{self.line}" if self.line else f"{self.file}"


class UserError(Exception):
    """Something a user typed can't be used.

    `problem` says what is wrong and `remedy` what would be right; `place` is the
    file and line. The command line prints it and exits with status 2.
    """

    def __init__(self, problem: str, remedy: str = "", place: Place | None = None) -> None:
        super().__init__(problem)
        self.problem = problem
        self.remedy = remedy
        self.place = place

    def at(self, place: Place) -> UserError:
        """The same error, told where it stands, unless it knows already."""
        return self if self.place else type(self)(self.problem, self.remedy, place)

    @property
    def each(self) -> tuple[UserError, ...]:
        """The errors that this one stands for: itself, or several told at once."""
        return (self,)

    def __str__(self) -> str:
        where = f"{self.place}: " if self.place else ""
        remedy = f"\n  {self.remedy}" if self.remedy else ""
        return f"{where}{self.problem}{remedy}"


class MeasureError(UserError):
    """A length or size that can't be read."""


class SeveralErrors(UserError):
    """Everything that one reading found wrong, each at its own line; it stands in for its first."""

    def __init__(self, errors: Iterable[UserError]) -> None:
        self._each = tuple(errors)
        first = self._each[0]
        super().__init__(first.problem, first.remedy, first.place)

    @property
    def each(self) -> tuple[UserError, ...]:
        return self._each

    def at(self, place: Place) -> UserError:
        return SeveralErrors(error.at(place) for error in self._each)

    def __str__(self) -> str:
        return "\n".join(map(str, self._each))


MOST_TOLD = 40
"""Errors told in one run; a file with more is broken as a whole."""


class Slips:
    """Gathers what is wrong while one file, or one folder, is read, so that all of it is told in one run."""

    def __init__(self) -> None:
        self.errors: list[UserError] = []

    def add(self, error: UserError) -> None:
        """Note an error, each of them if it stands for several."""
        self.errors += error.each

    def trying(self, read: Callable, *args):
        """What a reader returns; None where it raises a user error, which is noted."""
        try:
            return read(*args)
        except UserError as error:
            self.add(error)
            return None

    def stop(self) -> None:
        """Go on only when nothing was noted.

        Raises:
            UserError: everything that was, in order of files as they were read and lines; each slip once.
        """
        unique = list({str(error): error for error in self.errors}.values())
        files = list(dict.fromkeys(error.place.file if error.place else None for error in unique))
        unique.sort(key=lambda e: (files.index(e.place.file if e.place else None), e.place.line or 0 if e.place else 0))
        if len(unique) > MOST_TOLD:
            last = unique[MOST_TOLD]
            unique[MOST_TOLD:] = [UserError("and more is wrong from here on", "mend what is told above first", last.place)]
        if unique:
            raise unique[0] if len(unique) == 1 else SeveralErrors(unique)
