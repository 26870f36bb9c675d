"""Kits whose moment has not come: they never stop what is published today, whatever is half typed in them.

Whether a kit is due must be known even where the kit can't be read. Then a soundly typed
`reveal` decides; without one the month in the folder's name does, in the club's own time.
A folder that tells neither counts as due, so that nothing due is ever left out in silence.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from pydantic import TypeAdapter, ValidationError

from kitwright.errors import Place, UserError
from kitwright.findings import Finding, errors_in
from kitwright.kit.clock import zone
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club, Moment
from kitwright.kit.read import KIT_FILE, shown
from kitwright.kit.yamltext import BIGGEST, read_yaml
from kitwright.release.calendar import aware, placed, reveal_of

T = TypeVar("T")
_REVEAL = re.compile(r"""^["']?reveal["']?[ \t]*:[ \t]*(["']?)([0-9T:\- ]+?)\1[ \t]*(?:\#.*)?$""", re.MULTILINE)
"""A `reveal` at the top level, on a line of its own."""
_MONTH = re.compile(r"((?:19|20|21)[0-9]{2})-(0?[1-9]|1[0-2])(?![0-9])")
_MOMENT = TypeAdapter(Moment)
"""Reads a time as the spec itself does."""


def expected(folder: Path, club: Club) -> dt.datetime | None:
    """When a kit becomes public, as far as its folder tells without being read as a kit; in UTC.

    None where nothing tells.
    """
    said = _typed(folder / KIT_FILE)
    if not said:
        # Of a released kit whose own file is gone, what was frozen last still tells.
        published = sorted(folder.glob("published/r[0-9]*/*/" + KIT_FILE), key=lambda f: (len(f.parts[-3]), f.parts[-3]))
        said = _typed(published[-1]) if published else []
    named = _MONTH.match(folder.name)
    if not said and named:
        said = [dt.datetime(int(named[1]), int(named[2]), 1)]
    return min((placed(local, club, folder.parent).astimezone(dt.UTC) for local in said), default=None)


def shown_before(kit: Kit, club: Club) -> dt.date | None:
    """The day on which the kit before was shown, by the club's clocks; as far as folders tell, whatever else is wrong in them.

    None where there is none.
    """
    this, found = reveal_of(kit, club), []
    named = [(match[0], f) for f in kit.folder.parent.iterdir() if f.is_dir() and f.name != kit.id and (match := _MONTH.match(f.name))]
    # By the months of their names; the folders of the nearest that come before tell it.
    for month in sorted({month for month, _ in named if month <= kit.id[: len(month)]}, reverse=True):
        found = [at for said, f in named if said == month and (at := expected(f, club)) is not None and at < this]
        if found:
            return max(found).astimezone(zone(club.time_zone)).date()
    return None


def typed_reveals(folder: Path) -> list[dt.datetime]:
    """What a folder that can't be read as a kit says of its reveal, by the club's own clocks; empty where nothing does."""
    return _typed(folder / KIT_FILE)


def _typed(file: Path) -> list[dt.datetime]:
    """Every sound `reveal` at the top level of a spec, whatever else is wrong with it."""
    try:
        if not file.is_file() or not file.resolve().is_relative_to(file.parent.resolve()):
            return []
        with file.open("rb") as stream:
            text = stream.read(BIGGEST).decode("utf-8-sig", errors="replace")
    except (OSError, RuntimeError):
        return []
    said = [match[2] for match in _REVEAL.finditer("\n".join(text.splitlines()))]
    try:
        # Where it is YAML after all, the entry may stand in another form.
        said.append(read_yaml(file).data.get("reveal"))
    except UserError:
        pass
    return [at for each in said if isinstance(each, str) and (at := _moment(each)) is not None]


def _moment(text: str) -> dt.datetime | None:
    try:
        return _MOMENT.validate_python(text.strip())
    except ValidationError:
        return None


def is_upcoming(folder: Path, club: Club, as_of: dt.datetime | None) -> bool:
    """Whether a kit that can't be read is surely not due yet. Without a moment nothing is: the author looks at everything."""
    at = expected(folder, club)
    return as_of is not None and at is not None and at > aware(as_of)


def read_or_left(folder: Path, club: Club, as_of: dt.datetime | None, read: Callable[[], T]) -> T | Finding:
    """What `read` makes of a kit's folder; where that can't be, a warning if the kit is not due yet.

    Raises:
        UserError: it can't be read, and is due.
    """
    try:
        return read()
    except Exception as error:
        # Not even a fault of kitwright's own that a half-typed file brings out may stop what is due today.
        if not is_upcoming(folder, club, as_of):
            raise
        return left_out(folder, club, error)


def left_out(folder: Path, club: Club, problem: Exception | list[Finding], at: dt.datetime | None = None) -> Finding:
    """The warning that names a kit which is left out for now, with the first of its problems and their number.

    Args:
        folder: the kit's.
        club: whose time counts.
        problem: why it can't be read, or the errors that were found in it.
        at: when it is due, where the kit itself could tell.
    """
    if isinstance(problem, UserError):
        problem = list(errors_in(problem, Place(shown(folder))))
    when = at or expected(folder, club)
    assert when is not None, "only what is known to come later is left out"
    day = when.astimezone(zone(club.time_zone)).date()
    if isinstance(problem, list):
        first, more = problem[0], len(problem) - 1
        return Finding("warning", first.place, "upcoming.left-out", kit=folder.name, day=day, first=first, more=more)
    return Finding("warning", Place(shown(folder / KIT_FILE)), "upcoming.fault", kit=folder.name, day=day, fault=type(problem).__name__)
