"""The one family of errors that a user's own files can raise.

Anything else that escapes is a bug in kitwright and may show a traceback.
"""

from __future__ import annotations

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

    def at(self, place: Place) -> "UserError":
        """The same error, told where it stands, unless it knows already."""
        return self if self.place else type(self)(self.problem, self.remedy, place)

    def __str__(self) -> str:
        where = f"{self.place}: " if self.place else ""
        remedy = f"\n  {self.remedy}" if self.remedy else ""
        return f"{where}{self.problem}{remedy}"


class MeasureError(UserError):
    """A length or size that can't be read."""
