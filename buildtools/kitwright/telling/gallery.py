"""The gallery of a kit's arrangements in words."""

from __future__ import annotations

from collections.abc import Sequence, Set

from kitwright.card.face import BACK_UP
from kitwright.kit.kit import Kit
from kitwright.otherwise.arrangements import Arrangements
from kitwright.otherwise.arrangements import Set as Batch
from kitwright.otherwise.arrangements.slots import Fill
from kitwright.telling.arranging import alike_text, counted_text
from kitwright.telling.folds import hinge_text
from kitwright.telling.motions import one_after_another
from kitwright.telling.words import label_text, listed, number, spelled

MADE = {
    "order": "Another order",
    "turned": "Turned later",
    "fold": "Another fold",
    "mat": "Mat moved",
    "strip": "Sentiment moved",
    "raised": "On foam or flat",
    "stamped": "Sentiment stamped",
}
"""In what way a card is made otherwise."""
AS_MADE = "As the kit makes it"
LEADS = {
    "changes": "The same cuts, put on a card that is made a little differently.",
    "cuts": "These need a cut that the printable does not show. What changes stands with each.",
}
"""What stands below the title of a group."""


def counts_text(found: Arrangements) -> str:
    """How many there are, and how many of them differ."""
    counts, variations = found.counts, len(found.variations)
    ways = f"{spelled(variations)} other {'way' if variations == 1 else 'ways'}"
    if counts.counted == 1:
        only = "The pieces fit in one order only"
        return f"{only}, but the card can be made in {ways}." if variations else f"{only}, the one in the sketch."
    told = f"{counts.counted} arrangements of the same pieces"
    told += (
        f" make {number(counts.different, 'different card', 'different cards')}: the others are one of these, {alike_text(found.motions)}."
        if counts.different < counts.counted
        else ", each a card of its own."
    )
    return told + (f" The card can also be made in {ways}." if variations else "")


def small_print(found: Arrangements) -> list[str]:
    """How was counted."""
    counts = found.counts
    told = [*(rule.words for rule in found.rules), counted_text(found.motions)]
    if counts.if_no_up != (counts.counted, counts.different):
        told.append(
            f"If no paper had an up, there would be {number(counts.if_no_up[0], 'arrangement', 'arrangements')} "
            f"and {number(counts.if_no_up[1], 'different card', 'different cards')}."
        )
    return told


def left_over(found: Arrangements, one: Batch) -> str:
    """What a set leaves of the pieces: `2 A of River and 1 B of Meadow`."""
    return listed([f"{n} {label_text(label, n)} of {found.worked.kit.papers[paper].name}" for label, paper, n in one.left])


def fill_text(kit: Kit, fill: Fill, two_faced: Set[str]) -> str:
    """A paper as it lies in a place, with its face where both may show."""
    paper = kit.papers[fill.paper]
    face = paper.face(fill.face)
    told = [face.called] if face and face.called and fill.paper in two_faced else []
    told += [BACK_UP] * (fill.face == "back")
    return f"{paper.name} ({', '.join(told)})" if told else paper.name


def card_text(papers: Sequence[str], lead: str) -> str:
    """What lies where on a card, in the order of the places; what lies over the others only where it can differ."""
    if not papers:
        return "Card front"
    if len(set(papers)) == 1:
        return f"Card front: {papers[0]} everywhere"
    rest = f", then {one_after_another(papers[1:])}" if papers[1:] else ""
    return f"Card front: {papers[0]}{' ' if lead else ''}{lead}{rest}"


def otherwise_text(name: str, card: str, fold: str) -> str:
    """What a card that is made otherwise shows."""
    return f"{name}. {card}, folded at the {hinge_text(fold)}"
