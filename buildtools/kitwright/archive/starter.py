"""The starter kit that `kitwright new` writes, and `kitwright begin` with an archive."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from kitwright.check.unsaid import says
from kitwright.errors import Place, UserError
from kitwright.files import sync_folder, sync_tree, trouble, workshop
from kitwright.findings import Finding
from kitwright.kit.kit import NOTES_FILE
from kitwright.kit.read import CLUB_FILE, KIT_FILE, check_id, shown
from kitwright.kit.yamltext import read_yaml
from kitwright.telling.starter import NOTES, kit_text

T = TypeVar("T")


def write_starter(kits: Path, name: str, title: str | None = None) -> Path:
    """Write a starter kit in the unit and for the sheets of the club's region, and return its folder.

    Raises:
        UserError: as `put_new`, and where the club file is no YAML.
    """
    return put_new(kits, name, title, lambda new, words: fill_starter(new, words, _region(kits)))[0]


def found_there(found: list[Finding], folder: Path) -> list[Finding]:
    """What was found while a kit was made, at its place in the folder that it stands in now."""
    there = ((one, shown(folder / one.place.file.name) if one.place.file else None) for one in found)
    return [Finding(one.level, replace(one.place, file=file), one.code, **one.values) for one, file in there]


def put_new(kits: Path, name: str, title: str | None, fill: Callable[[Path, str], T]) -> tuple[Path, T]:
    """Put a new kit's folder in its place, whole or not at all.

    Args:
        kits: the folder of kits.
        name: the kit's id.
        title: what it is called; by its id where it is left out.
        fill: makes its folder, which is not there yet, with its files; handed the folder and the title.

    Returns:
        The folder, and what `fill` returned.

    Raises:
        UserError: the name is no kit id, the folder is there already, or the title can't be one.
    """
    check_id(name, Place())
    folder = kits / name
    if os.path.lexists(folder):
        raise UserError("kits.taken", folder=shown(folder))
    words = " ".join((title or name.split("-", 2)[2].replace("-", " ").capitalize()).split())
    if not says(words) or len(words) > 120 or not words.isprintable():
        raise UserError("kits.no-title", text=words)
    try:
        kits.mkdir(parents=True, exist_ok=True)
        with workshop(kits) as shop:
            new = shop / name
            told = fill(new, words)
            sync_tree(new)
            # Not over what another put there meanwhile.
            os.rename(new, folder)
            sync_folder(kits)
    except OSError as error:
        raise trouble(error, "disk.starter", folder) from None
    return folder, told


def fill_starter(folder: Path, title: str, region: str) -> None:
    """Write the files of a starter kit into a new folder, which is called by its id.

    Args:
        folder: the kit's, not there yet.
        title: printable, on one line.
        region: `us` or `metric`.

    Raises:
        OSError: it can't be written.
    """
    folder.mkdir()
    (folder / KIT_FILE).write_text(kit_text(folder.name, as_yaml(title), region), encoding="utf-8", newline="\n")
    (folder / NOTES_FILE).write_text(NOTES, encoding="utf-8", newline="\n")


def as_yaml(words: str) -> str:
    """Words on one line as YAML reads them back, bare where that can't be mistaken.

    JSON's quoting is YAML's too, so whatever was typed comes back as it was.
    """
    bare = words.replace(" ", "").isalpha() and words.casefold() not in ("null", "true", "false", "yes", "no", "on", "off", "y", "n")
    return words if bare else json.dumps(words, ensure_ascii=False)


def _region(kits: Path) -> str:
    """The club's region, looked up alone: what else its file lacks is told by `check`, and stops no starter."""
    file = kits / CLUB_FILE
    return "metric" if file.is_file() and read_yaml(file, shown(file)).data.get("region") == "metric" else "us"
