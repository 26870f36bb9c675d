"""Everything an archive holds, read, worked out and checked before anything is written."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from kitwright.check import check, errors
from kitwright.errors import UserError
from kitwright.findings import Finding
from kitwright.kit.model import Club
from kitwright.kit.read import Kit, PastKit, kit_folders, read_club, read_kit
from kitwright.project import KITS
from kitwright.words import number
from kitwright.worked import Worked, work


class Refused(UserError):
    """Kits with errors: nothing is built until they are mended."""

    def __init__(self, findings: list[Finding]) -> None:
        kits = len({f.place.file for f in findings})
        super().__init__(f"{number(len(findings), 'error', 'errors')} in {number(kits, 'kit', 'kits')}: the site was not built",
                         "mend what is listed above; the site from before is untouched")
        self.findings = findings
        """The errors, in the order of the kits."""

    def at(self, place) -> "Refused":
        return self


Entry = Worked | PastKit
"""A kit worked out, or a past one of which only the printable is left."""


def kit_of(entry: Entry) -> Kit | PastKit:
    """The kit as it was read."""
    return entry.kit if isinstance(entry, Worked) else entry


@dataclass(frozen=True)
class Archive:
    """A club and all its kits."""

    club: Club
    entries: tuple[Entry, ...]
    """Oldest first, by reveal; kits revealed at one time in the order of their names."""
    folder: Path
    """The folder of kits."""


def gather(root: Path) -> Archive:
    """Read, work out and check every kit below `root`.

    Raises:
        UserError: something can't be read.
        Refused: kits with errors.
    """
    folder = root / KITS
    club = read_club(folder)
    entries: list[Entry] = []
    stopping: list[Finding] = []
    for kit_folder in kit_folders(folder):
        kit = read_kit(kit_folder, club)
        if isinstance(kit, PastKit):
            entries.append(kit)
            continue
        worked = work(kit)
        stopping += errors(check(worked))
        entries.append(worked)
    if stopping:
        raise Refused(stopping)
    return Archive(club, tuple(sorted(entries, key=lambda e: (kit_of(e).reveal, kit_of(e).id))), folder)
