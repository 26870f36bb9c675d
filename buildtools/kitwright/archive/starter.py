"""The starter kit that `kitwright new` writes."""

from __future__ import annotations

import json
import os
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.files import sync_folder, sync_tree, trouble, workshop
from kitwright.kit.kit import NOTES_FILE
from kitwright.kit.read import KIT_FILE, check_id, shown
from kitwright.telling.starter import KIT, NOTES


def write_starter(kits: Path, name: str, title: str | None = None) -> Path:
    """Write a starter kit and return its folder.

    Raises:
        UserError: the name is no kit id, or the folder is there already.
    """
    check_id(name, Place())
    folder = kits / name
    if os.path.lexists(folder):
        raise UserError("kits.taken", folder=shown(folder))
    words = " ".join((title or name.split("-", 2)[2].replace("-", " ").capitalize()).split())
    if not words or len(words) > 120 or not words.isprintable():
        raise UserError("kits.no-title", text=words)
    # JSON's quoting is YAML's too, so any title comes back as it was typed.
    quoted = (
        words
        if words.replace(" ", "").isalpha() and words.casefold() not in ("null", "true", "false", "yes", "no")
        else json.dumps(words, ensure_ascii=False)
    )
    text = KIT.format(id=name, title=quoted)
    try:
        kits.mkdir(parents=True, exist_ok=True)
        with workshop(kits) as shop:
            new = shop / name
            new.mkdir()
            (new / KIT_FILE).write_text(text, encoding="utf-8")
            (new / NOTES_FILE).write_text(NOTES, encoding="utf-8")
            sync_tree(new)
            # Not over what another put there meanwhile.
            os.rename(new, folder)
            sync_folder(kits)
    except OSError as error:
        raise trouble(error, "disk.starter", folder) from None
    return folder
