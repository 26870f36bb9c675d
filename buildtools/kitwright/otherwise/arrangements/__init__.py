"""Arrangements: every other way to place the same pieces on the card front.

`slots` places and what fits · `supply` which pieces there are enough of · `counting` by counting,
listing and rank · `turning` which are one card · `naming` names and links · `typed` those of labels
that are the same piece · `batch` sets for the batch · `changing`, `variations` cards made
otherwise · `found` what is known, `find` finds it · `words` says it. It reads a worked kit; nothing that a kit is worked out
from reads it.
"""

from kitwright.otherwise.arrangements.find import SHOWN, arrangements_of, mistakes
from kitwright.otherwise.arrangements.found import Arrangement, Arrangements, Group, Set, SetPart, Tally
from kitwright.otherwise.arrangements.variations import Refused, Variation

__all__ = [
    "SHOWN",
    "Arrangement",
    "Arrangements",
    "Group",
    "Refused",
    "Set",
    "SetPart",
    "Tally",
    "Variation",
    "arrangements_of",
    "mistakes",
]
