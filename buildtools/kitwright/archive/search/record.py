"""What the search knows of one kit, with all its pages, or of one page that no kit has a part in: a record of its own, small and made from nothing else."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import get_args

from kitwright.archive.finder import is_easy
from kitwright.archive.make import Made
from kitwright.archive.search import tokens
from kitwright.archive.search.reading import Part
from kitwright.colours import Family, families
from kitwright.drawing.looks import look_of
from kitwright.kit.kit import PastKit
from kitwright.kit.looks import paper_colour
from kitwright.kit.model import FACES, Paper
from kitwright.labels import anchor, is_base
from kitwright.papers import NamedSize
from kitwright.telling import searching
from kitwright.telling.kitpage import decorations, line_of, paper_kind
from kitwright.telling.words import month_text
from kitwright.units import Size, size_text
from kitwright.work.traits import shape_of, techniques_of, used_by

TITLE, TAG, CARD, WIDE, SHEET, PIECE, HEADING, PROSE, BESIDE = "TGCWSPHXY"
"""Where a term stands, what tells most first; `WIDE` is a card's size that is wider than tall, `BESIDE` prose of a kit's further pages."""
DIGITS = "".join(chr(c) for c in range(33, 127) if chr(c) not in '"\\<&|*')
"""What numbers of documents and parts are written with; none of it has a meaning in a script's text."""
BREAK = "\t"
"""Between a term and its field: it sorts before all that a term may hold."""
NEEDS = "needs:"
"""Before a word of what a kit uses, and alone where that is known: asked by whoever does not want it, so that it counts nothing where it is looked for."""
TAGGED = "tag:"
"""Before a whole tag that has a word in it which says nothing of a kit, so that who types all of it is understood."""
COLOURS = frozenset(get_args(Family))
"""Each stands in the index before what has it besides, `:blue:cardstock`."""
NEEDED, PIECES = ("need", "what-you-need"), ("pieces", "the-pieces")
"""Where a kit's page tells of papers and of pieces, the first that it has."""


@dataclass(frozen=True)
class Thumbnail:
    """The small picture beside a hit."""

    src: str
    """From the top of the site."""
    width: int
    height: int


@dataclass(frozen=True)
class Facts:
    """What is known of a kit beside its pages' words."""

    id: str
    title: str
    when: str
    """`March 2027`."""
    line: tuple[str, ...]
    """What stands below its title in lists."""
    unit: str
    thumbnail: Thumbnail | None = None
    tags: tuple[str, ...] = ()
    card: tuple[Fraction, Fraction] | None = None
    """The finished card in inches, width and height."""
    size: str = ""
    """The same as it is written."""
    words: tuple[str, ...] = ()
    """What else is said of the card: its fold, its envelope, its shape, whether it is quick to make."""
    techniques: tuple[str, ...] = ()
    """What is done besides cutting rectangles."""
    papers: tuple[tuple[str, tuple[str, ...], tuple[Fraction, Fraction]], ...] = ()
    """What a paper is called in a result, what is said of it, and its sheet in inches."""
    pieces: tuple[tuple[str, str, tuple[Fraction, Fraction]], ...] = ()
    """What a piece is called in a result, its label, and its size in inches."""
    more: tuple[tuple[Fraction, Fraction], ...] = ()
    """The finished cards of further designs, likewise."""
    needs: tuple[str, ...] = ()
    """What is used besides papers: tools, adhesive, a stamp."""
    seen: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """What a paper is called in a result, and how it looks: its pattern and colours, which tell less than its name does."""


def facts_of(one: Made) -> Facts:
    """What the search needs of a kit that was made."""
    kit, image = one.kit, one.images.get("thumbnail")
    small = Thumbnail(f"kits/{kit.id}/{image.narrow}", image.narrow_width, image.narrow_height) if image else None
    line, when, tags = line_of(one.entry, one.old), month_text(kit.month), tuple(dict.fromkeys(kit.spec.tags))
    if isinstance(one.entry, PastKit):
        return Facts(kit.id, kit.spec.title, when, line, "in", small, tags)
    worked = one.entry
    spec, unit = worked.kit.spec, worked.unit
    papers = []
    for plan in worked.plans:
        paper, sheet = worked.kit.papers[plan.paper], plan.demand.sheet
        way = ("one-way",) if any(face and face.up for face in (paper.front, paper.back)) else ()
        said = (paper.name, paper.size.name or "", paper_kind(paper), paper.kind, *way)
        papers.append((searching.paper_found(paper.name, sheet, paper.size.name, unit), said, _edges(sheet)))
    pieces = [(searching.piece_found(label, size, unit), label, _edges(size)) for label, size in worked.sizes.items()]
    shapes = (word for design in worked.designs for word in searching.SHAPES[shape_of(design.base.finished)])
    said_of = ((f"{design.base.fold} fold", _named(design.kit.spec.card.envelope), design.kit.design) for design in worked.designs)
    files = (searching.CUT_FILES,) if one.cut_files is not None else ()
    pace = (*((searching.QUICK,) if is_easy(worked, "quick") else ()), *((searching.UPCOMING,) if one.upcoming else ()))
    words = tuple(dict.fromkeys((*(word for said in said_of for word in said if word), *shapes, *pace)))
    card, *more = dict.fromkeys(design.base.finished for design in worked.designs)
    size = size_text(card, unit)
    needs = (*(searching.USED[used] for used in used_by(worked) if used in searching.USED), *(name for name, _ in decorations(worked)))
    seen = tuple((label, tuple(_looks(worked.kit.papers[plan.paper]))) for (label, *_), plan in zip(papers, worked.plans))
    of_pieces = (tuple(papers), tuple(pieces), tuple(map(_edges, more)), needs, seen)
    return Facts(kit.id, spec.title, when, line, unit, small, tags, _edges(card), size, words, (*techniques_of(worked), *files), *of_pieces)


def _looks(paper: Paper) -> Iterator[str]:
    """What is seen of a paper at a first glance: its patterns, and the colours of its ground and its marks; of a pattern not the white that it lies on."""
    for look in (look_of(paper, side) for side in FACES if paper.face(side)):
        if look.pattern != "plain":
            yield look.pattern
        seen = dict.fromkeys(name for ink in look.colours for name in families(paper_colour(ink)))
        yield from (name for name in seen if len(seen) == 1 or name not in ("white", "cream"))


def _named(envelope: NamedSize | None) -> str:
    return envelope.name if envelope else ""


def _edges(size: Size) -> tuple[Fraction, Fraction]:
    return size.width.inches, size.height.inches


@dataclass(frozen=True)
class Said:
    """A page, as it was read."""

    path: str
    """In the built site."""
    title: str
    weight: Fraction
    """How much it counts."""
    parts: tuple[Part, ...]


@dataclass(frozen=True)
class Record:
    """A hit that may be, and by which terms."""

    title: str
    path: str
    weight: Fraction
    when: str = ""
    line: tuple[str, ...] = ()
    thumbnail: Thumbnail | None = None
    tags: tuple[str, ...] = ()
    card: str = ""
    """The size of its card, as it is written."""
    places: tuple[tuple[str, str], ...] = ()
    """Where terms stand: the address from the top of the site, and what that place is called."""
    terms: dict[str, str] = field(default_factory=dict)
    """By term, `BREAK` and a field: the digit of the place; of a title the number of its words."""


def record_of(pages: Iterable[Said], facts: Facts | None) -> Record | None:
    """The record of a kit, or of a page without one; None where nothing is said.

    Args:
        pages: the kit's own page first.
        facts: what is known of the kit; None for a page that is about none, and for kits of which only files are given.
    """
    said = [page for page in pages if page.parts]
    if not said:
        return None
    return _Recording(said, facts).record()


class _Recording:
    def __init__(self, pages: list[Said], facts: Facts | None) -> None:
        self.pages, self.facts, self.first = pages, facts, pages[0]
        self.unit = facts.unit if facts else "in"
        self.places: dict[tuple[str, str], int] = {}
        self.found: dict[str, tuple[int, str]] = {}
        """By term: where it tells most, as the field's turn, and the digit."""

    def record(self) -> Record:
        title = self.facts.title if self.facts else self.first.title
        self.place(self.first.path, title)
        words = list(tokens.tokens(title, about=True))
        # Nobody has to type the common ones.
        many = sum(word not in searching.COMMON for word in words) or len(words)
        for term in tokens.terms(words, self.unit):
            self.note(term, TITLE, DIGITS[min(many, len(DIGITS) - 1)])
        if self.facts:
            self._facts(self.facts)
        else:
            self.all(searching.PAGES.get(self.first.path, ""), TAG, DIGITS[0])
        for page in self.pages[1:]:
            # What a page is called leads to it rather than to a heading that names it.
            digit = self.place(page.path, page.title)
            for term in self._telling(page.title):
                self.note(term, HEADING, digit)
        for page in self.pages:
            self._page(page, title)
        terms = {f"{term}{BREAK}{_FIELDS[turn]}": digit for term, (turn, digit) in sorted(self.found.items())}
        return Record(
            title,
            self.first.path,
            self.first.weight,
            self.facts.when if self.facts else "",
            self.facts.line if self.facts else (),
            self.facts.thumbnail if self.facts else None,
            self.facts.tags if self.facts else (),
            self.facts.size if self.facts else "",
            tuple(self.places),
            terms,
        )

    def place(self, address: str, label: str) -> str:
        """The digit of a place. There are only so many; what comes later counts as the top of the page."""
        place = (address, label)
        if place not in self.places and len(self.places) == len(DIGITS):
            return DIGITS[0]
        return DIGITS[self.places.setdefault(place, len(self.places))]

    def note(self, term: str, where: str, digit: str) -> None:
        turn = _FIELDS.index(where)
        if term not in self.found or turn < self.found[term][0]:
            self.found[term] = turn, digit

    def _facts(self, facts: Facts) -> None:
        ids = {address for part in self.first.parts for address in (part.anchor, *part.ids)}

        def at(*anchors: str) -> str:
            return next((f"{self.first.path}#{anchor}" for anchor in anchors if anchor in ids), self.first.path)

        top = DIGITS[0]
        for tag in facts.tags:
            digit = self.place(self.first.path, searching.tag_found(tag))
            self.all(tag, TAG, digit)
            spoken = list(tokens.tokens(tag))
            if not searching.COMMON.isdisjoint(spoken):
                self.note(f"{TAGGED}{' '.join(spoken)}", TAG, digit)
        for words in (*facts.line, *facts.words, facts.when):
            # Its own size is told below, with which way it stands.
            self.all(words, CARD, top, sizes=False)
        for card in (*([facts.card] if facts.card else []), *facts.more):
            width, height = card
            for term in tokens.size_terms(self._typed(card), self.unit):
                self.note(term, WIDE if width > height and "x" in term else CARD, top)
        for label, said, sheet in facts.papers:
            digit = self.place(at(*NEEDED), label)
            for words in said:
                self.all(words, SHEET, digit)
            for term in tokens.size_terms(self._typed(sheet), self.unit):
                self.note(term, SHEET, digit)
        for (label, looks), (_, said, _) in zip(facts.seen, facts.papers):
            digit = self.place(at(*NEEDED), label)
            self.all(" ".join(looks), PIECE, digit)
            # A colour with what has it, so that "blue cardstock" is no blue paper beside white cardstock.
            has = {
                term
                for words in (*said, *looks)
                for term in tokens.terms(list(tokens.tokens(words)), self.unit)
                if term not in searching.COMMON
            }
            for color in COLOURS.intersection(looks):
                for term in has - COLOURS:
                    self.note(f":{color}:{term}", TAG, digit)
        for words in facts.techniques:
            self.all(words, SHEET, top)
        if facts.needs:
            self.note(NEEDS, SHEET, top)
        for term in (term for words in facts.needs for term in tokens.tokens(words) if term not in searching.COMMON):
            self.note(f"{NEEDS}{term}", SHEET, top)
        for label, piece, size in facts.pieces:
            digit = self.place(at(f"piece-{anchor(piece)}", *PIECES), label)
            if not is_base(piece):
                self.note(f"piece:{piece.lower()}", PIECE, digit)
            for term in tokens.size_terms(self._typed(size), self.unit):
                self.note(term, PIECE, digit)

    def _typed(self, inches: tuple[Fraction, Fraction]) -> tuple[Fraction, ...]:
        """A size in the kit's unit."""
        return inches if self.unit == "in" else tuple(edge * Fraction(127, 5) for edge in inches)

    def all(self, text: str, where: str, digit: str, sizes: bool = True) -> None:
        """Everything that a short text says."""
        for term in tokens.terms(list(tokens.tokens(text)), self.unit):
            if sizes or not term.startswith("="):
                self.note(term, where, digit)

    def _page(self, page: Said, title: str) -> None:
        own = page is self.first
        for part in page.parts:
            heading = part.heading if part.anchor and part.heading != page.title else ""
            label = ": ".join(filter(None, ("" if own or page.title == title else page.title, heading))) or page.title or title
            digit = self.place(f"{page.path}#{part.anchor}" if heading else page.path, label) if own or part.said or heading else DIGITS[0]
            # A heading of a page that is about no kit is what that page tells of: a word and its meaning, a question.
            for term in self._telling(part.heading, searching.DENYING):
                self.note(term, HEADING if self.facts else TAG, digit)
            for run in part.said:
                for term in self._telling(run):
                    self.note(term, PROSE if own else BESIDE, digit)

    def _telling(self, text: str, but: Container[str] = ()) -> Iterator[str]:
        """The terms of headings and prose; no common words but those, and no letters that stand alone: those are pieces, or nothing."""
        for term in tokens.terms(list(tokens.tokens(text)), self.unit):
            if (term not in searching.COMMON or term in but) and not (len(term) == 1 and term.isascii() and term.isalpha()):
                yield term


_FIELDS = TITLE + TAG + CARD + WIDE + SHEET + PIECE + HEADING + PROSE + BESIDE
