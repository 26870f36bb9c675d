"""One vocabulary of tags: the club's own where its file has one, else what its kits agree on.

Tags are held against one another by the search's own plain words (`search.tokens`), so that what
the search takes for one is one here: "half sheet" and "half sheets", "z-fold" and "Z fold". Stands
in this room since it looks at past kits too, and at all kits together.
"""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from kitwright.archive.search.tokens import tokens
from kitwright.errors import Place
from kitwright.findings import Finding, Level
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.release.whole import revision_folders
from kitwright.telling.traits import said_by_values
from kitwright.work.worked import Worked

LONG_ENOUGH = 6
"""Letters from which on a letter too many or too few, or two that changed places, is a slip."""


@dataclass(frozen=True, slots=True)
class Tagged:
    """A tag as one kit bears it."""

    tag: str
    kit: str
    place: Place
    level: Level
    """How much a slip in it matters: what was released is frozen, tags too, until its next correction."""


@lru_cache(maxsize=4096)
def tag_key(tag: str) -> str:
    """What is the same for a tag however it is written: hyphens, capitals, accents and a plural count for nothing."""
    return "".join(tokens(tag))


def vocabulary(club: Club) -> dict[str, tuple[str, str]]:
    """The club's tags and the kind of each, by what is the same for every way to write it; the first of two alike."""
    found: dict[str, tuple[str, str]] = {}
    for kind, tags in club.tags.items():
        for tag in tags:
            found.setdefault(tag_key(tag), (tag, kind))
    return found


def tags_of(kit: Kit | PastKit) -> tuple[Tagged, ...]:
    """The tags of a kit."""
    level: Level = "hint" if isinstance(kit, Kit) and revision_folders(kit.folder) else "warning"
    return tuple(Tagged(tag, kit.id, kit.document.place(("tags", n)), level) for n, tag in enumerate(kit.spec.tags))


# --- looked at ----------------------------------------------------------------------------------------------


def of_club(club: Club) -> Iterator[Finding]:
    """Tags of the vocabulary that are one."""
    seen: dict[str, str] = {}
    for kind, tags in club.tags.items():
        for n, tag in enumerate(tags):
            key = tag_key(tag)
            if key in seen:
                yield Finding("warning", club.place("tags", kind, n), "tags.vocabulary-twice", tag=tag, other=seen[key])
            seen.setdefault(key, tag)


def of_kit(tagged: Iterable[Tagged], club: Club, worked: Worked | None = None) -> Iterator[Finding]:
    """What is found in a kit's tags, held against the vocabulary, one another, and the kit's own values.

    Args:
        tagged: its tags.
        club: whose.
        worked: the kit worked out; None for a past kit.
    """
    known = vocabulary(club)
    values = {tag_key(words) for words in said_by_values(worked)} if worked else set()
    seen: dict[str, str] = {}
    for one in tagged:
        key = tag_key(one.tag)
        if not key:
            # That it says nothing is told with whatever else says nothing.
            continue
        if key in seen:
            yield Finding(one.level, one.place, "tags.alike", tag=one.tag, other=seen[key], kit=None)
        elif key in values:
            yield Finding("hint", one.place, "tags.said-by-values", tag=one.tag)
        elif key in known and known[key][0] != one.tag:
            yield Finding(one.level, one.place, "tags.otherwise", tag=one.tag, other=known[key][0])
        elif known and key not in known:
            yield Finding(one.level, one.place, "tags.unknown", tag=one.tag, nearest=_nearest(key, known))
        seen.setdefault(key, one.tag)


def _nearest(key: str, known: dict[str, tuple[str, str]]) -> str | None:
    found = difflib.get_close_matches(key, known, 1, 0.7)
    return known[found[0]][0] if found else None


def in_use(tagged: Iterable[Tagged], club: Club) -> Iterator[Finding]:
    """Tags that are written otherwise in another kit, or nearly alike, where the club has no vocabulary: what more kits write counts, then what came first."""
    if club.tags:
        return
    every = list(tagged)
    counts, first = Counter(one.tag for one in every), dict[str, Tagged]()
    for one in every:
        first.setdefault(one.tag, one)
    kept: dict[str, str] = {}
    instead: dict[str, str] = {}
    for tag in sorted(first, key=lambda tag: -counts[tag]):
        key = tag_key(tag)
        like = kept.get(key) or next((other for beside, other in kept.items() if nearly(key, beside)), None)
        if like:
            instead[tag] = like
        else:
            kept[key] = tag
    for one in every:
        if one.tag in instead:
            other = instead[one.tag]
            yield Finding(one.level, one.place, "tags.alike", tag=one.tag, other=other, kit=first[other].kit)


def nearly(one: str, other: str) -> bool:
    """Whether two words differ by a slip of the hand: a letter too many or too few, or two that changed places."""
    short, long = sorted((one, other), key=len)
    if len(short) < LONG_ENOUGH or short == long:
        return False
    if len(long) == len(short):
        at = next(n for n, pair in enumerate(zip(short, long)) if pair[0] != pair[1])
        return short[:at] + short[at : at + 2][::-1] + short[at + 2 :] == long
    return len(long) - len(short) == 1 and any(long[:n] + long[n + 1 :] == short for n in range(len(long)))
