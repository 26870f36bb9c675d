"""Colours of a club that can't be used."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from kitwright.errors import Said

Role = Literal["accent", "second", "ink", "page"]
_ON = {"page": "on the page", "table": "on tables and tags of the page", "print": "in print, on white", "ink": "under the words"}
_USED: dict[Role, str] = {
    "accent": "words, buttons and the lines to cut are drawn in it",
    "second": "words that lead on, and marks, are drawn in it",
    "ink": "everything is written in it",
    "page": "everything is read on it",
}
_TOLD: dict[Role, str] = {"accent": "what to cut", "second": "what leads on", "ink": "the edges of paper", "page": "the page"}


def _to_one(ratio: Fraction) -> str:
    """A contrast ratio, rounded down: what falls short is never told as enough."""
    tenths = int(ratio * 10)
    return f"{tenths // 10}.{tenths % 10} to 1"


def unreadable(
    role: Role,
    colour: str,
    against: Literal["page", "table", "print", "ink"],
    ground: str,
    contrast: Fraction,
    least: Fraction,
    near: str | None,
) -> Said:
    asked = "WCAG 2.2 asks for" if least < 10 else "so that soft words and thin lines still show it needs"
    problem = f"{colour.upper()} can’t be the {role}: {_ON[against]} ({ground.upper()}) its contrast is {_to_one(contrast)}, and {asked} {_to_one(least)}"
    return problem, f"{near.upper()} is the nearest of the same hue that would do" if near else f"take another, since {_USED[role]}"


def darker(role: Role, colour: str, drawn: str) -> Said:
    return (
        f"the {role} is drawn a little darker than {colour.upper()}, as {drawn.upper()}, so that it can be read",
        "nothing to do; on a dark page it is lighter",
    )


def alike(role: Role, colour: str, other: Role, theirs: str, near: str | None) -> Said:
    problem = f"{colour.upper()} as the {role} looks like the {other} ({theirs.upper()}): {_TOLD[role]} can’t be told from {_TOLD[other]}"
    remedy = f"{near.upper()} is the nearest of the same hue that would do" if near else "take another hue"
    return problem, f"{remedy}, or leave the line out to have one that fits"
