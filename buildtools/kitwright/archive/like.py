"""Kits like one: the same card, the same sheets, the same technique, theme; three of them, each with why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import nsmallest
from typing import Any

from kitwright.archive.facts import KitFacts
from kitwright.archive.listing import Listed
from kitwright.archive.vocabulary import tag_key, vocabulary
from kitwright.kit.model import Club
from kitwright.telling import like as words
from kitwright.telling.facets import Both, plain, size_both
from kitwright.work.traits import stock_of

MOST = 3
"""Kits that are named."""
LEAST = 3
"""What is less alike is not named."""
TOLD = 2
"""Reasons that are told of each."""
PLAIN_FOLDS, PLAIN_TECHNIQUES = ("side", "top", ""), ("raised pieces", "rounded corners")
"""What most cards have: no reason to go to another."""
THEMES = ("theme", "occasion", "season")
"""Kinds of tags of which one that two kits share is a reason; where a club has other kinds, none is."""

Trait = tuple[str, object]
"""Something that two kits may share: what it is, and its value."""
WEIGHTS = {"card": 4, "sheets": 4, "sheet": 2, "technique": 2, "fold": 3, "tag": 1}


@dataclass(frozen=True, slots=True)
class Like:
    """A kit that is like another."""

    id: str
    title: str
    picture: tuple[str, int, int] | None
    """Of the small one: its path from the top of the site, width and height."""
    why: Both
    """In inches and in millimetres."""


def likes(kits: Sequence[Listed], club: Club) -> dict[str, tuple[Like, ...]]:
    """For each kit that is worked out, those that are most like it, by its id."""
    known = {key: kind for key, (_, kind) in vocabulary(club).items()}
    traits = {one.id: dict.fromkeys(_traits(one.listing.facts, one, known)) for one in kits if one.listing.facts}
    by_trait: dict[Trait, list[str]] = {}
    for kit, its in traits.items():
        for trait in its:
            by_trait.setdefault(trait, []).append(kit)
    by_id, place = {one.id: one for one in kits}, {one.id: n for n, one in enumerate(kits)}
    return {
        kit: tuple(_like(by_id[other], shared) for other, shared in _nearest(kit, its, by_trait, traits, place))
        for kit, its in traits.items()
    }


def _nearest(
    kit: str,
    its: Mapping[Trait, None],
    by_trait: Mapping[Trait, list[str]],
    traits: Mapping[str, Mapping[Trait, None]],
    place: Mapping[str, int],
) -> Iterator[tuple[str, list[Trait]]]:
    """Those that share most, the nearer in time first where they share as much; with what they share."""
    score: Counter[str] = Counter()
    for trait in its:
        for other in by_trait[trait]:
            score[other] += WEIGHTS[trait[0]]
    del score[kit]
    enough = [other for other, n in score.items() if n >= LEAST]
    here = place[kit]
    for other in nsmallest(MOST, enough, lambda other: (-score[other], abs(place[other] - here), -place[other])):
        shared = [trait for trait in its if trait in traits[other]]
        # That the sheets are as many says that they are as large.
        if any(what == "sheets" for what, _ in shared):
            shared = [trait for trait in shared if trait[0] != "sheet"]
        yield other, sorted(shared, key=lambda trait: -WEIGHTS[trait[0]])[:TOLD]


def _traits(facts: KitFacts, one: Listed, known: Mapping[str, str]) -> Iterator[Trait]:
    for card in facts.made:
        yield "card", card.size
        if card.fold not in PLAIN_FOLDS:
            yield "fold", card.fold
    sizes = dict.fromkeys(stock_of(paper.sheet) for paper in facts.patterned)
    if len(sizes) == 1:
        yield "sheets", (facts.sheets, *sizes)
    for size in sizes:
        yield "sheet", size
    for technique in facts.techniques:
        if technique not in PLAIN_TECHNIQUES:
            yield "technique", technique
    for tag in one.kit.spec.tags:
        if known.get(tag_key(tag)) in THEMES:
            yield "tag", tag_key(tag)


def _like(one: Listed, shared: Sequence[Trait]) -> Like:
    image = one.images.get("thumbnail")
    picture = (f"kits/{one.id}/{image.narrow}", image.narrow_width, image.narrow_height) if image else None
    tags = {tag_key(tag): tag for tag in one.kit.spec.tags}
    # Sheets are told as they are, not as what they count as.
    patterned = one.listing.facts.patterned if one.listing.facts else ()
    sheets = {stock_of(paper.sheet): plain(paper.size_name) if paper.size_name else size_both(paper.sheet) for paper in patterned}

    def told(what: str, value: Any) -> Any:
        if what == "sheets":
            return value[0], sheets[value[1]]
        return tags[value] if what == "tag" else sheets[value] if what == "sheet" else value

    return Like(one.id, one.kit.spec.title, picture, words.why([(what, told(what, value)) for what, value in shared]))
