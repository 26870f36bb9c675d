"""Pages that no kit has a part in: the words of the trade, care at the bench, and every number from outside."""

from __future__ import annotations

from kitwright.archive.page import Kind, Page
from kitwright.cutfiles import mats
from kitwright.telling.numbers import all_known

WORDS = Kind("words.md", lambda site: [Page("words.md", "Words at the bench")], menu="Words")
CARE = Kind("care.md", lambda site: [Page("care.md", "Take care")], menu="Take care")
NUMBERS = Kind(
    "numbers.md",
    lambda site: [Page("numbers.md", "Where our numbers come from", {"known": (*all_known(), ("Electronic cutters", mats.known()))})],
)
"""Linked from the foot of each page and from the post."""
