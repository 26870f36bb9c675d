"""Where things lie: the folder that holds `kits/`, and kits by id or path."""

from __future__ import annotations

import difflib
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.kit.read import ID, KIT_FILE, all_folders, read_with_club, shown
from kitwright.labels import key_of, slug

KITS, SITE = "kits", "site"
ARCHIVE_PAGE = "archive.html"
"""The public page of all kits."""
MARKER = ".kitwright"
"""A file that marks a folder as a site made by kitwright, which may be replaced; its words say for whom."""


def page_of(kit_id: str) -> str:
    """A kit's page, from the top of the site."""
    return f"kits/{kit_id}/index.html"


PRINTED = {"letter": "Letter", "a4": "A4"}
"""The editions of a printable as readers know them, by what stands in names of files."""


def printable_file(kit_id: str, edition: str, ink: str = "full") -> str:
    """The file of a printable, beside the kit's page."""
    return f"{kit_id}-{edition}{'' if ink == 'full' else f'-{ink}'}.pdf"


def team_address(club: Club, path: str = "") -> str:
    """A page of the team's site, its address in full; from the top of that site where nobody said where it stands.

    Args:
        club: whose site.
        path: the page, from the top of the site.
    """
    return f"{club.team_site.rstrip('/')}/{path}" if club.team_site else path


def public_address(club: Club, path: str = "") -> str | None:
    """A page of the public site, its address in full; None where the club has none.

    Args:
        club: whose site.
        path: the page, from the top of the site.
    """
    return f"{club.address.rstrip('/')}/{path}" if club.address else None


def find_root(start: Path) -> Path:
    """The nearest folder, from `start` upward, that holds `kits/`; a built site holds pages of that name, and is passed by.

    Raises:
        UserError: there is none.
    """
    for folder in (start.resolve(), *start.resolve().parents):
        if (folder / KITS).exists() and not (folder / MARKER).exists():
            return folder
    raise UserError("kits.no-root", start=shown(start))


def kit_folder(root: Path, name: str) -> Path:
    """A kit's folder, by its id, by its short name where only one kit has it, or by any path to it or into it.

    A path may be typed as it is from where one stands, or from the folder that holds `kits/`.

    Raises:
        UserError: no such kit.
    """
    home = root / KITS
    if name.strip():
        try:
            for typed in (home / name, root / name, Path(name)):
                found = _kit_at(typed, home)
                # The folder of kits itself is none, nor what lies around it.
                if found is not None and (typed == Path(name) or found.parent == home.resolve()):
                    return found
        except (OSError, ValueError, RuntimeError):
            # Too long or not a name at all: then there is no such folder either.
            pass
    folders = all_folders(home)
    short = [f for f in folders if ID.fullmatch(f.name) and f.name.split("-", 2)[2] == name.strip()]
    if len(short) == 1:
        return short[0].resolve()
    raise UserError(
        "kits.unknown", place=Place(shown(home)), name=name if name.strip() else "", near=_near([f.name for f in folders], name)
    )


def _near(ids: list[str], name: str) -> str | None:
    """The kit that may be meant: one whose id has what was typed in it, as words of a title too, or has it but for a letter."""
    typed = name.strip("/ ").split("/")[-1]
    if not typed:
        return None
    has = [each for each in ids if typed in each or key_of(typed, "kit", 60) in each]
    words = {word: each for each in ids for word in each.split("-")[2:]}
    names = words | {each.split("-", 2)[-1]: each for each in ids} | {each: each for each in ids}
    meant = [names[each] for each in difflib.get_close_matches(slug(typed), names, 1, 0.75)]
    return next(iter(has + meant), None)


def _kit_at(typed: Path, home: Path) -> Path | None:
    """The kit that a path leads to or into; None where nothing is, or only what holds kits."""
    if not typed.exists():
        return None
    there, kits = typed.resolve(), home.resolve()
    # A path to the spec itself is meant for its folder; a shell's completion ends there.
    if there.name == KIT_FILE:
        return there.parent
    # Also one that is none of the archive's, such as a revision as it was frozen.
    if (there / KIT_FILE).is_file():
        return there
    if there.is_relative_to(kits):
        parts = there.relative_to(kits).parts
        return kits / parts[0] if parts and (kits / parts[0]).is_dir() else None
    return there if there.is_dir() else None


def read_one(root: Path, name: str) -> Kit | PastKit:
    """Read one kit, by its id or by any path to it."""
    return read_with_club(kit_folder(root, name), root / KITS)
