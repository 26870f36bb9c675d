"""Read a kit folder and the club into the model.

One folder gives one `Kit` (or `PastKit`); every name in it has been looked up, so that
what comes after never meets a label or paper that does not exist.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path

from kitwright.errors import Place, Slips, UserError
from kitwright.kit.clock import precise_zone, zone
from kitwright.kit.examples import lines_for, needed
from kitwright.kit.faces import led
from kitwright.kit.folder import MB, no_link_out, opened, own_file
from kitwright.kit.kit import NOTES_FILE, Kit, PastKit
from kitwright.kit.logo import read_logo
from kitwright.kit.loose import NOT_KITS, is_loose, loose_in
from kitwright.kit.model import FACES, Club, KitSpec, Paper, PastSpec, Spec, model_of
from kitwright.kit.names import check_names, look_up_people, look_up_raw
from kitwright.kit.picture import LARGEST, NoPicture, bare, own_picture, read
from kitwright.kit.scan import read_scan
from kitwright.kit.several import check_designs
from kitwright.kit.valid import looked_through
from kitwright.kit.yamltext import Document, look_at, read_text, text_only
from kitwright.labels import key_of
from kitwright.schemes import palette_of

ID = re.compile(r"(?P<year>(?:19|20|21)[0-9]{2})-(?P<month>0[1-9]|1[0-2])-[a-z0-9]+(?:-[a-z0-9]+)*")
_SAID_ID = re.compile(r"\s*((?:19|20|21)[0-9]{2})[\s._/-]*(1[0-2]|0?[1-9])(?![0-9])[\s._/-]*([^\W_].*)")
"""Year, month and short name, however they are parted."""
CLUB_FILE, KIT_FILE = "club.yaml", "kit.yaml"
LEAST_SHARED, BEST_SHARED = 300, (1200, 630)
"""Pixels each way of a picture that goes with a link, and the best width and height. Common practice, no source."""
LARGEST_PDF = 60 * MB
"""Bytes of a past kit's printable."""


def shown(path: Path) -> Path:
    """A path as the user would type it: relative to where she stands when it lies below."""
    try:
        return path.resolve().relative_to(_real(os.getcwd()))
    except (ValueError, OSError, RuntimeError):
        # Elsewhere; or a link that leads back to itself.
        return path


@lru_cache(maxsize=8)
def _real(here: str) -> Path:
    return Path(here).resolve()


# --- the club --------------------------------------------------------------------------------


def read_club(kits: Path, *, frozen: bool = False) -> Club:
    """Read `club.yaml`.

    Args:
        kits: the folder that it stands in.
        frozen: whether that is a revision's, where a time zone goes on meaning what it meant.

    Raises:
        UserError: missing or wrong, with file and line.
    """
    slips = Slips()
    club = look_at_club(kits, slips, frozen=frozen)
    slips.stop()
    assert club is not None, "no club, and nothing is wrong"
    return club


def look_at_club(kits: Path, slips: Slips, *, frozen: bool = False) -> Club | None:
    """The club file for those who only look on, so that kits are looked at too: all that is wrong in it is noted.

    What is wrong stands there as an example. None where it is not known which usual papers there are.
    """
    if not kits.is_dir():
        slips.add(UserError("kits.no-folder", place=Place(shown(kits))))
        return None
    document = document_of(kits / CLUB_FILE, Club, slips)
    if document is None:
        return None
    club = looked_through(Club, document, slips)
    # Told beside what the model refuses, so from the text itself.
    slips.trying(_time_zone, document, zone if frozen else precise_zone)
    for key in ("address", "team site"):
        if isinstance(address := document.data.get(key), str):
            slips.trying(check_address, address, document.place((key,)))
    if club is None:
        return None
    for i, former in enumerate(club.former_addresses):
        slips.trying(check_address, former, document.place(("former addresses", i)))
    club._document = document
    if not _told_at(document, ("colours",), slips):
        _colours(club, slips)
    if club.logo and not _told_at(document, ("logo",), slips):
        club._mark = slips.trying(read_logo, kits, club.logo, club.place("logo"))
    if club.share_picture and not _told_at(document, ("share picture",), slips):
        slips.trying(_share_picture, kits, club)
    _scans(document, club.papers, kits, slips)
    typed = document.data.get("papers")
    unknown = ("papers",) in document.broken or "papers" in document.unread or isinstance(typed, dict) and set(typed) != set(club.papers)
    return None if unknown else club


def _told_at(document: Document, path: tuple[str, ...], slips: Slips) -> bool:
    """Whether something is wrong with an entry already."""
    if path not in document.lines:
        return False
    lines = range(document.lines[path], document.end(path) + 1)
    return any(one.place is not None and one.place.file == document.file and one.place.line in lines for one in slips.errors)


def _colours(club: Club, slips: Slips) -> None:
    """Note every colour that can't be used: one that was told is left out, and the rest looked at again."""
    typed = dict(club.typed_colours)
    while True:
        try:
            palette_of(tuple(typed.items()))
            return
        except UserError as error:
            slips.add(error.at(club.place("colours", error.values["role"])))
            del typed[error.values["role"]]


def check_address(text: str, place: Place) -> None:
    """Refuse what is no web address.

    Raises:
        UserError: not of the form `https://cards.example/`.
    """
    if not re.fullmatch(r"https?://[^\s]+", text.strip()):
        raise UserError("kits.no-web-address", place=place, text=text)


def document_of(file: Path, model: type[Spec], slips: Slips) -> Document | None:
    """A file that must be there, as far as it can be read; where it is missing, what to write is told."""
    if not file.exists() and not file.is_symlink():
        others = sorted(f.name for f in file.parent.iterdir()) if file.parent.is_dir() else []
        near = next(
            (
                name
                for name in others
                if name.casefold().split(".")[0] == file.stem and name.casefold() != file.name and ".schema." not in name
            ),
            None,
        )
        near = near or next((name for name in others if name.casefold() == file.name), None)
        add = lines_for(model, needed(model), metric=False)
        slips.add(UserError("kits.no-file", place=Place(shown(file)), name=file.name, near=near, add=add))
        return None
    document: Document | None = slips.trying(look_at, file, shown(file))
    return document


def _share_picture(kits: Path, club: Club) -> None:
    name, place = club.share_picture.file if club.share_picture else "", club.place("share picture", "file")
    file = own_picture(kits, name, place)
    try:
        found = bare(read(file))
    except NoPicture as error:
        raise UserError(error.code, place=place, name=name, **error.values) from None
    if min(found.width, found.height) < LEAST_SHARED:
        raise UserError(
            "pictures.too-small", place=place, name=name, width=found.width, height=found.height, least=LEAST_SHARED, best=BEST_SHARED
        )


def _time_zone(document: Document, read: Callable[[str], object]) -> None:
    name = document.data.get("time zone")
    if not isinstance(name, str):
        return
    try:
        read(name.strip())
    except UserError as error:
        raise error.at(document.place(("time zone",))) from None


# --- kits --------------------------------------------------------------------------------------


def kit_folders(kits: Path) -> list[Path]:
    """The kit folders of an archive, in order of their names.

    Raises:
        UserError: no such folder, no kits, a name that is no id, or two kits with one id.
    """
    folders = all_folders(kits)
    for folder in folders:
        check_folder(folder, folders)
    return folders


def all_folders(kits: Path) -> list[Path]:
    """Every folder that should be a kit, whatever it is called, in order of their names; not those with nothing but PDFs in them.

    Raises:
        UserError: no such folder, or no kits.
    """
    place = Place(shown(kits))
    if not kits.is_dir():
        raise UserError("kits.no-folder", place=place)
    folders = sorted(
        (f for f in kits.iterdir() if f.is_dir() and not f.name.startswith(".") and f.name not in NOT_KITS and not is_loose(f)),
        key=lambda f: f.name,
    )
    if not folders:
        if loose_in(kits):
            raise UserError("past.only-loose", place=place, kits=kits.name)
        raise UserError("kits.none", place=place)
    return folders


def check_folder(folder: Path, folders: list[Path]) -> None:
    """Refuse a folder whose name can't be a kit's among the others.

    Raises:
        UserError: its name is no id, or another kit's in other letters; or it is a link to somewhere else.
    """
    twins = [f.name for f in folders if f.name.casefold() == folder.name.casefold()]
    if len(twins) > 1:
        raise UserError("kits.one-id", place=Place(shown(folder)), one=twins[0], other=twins[1])
    check_id(folder.name, Place(shown(folder)))
    no_link_out(folder, folder.parent, Place(shown(folder)))


def check_id(name: str, place: Place) -> None:
    """Refuse a folder name that is no kit id.

    Raises:
        UserError: not of the form `YYYY-MM-short-name`.
    """
    if len(name) > 60 or not ID.fullmatch(name):
        raise UserError("kits.no-id", place=place, name=name, near=near_id(name))


def near_id(name: str) -> str | None:
    """The id that a name would be, which says year, month and short name in its own way; None where it doesn't."""
    found = _SAID_ID.match(name)
    short = key_of(re.sub("['’]", "", found[3]), "kit", 52) if found else ""
    near = f"{found[1]}-{found[2]:0>2}-{short}" if found else ""
    return near if ID.fullmatch(near) else None


def read_kit(folder: Path, club: Club) -> Kit | PastKit:
    """Read one kit folder.

    Raises:
        UserError: everything wrong with what it says, each with file and line.
    """
    slips = Slips()
    kit = look_at_kit(folder, club, slips)
    slips.stop()
    assert kit is not None, "no kit, and nothing is wrong"
    return kit


def read_with_club(folder: Path, kits: Path) -> Kit | PastKit:
    """Read one kit folder, and the club file in `kits`.

    Raises:
        UserError: everything wrong with either.
    """
    slips = Slips()
    kit = look_at_kit(folder, look_at_club(kits, slips), slips)
    slips.stop()
    assert kit is not None, "no kit, and nothing is wrong"
    return kit


def look_at_kit(folder: Path, club: Club | None, slips: Slips, people: Iterable[str] | None = None) -> Kit | PastKit | None:
    """A kit's folder for those who only look on: all that is wrong with what it says is noted.

    Args:
        folder: the kit's.
        club: whose; None where its file can't be read, and nothing is known of usual papers.
        slips: where it is noted; what comes back is a sound kit only if nothing was.
        people: keys of those on file; names of others are noted where the kit can't be looked over otherwise.
    """
    before = len(slips.errors)
    slips.trying(check_id, folder.name, Place(shown(folder)))
    file = folder / KIT_FILE
    document = document_of(file, KitSpec, slips)
    if document is None:
        return None
    if "past" in document.data:
        return _past(folder, document, slips)
    spec = looked_through(model_of(document.data), document, slips, "mm" if document.data.get("unit") == "mm" else "in")
    slips.trying(check_designs, document)
    kit = None
    notes = slips.trying(_notes, folder)
    if spec and club and len(slips.errors) == before:
        spec = led(spec, document, slips)
        kit = Kit(folder.name, folder, spec, {**club.papers, **spec.papers}, club, document, notes or "")
        slips.trying(check_names, kit)
    else:
        slips.trying(look_up_raw, document, club.papers if club else None)
    for name, place in files_named(document, "photos", "file"):
        slips.trying(own_picture, folder, name, place)
    _scans(document, spec.papers if spec else {}, folder, slips)
    if len(slips.errors) > before and people is not None:
        slips.trying(look_up_people, document, people)
    return kit


def _scans(document: Document, papers: Mapping[str, Paper], folder: Path, slips: Slips) -> None:
    """Read the scans of papers; of a paper that is not sound, only whether its scan is there is looked at."""
    typed = document.data.get("papers")
    for key, said in typed.items() if isinstance(typed, dict) else ():
        wrong = _told_at(document, ("papers", key), slips)
        for side in FACES:
            face = said.get(side) if isinstance(said, dict) else None
            name = face.get("scan") if isinstance(face, dict) else None
            if not isinstance(name, str) or not name.strip():
                continue
            place, paper = document.place(("papers", key, side, "scan")), papers.get(key)
            sound = paper.face(side) if paper and not wrong else None
            if paper and sound:
                sound.scanned(slips.trying(read_scan, folder, name.strip(), sound.laid, paper.size.size, place))
            else:
                slips.trying(own_picture, folder, name.strip(), place)


def files_named(document: Document, *keys: str) -> Iterator[tuple[str, Place]]:
    """Names of files as they stand in the text, each with its place: of an entry, or of every entry of a list."""
    said = document.data.get(keys[0])
    entries: list[tuple[tuple[str | int, ...], object]] = [(keys, said)]
    if len(keys) > 1:
        listed = said if isinstance(said, list) else []
        entries = [((keys[0], i, keys[1]), one.get(keys[1])) for i, one in enumerate(listed) if isinstance(one, dict)]
    for path, name in entries:
        if isinstance(name, str) and name.strip():
            yield name.strip(), document.place(path)


def _past(folder: Path, document: Document, slips: Slips) -> PastKit | None:
    before = len(slips.errors)
    if document.data.get("past") == "yes" and {"pieces", "card"} <= document.data.keys():
        # Told at each of its words, it would be a dozen slips.
        slips.add(UserError("kits.past-and-described", place=document.place(("past",))))
        return None
    spec = looked_through(PastSpec, document, slips)
    if spec and not spec.past:
        slips.add(UserError("kits.past-but-not-yes", place=document.place(("past",))))
        return None
    for name, place in files_named(document, "printable"):
        slips.trying(_pdf, folder, name, place)
    for name, place in files_named(document, "thumbnail"):
        slips.trying(own_file, folder, name, place, LARGEST)
    return PastKit(folder.name, folder, spec, document) if spec and len(slips.errors) == before else None


def _pdf(folder: Path, name: str, place: Place) -> None:
    with opened(own_file(folder, name, place, LARGEST_PDF)) as stream:
        if stream.read(5) != b"%PDF-":
            raise UserError("kits.no-pdf", place=place, name=name)


def _notes(folder: Path) -> str:
    file = folder / NOTES_FILE
    if not file.exists() and not file.is_symlink():
        return ""
    named, slips = shown(file), Slips()
    text = read_text(file, named)
    for number, line in enumerate(text.split("\n"), 1):
        slips.trying(text_only, line, Place(named, number))
    slips.stop()
    return text
