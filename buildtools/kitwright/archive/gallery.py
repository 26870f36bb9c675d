"""The gallery of a kit, or of one of its designs: every arrangement that is shown, drawn.

Nothing is found here: what there is, what is one card and what changes come from
`kitwright.otherwise.arrangements`; how it is told, from `kitwright.telling.gallery`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby

from kitwright import cache
from kitwright.archive.content import Content, size_of
from kitwright.archive.downloads import Download, editions_for
from kitwright.archive.offered import arrangements_name, arrangements_shown, has_page, sheet_name
from kitwright.archive.picture import Image, Picture
from kitwright.archive.pictures import patch
from kitwright.card.face import Face
from kitwright.drawing.alike import Canvas, canvas_for, on_canvas
from kitwright.drawing.front import Looks
from kitwright.drawing.png import png
from kitwright.drawing.shown import looks_on, scanned_looks
from kitwright.drawing.svg import svg
from kitwright.findings import Note
from kitwright.otherwise.arrangements import Arrangements, Group, Set
from kitwright.otherwise.arrangements.slots import Fill, places_of
from kitwright.printable.edition import EDITIONS
from kitwright.schemes import Palette
from kitwright.telling.arranging import titled
from kitwright.telling.gallery import card_text, fill_text, otherwise_text
from kitwright.telling.words import led
from kitwright.work.worked import Worked

WIDTH = 400
"""Points: the canvas of a card, wide enough for the greeting to be set as words."""
FEW, MANY = Fraction(6, 5), Fraction(4, 5)
"""Pixels to the point, in galleries of up to `MOST_LARGE` pictures and in larger ones. Large
views are SVG in any case."""
MOST_LARGE = 36
STRIP = 6
"""Cards shown on the kit's own page."""


@dataclass(frozen=True)
class Tile:
    """One card of the gallery."""

    slug: str
    """Its link on the page and the name of its files."""
    name: str
    image: Image
    top: str
    """Key of what leads: a paper and the face that shows."""
    made: str
    """`order` for an arrangement, the kind of a variation."""
    notes: tuple[Note, ...]
    """What differs from the sketch; for a variation, what changes."""


@dataclass(frozen=True)
class Gallery:
    """A kit's arrangements with their drawings."""

    found: Arrangements
    cards: dict[str, Tile]
    """Every card, by its slug."""
    tops: tuple[tuple[str, str, str], ...]
    """What can lead, to choose by: key, name and a patch of its paper; empty when it is always the same."""
    sheets: tuple[Download, ...]
    """The contact sheet in each edition, the club's own first."""

    @property
    def has_page(self) -> bool:
        """False where the pieces fit in one way only: then the kit's own page says so."""
        return has_page(self.found)

    @property
    def design(self) -> str:
        """Whose it is, where a kit has several designs."""
        return self.found.worked.kit.design

    @property
    def page(self) -> str:
        """Its page, as the kit's own page leads to it."""
        return f"{arrangements_name(self.design)}.html"

    @property
    def sections(self) -> list[tuple[Group, list[list[Tile]]]]:
        """Cards under one heading, by its first group. Each cluster is one card, shown every way round that it can be."""
        found = []
        for kind, same in groupby(self.found.groups, key=lambda group: group.kind):
            groups = list(same)
            tiles = [[self.cards[slug] for slug in group.slugs] for group in groups]
            found.append((groups[0], tiles if kind == "same" else [[tile] for cluster in tiles for tile in cluster]))
        return found

    @property
    def tiles(self) -> list[Tile]:
        """Every card, in the order of the page."""
        return [tile for _, clusters in self.sections for cluster in clusters for tile in cluster]

    def counted(self, by: str) -> Counter[str]:
        """How many cards there are by `top` or `made`."""
        return Counter(getattr(tile, by) for tile in self.cards.values())

    @property
    def sets(self) -> list[tuple[Set, tuple[Set, ...]]]:
        """Sets for the batch, the recommended one first, each with others that come to the same; none where all cards are alike."""
        best = self.found.recommended
        if len(self.found.items) < 2 or best is None:
            return []
        alike: dict[frozenset[object], list[Set]] = {}
        for one in self.found.sets:
            alike.setdefault(frozenset(one.parts), []).append(one)
        told = []
        for same in sorted(alike.values(), key=lambda same: best not in same):
            first = best if best in same else same[0]
            note = next((each.note for each in same if each.note), None)
            told.append((replace(first, note=note), tuple(each for each in same if each is not first)))
        return told

    @property
    def strip(self) -> list[Tile]:
        """Some cards for the kit's own page: those of the suggested set, or else whatever there is, but never the sketch alone."""
        chosen = [part.slug for part in self.sets[0][0].parts] if self.sets else []
        return [self.cards[slug] for slug in dict.fromkeys([*chosen, *self.cards])][:STRIP]

    def tile(self, said: str) -> Tile | None:
        """The card that is called so, by name or by link, if it has a place on a page: what a sample used."""
        word = self.found.called.get(said, said.strip().casefold())
        return next((t for t in self.tiles if word in (t.slug, t.name.casefold())), None) if self.has_page else None


def arrangement_of(galleries: Sequence[Gallery], said: str | None, design: str | None = None) -> tuple[str, Tile | None]:
    """The page and the card of a design that is called so, by name or by link; empty and None where it has no place on a page.

    Args:
        galleries: of every design, the first one's first.
        said: the name or the link.
        design: the first one when left out.
    """
    gallery = next((each for each in galleries if design in (None, each.design)), None)
    tile = gallery.tile(said) if gallery and said else None
    return (gallery.page, tile) if gallery and tile else ("", None)


def gallery_of(worked: Worked, offered: Mapping[str, Content], team: bool = False) -> tuple[Gallery, dict[str, bytes]]:
    """A gallery and its pictures, named as seen from the kit's own page.

    Args:
        worked: the kit, or one of its designs; it should have no errors left.
        offered: what readers can download, by name.
        team: for the team's eyes, who see scans that stay off the public site.

    Raises:
        UserError: the author's own mix, or a sample, names an arrangement that there is not.
    """
    found = arrangements_shown(worked)
    drawing = _Drawing(found, team)
    made = list(drawing.tiles())
    cards = {tile.slug: tile for tile, _ in made}
    if not has_page(found):
        return Gallery(found, cards, (), ()), {}
    files: dict[str, bytes] = {}
    palette = worked.kit.club.palette
    for _, card in made:
        files |= card.files(palette)
    tops = []
    for key, name, picture in drawing.tops():
        tops.append((key, name, f"{picture.name}.svg"))
        files |= picture.files(palette)
    return Gallery(found, cards, tuple(tops), sheets_of(worked, offered)), files


def sheets_of(worked: Worked, offered: Mapping[str, Content]) -> tuple[Download, ...]:
    """The contact sheet in each edition that is offered, the club's own first."""
    named = [(EDITIONS[edition].name, sheet_name(worked.kit, edition)) for edition in editions_for(worked.kit)]
    return tuple(Download(edition, name, size_of(offered[name])) for edition, name in named if name in offered)


@dataclass(frozen=True)
class _Card:
    """A card, to be drawn."""

    file: str
    """Its files, without an ending."""
    face: Face
    looks: Looks
    canvas: Canvas
    name: str
    alt: str
    pixels: Fraction
    """To a point."""

    def files(self, palette: Palette) -> dict[str, bytes]:
        """Its files by name, beside the kit's page."""
        return cache.value("tile", cache.digest(self, palette), lambda: self._drawn(palette))

    def _drawn(self, palette: Palette) -> dict[str, bytes]:
        scene = on_canvas(self.face, self.looks, self.canvas, self.name, self.alt)
        return {f"{self.file}.svg": svg(scene, palette=palette).encode(), f"{self.file}.png": png(scene, self.pixels, palette=palette)}


class _Drawing:
    def __init__(self, found: Arrangements, team: bool) -> None:
        self.found, self.kit, self.team = found, found.worked.kit, team
        self.folder = arrangements_name(self.kit.design)
        self.looks = scanned_looks(found.worked, team=team)
        self.places = {v.slug: places_of(v.worked) for v in found.variations}
        self.leading: dict[str, Fill] = {i.slug: i.filling[0] for i in found.items if i.filling}
        self.leading |= {slug: p.looks[0][0] for slug, p in self.places.items() if p.slots}
        faces = Counter(paper for paper, _ in {(f.paper, f.face) for slot in found.places.slots for f in slot.fills})
        self.two_faced = {paper for paper, n in faces.items() if n > 1}

    def tiles(self) -> Iterator[tuple[Tile, _Card]]:
        """Every card, and its drawing."""
        found = self.found
        canvas = canvas_for([i.face for i in found.items], WIDTH)
        for item in found.items:
            notes = tuple(note for note in (*item.differences, item.apart) if note)
            yield self._tile(item.slug, item.name, item.face, self._alt(item.filling, found.lead), "order", notes, canvas)
        # Variations may be upright or lie on their side: one canvas holds them all at one scale.
        if found.variations:
            canvas = canvas_for([found.worked.face, *(v.face for v in found.variations)], WIDTH)
        for one in found.variations:
            looks = self.places[one.slug].looks
            alt = otherwise_text(one.name, self._alt(looks[0] if looks else (), ""), one.face.fold)
            yield self._tile(one.slug, one.name, one.face, alt, one.kind, one.changes, canvas)

    def _tile(self, slug: str, name: str, face: Face, alt: str, made: str, notes: tuple[Note, ...], canvas: Canvas) -> tuple[Tile, _Card]:
        pixels = FEW if len(self.found.items) + len(self.found.variations) <= MOST_LARGE else MANY
        width, height = (-int(-(edge * pixels) // 1) for edge in (canvas.width, canvas.height))
        file = f"{self.folder}/{slug}"
        image = Image(f"{file}.svg", f"{file}.svg", f"{file}.png", alt, width, height, width, height)
        card = _Card(
            file,
            face,
            looks_on(self.found.worked, face, team=self.team),
            canvas,
            f"{titled(self.kit.spec.title, self.kit.design)}: {led(name)}",
            alt,
            pixels,
        )
        return Tile(slug, led(name), image, _key(self.leading[slug]) if slug in self.leading else "", made, notes), card

    def tops(self) -> Iterator[tuple[str, str, Picture]]:
        """What can lead: key, name and a patch of its paper; nothing when it is always the same."""
        leads = {_key(fill): fill for fill in self.leading.values()}
        if len(leads) < 2:
            return
        one_paper = len({fill.paper for fill in leads.values()}) == 1
        for key, fill in sorted(leads.items(), key=lambda pair: list(self.kit.papers).index(pair[1].paper)):
            face = self.kit.papers[fill.paper].face(fill.face)
            name = face.called.capitalize() if face and face.called and one_paper and fill.paper in self.two_faced else self._word(fill)
            yield key, name, patch(f"{self.folder}/paper-{key}", self.looks[fill.paper, fill.face], name)

    def _alt(self, filling: tuple[Fill, ...], lead: str) -> str:
        return card_text([self._word(fill) for fill in filling], lead)

    def _word(self, fill: Fill) -> str:
        return fill_text(self.kit, fill, self.two_faced)


def _key(fill: Fill) -> str:
    return f"{fill.paper}-{fill.face}"
