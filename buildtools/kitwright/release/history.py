"""The revisions of a kit against its newest: what a reader of each has to know, by value.

A copy of a revision is affected exactly where what it says at a path that matters differs
from the newest. What was changed in between and changed back does not concern it.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from kitwright.kit.kit import Kit
from kitwright.release.both import Copy, Difference
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
        right = _matters(self.between(mended - 1, mended))

        def wrong(number: int) -> bool:
            then, now = _found(self.between(number, mended).told), _found(self.between(number, self.newest).told)
            return any(at in now and values & then.get(at, set()) for at, values in right.items())

        return tuple(number for number in range(1, mended) if wrong(number))

    def _advice(self, number: int) -> tuple[str, ...]:
        """Advice of the corrections after a revision: where its copies have what they mended, and that is still as they left it."""
        found, now = [], _found(self.between(number, self.newest).told)
        for revision in self.revisions[number:]:
            said = revision.record.erratum
            if said is None or not said.advice:
                continue
            step = self.between(revision.number - 1, revision.number)
            shared = {at: values for at, values in _matters(step).items() if at in now}
            # What is said of words alone holds, though the words were changed again.
            if shared and (step.grade == "cosmetic" or all(values & now[at] for at, values in shared.items())):
                found.append(said.advice)
        return tuple(dict.fromkeys(found))


def _matters(found: Differences) -> dict[Hashable, set[Hashable]]:
    """What a correction tells: what asks something of a reader, or all where nothing does."""
    return _found([each for each in found.told if each.grade != "cosmetic"] or found.told)


def _found(told: Iterable[Difference]) -> dict[Hashable, set[Hashable]]:
    """What is said now, by what it is said about: the same from whichever revision it is looked at."""
    about: dict[Hashable, set[Hashable]] = {}
    for each in told:
        about.setdefault(each.about, set()).add(each.now)
    return about
