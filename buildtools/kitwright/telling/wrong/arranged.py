"""Arrangements that a kit names and that can't be."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import number


def mix_adds_up_otherwise(makes: int, cards: int) -> Said:
    return f"the mix makes {number(makes, 'card', 'cards')}, the batch has {cards}", "make the numbers add up"


def mix_takes_too_many(more: int, label: str, paper: str) -> Said:
    return f"the mix takes {more} more {label} from {paper} than the sheets yield", "use fewer of the cards that show it"


def no_such(said: str, near: str | None, kit: str) -> Said:
    return f"there is no arrangement “{said}” in this kit", f"did you mean “{near}”?" if near else f"“kitwright arrange {kit}” lists them"


def too_many_ways(steps: int) -> Said:
    return (
        f"this front can be filled in so many ways that they can’t be counted within {steps:,} steps",
        "let fewer papers, or fewer labels of one size, change places",
    )
