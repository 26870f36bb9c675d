"""What an arrangement is called, and the link by which it is found.

A name tells the papers from the leading place on, and stops as soon as no other
arrangement begins the same. A link tells every place that can differ, so it depends on the
kit's pieces alone and stays when the list around it changes.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from fractions import Fraction

from kitwright.findings import Note
from kitwright.geometry import Rect
from kitwright.kit.kit import Kit
from kitwright.otherwise.arrangements.counting import Counting, Filling
from kitwright.otherwise.arrangements.slots import Fill, Places, Slot

LONGEST_LINK = 80
ONLY_LINK = "as-sketched"


class Names:
    """Names and links of a kit's arrangements.

    Args:
        kit: the kit.
        places: its places.
        field: what the pieces lie on.
        counts: one counting for each hand.
    """

    def __init__(self, kit: Kit, places: Places, field: Rect, counts: Sequence[Counting]) -> None:
        self.kit, self.places, self.counts = kit, places, counts
        self.where = where_words(kit, places.slots, field)
        self.varying = [i for i, slot in enumerate(places.slots) if len(slot.fills) > 1]
        self.fills = [_fill_words(kit, slot, self._one_paper) for slot in places.slots]
        self.own = dict(zip(places.looks, kit.spec.front.looks))

    def name(self, filling: Filling) -> str:
        """In plain words; the author's own name for a look of hers."""
        if filling in self.own:
            return self.own[filling].name
        words = self._words(filling)
        taken = {look.name.casefold() for look in self.own.values()}
        return words if words.casefold() not in taken else Note("arranged.other-way", name=words).words

    def _words(self, filling: Filling) -> str:
        """The papers of the telling places; one that is at several of them is said once. Her own file names an arrangement so."""
        told = [i for i in self._telling(filling) if i in self.varying]
        if not told:
            return Note("arranged.as-sketched").words
        papers = [self.fills[i][filling[i]] for i in self.varying]
        if len(papers) > 1 and len(set(papers)) == 1:
            return Note("arranged.everywhere", paper=papers[0]).words
        if len(told) > 2:
            lead, *rest = told
            others = [self.fills[i][filling[i]] for i in rest]
            return Note("arranged.in-turn", lead=self.fills[lead][filling[lead]], where=self.where[lead], others=tuple(others)).words
        at: dict[str, list[str]] = {}
        for i in told:
            at.setdefault(self.fills[i][filling[i]], []).append(self.where[i])
        return Note("arranged.papers", at=tuple((paper, tuple(where)) for paper, where in at.items())).words

    @property
    def _one_paper(self) -> bool:
        """Whether all that can differ is which side of one paper shows."""
        return len({fill.paper for i in self.varying for fill in self.places.slots[i].fills}) == 1

    def _telling(self, filling: Filling) -> range:
        """The places, from the leading one on, that tell this filling from every other."""
        for n in range(1, len(filling)):
            if sum(count.beginning(filling[:n]) for count in self.counts) <= 1:
                return range(n)
        return range(len(filling))

    def link(self, filling: Filling) -> str:
        """For addresses and file names: letters, digits, hyphens and underscores."""
        if not self.varying:
            return ONLY_LINK
        parts = []
        for i in self.varying:
            fill, fills = filling[i], self.places.slots[i].fills
            parts.append(fill.paper)
            # Each place says the same things of every filling, so no two links can run into one.
            parts += [fill.face] if len({f.face for f in fills}) > 1 else []
            parts += [fill.label.lower()] if len({f.label for f in fills}) > 1 else []
        link = "_".join(parts)
        if len(link) <= LONGEST_LINK:
            return link
        return f"{link[: LONGEST_LINK // 2].rstrip('_-')}_{hashlib.sha256(link.encode()).hexdigest()[:10]}"

    def differences(self, filling: Filling) -> tuple[Note, ...]:
        """What differs from the sketch, place by place."""
        sketch = self.places.looks[0]
        return tuple(
            Note("arranged.differs", fill=self.fills[i][fill], back=fill.face == "back", where=self.where[i], drawn=self.fills[i][drawn])
            for i, (fill, drawn) in enumerate(zip(filling, sketch))
            if fill != drawn
        )


def _fill_words(kit: Kit, slot: Slot, one_paper: bool) -> dict[Fill, str]:
    """What each possible piece of a place is called: its paper, and whatever else tells it from the others.

    With only one paper about, the look of its side is enough.
    """
    words = {}
    for fill in slot.fills:
        paper = kit.papers[fill.paper]
        word = paper.name
        if len({f.face for f in slot.fills if f.paper == fill.paper}) > 1:
            looks = [face.called for face in (paper.front, paper.back) if face]
            shown = paper.shown(fill.face).called
            plain = looks.count(shown) > 1 or shown in ("plain", "")
            word = f"{word}, {fill.face}," if plain else shown if one_paper else f"{word} {shown}"
        if len({f.label for f in slot.fills}) > 1 and sum((f.paper, f.face) == (fill.paper, fill.face) for f in slot.fills) > 1:
            word += f" ({fill.label})"
        words[fill] = word
    return words


_ORDINAL = "first second third fourth fifth sixth seventh eighth ninth tenth".split()
_NOWHERE = "laid over"


def where_words(kit: Kit, slots: Sequence[Slot], field: Rect) -> list[str]:
    """Where each place is, in words that no two places share."""
    flat = [slot for slot in slots if not slot.over]
    ways = (_along(flat), *(_about(flat, field, Fraction(n, 30)) for n in (10, 12)))
    found = next((words for words in ways if len(set(words.values())) == len(flat)), None)
    if found is None:
        found = {id(slot): f"in the {_nth(i)} place" for i, slot in enumerate(sorted(flat, key=lambda s: (s.rect.y, s.rect.x)))}
    for slot in slots:
        if slot.over:
            use = kit.spec.pieces[slot.placed.label].use
            found[id(slot)] = f"as the {use}" if use else _NOWHERE
    words = [found[id(slot)] for slot in slots]
    return [w if words.count(w) == 1 else f"{w} ({_nth(words[:i].count(w))})" for i, w in enumerate(words)]


def _nth(i: int) -> str:
    return _ORDINAL[i] if i < len(_ORDINAL) else f"{i + 1}th"


def _one_way(rects: Sequence[Rect], axis: str) -> bool:
    """Whether rectangles follow one another along an axis without sharing any of it."""
    spans = sorted((r.y, r.bottom) if axis == "y" else (r.x, r.right) for r in rects)
    return len(spans) > 1 and all(a[1] <= b[0] for a, b in zip(spans, spans[1:]))


def _along(slots: Sequence[Slot]) -> dict[int, str]:
    """Words for one column, read from the top, or one row, read from the left; empty for anything else."""
    rects = [slot.rect for slot in slots]
    for axis, first, last in (("y", "on top", "at the bottom"), ("x", "at the left", "at the right")):
        if _one_way(rects, axis):
            order = sorted(slots, key=lambda s: s.rect.y if axis == "y" else s.rect.x)
            middle = ["in the middle"] if len(order) == 3 else _ORDINAL[1:] + [f"{n}th" for n in range(11, len(order))]
            words = [first, *middle[: len(order) - 2], last]
            return {id(slot): word for slot, word in zip(order, words)}
    return {}


def _about(slots: Sequence[Slot], field: Rect, edge: Fraction) -> dict[int, str]:
    """Words by how near a piece's middle is to the edges of the field: nearer than this share of it counts as there."""

    def part(share: Fraction) -> int:
        return 0 if share < edge else 2 if share > 1 - edge else 1

    found = {}
    for slot in slots:
        x, y = slot.rect.centre
        down = ("top", "", "bottom")[part((y - field.y) / field.height)]
        across = ("left", "", "right")[part((x - field.x) / field.width)]
        found[id(slot)] = (
            "on top"
            if down == "top" and not across
            else f"at the {' '.join(filter(None, (down, across)))}"
            if down or across
            else "in the middle"
        )
    return found
