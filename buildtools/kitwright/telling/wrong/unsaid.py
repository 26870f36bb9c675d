"""What was typed and says nothing."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import shortened


def nothing_in_it(key: str) -> Said:
    return f"“{key}” stands here with nothing in it", "write what is in it, or leave the line out"


def no_word(key: str, text: str) -> Said:
    return f"“{shortened(text, 20)}” for “{key}” says nothing: no letter or figure is in it", "say it in words, or take it out"


def nothing_after(sign: str) -> Said:
    return f"nothing follows the  {sign}  here", "write what belongs there, or take it out"
