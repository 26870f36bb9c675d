"""An archive's own theme, laid over the program's file by file: which files there are, and which of hers stand.

A theme may come from a stranger, like a kit: its files are read once, by the rules of `folder.py`,
and whoever needs one gets the bytes that were read. What she never changed is not hers: a file that
is word for word one of kitwright's own, of this version or an earlier one, gives way to the program's.
"""

from __future__ import annotations

import difflib
import os
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from functools import cache, cached_property
from importlib.util import find_spec
from pathlib import Path
from typing import Literal

from kitwright.errors import Place, Slips, UserError
from kitwright.kit.folder import fault_of_name, no_link_out, own_file, read_own
from kitwright.kit.read import shown
from kitwright.kit.taken import RECORD, Origin, before, digest, likeliest, plain, read_record, texts

THEME, SETTINGS, TEMPLATES, OVERRIDES, ASSETS, BRIEFS = "theme", "mkdocs.yml", "templates", "overrides", "assets", "briefs"
PARTS = (TEMPLATES, OVERRIDES, ASSETS, BRIEFS)
LOCAL = ("proposals.css", "proposals.js")
"""Files of `assets/` that a page of its own on a disk wears, and no page of the site."""
FILLED = {TEMPLATES: (".md", ".html"), BRIEFS: (".md", ".html"), OVERRIDES: (".html", "sitemap.xml")}
"""What is filled in, by the folder of the theme."""
PROGRAM = Path(__file__).resolve().parents[3] / THEME
"""The theme that comes with kitwright."""
OUR_MARK = "mark.svg"
"""A mark of the club's initial letters, made for each; the settings name it, and a file of hers in `assets/` takes its place."""
MOST_FILES = 500
BIGGEST_TEXT, BIGGEST_ASSET = 300_000, 5_000_000
"""Bytes of one file."""
LEFT_BY_DESKTOPS = ("thumbs.db", "desktop.ini")

Standing = Literal["same", "old", "current", "outgrown", "unrecorded", "gone", "extra"]
"""How a file of hers stands to the program's of that name.

`same` and `old`: word for word the program's, of now or of earlier, so that the program's stands.
`current`: changed by her, from what the program still has. `outgrown`: the program's has changed since.
What she took is in the record; of a copy made by hand it is the one of all earlier files that hers is most like.
`unrecorded`: changed by her, nobody knows from what. `gone`: the program has it no more. `extra`: it never had.
"""


@dataclass(frozen=True)
class OwnFile:
    """A file of her theme, as it was read."""

    name: str
    """In the theme, `templates/home.md`."""
    path: Path
    data: bytes = field(repr=False)

    def place(self, line: int | None = None) -> Place:
        """Where it lies, as she would type it."""
        return Place(shown(self.path), line)

    @property
    def text(self) -> str:
        """What it says, with plain ends of lines.

        Raises:
            UserError: it is not UTF-8.
        """
        try:
            return plain(self.data).decode()
        except UnicodeDecodeError as error:
            raise UserError("files.no-utf-8", place=self.place(plain(self.data).count(b"\n", 0, error.start) + 1)) from None


@dataclass(frozen=True)
class Theme:
    """The program's theme with hers over it."""

    program: Path = PROGRAM
    folder: Path | None = None
    """Hers; None where the archive has none of its own."""
    files: Mapping[str, OwnFile] = field(default_factory=dict)
    """Every file of hers, by name."""
    taken: Mapping[str, Origin] = field(default_factory=dict)
    """What the program's file was when she took it, by name."""

    def program_file(self, name: str) -> Path | None:
        """The program's own file of a name, or the page generator's where a block of that is replaced."""
        part, _, rest = name.partition("/")
        if fault_of_name(name):
            # Typed, or asked for by a template: nothing outside has a name.
            return None
        for file in (self.program / name, *([generator() / rest] if part == OVERRIDES and name.endswith(".html") else [])):
            if (rest and part in PARTS or name == SETTINGS) and file.is_file():
                return file
        return None

    @cached_property
    def standings(self) -> dict[str, Standing]:
        """How each file of hers stands to the program's."""
        return {name: self._standing(name) for name in self.files}

    @cached_property
    def _found(self) -> dict[str, Origin | None]:
        return {}

    def origin(self, name: str) -> Origin | None:
        """What the program's file was when she took it: by the record, else as far as it can be seen. None where it can't."""
        if name in self.taken:
            return self.taken[name]
        if name not in self._found:
            self._found[name] = self._likeliest(name)
        return self._found[name]

    def _likeliest(self, name: str) -> Origin | None:
        file, mine = self.program_file(name), plain(self.files[name].data)
        if file is None or b"\0" in mine:
            return None
        now = plain(file.read_bytes()).decode("utf-8", "replace")
        text = likeliest(mine.decode("utf-8", "replace"), (now, *texts().get(name, ())))
        return None if text is None else Origin("", text)

    def _standing(self, name: str) -> Standing:
        mine, file, origin = plain(self.files[name].data), self.program_file(name), self.taken.get(name)
        unchanged = digest(mine) in before().get(name, ()) or (origin is not None and digest(mine) == origin.digest)
        if file is None:
            return "old" if unchanged else "extra" if name == f"{ASSETS}/{OUR_MARK}" else "gone" if origin or name in before() else "extra"
        now = plain(file.read_bytes())
        if mine == now:
            return "same"
        if unchanged:
            return "old"
        origin = self.origin(name)
        if origin is None:
            # Settings are merged by their names, so what was never kitwright's whole file is outgrown by nothing.
            return "extra" if name == SETTINGS else "unrecorded"
        return "current" if origin.digest == digest(now) else "outgrown"

    def hers(self, name: str) -> OwnFile | None:
        """Her file of a name, where it stands in the place of the program's."""
        file = self.files.get(name)
        return None if file is None or self.standings[name] in ("same", "old") else file

    @property
    def standing_files(self) -> tuple[str, ...]:
        """The names of all of hers that stand."""
        return tuple(name for name in self.files if self.hers(name))

    @property
    def own_styles(self) -> list[str]:
        """Style sheets of her own in `assets/`, which are used at once; one that is called nearly like one of the program's was meant for that."""
        known = self.programs_in(ASSETS)
        found = [name for name in self.hers_in(ASSETS) if name.endswith(".css") and name not in known]
        return [name for name in found if not difflib.get_close_matches(name, known, 1, 0.8)]

    def hers_in(self, part: str) -> dict[str, OwnFile]:
        """All of hers that stands in a folder of the theme, by the name in it."""
        return {name.partition("/")[2]: file for name, file in self.files.items() if name.startswith(f"{part}/") and self.hers(name)}

    def programs_in(self, part: str) -> dict[str, Path]:
        """All of the program's in a folder of the theme, by the name in it."""
        home = self.program / part
        return {file.relative_to(home).as_posix(): file for file in sorted(home.rglob("*")) if file.is_file()}


@cache
def generator() -> Path:
    """Where the templates of the page generator lie."""
    found = find_spec("material")
    assert found is not None and found.submodule_search_locations
    return Path(found.submodule_search_locations[0]) / "templates"


def nearest_name(name: str, known: Collection[str]) -> str | None:
    """The name that was meant by one that is none, folders before it or not; None where none is near."""
    called = {one.rpartition("/")[2]: one for one in reversed(list(known))}
    like = difflib.get_close_matches(name.rpartition("/")[2], called, 1, 0.75)
    return next(iter([*difflib.get_close_matches(name, known, 1, 0.75), *(called[one] for one in like)]), None)


@cache
def blocks() -> tuple[str, ...]:
    """The page generator's own templates, by the names that they have in `overrides/`; its thousands of icons aside."""
    home, found = generator(), []
    for here, folders, names in os.walk(home):
        folders[:] = [name for name in folders if not name.startswith(".")]
        found += [Path(here, name).relative_to(home).as_posix() for name in names if name.endswith(".html")]
    return tuple(sorted(found))


def read_theme(root: Path) -> Theme:
    """An archive's theme: the program's, with what stands in its folder `theme/` laid over it.

    Args:
        root: the folder that holds `kits/`.

    Raises:
        UserError: hers can't be read, or holds what may not be read: a link out, a pipe, too much.
    """
    folder = root / THEME
    if not PROGRAM.is_dir():
        raise UserError("theme.none", place=Place(PROGRAM), folder=THEME)
    if not os.path.lexists(folder) or folder.resolve() == PROGRAM.resolve():
        return Theme()
    if not folder.is_dir():
        raise UserError("theme.no-folder", place=Place(shown(folder)))
    no_link_out(folder, root, Place(shown(folder)))
    slips = Slips()
    files = {
        name: OwnFile(name, folder / name, data)
        for name in _names(folder, slips)
        if (data := slips.trying(_bytes, folder, name)) is not None
    }
    taken = slips.trying(read_record, folder)
    slips.stop()
    return Theme(PROGRAM, folder, files, taken)


def _names(folder: Path, slips: Slips) -> list[str]:
    """Every file of hers by its name in the theme; what a desktop or an editor leaves is passed over."""
    found: list[str] = []
    for here, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in folders:
            slips.trying(no_link_out, Path(here, name), folder, Place(shown(Path(here, name))))
        passed = [name for name in names if not (name.startswith(".") or name.endswith("~") or name.lower() in LEFT_BY_DESKTOPS)]
        found += [Path(here, name).relative_to(folder).as_posix() for name in passed]
        if len(found) > MOST_FILES:
            raise UserError("theme.too-many", place=Place(shown(folder)), most=MOST_FILES)
    return sorted(name for name in found if name != RECORD)


def _bytes(folder: Path, name: str) -> bytes:
    place = Place(shown(folder / name))
    fault = fault_of_name(name)
    if fault:
        raise UserError("theme.name", place=place)
    most = BIGGEST_ASSET if name.startswith(f"{ASSETS}/") else BIGGEST_TEXT
    file = own_file(folder, name, place, most)
    try:
        return read_own(file, most)
    except OverflowError:
        raise UserError("theme.grows", place=place) from None
    except OSError as error:
        raise UserError("files.unreadable-text", place=place, why=error.strerror) from None
