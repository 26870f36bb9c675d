"""Read a kit folder and the club into the model.

One folder gives one `Kit` (or `PastKit`); every name in it has been looked up, so that
what comes after never meets a label or paper that does not exist.
"""

from __future__ import annotations

import datetime as dt
import difflib
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from pydantic import ValidationError

from kitwright.errors import Place, UserError
from kitwright.kit.model import Club, KitSpec, Paper, PastSpec, Spec
from kitwright.kit.names import check_names
from kitwright.kit.yamltext import Document, read_text, read_yaml, text_only

ID = re.compile(r"(?P<year>(?:19|20|21)[0-9]{2})-(?P<month>0[1-9]|1[0-2])-[a-z0-9]+(?:-[a-z0-9]+)*")
CLUB_FILE, KIT_FILE, NOTES_FILE = "club.yaml", "kit.yaml", "notes.md"
NOT_KITS = {"people"}
"""Folders in `kits/` that are not kits."""
T = TypeVar("T", bound=Spec)


@dataclass(frozen=True)
class Kit:
    """A kit as its author wrote it."""

    id: str
    """The folder's name."""
    folder: Path
    """Where it lies."""
    spec: KitSpec
    papers: dict[str, Paper]
    """Its own papers and the club's usual ones that it uses, by key."""
    club: Club
    document: Document
    """The text behind the spec, for file and line."""
    notes: str
    """The text of notes.md, citations and all; empty when there is none."""

    @property
    def month(self) -> dt.date:
        """The first day of its month."""
        return month_of(self.id)

    @property
    def reveal(self) -> dt.datetime:
        """When it becomes public, in the club's own time; the first of its month unless said."""
        return self.spec.reveal or dt.datetime.combine(self.month, dt.time())

    def place(self, *path: str | int) -> Place:
        """File and line of an entry of the spec; of the club file for a paper that stands there."""
        if path[:1] == ("papers",) and len(path) > 1 and path[1] not in self.spec.papers:
            return self.club.place(*path)
        return self.document.place(path)

    @property
    def notes_file(self) -> Path:
        """The notes, as the user knows the file."""
        return self.document.file.with_name(NOTES_FILE)


@dataclass(frozen=True)
class PastKit:
    """A past kit of which only the old printable is left."""

    id: str
    folder: Path
    spec: PastSpec
    document: Document

    @property
    def month(self) -> dt.date:
        """The first day of its month."""
        return month_of(self.id)

    @property
    def reveal(self) -> dt.datetime:
        """When it became public, in the club's own time; the first of its month unless said."""
        return self.spec.reveal or dt.datetime.combine(self.month, dt.time())


def month_of(kit_id: str) -> dt.date:
    """The month that a kit's id names."""
    match = ID.fullmatch(kit_id)
    return dt.date(int(match["year"]), int(match["month"]), 1)


def shown(path: Path) -> Path:
    """A path as the user would type it: relative to where she stands when it lies below."""
    try:
        return path.resolve().relative_to(Path.cwd().resolve())
    except (ValueError, OSError, RuntimeError):
        # Elsewhere; or a link that leads back to itself.
        return path


# --- pydantic's errors in a maker's words ---------------------------------------------------

def validated(model: type[T], document: Document, unit: str = "in") -> T:
    """A document as one of the models.

    Args:
        model: which.
        document: the text, with its lines.
        unit: what a bare number in it means, `in` or `mm`.

    Raises:
        UserError: the first thing that is wrong, in a maker's words, with file and line.
    """
    try:
        return model.model_validate(document.data, context={"unit": unit})
    except ValidationError as error:
        # A misspelt key also leaves the right one missing: the word itself is the cause.
        found = error.errors()
        unknown = [e for e in found if e["type"] == "extra_forbidden"]
        first = min(unknown or found, key=lambda e: document.place(_path(e["loc"], document)).line or 0)
        problem, remedy = _in_words(first, model)
        raise UserError(problem, remedy, document.place(_path(first["loc"], document))) from None


def _path(loc: tuple, document: Document) -> tuple:
    """The part of pydantic's location that stands in the file."""
    path: tuple = ()
    for step in loc:
        if (*path, step) in document.lines:
            path = (*path, step)
    return path


def _known_keys(model: type[Spec]) -> set[str]:
    keys: set[str] = set()
    waiting, seen = [model], set()
    while waiting:
        current = waiting.pop()
        if current in seen:
            continue
        seen.add(current)
        for name, info in current.model_fields.items():
            keys.add(info.alias or name)
            waiting += [t for t in _classes(info.annotation) if isinstance(t, type) and issubclass(t, Spec)]
    return keys


def _keys_here(model: type[Spec], loc: tuple) -> list[str]:
    """The words that may stand where an unknown one was met."""
    current = [model]
    for step in loc[:-1]:
        inner = [info for m in current for name, info in m.model_fields.items() if step in (name, info.alias)]
        if inner:
            current = [c for info in inner for c in _classes(info.annotation) if isinstance(c, type) and issubclass(c, Spec)]
    return [info.alias or name for m in current for name, info in m.model_fields.items()]


def _classes(annotation: Any) -> list[Any]:
    inner = getattr(annotation, "__args__", ())
    return [annotation, *(c for a in inner for c in _classes(a))]


def _in_words(error: dict, model: type[Spec]) -> tuple[str, str]:
    names = [step for step in error["loc"] if isinstance(step, str)]
    key, kind, given = names[-1] if names else "", error["type"], error.get("input")
    if key == "[key]":
        key = "name"
    shown_value = f"“{str(given)[:40]}”" if isinstance(given, str) else "this"
    if kind == "kitwright":
        problem, _, remedy = error["msg"].partition("\n")
        return problem, remedy
    if kind == "extra_forbidden":
        here = _keys_here(model, error["loc"])
        near = difflib.get_close_matches(key, here, 1, 0.5) or difflib.get_close_matches(key, _known_keys(model), 1)
        return f"“{key}” is not a word this file knows", (
            f"did you mean “{near[0]}”?" if near else "the README lists every word; check the spelling and the indent")
    if kind == "missing":
        return f"“{key}” is missing here", f"add a line such as  {key}: …"
    if kind == "literal_error":
        return f"{shown_value} can't stand for “{key}”", f"write {error['ctx']['expected'].replace(chr(39), '')}"
    if kind == "greater_than_equal":
        return f"{shown_value} is too small for “{key}”", f"write a whole number, {error['ctx']['ge']} or more"
    if kind == "less_than_equal":
        return f"{shown_value} is too large for “{key}”", f"write {error['ctx']['le']} or less"
    if kind.startswith("int_"):
        return f"{shown_value} is not a whole number for “{key}”", "write a whole number such as 9"
    if kind.startswith("bool_"):
        return f"{shown_value} is neither yes nor no", f"write  {key}: yes  or  {key}: no"
    if kind == "string_pattern_mismatch":
        if "A-Z" in error["ctx"]["pattern"]:
            return f"{shown_value} is not a label", "a label is a capital letter, if need be with more after it: A, B, M2"
        return f"{shown_value} is not a short name", "use small letters, digits and dashes: river-stripe"
    if kind in ("string_too_short", "too_short"):
        return f"“{key}” is empty", "fill it in or leave the line out"
    if kind in ("string_too_long", "too_long"):
        return f"“{key}” is too long", f"at most {error['ctx']['max_length']}"
    if kind in ("string_type", "list_type", "dict_type", "model_type", "tuple_type", "model_attributes_type"):
        wanted = {"string_type": "a line of text", "list_type": "a list, one entry a line after a dash",
                  "tuple_type": "a list, one entry a line after a dash"}.get(kind, "lines of  name: value,  indented below it")
        return f"“{key}” is not what it should be", f"write {wanted}"
    return f"“{key}”: {error['msg']}", ""


# --- the club --------------------------------------------------------------------------------

def read_club(kits: Path) -> Club:
    """Read `club.yaml`.

    Raises:
        UserError: missing or wrong, with file and line.
    """
    document = read_yaml(kits / CLUB_FILE, shown(kits / CLUB_FILE))
    club = validated(Club, document)
    club._document = document
    try:
        ZoneInfo(club.time_zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise UserError(f"“{club.time_zone}” is not a time zone", "write an IANA name such as Europe/Lisbon",
                        document.place(("time zone",))) from None
    if club.address and not re.fullmatch(r"https?://[^\s]+", club.address):
        raise UserError(f"“{club.address}” is not a web address", "write it like https://cards.example/",
                        document.place(("address",)))
    return club


# --- kits --------------------------------------------------------------------------------------

def kit_folders(kits: Path) -> list[Path]:
    """The kit folders of an archive, in order of their names.

    Raises:
        UserError: no such folder, no kits, a name that is no id, or two kits with one id.
    """
    place = Place(shown(kits))
    if not kits.is_dir():
        raise UserError("there is no folder of kits here", "go to the folder that holds kits/, or make one with  kitwright new", place)
    folders = sorted((f for f in kits.iterdir() if f.is_dir() and not f.name.startswith(".") and f.name not in NOT_KITS),
                     key=lambda f: f.name)
    if not folders:
        raise UserError("there are no kits in this folder", "“kitwright new 2027-03-first-kit” writes a starter kit", place)
    seen: dict[str, str] = {}
    for folder in folders:
        twin = seen.setdefault(folder.name.casefold(), folder.name)
        if twin != folder.name:
            raise UserError(f"two kits have one id: {twin} and {folder.name}", "rename one of the two folders", Place(shown(folder)))
    for folder in folders:
        check_id(folder.name, Place(shown(folder)))
    return folders


def check_id(name: str, place: Place) -> None:
    """Refuse a folder name that is no kit id.

    Raises:
        UserError: not of the form `YYYY-MM-short-name`.
    """
    if len(name) > 60 or not ID.fullmatch(name):
        raise UserError(f"“{name[:60]}” can't be a kit's id", "name the folder like 2027-03-river-stones: year, month, short name", place)


def read_kit(folder: Path, club: Club) -> Kit | PastKit:
    """Read one kit folder.

    Raises:
        UserError: anything wrong with what it says, with file and line.
    """
    file = folder / KIT_FILE
    document = read_yaml(file, shown(file))
    check_id(folder.name, Place(shown(folder)))
    if "past" in document.data:
        return _past(folder, document)
    unit = "mm" if document.data.get("unit") == "mm" else "in"
    spec = validated(KitSpec, document, unit)
    kit = Kit(folder.name, folder, spec, {**club.papers, **spec.papers}, club, document, _notes(folder))
    check_names(kit)
    for i, photo in enumerate(spec.photos):
        inside(folder, photo.file, kit.place("photos", i, "file"))
    return kit


def _past(folder: Path, document: Document) -> PastKit:
    spec = validated(PastSpec, document)
    kit = PastKit(folder.name, folder, spec, document)
    if not spec.past:
        raise UserError("“past” is said, but not yes", "write  past: yes,  or leave the line out and describe the kit", document.place(("past",)))
    pdf = inside(folder, spec.printable, document.place(("printable",)))
    with pdf.open("rb") as stream:
        if stream.read(5) != b"%PDF-":
            raise UserError(f"{spec.printable} is not a PDF", "give the old printable as a PDF file", document.place(("printable",)))
    if spec.thumbnail:
        inside(folder, spec.thumbnail, document.place(("thumbnail",)))
    return kit


def inside(folder: Path, name: str, place: Place) -> Path:
    """A file that is named in a folder's own spec.

    Raises:
        UserError: it is not there, or it lies outside the folder; at `place`, which names it.
    """
    try:
        path = (folder / name).resolve()
        path.is_file()
    except (OSError, ValueError):
        raise UserError(f"“{name[:40]}” can't be the name of a file", f"give the name of a file in {folder.name}/", place) from None
    if not path.is_relative_to(folder.resolve()):
        raise UserError(f"{name} lies outside {folder.name}/", "put the file inside it", place)
    if not path.is_file():
        raise UserError(f"there is no file {name} in {folder.name}/", "add the file, or take this line out", place)
    return path


def _notes(folder: Path) -> str:
    file = folder / NOTES_FILE
    if not file.exists() and not file.is_symlink():
        return ""
    text = read_text(file, shown(file))
    for number, line in enumerate(text.split("\n"), 1):
        text_only(line, Place(shown(file), number))
    return text
