"""An import carried out: each kit whole or not at all, what is there already untouched."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.files import held, put_folder, sync_folder, sync_tree, trouble, workshop, write_file
from kitwright.kit.folder import read_own
from kitwright.kit.read import KIT_FILE, LARGEST_PDF, shown
from kitwright.past.kept import FOLDER, checksum, files_for
from kitwright.past.plan import NewKit, Plan, Renewed, there


@dataclass
class Done:
    """What came of an import."""

    kits: list[str] = field(default_factory=list)
    renewed: list[str] = field(default_factory=list)
    faults: list[UserError] = field(default_factory=list)


def printable_name(kit: NewKit) -> str:
    """What the PDF is called in the kit's folder."""
    return kit.file.name if kit.in_place else f"{kit.id[len('2019-07-') :]}.pdf"


def write(plan: Plan, kits: Path, text_of: Callable[[NewKit], str], told: Callable[[int, int], None] | None = None) -> Done:
    """Write the kits of a plan.

    Args:
        plan: what to write.
        kits: the folder of kits.
        text_of: a kit's `kit.yaml`.
        told: called with how many kits were written, of how many.

    Raises:
        UserError: the disk is full or can't be written; the kits before are whole, and the next import goes on from there.
    """
    done = Done()
    with held(kits):
        try:
            # Another import may have written some of them since they were looked at.
            theirs = there(kits, {kit.file for kit in plan.kits})
            with workshop(kits) as shop:
                for number, kit in enumerate(plan.kits, 1):
                    try:
                        if not theirs(kit.file, kit.pdf):
                            _write(kit, kits, shop, text_of(kit))
                            done.kits.append(kit.id)
                    except UserError as error:
                        done.faults.append(error)
                    if told:
                        told(number, len(plan.kits))
                for each in plan.renewed:
                    _keep(each, shop)
                    done.renewed.append(each.kit.id)
        except OSError as error:
            raise trouble(error, "disk.imported", kits, kits=len(done.kits)) from None
    return done


def _write(kit: NewKit, kits: Path, shop: Path, text: str) -> None:
    try:
        data = read_own(kit.file, LARGEST_PDF)
    except (OSError, OverflowError):
        data = b""
    if checksum(data) != kit.pdf:
        raise UserError("past.changed", place=Place(shown(kit.file)), name=kit.name)
    new, home = shop / kit.id, kits / kit.id
    _fill(new, files_for(kit.found, kit.pdf))
    if kit.in_place:
        put_folder(new / FOLDER, home / FOLDER, small=True)
        # Last, since this is what makes it a kit.
        write_file(home / KIT_FILE, text.encode())
        return
    _fill(new, {KIT_FILE: text.encode(), printable_name(kit): data})
    if os.path.lexists(home):
        raise UserError("kits.taken", place=Place(shown(kit.file)), folder=shown(home))
    sync_tree(new)
    os.rename(new, home)
    sync_folder(kits)
    if kit.inside:
        # Its bytes lie in the kit's folder now.
        with contextlib.suppress(OSError):
            kit.file.unlink()
            for folder in kit.file.parents:
                if folder == kits.resolve():
                    break
                folder.rmdir()


def _fill(folder: Path, files: dict[str, bytes]) -> None:
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)


def _keep(each: Renewed, shop: Path) -> None:
    new = shop / each.kit.id
    _fill(new, files_for(each.found, each.pdf))
    put_folder(new / FOLDER, each.kit.folder / FOLDER, small=True)
