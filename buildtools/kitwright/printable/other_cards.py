"""A row of cards from the same pieces, placed otherwise."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.platypus.flowables import Flowable

from kitwright.card.face import Face
from kitwright.labels import named
from kitwright.otherwise.arrangements import Arrangements, arrangements_of
from kitwright.printable.blocks import Heading, Prose, Side
from kitwright.printable.job import Job
from kitwright.printable.small_card import CAPTION, SmallCard
from kitwright.printable.typeset import BODY
from kitwright.telling.printed import other_cards_text, placed_otherwise

MOST, GAP, WIDEST = 6, 14, 96
"""Cards in the row, clear space between them, and how wide one may be; points."""
FEWEST, PATCHES = 3, 40
"""Cards that make a row, unless there are fewer, and pieces of paper drawn on all of them: cards of many pieces can't be told apart so small."""


@dataclass(frozen=True)
class OtherCard:
    """A card of the row."""

    face: Face
    name: str


def other_cards(job: Job) -> list[Flowable]:
    """The row of one design; none for pieces that go one way only."""
    found = job.once(("arrangements", job.worked.kit.design), lambda: arrangements_of(job.worked))
    others = others_of(found)
    if not others:
        return []
    columns = max(len(others), 4)
    each = (job.edition.width - GAP * (columns - 1)) / columns
    wide = min(each, WIDEST)
    stacks = [[SmallCard(job, other.face, other.name, wide), Prose(other.name, CAPTION)] for other in others]
    return [
        Heading(placed_otherwise(job.worked.kit.design), 3, bookmark=named("arrangements", job.worked.kit.design)),
        Prose(other_cards_text(found), BODY),
        Side(stacks, [each] * len(others), GAP, job.edition.height, before=8),
    ]


def others_of(found: Arrangements) -> list[OtherCard]:
    """A few: cards of the suggested set before others, one way round of each, then cards made otherwise."""
    own = {item.card for item in found.items if item.own}
    cards = [item for item in found.items if item.slug == item.card and item.card not in own]
    wanted = {part.slug for part in found.recommended.parts} if found.recommended else set()
    cards.sort(key=lambda item: item.slug not in wanted)
    shown = [OtherCard(item.face, item.name) for item in cards] + [OtherCard(v.face, v.name) for v in found.variations]
    room = PATCHES // len(found.worked.face.stack)
    return shown[: min(MOST, room)] if room >= FEWEST else []
