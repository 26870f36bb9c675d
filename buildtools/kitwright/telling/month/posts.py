"""Short texts for social posts, each in a length that it keeps to.

A post is made of paragraphs. The first says what it is about, the last has the link; the others
go, the last of them first, until the text is no longer than its length. The link is never cut.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class PostLength:
    """How long a post may be."""

    name: str
    """Its template is called after it."""
    most: int
    """Characters, the link counted as it is written."""


LENGTHS = (PostLength("short", 280), PostLength("middle", 500), PostLength("long", 2000))
"""From the shortest on: where little is taken, in most places, and where there is room."""


def kept_to(text: str, most: int) -> str:
    """A post without the paragraphs for which there is no room."""
    said = [part for part in text.strip().split("\n\n") if part.strip()]
    while len(said) > 2 and len(_joined(said)) > most:
        del said[-2]
    return _joined(said)


def _joined(parts: list[str]) -> str:
    return "\n\n".join(parts)
