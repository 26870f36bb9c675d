"""The one family of errors that a user's own files can raise.

Anything else that escapes is a bug in kitwright and may show a traceback.
"""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

Said = tuple[str, str]
"""What is wrong, and what would be right."""


def _bare(code: str, values: Mapping[str, Any]) -> Said:
    return f"{code} {dict(values)}" if values else code, ""


_catalogue: Callable[[str, Mapping[str, Any]], Said] = _bare


def said(code: str, values: Mapping[str, Any]) -> Said:
    """What is the matter, in the words of the catalogue that was opened; the bare code and values before any was."""
    return _catalogue(code, values)


def _bare_phrase(code: str, values: Mapping[str, Any]) -> str:
    return _bare(code, values)[0]


_phrases: Callable[[str, Mapping[str, Any]], str] = _bare_phrase


def phrase(code: str, values: Mapping[str, Any]) -> str:
    """What a note says, in the words of the catalogue that was opened."""
    return _phrases(code, values)


def speak(catalogue: Callable[[str, Mapping[str, Any]], Said], phrases: Callable[[str, Mapping[str, Any]], str]) -> None:
    """Open a catalogue. Words stand above everything that raises errors, so they are handed down rather than imported."""
    global _catalogue, _phrases
    _catalogue, _phrases = catalogue, phrases


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


class Matter:
    """What is the matter: a code, and the values that it takes to tell it in the words of the catalogue."""

    code: str
    """What it is, `front.past-the-edge`."""
    values: Mapping[str, Any]

    @property
    def problem(self) -> str:
        """What is wrong."""
        return said(self.code, self.values)[0]

    @property
    def remedy(self) -> str:
        """What would be right."""
        return said(self.code, self.values)[1]


class UserError(Matter, Exception):
    """Something a user typed can't be used: a code and the values that it takes to tell it, with the file and line.

    `problem` says what is wrong and `remedy` what would be right, in the words of the catalogue
    (`kitwright.telling`). The command line prints them and exits with status 2; nothing decides by them.
    """

    def __init__(self, code: str, *, place: Place | None = None, **values: Any) -> None:
        super().__init__(code)
        self.code, self.place, self.values = code, place, values

    def at(self, place: Place) -> UserError:
        """The same error, told where it stands, unless it knows already."""
        return self if self.place else type(self)(self.code, place=place, **self.values)

    @property
    def key(self) -> tuple[str, Place | None, str]:
        """What it is, where, and with which values: the same for what is told twice."""
        return self.code, self.place, repr(sorted(self.values.items()))

    @property
    def each(self) -> tuple[UserError, ...]:
        """The errors that this one stands for: itself, or several told at once."""
        return (self,)

    def __reduce__(self) -> tuple[Any, ...]:
        # Errors go from process to process.
        return _again, (type(self), self.code, self.place, dict(self.values))

    def __str__(self) -> str:
        where = f"{self.place}: " if self.place else ""
        remedy = f"\n  {self.remedy}" if self.remedy else ""
        return f"{where}{self.problem}{remedy}"


def _again(kind: type[UserError], code: str, place: Place | None, values: dict[str, Any]) -> UserError:
    return kind(code, place=place, **values)


class MeasureError(UserError):
    """A length or size that can't be read."""


class Lacking(UserError):
    """Something that does not stand where it must; told after what does stand in the file and is wrong."""


class SeveralErrors(UserError):
    """Everything that one reading found wrong, each at its own line; it stands in for its first."""

    def __init__(self, errors: Iterable[UserError]) -> None:
        self._each = tuple(errors)
        first = self._each[0]
        super().__init__(first.code, place=first.place, **first.values)

    @property
    def each(self) -> tuple[UserError, ...]:
        return self._each

    def at(self, place: Place) -> UserError:
        return SeveralErrors(error.at(place) for error in self._each)

    def __reduce__(self) -> tuple[Any, ...]:
        return SeveralErrors, (self._each,)

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
            UserError: everything that was, in order of files as they were read and lines, what is lacking last; each slip once.
        """
        unique = list({error.key: error for error in self.errors}.values())
        files = list(dict.fromkeys(error.place.file if error.place else None for error in unique))
        unique.sort(
            key=lambda e: (files.index(e.place.file if e.place else None), isinstance(e, Lacking), e.place.line or 0 if e.place else 0)
        )
        if len(unique) > MOST_TOLD:
            last = unique[MOST_TOLD]
            unique[MOST_TOLD:] = [UserError("files.and-more", place=last.place)]
        if unique:
            raise unique[0] if len(unique) == 1 else SeveralErrors(unique)


# --- stopping -------------------------------------------------------------------------------------

STOPS = tuple(getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name))
"""What may ask a command to stop."""


class Stopped(KeyboardInterrupt):
    """Somebody asked the command to end, otherwise than with Ctrl+C."""

    def __init__(self, number: int) -> None:
        super().__init__()
        self.number = number
        """The signal."""
