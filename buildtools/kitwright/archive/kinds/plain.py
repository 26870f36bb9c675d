"""Pages that no kit has a part in: the words of the trade, care at the bench, and every number from outside."""

from __future__ import annotations

from kitwright.archive.page import Kind, Page
from kitwright.cutfiles import mats
from kitwright.telling.numbers import all_known

WORDS = Kind("words.md", lambda site: [Page("words.md", "Glossary")], menu="Glossary", search=0.15)
CARE = Kind("care.md", lambda site: [Page("care.md", "Safety")], menu="Safety")
NUMBERS = Kind(
    "numbers.md",
    lambda site: [Page("numbers.md", "Where our numbers come from", {"known": (*all_known(), ("Electronic cutters", mats.known()))})],
    menu="Where our numbers come from",
)
"""Linked from the post too."""
