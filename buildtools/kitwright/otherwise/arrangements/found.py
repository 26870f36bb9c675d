"""What is known of a kit's arrangements: numbers, items, groups, sets and variations."""

from __future__ import annotations

from dataclasses import dataclass

from kitwright.card.face import Face
from kitwright.findings import Note
from kitwright.otherwise.arrangements.counting import Filling
from kitwright.otherwise.arrangements.slots import Places
from kitwright.otherwise.arrangements.turning import Motions
from kitwright.otherwise.arrangements.variations import Refused, Variation
from kitwright.work.worked import Worked


@dataclass(frozen=True, slots=True)
class Tally:
    """How many there are, each number found in two ways where the list is not too long."""

    counted: int
    """Arrangements, by counting."""
    listed: int | None
    """The same by listing every one; None when there are too many to list."""
    different: int
    """Different cards, turned (and mirrored) ones being one: by Burnside's lemma."""
    grouped: int | None
    """The same by grouping the list."""
    if_no_up: tuple[int, int]
    """Arrangements, and different cards, if no paper had an up."""


@dataclass(frozen=True)
class Arrangement:
    """One way to place the pieces."""

    name: str
    """In plain words, unique within the kit."""
    slug: str
    """Its link: stays as long as the kit's pieces do."""
    face: Face
    differences: tuple[Note, ...]
    """What differs from the sketch; empty for the sketch."""
    top: str
    """The paper that leads: of the piece on top."""
    card: str
    """The slug of the first arrangement that is the same card; its own when none comes before."""
    turned: str | None
    """The slug of what it becomes when turned round, if that is another."""
    apart: Note | None
    """Why it is not the same card as its turned twin, when a one-way paper forbids it."""
    own: bool
    """Whether it is one of the kit's own looks."""
    filling: Filling


@dataclass(frozen=True, slots=True)
class Group:
    """Arrangements, or variations, that belong together."""

    kind: str
    """`same`: one card turned round; `alone`; `order`: same order, turned later; `changes`: made otherwise from the same cuts; `cuts`: needs other cuts."""
    slugs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SetPart:
    """Cards of a set in one arrangement."""

    name: str
    slug: str
    cards: int


@dataclass(frozen=True, slots=True)
class Set:
    """Arrangements for the whole batch."""

    kind: str
    """`own`, `mix`, `alike`, `one order`, `varied` or `tops`."""
    parts: tuple[SetPart, ...]
    left: tuple[tuple[str, str, int], ...]
    """Pieces left over: label, paper, how many."""
    note: Note | None
    """How it is made with the fewest motions, where that takes fewer than there are cards."""
    same_as: str = ""
    """The kind of an earlier set that comes to the same."""

    @property
    def each(self) -> int:
        """How many cards of each, where that is the same for all; else 0."""
        counts = {part.cards for part in self.parts}
        return counts.pop() if len(counts) == 1 else 0


@dataclass(frozen=True)
class Arrangements:
    """All that is known of a kit's arrangements."""

    worked: Worked
    places: Places
    motions: Motions
    counts: Tally
    items: tuple[Arrangement, ...]
    """Those that are shown, in the order of the list; same cards side by side."""
    rule: Note | None
    """Which are shown, when not all are."""
    groups: tuple[Group, ...]
    sets: tuple[Set, ...]
    recommended: Set | None
    lead: str
    """Where the leading piece lies, whose paper is the “top paper”: `on top`, `at the left` …"""
    shortcut: Note | None
    """How the whole batch is put together with one motion repeated, where it can be."""
    rules: tuple[Note, ...]
    """How was counted."""
    variations: tuple[Variation, ...]
    refused: tuple[Refused, ...]
    called: dict[str, str]
    """Names and links that were asked for, such as a sample's, each with the link of the arrangement now."""

    def item(self, slug: str) -> Arrangement:
        """A shown arrangement by its link.

        Raises:
            KeyError: it is not among them.
        """
        found = next((i for i in self.items if i.slug == slug), None)
        if found is None:
            raise KeyError(slug)
        return found
