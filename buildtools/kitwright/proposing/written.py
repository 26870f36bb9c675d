"""A proposal as a kit: its papers, pieces, fronts and guides as values, from which `telling/proposed_kit.py` writes the file.

There are a few ways to write one down: with the cuts that it was found by, or with those that the
planner makes of the same pieces, paper by paper; with the bases from the cardstock that was wished, or
from a larger sheet. They are handed on one after another, the one that is meant first: whoever writes
the file takes the first in which nothing is found (`archive/proposed.py`).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Literal

from kitwright.card.enclosed import clearance
from kitwright.cutting.guide import merged
from kitwright.cutting.tree import Leaf, Node, moved, taken
from kitwright.cutting.tree import Side as Edge
from kitwright.geometry import Diagonal
from kitwright.kit.model.papers import PaperFace
from kitwright.papers import ENVELOPES, SHEETS, NamedSize
from kitwright.proposing.faces import BASES_LOOK, MATS_LOOK, faces_of
from kitwright.proposing.families.doors import DOORS
from kitwright.proposing.makeable import LEAST
from kitwright.proposing.papered import DealtCards, dealt, sheet_by_sheet
from kitwright.proposing.records import Kind, Proposal, Side
from kitwright.proposing.wish import CardWish, Unit, Wish
from kitwright.units import SIXTEENTH, ZERO, Length, Size

Role = Literal["strip", "panel", "tile", "flag", "strip across", "mat"]
"""What a piece is on the card."""

MATS, SECOND_MATS = "M", "W"
"""Labels of mats: of the first design, and of a second one whose mat is of another size."""
BASES_FROM, MATS_FROM = "cardstock", "matstock"
"""Keys of the cardstock for bases, and for mats."""
WORDS_HIGH = Length(Fraction(3, 4))
"""Words on a band are no higher, nor wider than 2½ in."""
WORDS_WIDE = Length(Fraction(5, 2))
ROOM = Length(Fraction(1, 8))
"""Free round the words on a band, at least."""
LOOSE = Length(Fraction(3, 2))
"""More room in an envelope than this, and it is another card's (`check/base.py` says the same)."""


@dataclass(frozen=True, slots=True)
class PaperOf:
    """A paper of the kit."""

    key: str
    kind: Literal["patterned", "cardstock"]
    name: str | None
    """None where the words have to be made: for bases, for mats."""
    sheet: NamedSize
    face: PaperFace
    sheets: int | None
    """None: worked out."""
    said: tuple[str, ...] = ()
    """The lines of its entry where another kit's file says it, but for its sheets."""
    known: bool = False
    """Whether the club's file says it, so that this one need not."""


@dataclass(frozen=True, slots=True)
class PieceOf:
    """A label."""

    label: str
    size: Size
    role: Role
    papers: tuple[str, ...]
    each: int | None
    """How many a card takes; None where they are counted on the fronts."""
    halved: Diagonal | None = None
    tool: Literal["punch", "die"] | None = None
    blank: Length | None = None
    """How much larger the blank for a tool is, on each side."""
    said: tuple[str, ...] = ()
    """What another kit's file says of it beside its size and papers: what it is for, its shape, its tool."""


@dataclass(frozen=True, slots=True)
class LookOf:
    """Some cards that show other papers in the same places."""

    leads: str
    """The key of the paper that leads."""
    cards: int
    swap: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class DesignOf:
    """One design: a card and its front."""

    side: Side
    cards: int
    base: Size
    mat: str | None
    """The label of its mat."""
    envelope: NamedSize | None
    front: Mapping[str, Any]
    """As the file says it, each piece with its paper."""
    looks: tuple[LookOf, ...]
    words: Size | None
    """Room for the greeting."""
    words_on: Literal["band", "front"]
    """What that stands on: the band, or the middle of the front where pieces lie round it."""


@dataclass(frozen=True, slots=True)
class GuideOf:
    """How some sheets are cut."""

    papers: tuple[str, ...]
    sheets: int | None
    """Of each; None: as many as the batch takes of these cuts."""
    tree: Node


@dataclass(frozen=True, slots=True)
class Kept:
    """What goes on as it is of the kit whose pieces lie on these cards."""

    title: str
    papers: Mapping[str, tuple[str, ...]]
    """Of each paper that its own file says, the lines of its entry, but for its sheets."""
    pieces: Mapping[str, tuple[str, ...]]
    """By the label that a piece has now: what its entry says beside size and papers."""
    cardstock: Mapping[Literal["bases", "mats"], tuple[str, NamedSize]]
    """Where it has such: the key of the paper of its bases, and of its mats, with the sheet."""


@dataclass(frozen=True, slots=True)
class KitDraft:
    """A kit before it is put into words."""

    wish: Wish
    proposal: Proposal
    papers: tuple[PaperOf, ...]
    """Those that the kit says itself."""
    pieces: tuple[PieceOf, ...]
    designs: tuple[DesignOf, ...]
    guides: tuple[GuideOf, ...]
    """Empty: all papers are cut by the planner."""
    bases: str
    """The key of the paper of the bases."""
    kept: Kept | None = None
    """Of the kit whose pieces these are; None where sizes were looked for."""

    @property
    def cards(self) -> int:
        return sum(design.cards for design in self.designs)

    def cut_otherwise(self, planned: Collection[int], counted: Collection[int]) -> KitDraft:
        """The same with some of its guides left to the planner, and the sheets of some left to be counted; both told by their
        place among the guides, from 0."""
        kept = [(i, guide) for i, guide in enumerate(self.guides) if i not in planned]
        return replace(self, guides=tuple(replace(guide, sheets=None) if i in counted else guide for i, guide in kept))


def drafts(wish: Wish, proposal: Proposal, known: Mapping[str, NamedSize], kept: Kept | None = None) -> Iterator[KitDraft]:
    """Ways to write a proposal down by its own cuts, the one that is meant first; none where its pieces can't be dealt to whole cards.

    Args:
        wish: the question.
        proposal: which of its answers.
        known: papers of the club that a kit need not say again, by key, and their sheets.
        kept: what goes on as it is of another kit, where these are its pieces.
    """
    apart = sheet_by_sheet(wish, proposal)
    for asked, layout in (apart, (wish, proposal)) if apart[0] is not wish else (apart,):
        hands = dealt(layout, asked)
        if hands is None:
            return
        own = {*(stock.key for stock in asked.stocks), *known, *(kept.papers if kept else ())}
        for bases, its in _cardstocks(layout, asked.unit, own, kept):
            yield _draft(asked, layout, hands, known, (bases, its), kept)


def _draft(
    wish: Wish,
    proposal: Proposal,
    hands: Sequence[DealtCards],
    known: Mapping[str, NamedSize],
    cardstock: tuple[PaperOf, PaperOf],
    kept: Kept | None,
) -> KitDraft:
    mats, (bases, matstock) = _mats(proposal), cardstock
    typed = kept.papers if kept else {}
    used = _used(proposal, hands)
    stocks = [stock for stock in wish.stocks if any(stock.key in papers for papers in used.values())]
    sheets = {stock.key: sum(n for cut in proposal.cuts for key, n in cut.stocks if key == stock.key) for stock in stocks}
    faces = faces_of(wish)
    papers = [
        PaperOf(stock.key, "patterned", stock.name, stock.sheet, faces[stock.key], sheets[stock.key], typed.get(stock.key, ()))
        for stock in stocks
        if stock.key in typed or known.get(stock.key) is None or known[stock.key].size != stock.sheet.size
    ]
    papers += [paper for paper in dict.fromkeys((bases, matstock) if mats else (bases,)) if not paper.known]
    alone = len(proposal.sides) == 1
    said = kept.pieces if kept else {}
    pieces = [replace(_piece(wish, proposal, kind, used[kind.label], alone), said=said.get(kind.label, ())) for kind in proposal.kinds]
    on_doors = len(DOORS) if any(side.card.fold == "gate" for side in proposal.sides) else 1
    pieces += [PieceOf(label, size, "mat", (matstock.key,), on_doors if alone else None) for label, size in mats.items()]
    designs = [_design(side, hand, mats, proposal, wish.unit) for side, hand in zip(proposal.sides, hands)]
    return KitDraft(wish, proposal, tuple(papers), tuple(pieces), tuple(designs), _guides(proposal), bases.key, kept)


def _free(key: str, taken_by: Set[str]) -> str:
    """A key that no other paper has."""
    tries = [key, *(f"{key}-{n}" for n in range(2, len(taken_by) + 3))]
    return next(one for one in tries if one not in taken_by)


# --- pieces -----------------------------------------------------------------------------------------


def _used(proposal: Proposal, hands: Sequence[DealtCards]) -> dict[str, tuple[str, ...]]:
    """The papers of each label, in the order in which looks meet them."""
    found: dict[str, dict[str, None]] = {kind.label: {} for kind in proposal.kinds}
    for side, hand in zip(proposal.sides, hands):
        for look in hand.looks:
            for spot, group in zip(side.spots, hand.groups):
                found[spot.label][look.papers[group]] = None
    return {label: tuple(papers) for label, papers in found.items()}


def _piece(wish: Wish, proposal: Proposal, kind: Kind, papers: tuple[str, ...], alone: bool) -> PieceOf:
    over = any(spot.over for side in proposal.sides for spot in side.spots if spot.label == kind.label)
    margin = (kind.cut.width - kind.size.width) / 2 if kind.tool else None
    each = proposal.sides[0].each.get(kind.label) if alone and len(papers) == 1 else None
    return PieceOf(kind.label, kind.size, _role(kind, over, wish.unit), papers, each, kind.halved, kind.tool, margin)


def _role(kind: Kind, over: bool, unit: Unit) -> Role:
    if kind.halved:
        return "flag"
    if over:
        return "strip across"
    short, long = sorted((kind.size.width, kind.size.height))
    least = LEAST[unit]
    if short >= least.panel and long < short * 4:
        return "panel"
    return "strip" if long >= least.long else "tile"


def _mats(proposal: Proposal) -> dict[str, Size]:
    """Labels of mats and their sizes."""
    found: dict[str, Size] = {}
    for side in proposal.sides:
        size = _mat_size(side.card)
        if size and size not in found.values():
            found[(MATS, SECOND_MATS)[len(found)]] = size
    return found


def _mat_size(card: CardWish) -> Size | None:
    if card.mat is None:
        return None
    width = card.closed.width / 2 if card.fold == "gate" else card.closed.width
    return Size(width - card.mat * 2, card.closed.height - card.mat * 2)


# --- designs ----------------------------------------------------------------------------------------


def _design(side: Side, hand: DealtCards, mats: Mapping[str, Size], proposal: Proposal, unit: Unit) -> DesignOf:
    card, size = side.card, _mat_size(side.card)
    mat = next((label for label, its in mats.items() if its == size), None)
    base = Size(card.closed.width * (2 if card.fold in ("side", "gate") else 1), card.closed.height * (2 if card.fold == "top" else 1))
    leading = _leading(hand, [stock for cut in proposal.cuts for stock, n in cut.stocks if n])
    front = _with_papers(side, [leading[group] for group in hand.groups])
    looks = tuple(
        LookOf(look.papers[0], look.cards, {a: b for a, b in zip(leading, look.papers) if a != b})
        for look in hand.looks
        if len(hand.looks) > 1 or look.papers != leading
    )
    cards = side.cards or proposal.cards
    return DesignOf(
        side,
        cards,
        base,
        mat,
        card.envelope or _envelope(card.closed),
        front,
        looks,
        _words(side, unit),
        "front" if "places" in front else "band",
    )


def _leading(hand: DealtCards, every: Sequence[str]) -> tuple[str, ...]:
    """The papers of the front as it is typed: one look of it in which no two groups have one paper, so that swapping tells them apart.

    Where there is none, papers that meet on its cards, and then any of the batch, so that no two groups have one.
    """
    parted = next((look.papers for look in hand.looks if len(set(look.papers)) == len(look.papers)), None)
    if parted:
        return parted
    papers = list(dict.fromkeys((*(paper for look in hand.looks for paper in look.papers), *every)))
    return tuple(papers[: max(hand.groups) + 1]) if len(papers) > max(hand.groups) else hand.looks[0].papers


def _with_papers(side: Side, papers: Sequence[str]) -> dict[str, Any]:
    """What the file says of a front, each piece with its paper, in the order of the spots."""
    given = iter(papers)

    def dressed(entry: Any) -> Any:
        if isinstance(entry, list):
            return [dressed(one) for one in entry]
        return {"piece": entry["piece"], "paper": next(given)} | entry if isinstance(entry, dict) and "piece" in entry else entry

    if set(side.front) == set(DOORS):
        return {door: {key: dressed(value) for key, value in side.front[door].items()} for door in DOORS}
    return {key: dressed(value) for key, value in side.front.items()}


def _words(side: Side, unit: Unit) -> Size | None:
    """Room for a greeting on the free band, down to a mark; None where there is no band, or no room."""
    if side.band is None:
        return None
    mark = Length(SIXTEENTH * 2) if unit == "in" else Length.mm(1)
    width, height = min(side.band.width - ROOM * 2, WORDS_WIDE), min(side.band.height - ROOM * 2, WORDS_HIGH)
    size = Size(mark * (width // mark), mark * (height // mark))
    return size if size.width >= mark * 8 and size.height >= mark * 2 else None


def _envelope(closed: Size) -> NamedSize | None:
    """The smallest known envelope that the card goes into with some room, and not too much."""
    fitting = []
    for envelope in ENVELOPES:
        room = clearance(closed, envelope.size)
        if min(room.width, room.height) >= Length(SIXTEENTH) and max(room.width, room.height) <= LOOSE:
            fitting.append(envelope)
    return min(fitting, key=lambda envelope: envelope.size.area, default=None)


# --- cardstock --------------------------------------------------------------------------------------


def _cardstocks(proposal: Proposal, unit: Unit, taken_by: Set[str], kept: Kept | None) -> Iterator[tuple[PaperOf, PaperOf]]:
    """Papers for bases and for mats: those of the kit whose pieces these are; those that were wished; then mats from another, then
    both: a base may need a larger sheet, and mats that fill one to its edge leave no slack on it."""
    wished = proposal.sides[0].card.cardstock
    named = {sheet.name: sheet for sheet in SHEETS}
    foot = NamedSize("", Size(Length(12), Length(12)), "measured")
    here, there = [named["Letter"], foot, named["Tabloid"]], [named["A4"], named["A3"]]
    others = [sheet for sheet in (here + there if unit == "in" else there + here) if sheet.size != wished.size]
    keys = {each: _free(each, taken_by) for each in (BASES_FROM, MATS_FROM)}

    def bases(sheet: NamedSize) -> PaperOf:
        return PaperOf(keys[BASES_FROM], "cardstock", None, sheet, BASES_LOOK, None)

    def mats(sheet: NamedSize) -> PaperOf:
        return PaperOf(keys[MATS_FROM], "cardstock", None, sheet, MATS_LOOK, None)

    if kept and "bases" in kept.cardstock:
        own = _as_there(kept, "bases", BASES_LOOK)
        yield own, _as_there(kept, "mats", MATS_LOOK) if "mats" in kept.cardstock else mats(wished)
        yield own, mats(wished)
        if proposal.sides[0].card.mat is not None:
            yield from ((own, mats(other)) for other in others)
    yield bases(wished), mats(wished)
    if proposal.sides[0].card.mat is not None:
        yield from ((bases(wished), mats(other)) for other in others)
    yield from ((bases(other), mats(other)) for other in others)


def _as_there(kept: Kept, what: Literal["bases", "mats"], look: PaperFace) -> PaperOf:
    """The cardstock of another kit, as its own file or the club's says it."""
    key, sheet = kept.cardstock[what]
    said = kept.papers.get(key, ())
    return PaperOf(key, "cardstock", None, sheet, look, None, said, known=not said)


# --- guides -----------------------------------------------------------------------------------------


def _guides(proposal: Proposal) -> tuple[GuideOf, ...]:
    """Sheets that are cut alike, as many of each paper, by one guide."""
    found: dict[tuple[Node, int], list[str]] = {}
    for cut in proposal.cuts:
        for key, sheets in cut.stocks:
            if sheets:
                found.setdefault((merged(cut.tree), sheets), []).append(key)
    return tuple(GuideOf(tuple(papers), sheets, tree) for (tree, sheets), papers in found.items())


@dataclass(frozen=True, slots=True)
class GuideLine:
    """One line of a guide: what comes off what is in hand."""

    what: Literal["off", "rest", "corners"]
    """So many off a side; all that is left is one piece; or it is cut from corner to corner."""
    count: int = 1
    measure: Length = ZERO
    side: Edge = "left"
    label: str | None = None
    """The piece that each part is; None for a leftover, or where it is cut further."""
    inside: tuple[GuideLine, ...] = ()


def lines(node: Node) -> tuple[GuideLine, ...]:
    """A cut tree as the lines of a guide; `cutting/guide.py` reads the very tree back."""
    if isinstance(node, Leaf):
        if node.label is None:
            return ()
        return (GuideLine("corners" if node.diagonal else "rest", label=node.label),)
    found: list[GuideLine] = []
    *falling, last = taken(node)
    while falling:
        first = falling[0]
        alike = _home(first)
        count = next((i for i, part in enumerate(falling) if _home(part) != alike), len(falling))
        measure = first.rect.width if node.axis == "x" else first.rect.height
        label = first.label if isinstance(first, Leaf) and not first.diagonal else None
        inside = lines(first) if label is None else ()
        found.append(GuideLine("off", count, measure, node.off, label, inside))
        falling = falling[count:]
    leftover = isinstance(last, Leaf) and last.label is None
    if not leftover and _home(last) == _home(taken(node)[-2]):
        # What stays in hand is one more of the same.
        found[-1] = replace(found[-1], count=found[-1].count + 1)
    else:
        found += lines(last)
    return tuple(found)


def _home(node: Node) -> Node:
    return moved(node, -node.rect.x, -node.rect.y)
