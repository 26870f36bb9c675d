"""What was found of a kit the last time that it was looked over, for as long as nothing of it has changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from kitwright import cache
from kitwright.archive.inputs import file_digest, folder_digest
from kitwright.archive.vocabulary import Tagged
from kitwright.findings import Finding
from kitwright.kit.model import Club
from kitwright.kit.read import shown
from kitwright.release.ledger import LEDGER
from kitwright.release.people import PEOPLE, Person


@dataclass(frozen=True)
class Looked:
    """A kit that could be read, and in which there are no errors."""

    past: bool
    """Whether only its old printable is left."""
    found: tuple[Finding, ...]
    tags: tuple[Tagged, ...] = ()
    """Its tags, to be held against those of other kits."""


class Looks:
    """What is remembered of the kits below a folder.

    A kit goes by all that lies in its folder, by the club, the ledger and everybody on file,
    and by how its files are told from where one stands. With errors it is looked at anew each
    time: some of them depend on the clock.
    """

    def __init__(self, kits: Path, club: Club, people: Mapping[str, Person]) -> None:
        self._kits = kits
        self._common = cache.digest(
            club, dict(people), folder_digest(kits / PEOPLE), file_digest(kits / LEDGER), shown(kits), Path.cwd(), kits
        )
        self._keys: dict[Path, str] = {}

    def known(self, folder: Path) -> Looked | None:
        """What was found of a kit; None where it has changed since, or had errors."""
        found = cache.known("findings", self._key(folder))
        return found if isinstance(found, Looked) else None

    def note(self, folder: Path, looked: Looked) -> None:
        """Remember what was found, if there is no error in it."""
        if all(one.level != "error" for one in looked.found):
            cache.note("findings", self._key(folder), looked)

    def _key(self, folder: Path) -> str:
        if folder not in self._keys:
            self._keys[folder] = cache.digest(folder, folder_digest(folder), self._common)
        return self._keys[folder]
