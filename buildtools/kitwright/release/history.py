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
from kitwright.release.paths import Grade, worst
from kitwright.release.record import Revision, published_numbers, released
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


def corrected(kit: Kit, revision: Revision, worked: Worked, before: Revision | None = None) -> tuple[Difference, ...]:
    """What a revision mends of the one before, as its printable says it; empty for one that corrects nothing.

    Args:
        kit: as it is now.
        revision: with its erratum.
        worked: as it is published in it.
        before: the one before, where it is not as it stands in the kit's folder.

    Raises:
        UserError: the revision before can't be read.
    """
    if revision.record.erratum is None:
        return ()
    now = Copy(worked, values_of(worked, published_numbers(revision)))
    return changes(copy_of(kit, before or released(kit)[revision.number - 2]), now).told


@dataclass(frozen=True)
class Copies:
    """The copies of one revision. Those that say PREVIEW, or no revision at all, go with the first."""

    number: int
    """The revision."""
    changes: Differences
    """All that the newest says otherwise."""
    advice: tuple[str, ...]
    """What authors said of pieces cut by such a copy, as far as it still holds."""
    readdressed: bool = False
    """Whether the site has moved since, so that codes lead elsewhere from a later revision on."""
    redrawn: bool = False
    """Whether printables have had a new form since, from a later revision on."""

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
        moved, redrawn = (
            max((r.number for r in self.revisions if getattr(r.record, same)), default=0) for same in ("readdressed", "redrawn")
        )
        return tuple(Copies(n, self.between(n, self.newest), self._advice(n), n < moved, n < redrawn) for n in range(1, self.newest))

    def still_wrong(self, mended: int) -> dict[int, Grade]:
        """Earlier revisions whose copies have what a revision mended, and which the newest has otherwise too; and what that asks now."""
        right = _matters(self.between(mended - 1, mended))

        def wrong(number: int) -> list[Grade]:
            then, now = _found(self.between(number, mended).told), self.between(number, self.newest).told
            about = {at for at, values in right.items() if values & then.get(at, set())}
            return [each.grade for each in now if each.about in about]

        return {number: worst(grades) for number in range(1, mended) if (grades := wrong(number))}

    def advised(self, advice: str, numbers: Iterable[int]) -> str:
        """Advice, as long as it holds for copies of any of these revisions."""
        return advice if any(advice in self.groups[number - 1].advice for number in numbers) else ""

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
            if self._overtaken(number, revision.number):
                continue
            if shared and (step.grade == "cosmetic" or all(values & now[at] for at, values in shared.items())):
                found.append(said.advice)
        return tuple(dict.fromkeys(found))

    def _overtaken(self, number: int, mended: int) -> bool:
        """Whether something that asked most of a reader was changed again, or back to what her copy says: to follow the advice would spoil it."""
        step, (copy, then, now) = self.between(mended - 1, mended), (self.copy(n).values for n in (number, mended, self.newest))
        paths = {path for each in step.told if each.grade == step.grade for path in each.paths}
        back = any(path in copy and copy[path] == now.get(path) != then.get(path) for path in paths)
        # A further sheet moves the others on in their order. What is said of words alone holds, though they were changed again.
        again = {each.path for each in step.told if each.grade == step.grade != "cosmetic" and not each.path.startswith("layouts[")}
        return back or any(path in then and path in now and now[path] != then[path] for path in again)


def _matters(found: Differences) -> dict[Hashable, set[Hashable]]:
    """What a correction tells: what asks something of a reader, or all where nothing does."""
    return _found([each for each in found.told if each.grade != "cosmetic"] or found.told)


def _found(told: Iterable[Difference]) -> dict[Hashable, set[Hashable]]:
    """What is said now, by what it is said about: the same from whichever revision it is looked at."""
    about: dict[Hashable, set[Hashable]] = {}
    for each in told:
        about.setdefault(each.about, set()).add(each.now)
    return about
