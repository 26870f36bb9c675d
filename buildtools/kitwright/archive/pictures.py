"""Which pictures a kit’s page shows, each drawn for a wide page and again for a phone; those beside strokes and steps are in `pictures_beside`."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial
from typing import Literal

from kitwright.archive.picture import BESIDE, NARROW, ROW, WIDE, Picture, named, one_scene
from kitwright.archive.pictures_beside import hand_pictures, step_pictures
from kitwright.card.face import Face
from kitwright.card.shapes import outline_of
from kitwright.card.stepped import with_step
from kitwright.cutting.plan import Layout
from kitwright.drawing.base import base_flat
from kitwright.drawing.designs import DesignFront, designs_card, designs_sketch
from kitwright.drawing.display.cards import fans
from kitwright.drawing.display.display import display, fanned_out
from kitwright.drawing.display.ratios import SHARE
from kitwright.drawing.folds.diagram import fold_diagram
from kitwright.drawing.folds.lies import lying_on, on_panels
from kitwright.drawing.front import Looks
from kitwright.drawing.guide import cutting_guide
from kitwright.drawing.holds.held import held_of
from kitwright.drawing.layers import layer_steps
from kitwright.drawing.looks import DrawnLook, lay
from kitwright.drawing.miniature import miniature
from kitwright.drawing.scene import Box, Draft, Scene
from kitwright.drawing.shown import closed_each, looks_of, looks_of_each, looks_on, scanned_looks, sources_on
from kitwright.drawing.sketch import card_sketch
from kitwright.drawing.template import piece_template
from kitwright.drawing.thumbnail import thumbnail
from kitwright.labels import anchor
from kitwright.telling.backs import backs_on
from kitwright.telling.drawn import sheet_alt
from kitwright.telling.folds import fold_text
from kitwright.telling.goes import design_text, goes_on, side_text
from kitwright.telling.kitpage import open_sheets
from kitwright.telling.paper_colours import colour_text
from kitwright.telling.pictured import card_alt, fan_alt, look_alt
from kitwright.telling.scans import sources_text
from kitwright.telling.words import led
from kitwright.units import Rough, other_unit
from kitwright.work.taken import first_cards
from kitwright.work.worked import Worked

SMALL = 240
"""Points: the width of thumbnails and of the looks of a batch."""
SWATCH = 36
"""Points, each way."""
APART = 40
"""Points from one patch to the next where all of a kit are on one drawing."""
SHEET = 42
"""Points, each way: a sheet beside its name, where it lies closed."""


def pictures_of(worked: Worked, team: bool = False) -> dict[str, Picture]:
    """Draw a kit's pictures as scenes, by name.

    `card` the finished card, `thumbnail`, `share` what goes with a link where the club has an address, `sketch` the front with labels and dimensions, `look-1` … the card in
    each look where there are several, `guide-1` … for each layout, `sheet-4` … those that lie closed, small, `base` laid flat, `fold` how the base folds
    where that is more than once in the middle, `sketch-FACE` and `layers-FACE` what stands on other faces,
    `pocket-LABEL`, `shaker-LABEL` and `band-LABEL` how things are held, `layers` how the front goes together,
    `paper-KEY` a patch of each paper and `papers` all of them, `step-STAGE` … what is seen after a step (see `pictures_beside`),
    `hand-1-2` … the sheet in hand at each step of a guide, `shape-LABEL` a piece that is more than a rectangle.

    Of several designs, `card`, `thumbnail`, `share` and `sketch` show all of them; what is about one card is drawn for each,
    under `named`.

    Finished cards and patches show the scans of their papers; those that stay off the public site only for the `team`.
    What has figures on it has the same `beside` it in the other unit.
    """
    told = worked.told_in(Rough(other_unit(worked.unit)))
    others = {picture.name: picture for picture in _pictures(told, team) if picture.unit}
    found = [
        replace(picture, beside=replace(others[picture.name], name=f"{picture.name}--{told.unit}", pixels=False))
        if picture.unit
        else picture
        for picture in _pictures(worked, team)
    ]
    names = {picture.name for picture in found}
    # A face or a design may be called “narrow”.
    found = [replace(picture, narrow_end="--narrow") if f"{picture.name}-narrow" in names else picture for picture in found]
    return {picture.name: picture for picture in found}


def _pictures(worked: Worked, team: bool) -> list[Picture]:
    """All pictures of a kit in the unit in which it is told."""
    looks, scanned, unit = looks_of(worked), scanned_looks(worked, team=team), worked.unit

    def guide(name: str, layout: Layout) -> Picture:
        look, backs, goes = looks.get((layout.papers[0], "front")), backs_on(worked, layout), goes_on(worked, layout)
        return _both(
            name,
            (layout.tree, layout.name, unit, look, backs, goes),
            lambda width: named_sheet(cutting_guide(layout.tree, unit=unit, width=width, look=look, backs=backs, goes=goes), layout),
            unit,
        )

    return [
        *_fronts(worked, team),
        *(guide(f"guide-{i}", layout) for i, layout in enumerate(worked.layouts, 1)),
        *_closed_sheets(worked, looks),
        *(picture for design in worked.designs for picture in _of_one(design)),
        *(patch(f"paper-{key}", scanned[key, "front"], worked.kit.papers[key].name) for key in worked.kit.papers),
        _patches(worked, scanned),
        *hand_pictures(worked),
        *step_pictures(worked),
        *_shapes(worked),
        *(picture for design in worked.designs for picture in _batch(design, team)),
    ]


def _closed_sheets(worked: Worked, looks: Looks) -> Iterator[Picture]:
    """Each sheet that lies closed on the page, small."""
    for i, layout in enumerate(worked.layouts, 1):
        if i <= open_sheets(worked):
            continue
        look = looks.get((layout.papers[0], "front"))
        yield one_scene(
            f"sheet-{i}",
            (layout.tree, look, layout.name),
            partial(miniature, layout.tree, look, width=SHEET, height=SHEET, name=layout.name, alt=layout.name),
        )


def named_sheet(scene: Scene, layout: Layout) -> Scene:
    """A guide that says of which papers its sheet is, for those who can't see it."""
    return replace(scene, alt=sheet_alt(layout.name, scene.alt))


def _fronts(worked: Worked, team: bool) -> Iterator[Picture]:
    """The finished card, the one that other pages show, and the sketch; of several designs all on one picture."""
    looks, unit, title = looks_of(worked), worked.unit, worked.kit.spec.title
    designs, face, alt = worked.designs, worked.face, look_alt(worked)
    if len(designs) == 1:
        card, shut = looks_on(worked, face, team=team), with_step(face, worked.base)
        # One that is wider than high takes the width, and no more height than it has.
        high = None if shut.size.width > shut.size.height else WIDE
        # No figures in it, so that one drawing does for every width.
        yield one_scene(
            "card",
            (shut, card, title, alt),
            lambda: replace(card_sketch(shut, card, width=WIDE, height=high, plain=True, name=title), alt=alt),
            pixels=True,
            caption=sources_text(sources_on(worked.every_face, card)),
        )
        yield thumbnail_of(worked, team)
        yield from _shared(worked, team)
        yield _both(
            "sketch",
            (face, looks, unit, title),
            lambda width: card_sketch(face, looks, unit=unit, width=width, name=title, slim=width == NARROW),
            unit,
        )
        return
    shown = [DesignFront(design_text(design), design.face) for design in designs]
    cards = _on_all(worked, team)
    yield one_scene(
        "card",
        (shown, cards, title, alt),
        lambda: replace(designs_card(shown, cards, width=WIDE, height=WIDE * 3 // 4, name=title), alt=alt),
        pixels=True,
        caption=sources_text(sources_on(worked.every_face, cards)),
    )
    yield thumbnail_of(worked, team)
    yield from _shared(worked, team)
    fronts = (shown, looks, unit, title)
    yield _both(
        "sketch", fronts, lambda width: designs_sketch(shown, looks, unit=unit, width=width, slim=width == NARROW, name=title), unit, ROW
    )


def _on_all(worked: Worked, team: bool) -> Looks:
    """How papers are shown on the first cards of all designs side by side."""
    return {piece: look for design in worked.designs for piece, look in looks_on(design, design.face, team=team).items()}


def _of_one(worked: Worked) -> Iterator[Picture]:
    """What is about one card: its base, how that folds, what is held how, its layers."""
    looks, unit, title = looks_of(worked), worked.unit, worked.kit.spec.title
    face, base, stock = worked.face, worked.base, worked.kit.spec.card.base.paper
    grained = worked.kit.papers[stock].material.grained
    grain: Literal["up and down", "across"] | None = (
        None if not grained or not base.scored.scores else "up and down" if base.runs == "down" else "across"
    )
    said = " · ".join(filter(None, (title, worked.kit.design)))
    yield _both(
        named("base", worked),
        (base, unit, looks.get((stock, "front")), grain),
        lambda width: base_flat(base, unit=unit, width=width, look=looks.get((stock, "front")), grain=grain),
        unit,
        NARROW,
        BESIDE if base.plain else NARROW,
    )
    yield from _fold(worked, grain)
    yield from held_pictures(worked)
    yield from _sides(worked)
    yield _both(
        named("layers", worked),
        (face, looks, unit, said),
        lambda width: layer_steps(face, looks, unit=unit, width=width, name=said),
        unit,
        ROW,
    )


def _sides(worked: Worked) -> Iterator[Picture]:
    """Faces of the card besides the leading one: the sketch of each, and how it goes together."""
    looks, unit = looks_of(worked), worked.unit
    for side in worked.face.sides:
        said, drawn = side_text(worked, side), (side, looks, unit, side_text(worked, side))
        yield one_scene(
            named(f"sketch-{anchor(side.on)}", worked),
            drawn,
            partial(card_sketch, side, looks, unit=unit, width=NARROW, name=said, slim=True),
            pixels=True,
            unit=unit,
        )
        if len(side.stack) > 1:
            yield _both(named(f"layers-{anchor(side.on)}", worked), drawn, partial(_layers, side, looks, unit=unit, name=said), unit, ROW)


def _layers(face: Face, looks: Looks, width: int, *, unit: str, name: str) -> Scene:
    return layer_steps(face, looks, unit=unit, width=width, name=name)


def _batch(worked: Worked, team: bool) -> Iterator[Picture]:
    """The card in each look of its batch, where there are several."""
    if len(worked.faces) > 1:
        for i, (each, number) in enumerate(zip(worked.faces, first_cards(worked)), 1):
            card = with_step(each, worked.base), looks_on(worked, each, number, team=team)
            yield _thumbnail(named(f"look-{i}", worked), [card], each.name, look_alt(worked, each))


def _fold(worked: Worked, grain: str | None) -> Iterator[Picture]:
    """How the base folds, where its flat drawing does not show it all."""
    base, unit, closed = worked.base, worked.unit, worked.base.closed
    if base.plain or closed is None:
        return
    looks, name, lies = looks_of(worked), led(fold_text(base)), tuple(on_panels(base, lying_on(worked)))
    look = looks.get((worked.kit.spec.card.base.paper, "front"))
    yield _both(
        named("fold", worked),
        (base, unit, looks, lies, grain, name),
        lambda width: fold_diagram(closed, base.breadth, unit=unit, width=width, look=look, lies=lies, looks=looks, grain=grain, name=name),
        unit,
        ROW,
    )


def held_pictures(worked: Worked) -> Iterator[Picture]:
    """Its pockets, shakers and belly bands, and how each is held."""
    for held in held_of(worked, looks_of(worked)):
        yield one_scene(named(held.name, worked), held.made_from, partial(held.draw, NARROW, None), pixels=True, unit=worked.unit)


_SHOWN = 2
"""Looks of one card on its thumbnail."""
_FANNED = 3
"""Cards on what goes with a link, where its looks are no more: a fan of more takes longer than the rest of a kit's pictures."""


def thumbnail_of(worked: Worked, team: bool = False) -> Picture:
    """The cards as other pages show them: one of each design, or two looks of the one."""
    if worked.parts:
        cards = [(with_step(design.face, design.base), looks_on(design, design.face, team=team)) for design in worked.designs]
    else:
        numbered = list(zip(worked.faces, first_cards(worked)))[:_SHOWN]
        cards = [(with_step(face, worked.base), looks_on(worked, face, number, team=team)) for face, number in numbered]
    caption = sources_text(sources_on(worked.every_face, scanned_looks(worked, team=team)))
    return replace(_thumbnail("thumbnail", cards, worked.kit.spec.title, look_alt(worked)), caption=caption)


def _thumbnail(name: str, cards: Sequence[tuple[Face, Looks]], said: str, alt: str) -> Picture:
    faces, looks = zip(*cards)
    return one_scene(name, (cards, said, alt), lambda: thumbnail(faces, looks, width=SMALL, name=said, alt=alt))


def _shared(worked: Worked, team: bool) -> Iterator[Picture]:
    """What goes with a link, where there are whole addresses to link to."""
    if worked.kit.club.address:
        yield share_of(worked, team)


def share_of(worked: Worked, team: bool = False) -> Picture:
    """What goes with a link to its pages: its cards fanned, every look among them."""
    groups, title = [design.faces for design in worked.designs], worked.kit.spec.title
    parts = fans(groups)
    few = [part for part in parts if len(part) <= max(_FANNED, len(worked.every_face))] or parts or [[worked.face]]
    faces, alt = few[0], fan_alt(worked) if parts else card_alt(worked)
    looks, shut = looks_of_each(worked, faces, team=team), closed_each(worked, faces)

    def draw() -> tuple[Scene, Scene]:
        scene = display(fanned_out(shut, looks), SHARE, name=title, alt=alt)
        assert scene, "without words everything fits"
        return scene, scene

    scanned = any(look.scan for each in looks for look in each.values())
    return Picture("share", (shut, looks, title, alt), draw, posted="jpg" if scanned else "png")


def _shapes(worked: Worked) -> Iterator[Picture]:
    """Pieces that are more than a rectangle, at true size."""
    unit = worked.unit
    for label, piece in worked.kit.spec.pieces.items():
        if piece.shaped:
            outline = outline_of(piece)
            yield one_scene(
                f"shape-{label.casefold()}",
                (label, outline, piece.size, unit),
                partial(piece_template, label, outline, piece.size, unit=unit),
                unit=unit,
            )


def _both(
    name: str, made_from: tuple[object, ...], draw: Callable[[int], Scene], unit: str, wide: int = WIDE, narrow: int = NARROW
) -> Picture:
    return Picture(name, (*made_from, narrow), lambda: (draw(wide), draw(narrow)), unit=unit)


def patch(name: str, look: DrawnLook, said: str) -> Picture:
    """A patch of a paper."""
    return one_scene(name, (look, said), lambda: swatch(look, said), caption=look.scan.source if look.scan else "")


def _patches(worked: Worked, looks: Looks) -> Picture:
    """A patch of every paper, one below another, so that a page fetches one file for all of them."""
    each = [(looks[key, "front"], paper.name) for key, paper in worked.kit.papers.items()]

    def draw() -> Scene:
        draft, edge = Draft(), Fraction(SWATCH)
        for i, (look, _) in enumerate(each):
            top = Fraction(i * APART)
            draft.shapes.append(lay(look, Box(Fraction(0), top, edge, top + edge).corners, (Fraction(0), top), Fraction(1, 2)))
        names = ", ".join(name for _, name in each)
        return draft.scene(edge, Fraction(len(each) * APART), names, names)

    return one_scene("papers", (each,), draw)


def swatch(look: DrawnLook, name: str) -> Scene:
    """A patch of a paper, drawn."""
    draft, edge = Draft(), Fraction(SWATCH)
    patch = Box(Fraction(0), Fraction(0), edge, edge)
    draft.shapes.append(lay(look, patch.corners, (Fraction(0), Fraction(0)), Fraction(1, 2)))
    if look.scan:
        return draft.scene(edge, edge, name, name)
    return draft.scene(edge, edge, name, f"{name}: {look.pattern} in {' and '.join(map(colour_text, look.colours)) or 'white'}")
