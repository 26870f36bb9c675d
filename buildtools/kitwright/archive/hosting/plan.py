"""What goes to the host, what is removed there, and in which order, so that no page leads to what is not there yet."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath

from kitwright.archive.built import Built, Written, record_text

_LAST = ("index.html", "kits.json", "feed.xml", "sitemap.xml", "sitemap.xml.gz", "search/map.js")
"""What leads to everything else."""


@dataclass(frozen=True)
class There:
    """What the host has."""

    known: Mapping[str, Written]
    """What was put there from here, by the record that lies there; on its way where the digest is empty."""
    same: Collection[str]
    """Files of the site that lie there as they are."""
    other: Collection[str]
    """Files of the site that lie there otherwise."""


@dataclass(frozen=True)
class Plan:
    """What is to be done at the host. Names in the order in which they go, or are removed."""

    files: Mapping[str, Written]
    """The whole site."""
    known: Mapping[str, Written]
    """What was put there before."""
    new: tuple[str, ...]
    changed: tuple[str, ...]
    gone: tuple[str, ...]
    taken: tuple[str, ...]
    """Files that would be written over and were not put there from here."""

    @property
    def sent(self) -> tuple[str, ...]:
        """What goes."""
        return tuple(sorted((*self.new, *self.changed), key=turn))

    @property
    def size(self) -> int:
        """Bytes that go."""
        return sum(self.files[name].size for name in self.sent)

    def on_its_way(self) -> bytes:
        """The record that lies there while files go: all that was put there before, and all that may be there half."""
        files = {**self.known, **self.files, **{name: Written(self.files[name].size, "") for name in self.sent}}
        return record_text({}, files)


def plan(one: Built, there: There) -> Plan:
    """Compare a site with what its host has."""
    files = one.files or {}
    new = [name for name in files if name not in there.same and name not in there.other]
    gone = [name for name in there.known if name not in files]
    taken = [name for name in there.other if name not in there.known]
    return Plan(
        files,
        there.known,
        tuple(sorted(new, key=turn)),
        tuple(sorted(there.other, key=turn)),
        # Pages go first, then what they lead to.
        tuple(sorted(gone, key=turn, reverse=True)),
        tuple(sorted(taken)),
    )


def turn(name: str) -> tuple[int, str]:
    """When a file goes: what pages show, then pages, then what leads to them."""
    return (2 if name in _LAST else 1 if name.endswith(".html") else 0), name


def is_page(name: str) -> bool:
    """Whether a file leads to others, so that it goes after them."""
    return turn(name)[0] > 0


def folders_of(names: Collection[str]) -> list[str]:
    """The folders that files lie in, those above first."""
    return sorted({str(above) for name in names for above in PurePosixPath(name).parents if str(above) != "."})
