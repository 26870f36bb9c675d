"""What the printable says besides the kit’s own words."""

from __future__ import annotations

from typing import Literal

from kitwright.card.base import Base
from kitwright.otherwise.arrangements import Arrangements
from kitwright.telling.arranging import alike_text
from kitwright.telling.folds import scores_text
from kitwright.telling.words import number, spelled
from kitwright.units import Size, length_text

SCALE_BAR = "Scale bar, drawn true size: 2 inches along its upper edge, 50 millimetres along its lower edge."
CHECK_PRINT = "Lay a ruler on this bar: 2 in above, 50 mm below. If it does not match, print again at actual size, 100 %."
CHECK_TEMPLATES = "Lay a ruler on this bar: it must be 2 in above and 50 mm below before you cut anything by these drawings."
TOO_LARGE_TO_TRACE = "Larger than this page: measure it, don't trace it."
CODE_LEADS_TO = "Corrections and the kit’s page are here."
SLACK_MEANS = "how much smaller the sheet could be"
BOTH_CORNERS = "both corners"
"""In place of a ruler mark, where a rectangle is cut from corner to corner."""
PUNCH_TOO_SMALL = "but the one named in this kit is too small"


def title_text(kit: str) -> str:
    """The document’s title."""
    return f"{kit}: card sketch and cutting guide"


def workbook_text(kit: str) -> str:
    """What the second file is called."""
    return f"{kit}: workbook"


def code_alt(address: str) -> str:
    """The QR code, for those who can’t see it."""
    return f"QR code of the address {address}"


def score_text(base: Base, unit: str) -> str:
    """Where the card base is scored."""
    return f"score at {scores_text(base, unit)} edge" if base.scored.scores else ""


def room_text(room: Size, unit: str) -> str:
    """What an envelope leaves beside the card."""
    return f"leaves {length_text(room.width, unit)} across and {length_text(room.height, unit)} along"


def counts_text(cards: int) -> str:
    """Under the table of pieces."""
    return f"Counts are for the whole batch of {number(cards, 'card', 'cards')}. ≈ marks a figure that was rounded."


def guide_text(rests: bool) -> str:
    """Over the cutting guides; `rests`: something is left over."""
    return "Make the cuts in the order of their numbers, each right across the piece in hand." + (
        " What is hatched is left over." if rests else ""
    )


def desk_text(ruler_side: str, line: Literal["red", "coloured", "heavy"]) -> str:
    """Over the steps at the trimmer; `line`: what shows the blade there."""
    return f"The same cuts in the same order, guide after guide. The {line} line is the blade; the ruler lies {ruler_side} of it."


def placed_otherwise(design: str) -> str:
    """Over a row of cards from the same pieces."""
    return f"{design}: the same pieces, placed otherwise" if design else "The same pieces, placed otherwise"


def other_cards_text(found: Arrangements) -> str:
    """How many there are, and where the others are."""
    counts, ways = found.counts, len(found.variations)
    said = []
    if counts.different > 1:
        said.append(f"These pieces make {spelled(counts.different)} different cards.")
    if ways:
        said.append(f"A card can also be made in {spelled(ways)} other way{'s' if ways > 1 else ''}.")
    said.append("The kit’s page shows them all and says what changes." if ways else "The kit’s page shows them all.")
    return " ".join(said)


def arrangements_text(found: Arrangements, shown: int) -> str:
    """At the head of the contact sheet: how many there are, and how many of them are shown."""
    counts = found.counts
    told = f"{number(counts.counted, 'arrangement', 'arrangements')} of the same pieces."
    if counts.different != counts.counted:
        told += f" {number(counts.different, 'card', 'cards')} differ; those with one number are one card, {alike_text(found.motions)}."
    if shown < counts.counted:
        told += f" {shown} are shown here."
    return told
