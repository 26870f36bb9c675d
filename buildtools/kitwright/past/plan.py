"""What an import would do: which PDFs become which kits, and which don't, with the reason. Nothing is written here."""

from __future__ import annotations

import datetime as dt
import os
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.kit.folder import fault_of_name, files_below, read_own
from kitwright.kit.kit import PastKit
from kitwright.kit.kit import month_of as month_of_id
from kitwright.kit.loose import NOT_KITS, PDF
from kitwright.kit.model import Club
from kitwright.kit.read import ID, KIT_FILE, LARGEST_PDF, read_kit, shown
from kitwright.past.found import Found
from kitwright.past.guess import Month, Title, id_of, month_of, title_of, year_of
from kitwright.past.kept import checksum, kept
from kitwright.past.reading import Unreadable, read_all

FOLDERS = 3
"""Folders above a file whose names may date it."""


@dataclass(frozen=True)
class NewKit:
    """A past kit that would be written."""

    id: str
    file: Path
    """The PDF."""
    name: str
    """The PDF as it is told: below the folder that was named."""
    pdf: str
    """Its checksum."""
    month: Month
    title: Title
    found: Found
    inside: bool = False
    """Whether the PDF lies in the folder of kits already, and moves into the kit's own."""
    in_place: bool = False
    """Whether it lies in the kit's own folder already, and only the kit file is missing."""
    twin: str | None = None
    """A kit of the same month and title, of which it may be another version or size."""


@dataclass(frozen=True)
class Renewed:
    """A past kit that is there, and beside which nothing is kept of its PDF yet."""

    kit: PastKit
    pdf: str
    found: Found


@dataclass(frozen=True)
class Undated:
    """A PDF whose month nothing tells."""

    file: Path
    name: str
    """As it is told."""
    year: int | None
    """Where at least that is told."""


@dataclass
class Plan:
    """What an import would do."""

    kits: list[NewKit] = field(default_factory=list)
    """Oldest first."""
    renewed: list[Renewed] = field(default_factory=list)
    same: list[tuple[str, str]] = field(default_factory=list)
    """A PDF, and the one before it that has the same bytes."""
    known: list[tuple[str, str]] = field(default_factory=list)
    """A PDF, and the kit that has it already."""
    spare: list[tuple[str, str]] = field(default_factory=list)
    """The same of what lies loose in the folder of kits, where nothing needs it."""
    unknown: list[str] = field(default_factory=list)
    """Those whose month she did not know either."""
    faults: list[UserError] = field(default_factory=list)
    """Why others are left out, each at its file."""
    seen: int = 0
    """PDFs that were looked at."""


@dataclass(frozen=True)
class _Page:
    """A PDF that may become a kit."""

    file: Path
    name: str
    folders: tuple[str, ...]
    """Names of those above it, the nearest first."""
    home: Path | None = None
    """The folder in the folder of kits that it lies in, where that is named as a kit and has no kit file."""


def plan(
    named: Sequence[Path],
    kits: Path,
    club: Club,
    now: dt.date,
    typed: dt.date | None = None,
    told: Callable[[int, int], None] | None = None,
    asked: Callable[[Sequence[Undated]], Mapping[Path, dt.date]] | None = None,
) -> Plan:
    """Look at the PDFs in files and folders, those below them included.

    Args:
        named: files and folders, anywhere.
        kits: the folder of kits.
        club: whose kits they are.
        now: today; nothing that comes later is old.
        typed: the month that all of them are from, where that was said.
        told: called with how many PDFs were read, of how many.
        asked: who may know the months that nothing tells; without one, each of them is a fault.

    Raises:
        UserError: something that was named is not there, or is neither a folder nor a PDF.
    """
    made, region = Plan(), club.region
    pages, past = _pages(named, kits, club)
    made.seen = len(pages) + len(past)
    theirs = there(kits, {page.file for page in pages})
    new: dict[str, _Page] = {}
    for page in sorted(pages, key=lambda page: (len(page.file.name), page.name)):
        # Of two of the same bytes the plainer name: the other has a “(1)” or a “copy” more.
        try:
            pdf = checksum(_bytes(page.file))
        except UserError as error:
            made.faults.append(error)
            continue
        if pdf in new:
            made.same.append((page.name, new[pdf].name))
        elif kit := theirs(page.file, pdf):
            (made.spare if page.file.is_relative_to(kits.resolve()) else made.known).append((page.name, kit))
        else:
            new[pdf] = page
    new = dict(sorted(new.items(), key=lambda one: one[1].name))
    made.same.sort()
    files = [*((pdf, page.file) for pdf, page in new.items()), *((pdf, kit.folder / kit.spec.printable) for kit, pdf in past)]
    outcomes = list(read_all([file for _, file in files], lambda done: told(done, len(files)) if told else None))
    undated: list[Undated] = []
    whole: list[tuple[_Page, str, Found, Month | None]] = []
    for (pdf, page), found in zip(new.items(), outcomes):
        if isinstance(found, Unreadable):
            made.faults.append(UserError(found.code, place=Place(shown(page.file)), name=page.file.name))
            continue
        stem = _letters(page.file.stem)
        month = _of_home(page) or _typed(typed) or month_of(stem, page.folders, found.created, region, now, found.title)
        if month is None:
            undated.append(Undated(page.file, page.name, year_of(stem, page.folders, now)))
        whole.append((page, pdf, found, month))
    answers = asked(undated) if asked and undated else {}
    for one in undated:
        if one.file not in answers and asked:
            made.unknown.append(one.name)
        elif one.file not in answers:
            made.faults.append(UserError("past.undated", place=Place(shown(one.file)), name=one.name, year=one.year, typed=shown(one.file)))
    ready = [
        (page, pdf, found, known, title_of(_letters(page.file.stem), page.folders, found.title, region))
        for page, pdf, found, month in whole
        if (known := month or _typed(answers.get(page.file)))
    ]
    for (old, pdf), found in zip(past, outcomes[len(new) :]):
        if isinstance(found, Unreadable):
            made.faults.append(UserError(found.code, place=old.document.place(("printable",)), name=old.spec.printable))
        else:
            made.renewed.append(Renewed(old, pdf, found))
    made.kits = list(_named(ready, kits))
    return made


def _bytes(file: Path) -> bytes:
    place = Place(shown(file))
    try:
        return read_own(file, LARGEST_PDF)
    except OverflowError:
        raise UserError("past.too-large", place=place, name=file.name) from None
    except OSError:
        raise UserError("past.unreadable", place=place, name=file.name) from None


# --- which ------------------------------------------------------------------------------------------


def _pages(named: Sequence[Path], kits: Path, club: Club) -> tuple[list[_Page], list[tuple[PastKit, str]]]:
    """PDFs that may become kits, each once, in the order of their names; and past kits beside which nothing is kept yet."""
    home = kits.resolve()
    pages: dict[Path, _Page] = {}
    past: dict[Path, tuple[PastKit, str]] = {}
    for one in named:
        try:
            top = one.resolve(strict=True)
        except (OSError, RuntimeError):
            raise UserError("past.not-there", place=Place(shown(one))) from None
        if not top.is_dir() and top.suffix.lower() != PDF:
            raise UserError("past.not-a-pdf", place=Place(shown(one)))
        base = top if top.is_dir() else top.parent
        for file in files_below(top) if top.is_dir() else [top]:
            if file.suffix.lower() != PDF or file.name.startswith(".") or file in pages:
                continue
            beside = _beside_kits(file, home)
            if beside and beside[0] in NOT_KITS:
                continue
            folder = home / beside[0] if beside and len(beside) > 1 else None
            if folder is not None and os.path.lexists(folder / KIT_FILE):
                if folder not in past and (found := _unkept(folder, file, club)):
                    past[folder] = found
                continue
            own = folder if folder and ID.fullmatch(folder.name) and len(_pdfs(folder)) == 1 and file.parent == folder else None
            above = [parent.name for parent in file.parents if parent != home and (top.is_file() or parent.is_relative_to(base))]
            pages[file] = _Page(file, _letters(file.relative_to(base).as_posix()), tuple(map(_letters, above[:FOLDERS])), own)
    return [pages[file] for file in sorted(pages)], [past[folder] for folder in sorted(past)]


def _letters(name: str) -> str:
    """A name that can be written down: what its system had no letters for is a question mark."""
    return name.encode("utf-8", "replace").decode()


def _beside_kits(file: Path, home: Path) -> tuple[str, ...]:
    return file.relative_to(home).parts if file.is_relative_to(home) else ()


def _pdfs(folder: Path) -> list[Path]:
    return [f for f in files_below(folder) if f.suffix.lower() == PDF]


def _unkept(folder: Path, file: Path, club: Club) -> tuple[PastKit, str] | None:
    """A past kit of whose PDF nothing is kept; None where it is, or where this is another file. What is wrong with the kit is told by `check`."""
    try:
        kit = read_kit(folder, club)
    except UserError:
        return None
    if not isinstance(kit, PastKit) or (folder / kit.spec.printable).resolve() != file:
        return None
    pdf = checksum(_bytes(file))
    return None if kept(kit, pdf) else (kit, pdf)


def there(kits: Path, new: Collection[Path]) -> Callable[[Path, str], str | None]:
    """Answers which kit has a PDF of the same bytes, those that are new aside: only files of the same length are read for that."""
    lengths: dict[int, list[tuple[Path, str]]] = {}
    for folder in sorted(kits.iterdir()):
        if not folder.is_dir() or folder.name.startswith(".") or folder.name in NOT_KITS or folder.is_symlink():
            continue
        for file in _pdfs(folder):
            if "published" not in file.parts[len(folder.parts) :] and file.resolve() not in new:
                lengths.setdefault(file.stat().st_size, []).append((file, folder.name))
    sums: dict[Path, str] = {}

    def of(file: Path, pdf: str) -> str | None:
        for other, kit in lengths.get(file.stat().st_size, []):
            if other not in sums:
                sums[other] = checksum(_bytes(other))
            if sums[other] == pdf:
                return kit
        return None

    return of


# --- what they become ---------------------------------------------------------------------------------


def _typed(typed: dt.date | None) -> Month | None:
    return Month(typed.year, typed.month, None, "typed", "typed", "sure") if typed else None


def _of_home(page: _Page) -> Month | None:
    """Its folder is named as a kit already."""
    if page.home is None:
        return None
    first = month_of_id(page.home.name)
    return Month(first.year, first.month, None, "folder", "folder", "sure")


def _named(ready: list[tuple[_Page, str, Found, Month, Title]], kits: Path) -> Iterator[NewKit]:
    """Each with an id of its own, oldest first."""
    taken = {path.name.casefold() for path in kits.iterdir()}
    home = kits.resolve()
    for page, pdf, found, month, title in sorted(ready, key=lambda one: (one[3].year, one[3].month, one[3].day or 0, one[0].name)):
        in_place = page.home is not None and fault_of_name(page.file.name) is None
        plain = id_of(month, title.text, set())
        id = page.home.name if in_place and page.home else id_of(month, title.text, taken)
        twin = plain if title.text and id != plain and plain in taken else None
        taken.add(id.casefold())
        yield NewKit(id, page.file, page.name, pdf, month, title, found, page.file.is_relative_to(home), in_place, twin)
