"""Changes to several files that happen whole or not at all.

The new files are first written into a folder of their own, together with a list of what is
to happen. Renaming that folder is the one moment of decision: cut short before it, nothing
has happened; cut short after it, `finish` does the rest, as often as need be.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterable, Mapping
from pathlib import Path

PLAN = "plan.json"
NEW, READY = ".change-new", ".change-ready"


def write_file(file: Path, data: bytes) -> None:
    """Write one file so that it holds either the old bytes or all the new ones."""
    aside = file.with_name(f".{file.name}.new")
    try:
        with aside.open("wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        os.replace(aside, file)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise


def change(folder: Path, written: Mapping[Path, bytes], removed: Iterable[Path] = ()) -> None:
    """Write and remove files and folders below `folder`, all of them or none.

    Args:
        folder: everything changed lies below it.
        written: file → its new bytes.
        removed: files and whole folders.
    """
    finish(folder)
    new = folder / NEW
    shutil.rmtree(new, ignore_errors=True)
    new.mkdir()
    plan: dict[str, list] = {"written": [], "removed": sorted(p.relative_to(folder).as_posix() for p in removed)}
    for i, (file, data) in enumerate(sorted(written.items())):
        (new / str(i)).write_bytes(data)
        plan["written"].append([str(i), file.relative_to(folder).as_posix()])
    (new / PLAN).write_text(json.dumps(plan), encoding="utf-8")
    os.rename(new, folder / READY)
    finish(folder)


def finish(folder: Path) -> bool:
    """Do what is left of a change that was cut short; whether there was one."""
    ready = folder / READY
    shutil.rmtree(folder / NEW, ignore_errors=True)
    if not ready.is_dir():
        return False
    if not (ready / PLAN).is_file():
        # Everything was done, and only clearing up was cut short: the plan goes first.
        shutil.rmtree(ready)
        return True
    plan = json.loads((ready / PLAN).read_text(encoding="utf-8"))
    for name in plan["removed"]:
        gone = folder / name
        if gone.is_dir() and not gone.is_symlink():
            shutil.rmtree(gone)
        else:
            gone.unlink(missing_ok=True)
    for kept, name in plan["written"]:
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        # Copied, not moved, so that it can be done again.
        write_file(file, (ready / kept).read_bytes())
    (ready / PLAN).unlink()
    shutil.rmtree(ready)
    return True
