"""Arrangements as they are typed: labels that are the same piece, taken for different ones.

Links stay as they are when labels turn out to be the same piece: each arrangement keeps
the link of the first of its twins, and the names and links of the other twins lead to it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from kitwright.otherwise.arrangements.counting import Counting, Filling
from kitwright.otherwise.arrangements.naming import Names
from kitwright.otherwise.arrangements.slots import Fill, Places, by_label, places_of
from kitwright.work.worked import Worked


class AsTyped:
    """A kit's arrangements by its labels.

    Args:
        worked: the kit.
        places: its places as they can be seen.
    """

    def __init__(self, worked: Worked, places: Places) -> None:
        self.worked, self.seen = worked, places

    @cached_property
    def places(self) -> Places:
        """The places, with what may lie there by label."""
        return places_of(self.worked, as_typed=True)

    @cached_property
    def countings(self) -> list[Counting]:
        """One for each hand."""
        choices = [slot.fills for slot in self.places.slots]
        return [Counting(choices, hand) for hand in self.places.hands]

    @cached_property
    def names(self) -> Names:
        """What they are called."""
        return Names(self.worked.kit, self.places, self.worked.face.field, self.countings)

    @property
    def total(self) -> int:
        """How many there are."""
        return sum(counting.total for counting in self.countings)

    @cached_property
    def differs(self) -> bool:
        """Whether labels that are typed differently are the same piece."""
        if self.seen.stands == by_label(self.worked) and not any(fill.others for slot in self.seen.slots for fill in slot.fills):
            return False
        return any(typed.fills != seen.fills for typed, seen in zip(self.places.slots, self.seen.slots))

    def link(self, filling: Filling) -> str:
        """The link of an arrangement: that of its first twin."""
        return self.names.link(self._first(filling))

    def _first(self, filling: Filling) -> Filling:
        """An arrangement by labels that looks so: the kit's own, or the first in the list."""
        own = next((typed for typed, look in zip(self.places.looks, self.seen.looks) if look == filling), None)
        if own:
            return own
        choices = [[f for f in slot.fills if _alike(f, fill)] for slot, fill in zip(self.places.slots, filling)]
        for hand in self.places.hands:
            counting = Counting(choices, hand)
            if counting.total:
                return counting.at(0)
        return tuple(fills[0] for fills in choices)

    def called(self, most: int, shown: int) -> Iterator[tuple[str, Filling]]:
        """Names and links by label, each with the arrangement that it leads to.

        Args:
            most: more than this are not gone through one by one,
            shown: but in about so many steps.
        """
        step = 1 if self.total <= most else -(-self.total // shown)
        start = 0
        for counting in self.countings:
            for rank in range(-start % step, counting.total, step):
                filling = counting.at(rank)
                seen = tuple(next(f for f in slot.fills if _alike(f, fill)) for slot, fill in zip(self.seen.slots, filling))
                yield self.names.link(filling), seen
                yield self.names.name(filling).casefold(), seen
            start += counting.total


def _alike(one: Fill, other: Fill) -> bool:
    """Whether two fills of one place look the same."""
    return (one.paper, one.face) == (other.paper, other.face)
