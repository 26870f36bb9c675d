"""The gallery of a kit: every arrangement that is shown, drawn, grouped and put into words.

Nothing is found here: what there is, what is one card and what changes come from
`kitwright.otherwise.arrangements`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from kitwright.archive.downloads import Download, editions_for
from kitwright.archive.offered import arrangements_shown, has_page, sheet_name
from kitwright.archive.pictures import looks_of, swatch
from kitwright.card.face import BACK_UP
from kitwright.drawing.alike import Canvas, canvas_for, on_canvas
from kitwright.drawing.front import Looks
from kitwright.drawing.png import png
from kitwright.drawing.scene import Scene
from kitwright.drawing.svg import svg
from kitwright.otherwise.arrangements import Arrangements, Set
from kitwright.otherwise.arrangements.slots import Fill, places_of
from kitwright.printable.edition import EDITIONS
from kitwright.telling.arranging import alike_text, counted_text, group_title, set_name, turning_text, why_text
from kitwright.telling.motions import one_after_another
from kitwright.telling.words import label_text, led, listed, number, spelled
from kitwright.work.worked import Worked

FOLDER = "arrangements"
"""The folder of its pictures, beside the kit’s own page."""
WIDTH = 400
"""Points: the canvas of a card, wide enough for the greeting to be set as words."""
FEW, MANY = Fraction(6, 5), Fraction(4, 5)
"""Pixels to the point, in galleries of up to `MOST_LARGE` pictures and in larger ones. Large
views are SVG in any case."""
MOST_LARGE = 36
STRIP = 6
"""Cards shown on the kit's own page."""
MADE = {
    "order": "Another order",
    "turned": "Turned later",
    "fold": "Another fold",
    "mat": "Mat moved",
    "strip": "Sentiment moved",
    "raised": "On foam or flat",
    "stamped": "Sentiment stamped",
}
"""In what way a card is made otherwise: key and words for the filter."""
LEADS = {
    "changes": "The same cuts, put on a card that is made a little differently.",
    "cuts": "These need a cut that the printable does not show. What changes stands with each.",
}


@dataclass(frozen=True)
class Tile:
    """One card of the gallery."""

    slug: str
    """Its link on the page and the name of its files."""
    name: str
    alt: str
    width: int
    """Pixels of its small picture."""
    height: int
    top: str
    """Key of what leads: a paper and the face that shows."""
    made: str
    """Key from `MADE`."""
    told: tuple[str, ...]
    """What differs from the sketch; for a variation, what changes."""
    own: bool
    """Whether the kit itself shows it."""

    @property
    def svg(self) -> str:
        return f"{FOLDER}/{self.slug}.svg"

    @property
    def png(self) -> str:
        return f"{FOLDER}/{self.slug}.png"


@dataclass(frozen=True)
class Section:
    """Cards under one heading."""

    kind: str
    title: str
    lead: str
    clusters: tuple[tuple[Tile, ...], ...]
    """Each cluster is one card, shown every way round that it can be."""

    @property
    def roomy(self) -> bool:
        """Whether the words stand beside each card: there is much to say, or only one card."""
        return self.kind in ("order", "changes", "cuts") or len(self.clusters) == 1 == len(self.clusters[0])


@dataclass(frozen=True)
class Choice:
    """One button of a filter."""

    key: str
    name: str
    count: int
    swatch: str = ""
    """A patch of paper, if it stands for one."""


@dataclass(frozen=True)
class SetView:
    """Cards for the whole batch."""

    name: str
    also: tuple[str, ...]
    """Other sets that come to the same."""
    parts: tuple[tuple[int, Tile], ...]
    left: str
    note: str

    @property
    def each(self) -> int:
        """How many of each, where that is the same for all; else 0."""
        counts = {cards for cards, _ in self.parts}
        return counts.pop() if len(counts) == 1 else 0


@dataclass(frozen=True)
class Gallery:
    """All that the gallery says, and the short section on the kit's own page."""

    has_page: bool
    """False where the pieces fit in one way only: then the kit's own page says so."""
    counts: str
    turning: str
    rule: str
    """Which are shown, when not all are."""
    shortcut: str
    sections: tuple[Section, ...]
    lead: str
    """Where the leading piece lies: `on top`."""
    tops: tuple[Choice, ...]
    """Filter by what leads; empty when it is always the same."""
    mades: tuple[Choice, ...]
    """Filter by variation; empty when there is none."""
    best: SetView | None
    """The recommended set; None where all cards are alike."""
    others: tuple[SetView, ...]
    refused: tuple[tuple[str, str], ...]
    small: tuple[str, ...]
    """How was counted."""
    sheets: tuple[Download, ...]
    """The contact sheet in each edition, the club's own first."""
    strip: tuple[Tile, ...]
    """Some cards for the kit's own page."""
    called: dict[str, str]
    """What samples call their arrangements, each with its link."""

    @property
    def tiles(self) -> tuple[Tile, ...]:
        """Every card, in the order of the page."""
        return tuple(tile for section in self.sections for cluster in section.clusters for tile in cluster)

    def tile(self, said: str) -> Tile | None:
        """The card that is called so, by name or by link, if it has a place on a page: what a sample used."""
        word = self.called.get(said, said.strip().casefold())
        return next((t for t in self.tiles if word in (t.slug, t.name.casefold())), None) if self.has_page else None


def gallery_of(worked: Worked, offered: Mapping[str, bytes]) -> tuple[Gallery, dict[str, bytes]]:
    """A kit's gallery and its pictures, named as seen from the kit's own page.

    Args:
        worked: the kit; it should have no errors left.
        offered: what readers can download, by name.

    Raises:
        UserError: the author's own mix, or a sample, names an arrangement that there is not.
    """
    return _Maker(arrangements_shown(worked)).made(offered)


class _Maker:
    def __init__(self, found: Arrangements) -> None:
        self.found, self.worked, self.kit = found, found.worked, found.worked.kit
        self.looks: Looks = looks_of(self.worked)
        self.places = {v.slug: places_of(v.worked) for v in found.variations}
        self.leading = {i.slug: i.filling[0] for i in found.items} | {s: p.slots and p.looks[0][0] for s, p in self.places.items()}
        self.two_faced = {
            paper
            for paper, n in Counter(paper for paper, _ in {(f.paper, f.face) for slot in found.places.slots for f in slot.fills}).items()
            if n > 1
        }

    def made(self, offered: Mapping[str, bytes]) -> tuple[Gallery, dict[str, bytes]]:
        found = self.found
        files: dict[str, bytes] = {}
        shown = has_page(found)
        tiles = self._tiles()
        if shown:
            for slug, (_, scene, pixels) in tiles.items():
                files |= {f"{FOLDER}/{slug}.svg": svg(scene).encode(), f"{FOLDER}/{slug}.png": png(scene, pixels)}
        known = {slug: tile for slug, (tile, _, _) in tiles.items()}
        best, others = self._sets(known)
        gallery = Gallery(
            shown,
            self._counts(),
            turning_text(found),
            found.rule.words if found.rule else "",
            found.shortcut.words if found.shortcut else "",
            self._sections(known),
            found.lead or "first",
            self._tops(known, files) if shown else (),
            _mades(known),
            best,
            others,
            tuple((one.name, why_text(one)) for one in found.refused),
            self._small(),
            self._sheets(offered) if shown else (),
            self._strip(known, best),
            found.called,
        )
        return gallery, files

    # --- cards ------------------------------------------------------------------------------------

    def _tiles(self) -> dict[str, tuple[Tile, Scene, Fraction]]:
        """Every card by its slug, its drawing, and how finely it is drawn."""
        found = self.found
        pixels = FEW if len(found.items) + len(found.variations) <= MOST_LARGE else MANY
        made: dict[str, tuple[Tile, Scene, Fraction]] = {}
        canvas = canvas_for([i.face for i in found.items], WIDTH)
        for item in found.items:
            alt = self._alt(item.filling, found.lead)
            told = tuple(note.words for note in (*item.differences, item.apart) if note)
            made[item.slug] = self._tile(item.slug, item.name, item.face, alt, "order", told, item.own, canvas, pixels)
        # Variations may be upright or lie on their side: one canvas holds them all at one scale.
        if found.variations:
            canvas = canvas_for([self.worked.face, *(v.face for v in found.variations)], WIDTH)
        for one in found.variations:
            looks = self.places[one.slug].looks
            alt = f"{one.name}. {self._alt(looks[0] if looks else (), '')}, folded at the {'left' if one.face.fold == 'side' else 'top'}"
            made[one.slug] = self._tile(
                one.slug, one.name, one.face, alt, one.kind, tuple(change.words for change in one.changes), False, canvas, pixels
            )
        return made

    def _tile(self, slug, name, face, alt, made, told, own, canvas: Canvas, pixels: Fraction) -> tuple[Tile, Scene, Fraction]:
        name = led(name)
        scene = on_canvas(face, self.looks, canvas, f"{self.kit.spec.title}: {name}", alt)
        size = [-int(-(edge * pixels) // 1) for edge in (scene.width, scene.height)]
        lead = self.leading[slug]
        return Tile(slug, name, alt, *size, _key(lead) if lead else "", made, told, own), scene, pixels

    def _alt(self, filling: tuple[Fill, ...], lead: str) -> str:
        """What lies where, in the order of the places; what lies over the others only where it can differ."""
        told = [self._word(fill) for fill in filling]
        if not told:
            return "Card front"
        if len(set(told)) == 1:
            return f"Card front: {told[0]} everywhere"
        rest = f", then {one_after_another(told[1:])}" if told[1:] else ""
        return f"Card front: {told[0]}{' ' if lead else ''}{lead}{rest}"

    def _word(self, fill: Fill) -> str:
        """A paper, and its face where both may show."""
        paper = self.kit.papers[fill.paper]
        told = [paper.face(fill.face).look] * (fill.paper in self.two_faced) + [BACK_UP] * (fill.face == "back")
        return f"{paper.name} ({', '.join(told)})" if told else paper.name

    # --- groups -----------------------------------------------------------------------------------

    def _sections(self, tiles: dict[str, Tile]) -> tuple[Section, ...]:
        sections = []
        for kind, groups in groupby(self.found.groups, key=lambda g: g.kind):
            groups = list(groups)
            together = kind == "same"
            clusters = [tuple(tiles[s] for s in g.slugs) for g in groups] if together else [(tiles[s],) for g in groups for s in g.slugs]
            title = group_title(self.found, groups[0])
            if kind == "alone" and len(clusters) == 1:
                title = "As the kit makes it"
            sections.append(Section(kind, title, LEADS.get(kind, ""), tuple(clusters)))
        return tuple(sections)

    def _strip(self, tiles: dict[str, Tile], best: SetView | None) -> tuple[Tile, ...]:
        """The cards of the suggested set, or else whatever there is, but never the sketch alone."""
        chosen = [tile for _, tile in best.parts] if best else []
        return tuple(dict.fromkeys([*chosen, *tiles.values()]))[:STRIP]

    # --- filters ----------------------------------------------------------------------------------

    def _tops(self, tiles: dict[str, Tile], files: dict[str, bytes]) -> tuple[Choice, ...]:
        counts = Counter(tile.top for tile in tiles.values())
        leads = {_key(fill): fill for fill in self.leading.values() if fill}
        if len(leads) < 2:
            return ()
        one_paper = len({fill.paper for fill in leads.values()}) == 1
        choices = []
        for key, fill in sorted(leads.items(), key=lambda pair: list(self.kit.papers).index(pair[1].paper)):
            paper = self.kit.papers[fill.paper]
            look = paper.face(fill.face).look
            name = look.capitalize() if one_paper and fill.paper in self.two_faced else self._word(fill)
            file = f"{FOLDER}/paper-{key}.svg"
            files[file] = svg(swatch(self.looks[fill.paper, fill.face], name)).encode()
            choices.append(Choice(key, name, counts[key], file))
        return tuple(choices)

    # --- sets -------------------------------------------------------------------------------------

    def _sets(self, tiles: dict[str, Tile]) -> tuple[SetView | None, tuple[SetView, ...]]:
        """The recommended set and the others; what comes to the same is said once."""
        if len(self.found.items) < 2:
            return None, ()
        alike: dict[frozenset, list[Set]] = {}
        for one in self.found.sets:
            alike.setdefault(frozenset(one.parts), []).append(one)
        best, others = None, []
        for same in alike.values():
            chosen = self.found.recommended in same
            first = self.found.recommended if chosen and self.found.recommended else same[0]
            told = SetView(
                set_name(self.found, first),
                tuple(set_name(self.found, s) for s in same if s is not first),
                tuple((part.cards, tiles[part.slug]) for part in first.parts),
                self._left(first),
                next((s.note.words for s in same if s.note), ""),
            )
            if chosen:
                best = told
            else:
                others.append(told)
        return best, tuple(others)

    def _left(self, one: Set) -> str:
        return listed([f"{n} {label_text(label, n)} of {self.kit.papers[paper].name}" for label, paper, n in one.left])

    # --- words ------------------------------------------------------------------------------------

    def _counts(self) -> str:
        counts, variations = self.found.counts, len(self.found.variations)
        if counts.counted == 1:
            return (
                "The pieces fit in one order only, the one in the sketch."
                if not variations
                else f"The pieces fit in one order only, but the card can be made in {spelled(variations)} other "
                f"{'way' if variations == 1 else 'ways'}."
            )
        told = f"{counts.counted} arrangements of the same pieces"
        told += (
            f" make {number(counts.different, 'different card', 'different cards')}: the others are one of these, {alike_text(self.found.motions)}."
            if counts.different < counts.counted
            else ", each a card of its own."
        )
        if variations:
            told += f" The card can also be made in {spelled(variations)} other {'way' if variations == 1 else 'ways'}."
        return told

    def _small(self) -> tuple[str, ...]:
        counts = self.found.counts
        told = [*(rule.words for rule in self.found.rules), counted_text(self.found.motions)]
        if counts.if_no_up != (counts.counted, counts.different):
            told.append(
                f"If no paper had an up, there would be {number(counts.if_no_up[0], 'arrangement', 'arrangements')} "
                f"and {number(counts.if_no_up[1], 'different card', 'different cards')}."
            )
        return tuple(told)

    def _sheets(self, offered: Mapping[str, bytes]) -> tuple[Download, ...]:
        named = [(EDITIONS[edition].name, sheet_name(self.kit, edition)) for edition in editions_for(self.kit.club)]
        return tuple(Download(edition, name, len(offered[name])) for edition, name in named if name in offered)


def _key(fill: Fill) -> str:
    return f"{fill.paper}-{fill.face}"


def _mades(tiles: dict[str, Tile]) -> tuple[Choice, ...]:
    counts = Counter(tile.made for tile in tiles.values())
    names = MADE | ({"order": "As the kit makes it"} if counts["order"] == 1 else {})
    return tuple(Choice(key, name, counts[key]) for key, name in names.items() if counts[key]) if len(counts) > 1 else ()
