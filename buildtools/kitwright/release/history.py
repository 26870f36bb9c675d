"""The revisions of a kit against its newest: what a reader of each has to know, by value.

A copy of a revision is affected exactly where what it says at a path that matters differs
from the newest. What was changed in between and changed back does not concern it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from kitwright.kit.kit import Kit
from kitwright.release.both import Copy
from kitwright.release.changes import Differences, changes
from kitwright.release.paths import Grade
from kitwright.release.record import Revision, published_numbers
from kitwright.release.revisions import as_published
from kitwright.release.values import values_of
from kitwright.work.worked import Worked


def copy_of(kit: Kit, revision: Revision) -> Copy:
    """What copies of a revision say: the numbers that it was published with, whatever is worked out now."""
    worked = as_published(kit, revision)
    return Copy(worked, values_of(worked, published_numbers(revision)))


def copy_now(worked: Worked) -> Copy:
    """What a copy of a state that is not published would say."""
    return Copy(worked, values_of(worked))


@dataclass(frozen=True)
class Copies:
    """The copies of one revision. Those that say PREVIEW, or no revision at all, go with the first."""

    number: int
    """The revision."""
    changes: Differences
    """All that the newest says otherwise."""
    advice: tuple[str, ...]
    """What authors said of pieces cut by such a copy, as far as it still holds."""

    @property
    def grade(self) -> Grade:
        return self.changes.grade

    @property
    def affected(self) -> bool:
        """Whether anything is to be done with such a copy."""
        return self.grade != "cosmetic" or bool(self.advice)


class History:
    """Some revisions of a kit, oldest first, each worked out when it is first asked for and compared once."""

    def __init__(self, kit: Kit, revisions: Sequence[Revision], draft: Copy | None = None) -> None:
        """Take them.

        Args:
            kit: as it is now.
            revisions: from the first on.
            draft: the state that would be the next one, if there is one.
        """
        self.kit, self.revisions = kit, tuple(revisions)
        self._copies: dict[int, Copy] = {} if draft is None else {len(self.revisions) + 1: draft}
        self._found: dict[tuple[int, int], Differences] = {}
        self.newest = len(self.revisions) + len(self._copies)
        """The number of the last."""

    def copy(self, number: int) -> Copy:
        """What copies of a revision say."""
        if number not in self._copies:
            self._copies[number] = copy_of(self.kit, self.revisions[number - 1])
        return self._copies[number]

    def between(self, old: int, new: int) -> Differences:
        """All changes from one revision to another."""
        if (old, new) not in self._found:
            self._found[old, new] = changes(self.copy(old), self.copy(new))
        return self._found[old, new]

    @cached_property
    def groups(self) -> tuple[Copies, ...]:
        """The copies of every revision before the newest, oldest first."""
        return tuple(Copies(n, self.between(n, self.newest), self._advice(n)) for n in range(1, self.newest))

    def still_wrong(self, mended: int) -> tuple[int, ...]:
        """Earlier revisions whose copies have what a revision mended, and which the newest has otherwise too."""
        paths, right, last = _matter(self.between(mended - 1, mended)), self.copy(mended).values, self.copy(self.newest).values
        return tuple(n for n in range(1, mended) if any(self.copy(n).values.get(p) not in (right.get(p), last.get(p)) for p in paths))

    def _advice(self, number: int) -> tuple[str, ...]:
        """Advice of the corrections after a revision, where what they mended is still as they left it."""
        found = []
        for revision in self.revisions[number:]:
            said = revision.record.erratum
            if said is None or not said.advice or self.newest < revision.number:
                continue
            paths, right, last = (
                _matter(self.between(revision.number - 1, revision.number)),
                self.copy(revision.number).values,
                self.copy(self.newest).values,
            )
            mine = self.between(number, self.newest).paths
            if any(p in mine for p in paths) and all(right.get(p) == last.get(p) for p in paths):
                found.append(said.advice)
        return tuple(dict.fromkeys(found))


def _matter(found: Differences) -> frozenset[str]:
    """The paths that a correction tells: those that matter, or all where none does."""
    told = [change for change in found.told if change.grade != "cosmetic"] or [*found.told]
    return frozenset(path for change in told for path in change.paths)
