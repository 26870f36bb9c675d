"""What each kind of page says, as plain values for its template.

Nothing is computed here: sizes, counts and steps come from the worked kit and are only
put into words and rows.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

from kitwright.archive.desk import Desk
from kitwright.archive.gather import Entry, kit_of
from kitwright.archive.pictures import Picture, Pictures
from kitwright.card.face import Sum
from kitwright.cutting.plan import Layout
from kitwright.drawing.scene import Scene
from kitwright.kit.model import Club
from kitwright.kit.names import BASE
from kitwright.kit.read import PastKit
from kitwright.telling.backs import back_text, marked
from kitwright.telling.facts import grain_advice
from kitwright.telling.lookup import ToldCopy
from kitwright.telling.post import overall_text
from kitwright.telling.shapes import shaped_with
from kitwright.telling.slack import short_text
from kitwright.telling.steps import Step, steps_of
from kitwright.telling.sums import where_text
from kitwright.telling.words import label_text, led, listed, month_text, number, sheets_text, spelled
from kitwright.units import Length, Size, figure, length_text, other_unit, rounded, size_text
from kitwright.work.cite import notes_of
from kitwright.work.worked import Worked

EDITIONS = {"letter": "Letter", "a4": "A4"}
"""The printable's editions: key and name."""


def editions_for(club: Club) -> list[str]:
    """Keys of `EDITIONS`, the one of the club's own region first."""
    first = "letter" if club.region == "us" else "a4"
    return sorted(EDITIONS, key=lambda e: e != first)


@dataclass(frozen=True)
class Said:
    """A figure in the kit's own unit, and in the other one."""

    first: str
    second: str = ""


@dataclass(frozen=True)
class Fact:
    """One line of the summary."""

    name: str
    value: Said


@dataclass(frozen=True)
class Shown:
    """A picture as a page refers to it."""

    src: str
    narrow: str
    """The phone's redraw; the same as `src` when there is none."""
    png: str
    alt: str
    width: int
    height: int
    narrow_width: int
    narrow_height: int


@dataclass(frozen=True)
class Card:
    """A kit as other pages refer to it."""

    id: str
    page: str
    """Its page in the content tree."""
    title: str
    summary: str
    when: str
    """`March 2026`."""
    year: int
    line: tuple[str, ...]
    """Cards and size, each in a few words; for a past kit, what is known."""
    tags: tuple[str, ...]
    thumbnail: Shown | None
    past: bool
    upcoming: str = ""
    """When it will be public, on the team's site; empty once it is."""


@dataclass(frozen=True)
class State:
    """Which state of a kit a page shows."""

    line: str
    """`Revision 2, released 9 May 2027`, or that it is a preview."""
    code: str
    """The code on its printables."""
    preview: bool
    """Whether it was not released yet."""
    older: tuple[OldRevision, ...] = ()
    """Revisions that were replaced, newest first."""


@dataclass(frozen=True)
class OldRevision:
    """A revision that was replaced, at its own address below the kit's page."""

    number: int
    line: str
    """`Revision 1, released 9 May 2027`."""
    code: str
    replaced: str
    """By what: `revision 2, released 16 May 2027`."""
    newest: int
    told: ToldCopy
    """What the newest says otherwise, and what somebody who has this one does."""
    folder: str
    """Where its printables lie: `r1/`."""
    downloads: tuple[Download, ...]
    errata: tuple[str, ...]
    """Places on the page of errata that concern it, newest first."""


@dataclass(frozen=True)
class PaperRow:
    """A paper on the shopping list."""

    swatch: Shown
    name: str
    kind: str
    sheet: Said
    batch: str
    """Sheets that the batch takes, whole and half."""
    buy: str
    """Whole sheets to have at hand."""
    spare: str


@dataclass(frozen=True)
class PieceRow:
    """A label in the piece list."""

    label: str
    size: Said
    use: str
    counts: tuple[tuple[str, int], ...]
    """Paper and number of pieces."""
    total: int


@dataclass(frozen=True)
class GuideView:
    """One way of cutting a sheet."""

    title: str
    papers: str
    gives: str
    left: str
    slack: str
    used: str
    picture: Shown
    desk: Desk


@dataclass(frozen=True)
class Download:
    """One edition of the printable."""

    name: str
    file: str
    size: str


@dataclass(frozen=True)
class KitView:
    """A kit's own page."""

    card: Card
    lead: Shown
    sketch: Shown
    looks: tuple[tuple[str, str, Shown], ...]
    """Name, number of cards and picture of each look; empty when there is one."""
    facts: tuple[Fact, ...]
    papers: tuple[PaperRow, ...]
    sundries: tuple[str, ...]
    pieces: tuple[PieceRow, ...]
    guides: tuple[GuideView, ...]
    steps: tuple[Step, ...]
    base: Shown
    base_facts: tuple[Fact, ...]
    layers: Shown
    sums: tuple[tuple[str, tuple[tuple[str, str], ...], str], ...]
    notes: str
    photos: tuple[tuple[str, str, str], ...]
    """File, alt text and caption."""
    downloads: tuple[Download, ...]
    """The club's own edition first."""
    unit: str
    state: State | None = None
    """Which state it shows; None for a page that stands for itself, in a test."""
    for_members: tuple[str, ...] = ()
    """What members get besides, by name alone."""


@dataclass(frozen=True)
class PastView:
    """A past kit's page."""

    card: Card
    lead: Shown | None
    facts: tuple[Fact, ...]
    downloads: tuple[Download, ...]


# --- small words ----------------------------------------------------------------------------


def said_size(size: Size, unit: str) -> Said:
    """A size in both units."""
    return Said(size_text(size, unit), size_text(size, other_unit(unit)))


def said_length(length: Length, unit: str) -> Said:
    """A length in both units."""
    return Said(length_text(length, unit), length_text(length, other_unit(unit)))


def shape_word(size: Size) -> str:
    """`square`, `upright` or `landscape`."""
    return "square" if size.width == size.height else "upright" if size.width < size.height else "landscape"


def shown(picture: Picture, folder: str = "") -> Shown:
    """A picture as a page in or above its folder refers to it."""
    pixels = [int(edge * 4 / 3) for edge in (picture.wide.width, picture.wide.height, picture.narrow.width, picture.narrow.height)]
    narrow = picture.name if picture.narrow == picture.wide else f"{picture.name}-narrow"
    return Shown(f"{folder}{picture.name}.svg", f"{folder}{narrow}.svg", f"{folder}{picture.name}.png", picture.alt, *pixels)


def shown_scene(name: str, scene: Scene) -> Shown:
    """One drawing for every width, an SVG of this name alone."""
    width, height = int(scene.width * 4 / 3), int(scene.height * 4 / 3)
    return Shown(f"{name}.svg", f"{name}.svg", f"{name}.svg", scene.alt, width, height, width, height)


def bytes_text(size: int) -> str:
    """`84 kB`, `1.2 MB`."""
    return f"{size / 1e6:.1f} MB" if size >= 950_000 else f"{max(round(size / 1000), 1)} kB"


# --- cards ------------------------------------------------------------------------------------


def card_of(entry: Entry, thumbnail: Shown | None) -> Card:
    """A kit as other pages refer to it; the paths are those seen from the top of the site."""
    kit = kit_of(entry)
    spec = kit.spec
    if isinstance(entry, PastKit):
        line = (number(spec.cards, "card", "cards"),) if spec.cards else ()
        return Card(
            kit.id,
            f"kits/{kit.id}/index.md",
            spec.title,
            spec.summary or "",
            month_text(kit.month),
            kit.month.year,
            line,
            spec.tags,
            thumbnail,
            True,
        )
    size = entry.base.finished
    line = number(spec.cards, "card", "cards"), f"{shape_word(size)} {size_text(size, spec.unit)}"
    return Card(
        kit.id,
        f"kits/{kit.id}/index.md",
        spec.title,
        spec.summary,
        month_text(kit.month),
        kit.month.year,
        line,
        spec.tags,
        thumbnail,
        False,
    )


# --- a kit's own page ---------------------------------------------------------------------------


def kit_view(worked: Worked, card: Card, pictures: Pictures, desks: tuple[Desk, ...], downloads: tuple[Download, ...]) -> KitView:
    """All that a kit's page says."""
    spec = worked.kit.spec
    looks = tuple((face.name, number(face.cards, "card", "cards"), shown(picture)) for face, picture in zip(worked.faces, pictures.looks))
    return KitView(
        card,
        shown(pictures.card),
        shown(pictures.sketch),
        looks,
        _facts(worked),
        tuple(_paper(worked, pictures, plan.paper) for plan in worked.plans),
        _sundries(worked),
        _pieces(worked),
        tuple(_guide(worked, *each) for each in zip(worked.layouts, pictures.guides, desks)),
        steps_of(worked),
        shown(pictures.base),
        _base_facts(worked),
        shown(pictures.layers),
        tuple(_sum(s, spec.unit) for s in worked.face.sums),
        notes_of(worked),
        tuple((photo.file, photo.alt or "", photo.caption or "") for photo in spec.photos),
        downloads,
        spec.unit,
    )


def _facts(worked: Worked) -> tuple[Fact, ...]:
    spec, base = worked.kit.spec, worked.base
    unit = spec.unit
    makes = number(spec.cards, "card", "cards")
    if len(worked.faces) > 1:
        makes += f" in {spelled(len(worked.faces))} looks"
    card = said_size(base.finished, unit)
    if worked.enclosed.overhangs:
        card = replace(card, second=f"{card.second}; {overall_text(worked, unit)}")
    found = [Fact("Makes", Said(makes)), Fact("Finished card", card)]
    envelope = spec.card.envelope
    if envelope:
        size = said_size(envelope.size, unit)
        found.append(Fact("Envelope", Said(envelope.name, f"{size.first} ({size.second})") if envelope.name else size))
    if worked.face.sentiment:
        found.append(Fact("Greeting", Said(f"“{worked.face.sentiment.text}”", size_text(worked.face.sentiment.rect.size, unit))))
    return tuple(found)


def _base_facts(worked: Worked) -> tuple[Fact, ...]:
    base, unit = worked.base, worked.kit.spec.unit
    edge = "left" if base.fold == "side" else "top"
    paper = worked.kit.papers[worked.kit.spec.card.base.paper]
    return (
        Fact("Cut", said_size(base.cut, unit)),
        Fact("Score", Said(f"{length_text(base.score, unit)} from the {edge}", length_text(base.score, other_unit(unit)))),
        Fact(
            "Fold", Said(f"{base.fold.capitalize()} fold, to {size_text(base.finished, unit)}", size_text(base.finished, other_unit(unit)))
        ),
        Fact("Grain", Said(led(grain_advice(worked)))),
        Fact("From", Said(paper.name, paper.weight.text if paper.weight else "")),
    )


def _paper(worked: Worked, pictures: Pictures, key: str) -> PaperRow:
    paper, plan, unit = worked.kit.papers[key], worked.plan(key), worked.kit.spec.unit
    size = said_size(paper.size.size, unit)
    sheet = Said(paper.size.name, f"{size.first} ({size.second})") if paper.size.name else size
    kind = paper.weight.text if paper.weight else f"{paper.kind} paper" if paper.kind == "patterned" else paper.kind
    spare = listed([f"{n} {label_text(label, n)}" for label, n in plan.spare.items()])
    return PaperRow(shown(pictures.swatches[key]), paper.name, kind, sheet, sheets_text(plan.sheets), str(ceil(plan.sheets)), spare)


def _sundries(worked: Worked) -> tuple[str, ...]:
    spec, face, unit = worked.kit.spec, worked.face, worked.kit.spec.unit
    found = []
    if spec.card.envelope:
        size = said_size(spec.card.envelope.size, unit)
        name = spec.card.envelope.name or "envelope"
        found.append(f"{number(spec.cards, 'envelope', 'envelopes')}: {name}, {size.first} ({size.second})")
    if face.sentiment:
        found.append(
            f"A stamp, or a printed line, for “{face.sentiment.text}”, no larger than {size_text(face.sentiment.rect.size, unit)}, and ink"
        )
    found.append("A trimmer, something to score with, and adhesive for paper")
    found += [
        f"Small sharp scissors and a hole punch, {length_text(piece.shape.tag.hole, unit)} across, for {label}"
        for label, piece in spec.pieces.items()
        if piece.shape and piece.shape.tag
    ]
    if any(placed.raised for placed in face.stack):
        found.append("Foam squares or foam tape for what is raised")
    found += [f"For decoration: {spot.name}{', if you like' if spot.optional else ''}" for spot in _distinct(face.spots)]
    return tuple(found)


def _distinct(spots) -> list:
    return list({(s.name, s.optional): s for s in spots}.values())


def _pieces(worked: Worked) -> tuple[PieceRow, ...]:
    spec, unit, rows = worked.kit.spec, worked.kit.spec.unit, []
    for label, size in worked.sizes.items():
        counts = worked.counts(label)
        use = "card base" if label == BASE else ", ".join(filter(None, (spec.pieces[label].use, shaped_with(spec.pieces[label], unit))))
        rows.append(
            PieceRow(
                label,
                said_size(size, unit),
                use,
                tuple((", ".join(filter(None, (worked.kit.papers[p].name, back_text(worked, label, [p])))), n) for p, n in counts.items()),
                sum(counts.values()),
            )
        )
    return tuple(rows)


def _guide(worked: Worked, layout: Layout, picture: Picture, desk: Desk) -> GuideView:
    kit, unit = worked.kit, worked.kit.spec.unit
    runs: dict[str, list[str]] = {}
    for plan in worked.plans:
        for run in plan.runs:
            if run.layout == layout:
                runs.setdefault(sheets_text(run.sheets), []).append(kit.papers[plan.paper].name)
    left = [size_text(r.size, unit) for r in layout.leftovers]
    counted = [f"{left.count(s)} of {s}" if left.count(s) > 1 else s for s in dict.fromkeys(left)]
    return GuideView(
        layout.name,
        listed([f"{sheets} {'each ' if len(names) > 1 else ''}of {listed(names)}" for sheets, names in runs.items()]),
        listed([marked(f"{n} {label_text(label, n)}", back_text(worked, label, layout.papers)) for label, n in layout.yields.items()]),
        listed(counted) or "nothing",
        short_text(layout.slack, unit),
        f"{rounded(layout.used * 100)} %",
        shown(picture),
        desk,
    )


def _sum(line: Sum, unit: str) -> tuple[str, tuple[tuple[str, str], ...], str]:
    return (where_text(line), tuple((t.name, figure(t.length, unit)) for t in line.terms), length_text(line.reached, unit))


def past_view(kit: PastKit, card: Card, picture: Shown | None, download: Download) -> PastView:
    """A past kit's page: only what its author wrote down."""
    facts = [Fact("Makes", Said(number(kit.spec.cards, "card", "cards")))] if kit.spec.cards else []
    facts += [Fact(led(name), Said(value)) for name, value in kit.spec.facts.items()]
    return PastView(card, picture, tuple(facts), (download,))


# --- pages about many kits ------------------------------------------------------------------------


def by_year(cards: list[Card]) -> list[tuple[int, list[Card]]]:
    """Newest year first, newest kit first within it."""
    years: dict[int, list[Card]] = {}
    for card in reversed(cards):
        years.setdefault(card.year, []).append(card)
    return sorted(years.items(), reverse=True)


def by_tag(cards: list[Card]) -> list[tuple[str, list[Card]]]:
    """Every tag, in order of the alphabet, with its kits, newest first."""
    tags: dict[str, list[Card]] = {}
    for card in reversed(cards):
        for tag in dict.fromkeys(card.tags):
            tags.setdefault(tag, []).append(card)
    return sorted(tags.items(), key=lambda t: (t[0].casefold(), t[0]))
