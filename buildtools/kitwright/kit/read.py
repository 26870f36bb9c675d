"""Read a kit folder and the club into the model.

One folder gives one `Kit` (or `PastKit`); every name in it has been looked up, so that
what comes after never meets a label or paper that does not exist.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from pathlib import Path

from kitwright.errors import Place, Slips, UserError
from kitwright.kit.clock import precise_zone, zone
from kitwright.kit.folder import MB, no_link_out, opened, own_file
from kitwright.kit.kit import NOTES_FILE, Kit, PastKit
from kitwright.kit.model import Club, KitSpec, PastSpec
from kitwright.kit.names import check_names, look_up_raw
from kitwright.kit.picture import ENDINGS, LARGEST
from kitwright.kit.valid import validated
from kitwright.kit.yamltext import Document, read_text, read_yaml, text_only

ID = re.compile(r"(?P<year>(?:19|20|21)[0-9]{2})-(?P<month>0[1-9]|1[0-2])-[a-z0-9]+(?:-[a-z0-9]+)*")
CLUB_FILE, KIT_FILE = "club.yaml", "kit.yaml"
NOT_KITS = {"people"}
"""Folders in `kits/` that are not kits."""
LARGEST_PDF = 60 * MB
"""Bytes of a past kit's printable."""


def shown(path: Path) -> Path:
    """A path as the user would type it: relative to where she stands when it lies below."""
    try:
        return path.resolve().relative_to(Path.cwd().resolve())
    except (ValueError, OSError, RuntimeError):
        # Elsewhere; or a link that leads back to itself.
        return path


# --- the club --------------------------------------------------------------------------------


def read_club(kits: Path, *, frozen: bool = False) -> Club:
    """Read `club.yaml`.

    Args:
        kits: the folder that it stands in.
        frozen: whether that is a revision's, where a time zone goes on meaning what it meant.

    Raises:
        UserError: missing or wrong, with file and line.
    """
    if kits.is_dir() and not os.path.lexists(kits / CLUB_FILE):
        raise UserError("kits.no-club-file", place=Place(shown(kits / CLUB_FILE)))
    document, slips = read_yaml(kits / CLUB_FILE, shown(kits / CLUB_FILE)), Slips()
    club = slips.trying(validated, Club, document)
    # Told beside what the model refuses, so from the text itself.
    slips.trying(_time_zone, document, zone if frozen else precise_zone)
    address = document.data.get("address")
    if isinstance(address, str):
        slips.trying(check_address, address, document.place(("address",)))
    for i, former in enumerate(club.former_addresses if club else ()):
        slips.trying(check_address, former, document.place(("former addresses", i)))
    if club:
        club._document = document
        slips.trying(_colours, club)
    slips.stop()
    return club


def _colours(club: Club) -> None:
    try:
        club.palette  # noqa: B018 - made to see whether it can be
    except UserError as error:
        raise error.at(club.place("colours", error.values["role"])) from None


def check_address(text: str, place: Place) -> None:
    """Refuse what is no web address.

    Raises:
        UserError: not of the form `https://cards.example/`.
    """
    if not re.fullmatch(r"https?://[^\s]+", text.strip()):
        raise UserError("kits.no-web-address", place=place, text=text)


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
    """Every folder that should be a kit, whatever it is called, in order of their names.

    Raises:
        UserError: no such folder, or no kits.
    """
    place = Place(shown(kits))
    if not kits.is_dir():
        raise UserError("kits.no-folder", place=place)
    folders = sorted(
        (f for f in kits.iterdir() if f.is_dir() and not f.name.startswith(".") and f.name not in NOT_KITS), key=lambda f: f.name
    )
    if not folders:
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
        raise UserError("kits.no-id", place=place, name=name)


def read_kit(folder: Path, club: Club) -> Kit | PastKit:
    """Read one kit folder.

    Raises:
        UserError: everything wrong with what it says, each with file and line.
    """
    file = folder / KIT_FILE
    document = read_yaml(file, shown(file))
    check_id(folder.name, Place(shown(folder)))
    if "past" in document.data:
        return _past(folder, document)
    unit, slips = "mm" if document.data.get("unit") == "mm" else "in", Slips()
    spec = slips.trying(validated, KitSpec, document, unit)
    if spec is None:
        slips.trying(look_up_raw, document, club.papers)
        slips.trying(_notes, folder)
        slips.stop()
    notes = slips.trying(_notes, folder)
    kit = Kit(folder.name, folder, spec, {**club.papers, **spec.papers}, club, document, notes or "")
    slips.trying(check_names, kit)
    for i, photo in enumerate(spec.photos):
        slips.trying(_photo, folder, photo.file, kit.place("photos", i, "file"))
    slips.stop()
    return kit


def _past(folder: Path, document: Document) -> PastKit:
    spec = validated(PastSpec, document)
    kit = PastKit(folder.name, folder, spec, document)
    if not spec.past:
        raise UserError("kits.past-but-not-yes", place=document.place(("past",)))
    slips = Slips()
    slips.trying(_pdf, folder, spec.printable, document.place(("printable",)))
    if spec.thumbnail:
        slips.trying(own_file, folder, spec.thumbnail, document.place(("thumbnail",)), LARGEST)
    slips.stop()
    return kit


def _pdf(folder: Path, name: str, place: Place) -> None:
    with opened(own_file(folder, name, place, LARGEST_PDF)) as stream:
        if stream.read(5) != b"%PDF-":
            raise UserError("kits.no-pdf", place=place, name=name)


def _photo(folder: Path, name: str, place: Place) -> None:
    own_file(folder, name, place, LARGEST)
    if Path(name).suffix.lower() not in ENDINGS:
        raise UserError("pictures.odd-ending", place=place, name=name, endings=tuple(ENDINGS))


def _notes(folder: Path) -> str:
    file = folder / NOTES_FILE
    if not file.exists() and not file.is_symlink():
        return ""
    text, slips = read_text(file, shown(file)), Slips()
    for number, line in enumerate(text.split("\n"), 1):
        slips.trying(text_only, line, Place(shown(file), number))
    slips.stop()
    return text
