"""All kits by their facts: which facets there are, what each kit is by them, and the rows of the list, as values for the page and for its script."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from kitwright.archive.called import call
from kitwright.archive.facts import KitFacts
from kitwright.archive.finder import EASY
from kitwright.archive.listing import Listed
from kitwright.archive.vocabulary import tag_key, vocabulary
from kitwright.kit.model import Club
from kitwright.labels import anchor
from kitwright.papers import SHEETS as STOCKS
from kitwright.telling import facets as words
from kitwright.telling.facets import Both
from kitwright.telling.traits import ALSO, SHAPES
from kitwright.telling.words import led, month_text
from kitwright.units import ABOUT, Length, Size, fraction_text, other_unit, size_text
from kitwright.work.traits import PaperTraits, standing, stock_of

FACTS_FILE = "find/facts.js"
"""What the page's script loads of all kits."""
SHOWN = 48
"""Kits whose pictures stand in the page itself."""
SHEETS, CUTS, LEFT = (1, 2, 4, 8), (50, 75, 100, 150), (5, 10, 20, 30)
"""Bounds that are told as “up to”; of the last, in hundredths."""
SLACKS = tuple(Length(Fraction(1, n)) for n in (16, 8, 4, 2))
MAKES = ((1, 4), (5, 8), (9, 12), (13, 16), (17, None))
CODE = 0x100
"""A value in the script’s data is one character, from here on."""


@dataclass(frozen=True, slots=True)
class FacetValue:
    """One value of a facet."""

    key: str
    """As it stands in an address."""
    label: Both
    kits: int
    """How many kits are so."""


@dataclass(frozen=True, slots=True)
class Facet:
    """A question by which kits are chosen, with the values that there are."""

    key: str
    title: str
    values: tuple[FacetValue, ...]
    open: bool


@dataclass(frozen=True, slots=True)
class Row:
    """A kit as the list shows it."""

    id: str
    title: str
    when: str
    year: int
    unit: str
    past: str
    """Of an old printable: `past` with a picture of its own, `page` with its first page; empty of any other."""
    picture: tuple[str, int, int] | None
    """Of the small one: its path from the top of the site, width and height."""
    alt: str
    line: str
    """Cards and patterned sheets; of an old printable what is known."""
    card: Both
    """How large its cards are; empty of an old printable."""
    sheet: Both
    """How large its patterned sheets; empty where there are none."""
    cards: int | None
    sheets: str
    cuts: int | None
    corrected: bool
    upcoming: bool
    values: tuple[int, ...] = ()
    """Which values it has, counted through all facets."""
    ranks: tuple[int, ...] = ()
    """Its place by fewest sheets, most cards, fewest cuts, least left over."""


@dataclass(frozen=True, slots=True)
class AllKits:
    """What the page of all kits is made of."""

    facets: tuple[Facet, ...]
    rows: tuple[Row, ...]
    """Newest first."""
    tags: Mapping[str, tuple[str, str]]
    """Facet and value that stand for a tag, by the tag as addresses have it."""

    @property
    def years(self) -> list[tuple[int, list[Row], list[Row]]]:
        """By year, newest first: kits with their pictures, and those beyond the first `SHOWN`."""
        found: dict[int, tuple[list[Row], list[Row]]] = {}
        for n, row in enumerate(self.rows):
            found.setdefault(row.year, ([], []))[n >= SHOWN].append(row)
        return [(year, near, far) for year, (near, far) in found.items()]

    @property
    def script(self) -> bytes:
        """All of it for the page's script, which the facets in the page's HTML go with: a call with plain data."""
        rows = [
            [
                row.id,
                row.title,
                row.when,
                row.past,
                list(row.picture or ()),
                row.line,
                _told(row.card),
                _told(row.sheet),
                row.cards,
                row.sheets,
                row.cuts,
                [int(row.corrected), int(row.upcoming)],
                list(row.ranks),
                "".join(chr(CODE + value) for value in row.values),
            ]
            for row in self.rows
        ]
        # A closing tag ends nothing in a file of its own; told so all the same, since a template of hers may put it into a page.
        return call("kwFacts", {"kits": rows, "tags": self.tags}).replace(b"</", rb"<\/")


def _told(both: Both) -> str | list[str]:
    return both[0] if both[0] == both[1] else list(both)


def all_kits(kits: Sequence[Listed], club: Club) -> AllKits:
    """What the page of all kits is made of, from all kits, oldest first."""
    gathered = _Gathered(club)
    newest = list(reversed(kits))
    has = [gathered.kit(one) for one in newest]
    facets = gathered.facets()
    places = {key: n for n, key in enumerate((facet.key, value.key) for facet in facets for value in facet.values)}
    ranks = list(zip(*(_ranks([_sorted_by(one, by) for one in newest]) for by in SORTS)))
    rows = [_row(one, tuple(sorted(places[key] for key in keys)), rank) for one, keys, rank in zip(newest, has, ranks)]
    return AllKits(tuple(facets), tuple(rows), {tag: gathered.tags[tag] for tag in sorted(gathered.tags)})


@dataclass
class _Gathered:
    """Facets, while kits tell their values."""

    club: Club
    labels: dict[tuple[str, str], Both] = field(default_factory=dict)
    """By facet and value."""
    order: dict[tuple[str, str], tuple[object, ...]] = field(default_factory=dict)
    counts: Counter[tuple[str, str]] = field(default_factory=Counter)
    tags: dict[str, tuple[str, str]] = field(default_factory=dict)
    kinds: dict[str, str] = field(default_factory=dict)
    """Kinds of tags by their keys, as they are called."""

    def __post_init__(self) -> None:
        self.known = vocabulary(self.club)
        self.kinds = {self.kind(kind): led(kind) for kind in self.club.tags if self.kind(kind) not in words.TITLES}

    @staticmethod
    def kind(kind: str) -> str:
        """The facet of a kind of tags; one that is called as a facet of values has its tags there."""
        key = tag_key(kind)
        return next((facet for facet in (words.TECHNIQUE, words.FOLD) if facet == key), f"is-{anchor(kind)}")

    def kit(self, one: Listed) -> set[tuple[str, str]]:
        """The values of one kit."""
        found: set[tuple[str, str]] = set()

        def has(facet: str, key: str, label: Both, *order: object) -> None:
            before = self.labels.setdefault((facet, key), label)
            # Of stocks that count as one, the exact figures are shown.
            inches, millimetres = (new if ABOUT in old and ABOUT not in new else old for old, new in zip(before, label))
            self.labels[facet, key] = inches, millimetres
            self.order.setdefault((facet, key), order)
            found.add((facet, key))

        facts = one.listing.facts
        if facts:
            _by_values(facts, has)
            for paper in facts.cardstock:
                # By its own size it stood in addresses before.
                was = _size_key(paper.sheet, facts.unit)
                if not paper.size_name and (key := _stock(paper)[0]) != was:
                    self.tags[was] = words.STOCK, key
        for key, holds in (("old", one.past), ("upcoming", bool(one.upcoming))):
            if holds:
                has(words.ALSO, key, words.plain(words.LABELS[key]))
        said = {tag_key(other): at for at in found for label in self.labels[at] for other in (label, *_others(at, label, facts))}
        for tag in one.kit.spec.tags:
            at = said.get(tag_key(tag))
            if at is None:
                called, kind = self.known.get(tag_key(tag), (tag, ""))
                at = (self.kind(kind) if kind else words.OTHER, anchor(called))
                has(*at, words.plain(called), called.casefold())
            self.tags.setdefault(anchor(tag), at)
        self.counts.update(found)
        return found

    def facets(self) -> list[Facet]:
        """All facets that have a value, in their order."""
        named = [(key, words.TITLES[key]) for key in words.BEFORE_TAGS]
        named += self.kinds.items()
        named += [(key, words.TITLES[key]) for key in words.AFTER_TAGS]
        return [found for key, title in named if (found := self._facet(key, title)).values]

    def _facet(self, key: str, title: str) -> Facet:
        keys = sorted((at for at in self.labels if at[0] == key), key=lambda at: (self.order[at], at[1]))
        values = tuple(FacetValue(at[1], self.labels[at], self.counts[at]) for at in keys)
        return Facet(key, title, values, key in words.FIRST)


Has = Callable[..., None]


def _others(at: tuple[str, str], label: str, facts: KitFacts | None) -> Iterable[str]:
    """Other words for a value of a kit, by which a tag may say the same."""
    facet, key = at
    if facet == words.CARD:
        return next((called for called in SHAPES.values() if label in called), ())
    if facet == words.TECHNIQUE:
        return ALSO.get(label, ())
    if not facts:
        return ()
    if facet == words.SIZE:
        made = [card.size for card in facts.made if _size_key(card.size, facts.unit) == key]
        return [sheet.name for sheet in STOCKS for size in made if size in (sheet.size, sheet.size.turned)]
    if facet == words.SHEETS:
        return words.counted(key, "sheet") if key == str(facts.sheets) else ()
    if facet == words.PAPERS:
        return words.counted(key, "paper")
    if at == (words.ALSO, "designs"):
        return words.counted(str(len(facts.made)), "design")
    return words.OTHERWISE.get(key, ()) if facet in (words.UP, words.ALSO) else ()


def _by_values(facts: KitFacts, has: Has) -> None:
    for card in facts.made:
        # A slimline card is tall or wide besides.
        for shape in (card.shape, standing(card.size)):
            has(words.CARD, shape, words.plain(shape), list(SHAPES).index(shape))
        has(words.SIZE, _size_key(card.size, facts.unit), words.size_both(card.size), card.size.area, card.size.width)
        if card.envelope:
            label = words.plain(card.envelope.name) if card.envelope.name else words.size_both(card.envelope.size)
            has(words.ENVELOPE, anchor(card.envelope.name or _size_key(card.envelope.size, facts.unit)), label, label[0])
        fold = words.fold_both(card.fold) if card.fold else words.plain(words.LABELS["flat"])
        has(words.FOLD, anchor(card.fold or "flat"), fold, fold[0])
    for paper in facts.patterned:
        has(words.SHEET, *_stock(paper))
    for paper in facts.cardstock:
        has(words.STOCK, *_stock(paper))
    patterned = len(facts.patterned)
    if patterned:
        has(words.PAPERS, str(patterned), words.papers_both(patterned), patterned)
        _upto(has, words.SHEETS, facts.sheets, SHEETS, lambda n: words.up_to(n, "sheet"), lambda n: words.more_than(n, "sheet"))
        _upto(has, words.LEFT, facts.leftover * 100, LEFT, words.share_up_to, words.share_more)
        for least in SLACKS:
            if facts.slack >= least:
                has(words.SLACK, str(least.inches).replace("/", "-"), words.length_both(least), least)
    _upto(has, words.CUTS, Fraction(facts.cuts), CUTS, lambda n: words.up_to(n, "cut"), lambda n: words.more_than(n, "cut"))
    first, last = next((first, last) for first, last in MAKES if facts.cards >= first and (last is None or facts.cards <= last))
    has(words.MAKES, f"{first}-{last}" if last else f"{first}-more", words.between(first, last), first)
    for technique in facts.techniques:
        has(words.TECHNIQUE, anchor(technique), words.plain(technique), technique.casefold())
    for n, (facet, key, holds) in enumerate(
        (
            (words.UP, "one-way-drawn", facts.upright == "drawn"),
            (words.UP, "one-way-same", facts.one_way_friendly),
            (words.UP, "one-way-own", facts.one_way),
            (words.ALSO, "designs", len(facts.made) > 1),
            (words.ALSO, "looks", facts.looks > len(facts.made)),
            (words.ALSO, "half-sheets", any(paper.sheets.denominator > 1 for paper in facts.patterned)),
            (words.ALSO, "double-sided", any(paper.double_sided for paper in facts.patterned)),
            (words.ALSO, "cut-files", facts.cut_files),
            (words.ALSO, "corrected", facts.corrected),
            (words.ALSO, facts.unit, True),
        )
    ):
        if holds:
            has(facet, key, words.plain(words.LABELS[key]), n)
    if facts.quick:
        has(words.ALSO, words.QUICK, words.quick_both(*EASY["quick"]), -1)


def _upto(
    has: Has, facet: str, value: Fraction, bounds: Sequence[int], label: Callable[[int], Both], beyond: Callable[[int], Both]
) -> None:
    """A number as every bound that it does not pass."""
    for bound in bounds:
        if value <= bound:
            has(facet, f"{bound}", label(bound), bound)
    if value > bounds[-1]:
        has(facet, "more", beyond(bounds[-1]), bounds[-1] + 1)


def _stock(paper: PaperTraits) -> tuple[str, Both, Fraction]:
    """A patterned sheet as a value: its key, its label, its place in the order."""
    if paper.size_name:
        return anchor(paper.size_name), words.plain(paper.size_name), paper.sheet.area
    near = stock_of(paper.sheet)
    return _size_key(near, "in"), words.size_both(paper.sheet), near.area


@lru_cache(maxsize=1024)
def _size_key(size: Size, unit: str) -> str:
    """A size as addresses have it, whole tenths of a millimetre or exact parts of an inch: `5-1-4x5-1-4in`."""
    exact = size_text(size, unit, plain=True)
    if ABOUT in exact:
        exact = size_text(size, other_unit(unit), plain=True)
    return anchor(exact.replace(" × ", "x").replace(" in", "in").replace(" mm", "mm"))


# --- rows ---------------------------------------------------------------------------------------------------


SORTS: tuple[Callable[[KitFacts], Fraction | int], ...] = (
    lambda facts: facts.sheets,
    lambda facts: -facts.cards,
    lambda facts: facts.cuts,
    lambda facts: facts.leftover,
)
"""What rows are sorted by, besides their day."""


def _sorted_by(one: Listed, by: Callable[[KitFacts], Fraction | int]) -> Fraction | None:
    facts = one.listing.facts
    return Fraction(by(facts)) if facts else None


def _ranks(numbers: Sequence[Fraction | None]) -> list[int]:
    """Places in the order of numbers, the same for the same; what has none comes last."""
    places = {number: n for n, number in enumerate(sorted({number for number in numbers if number is not None}))}
    return [len(places) if number is None else places[number] for number in numbers]


def _row(one: Listed, values: tuple[int, ...], ranks: tuple[int, ...]) -> Row:
    kit, spec, facts, image = one.kit, one.kit.spec, one.listing.facts, one.images.get("thumbnail")
    picture = (f"kits/{kit.id}/{image.narrow}", image.narrow_width, image.narrow_height) if image else None
    cards = tuple(dict.fromkeys(card.size for card in facts.made)) if facts else ()
    patterned = facts.patterned if facts else ()
    sheets = tuple(dict.fromkeys(paper.sheet for paper in patterned if not paper.size_name))
    names = tuple(dict.fromkeys(paper.size_name for paper in patterned if paper.size_name))
    return Row(
        kit.id,
        spec.title,
        month_text(kit.month),
        kit.month.year,
        facts.unit if facts else "in",
        ("past" if spec.thumbnail else "page") if one.past else "",
        picture,
        image.alt if image else "",
        words.cards_line(facts.cards, len(facts.patterned), facts.sheets) if facts else " · ".join(one.line),
        words.sizes_both(cards),
        words.sizes_both(sheets, names),
        facts.cards if facts else spec.cards,
        fraction_text(facts.sheets) if facts else "",
        facts.cuts if facts else None,
        bool(facts and facts.corrected),
        bool(one.upcoming),
        values,
        ranks,
    )
