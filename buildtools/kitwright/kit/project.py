"""Where things lie: the folder that holds `kits/`, and kits by id or path."""

from __future__ import annotations

from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.read import all_folders, read_club, read_kit, shown

KITS, SITE = "kits", "site"


def page_of(kit_id: str) -> str:
    """A kit's page, from the top of the site."""
    return f"kits/{kit_id}/index.html"


def find_root(start: Path) -> Path:
    """The nearest folder, from `start` upward, that holds `kits/`.

    Raises:
        UserError: there is none.
    """
    for folder in (start.resolve(), *start.resolve().parents):
        if (folder / KITS).exists():
            return folder
    raise UserError("kits.no-root", start=shown(start))


def kit_folder(root: Path, name: str) -> Path:
    """A kit's folder, by its id or by any path to it.

    Raises:
        UserError: no such kit.
    """
    typed = Path(name)
    try:
        for folder in (root / KITS / name, typed):
            # Nothing typed would name the folder of kits itself.
            if name.strip() and folder.is_dir():
                return folder.resolve()
        # A path to the spec itself is meant for its folder; a shell's completion ends there.
        if typed.name == "kit.yaml" and typed.is_file():
            return typed.resolve().parent
    except (OSError, ValueError):
        # Too long or not a name at all: then there is no such folder either.
        pass
    near = [f.name for f in all_folders(root / KITS) if name.strip() and name.strip("/").split("/")[-1] in f.name]
    raise UserError("kits.unknown", place=Place(shown(root / KITS)), name=name if name.strip() else "", near=near[0] if near else None)


def read_one(root: Path, name: str) -> Kit | PastKit:
    """Read one kit, by its id or by any path to it."""
    return read_kit(kit_folder(root, name), read_club(root / KITS))
