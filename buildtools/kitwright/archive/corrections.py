"""The errata of a kit as its pages tell them: what was wrong and what is right, both drawn, the difference circled."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial

from kitwright import cache
from kitwright.archive.picture import NARROW, WIDE, Image, Picture, Shown
from kitwright.cutting.tree import pieces
from kitwright.drawing.base import base_flat
from kitwright.drawing.guide import cutting_guide
from kitwright.drawing.ring import frame_of, ringed, words_in
from kitwright.drawing.scene import Scene
from kitwright.drawing.shown import looks_of
from kitwright.drawing.sketch import card_sketch
from kitwright.geometry import Rect
from kitwright.kit.clock import zone
from kitwright.kit.kit import Kit
from kitwright.kit.model import Club
from kitwright.release.changes import Differences
from kitwright.release.errata import Erratum, errata
from kitwright.release.marks import Mark, paired_layouts
from kitwright.release.people import Person
from kitwright.schemes import Palette
from kitwright.telling.backs import backs_on
from kitwright.telling.changes import besides, quoted, sentence
from kitwright.telling.circled import FIRST_ONLY, circled_text, drawing_text, revision_text
from kitwright.telling.errata import ASKS, AskedCopies, affected, asked_lines, groups_of, means, to_print
from kitwright.telling.words import date_text
from kitwright.units import Rough, other_unit
from kitwright.work.worked import Worked

FOLDER = "errata"
"""The folder of its pictures, beside the kit’s own page."""
SIZED = ("size", "outline", "piece-new", "piece-gone")
"""Kinds of change that are about the size of a piece, and not its label alone."""
MOST_ALIKE = 4
"""Places circled for one reason; of more, only those of the first row are."""


@dataclass(frozen=True)
class Pair:
    """One drawing as it was and as it is, at one scale."""

    what: str
    """`Sheet 1, Quayside`."""
    note: str
    """What of it is circled, where not all of it is."""
    was: Image | None
    now: Image | None


@dataclass(frozen=True)
class Wrong:
    """One thing that was wrong."""

    words: str
    was: str
    """How it read, where that is a text of its own."""
    now: str
    grade: str
    """In a few words; empty where it is that of the whole erratum."""
    beside: str = ""
    """Its words in the other unit."""


@dataclass(frozen=True)
class ErratumView:
    """One erratum."""

    kit: str
    title: str
    anchor: str
    number: int
    """The revision that mends it."""
    before: int
    """The revision before."""
    date: str
    since: str
    """From which day the fault was in public; empty where it was mended before."""
    early: bool
    """Whether it was mended before the kit was public: then no notice on the kit's page tells of it."""
    code: str
    grade: str
    """Key of `ASKS`."""
    asks: str
    means: str
    changes: tuple[Wrong, ...]
    besides: str
    """What follows from those, in a sentence; empty where nothing does."""
    unit: str
    """In which it is told, the kit's own."""
    pairs: tuple[Pair, ...]
    affected: str
    groups: tuple[AskedCopies, ...]
    """What each group of copies has to know; empty where it is the same for all."""
    asked: tuple[str, ...]
    """Who has to do what, in a few sentences."""
    to_do: str
    cut_already: str
    """What to do with pieces already cut; empty where the author says nothing."""
    thanks: str
    """Who spotted it, if she agreed to be thanked."""
    at: dt.datetime
    """When it became public, to put errata in order."""

    @property
    def css(self) -> str:
        """The grade as the name of a style."""
        return self.grade.replace(" ", "-")


def corrections_of(
    kit: Kit, club: Club, people: Mapping[str, Person], as_of: dt.datetime
) -> tuple[tuple[ErratumView, ...], dict[str, bytes]]:
    """Every erratum of a kit that is public at an instant, newest first, and the files of its drawings beside the kit's page."""
    views: list[ErratumView] = []
    files: dict[str, bytes] = {}
    for erratum in errata(kit, club, people, as_of):
        pairs, drawn = _pairs(erratum)
        views.append(_view(erratum, pairs))
        files |= drawn
    return tuple(views), files


def _view(erratum: Erratum, pairs: tuple[Pair, ...]) -> ErratumView:
    unit = erratum.new.unit
    return ErratumView(
        kit=erratum.kit,
        title=erratum.title,
        anchor=erratum.anchor,
        number=erratum.revision.number,
        before=erratum.corrects.number,
        date=date_text(erratum.date),
        # A slip that was mended before the reveal stood on no public page.
        since=date_text(erratum.since.astimezone(zone(erratum.zone)).date()) if erratum.since < erratum.revision.at else "",
        early=erratum.early,
        code=erratum.revision.code,
        grade=erratum.asks,
        asks=ASKS[erratum.asks],
        means=means(erratum),
        changes=tuple(
            Wrong(sentence(c), *quoted(c), ASKS[c.grade] if c.grade != erratum.grade else "", sentence(c.told_in(other_unit(unit))))
            for c in erratum.changes.told
        ),
        unit=unit,
        besides=besides(erratum.changes.besides),
        pairs=pairs,
        affected=affected(erratum),
        groups=groups_of(erratum),
        asked=tuple(asked_lines(erratum)),
        to_do=to_print(erratum),
        cut_already=erratum.advice,
        thanks=erratum.spotted_by.name if erratum.spotted_by and erratum.spotted_by.agreed("name") else "",
        at=erratum.public,
    )


# --- what is drawn ------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Place:
    """One drawing, by its place in the old and in the new state; None where that state has none."""

    on: str
    old: int | None
    new: int | None
    design: str = ""
    """Whose, where it is a front or a base of one of several designs."""


def _pairs(erratum: Erratum) -> tuple[tuple[Pair, ...], dict[str, bytes]]:
    old, new, pairs = erratum.old, erratum.new, []
    files: dict[str, bytes] = {}
    for n, (place, (was, now)) in enumerate(_marked(old, new, erratum.changes).items(), 1):
        sides = [
            None
            if index is None
            else _Side(f"{FOLDER}/r{erratum.revision.number}-{n}-{side}", worked.of(place.design), place.on, index, marks.rects, revision)
            for side, worked, index, marks, revision in (
                ("was", old, place.old, was, erratum.corrects.number),
                ("now", new, place.new, now, erratum.revision.number),
            )
        ]
        key = cache.digest([side.made_from if side else None for side in sides], new.kit.club.palette)
        drawn = cache.value("circled", key, partial(_shown, sides, new.kit.club.palette))
        for picture in filter(None, drawn):
            files |= picture.files
        before, after = (picture.image if picture else None for picture in drawn)
        pairs.append(Pair(_named(place, old, new), FIRST_ONLY if was.more or now.more else "", before, after))
    return tuple(pairs), files


@dataclass
class _Marks:
    """What to circle on one drawing."""

    rects: dict[Rect, bool] = field(default_factory=dict)
    """Each with whether its size is meant too, and not its label alone."""
    more: bool = False
    """Whether there are more that are alike."""

    def add(self, rects: tuple[Rect, ...], sized: bool) -> None:
        few = list(rects) if len(rects) <= MOST_ALIKE else [r for r in rects if r.y == rects[0].y][:MOST_ALIKE]
        self.more |= len(few) < len(rects)
        for rect in few:
            self.rects[rect] = self.rects.get(rect, False) or sized


def _marked(old: Worked, new: Worked, found: Differences) -> dict[_Place, tuple[_Marks, _Marks]]:
    """Every drawing on which a difference shows, gravest first, with what to circle in the old and in the new one."""
    there = {i: j for i, _, j, _ in paired_layouts(old, new)}
    back = {j: i for i, j in there.items()}
    marked: dict[_Place, tuple[_Marks, _Marks]] = {}
    for change in found:
        for side, marks in enumerate((change.old, change.new)):
            for mark in marks:
                place = _place(mark, side, there, back, *(len(one.of(mark.design).faces) for one in (old, new)))
                marked.setdefault(place, (_Marks(), _Marks()))[side].add(mark.rects, change.kind in SIZED)
    for circled in (each for pair in marked.values() for each in pair):
        # Where pieces are circled, the cuts that made them need no ring as well.
        circled.rects = {r: sized for r, sized in circled.rects.items() if r.area} or circled.rects
    return marked


def _place(mark: Mark, side: int, there: dict[int, int], back: dict[int, int], before: int, after: int) -> _Place:
    i = mark.index
    if mark.on == "sheet":
        return _Place("sheet", i if side == 0 else back.get(i), i if side == 1 else there.get(i))
    if mark.on == "base":
        return _Place("base", 0, 0, mark.design)
    return _Place("front", i if i < before else None, i if i < after else None, mark.design)


def _named(place: _Place, old: Worked, new: Worked) -> str:
    worked, index = (old, place.old or 0) if place.new is None else (new, place.new)
    worked = worked.of(place.design)
    name = worked.layouts[index].name if place.on == "sheet" else worked.faces[index].name if place.on == "front" else ""
    return drawing_text(place.on, index, name, len(worked.faces) > 1, place.design)


@dataclass(frozen=True)
class _Side:
    """One side of a pair, to be drawn."""

    name: str
    worked: Worked
    on: str
    index: int
    rects: dict[Rect, bool]
    revision: int

    @property
    def made_from(self) -> tuple[object, ...]:
        """All that its drawing shows."""
        worked, spec = self.worked, self.worked.kit.spec
        layout = worked.layouts[self.index] if self.on == "sheet" else None
        shown = (
            (layout.tree, layout.papers, backs_on(worked, layout))
            if layout
            else worked.base
            if self.on == "base"
            else worked.faces[self.index]
        )
        told = spec.card.base.paper, spec.unit, worked.sizes, self.rects, self.revision
        return self.name, self.on, shown, looks_of(worked), *told

    def scene(self, width: int, scale: Fraction | None) -> Scene:
        looks, unit = looks_of(self.worked), self.worked.unit
        said = revision_text(self.revision)
        if self.on == "sheet":
            layout = self.worked.layouts[self.index]
            return cutting_guide(
                layout.tree,
                unit=unit,
                width=width,
                look=looks.get((layout.papers[0], "front")),
                name=said,
                scale=scale,
                backs=backs_on(self.worked, layout),
            )
        if self.on == "base":
            look = looks.get((self.worked.kit.spec.card.base.paper, "front"))
            return base_flat(self.worked.base, unit=unit, width=width, look=look, name=said, scale=scale)
        return card_sketch(self.worked.faces[self.index], looks, unit=unit, width=width, name=said, scale=scale, slim=width == NARROW)

    def circled(self, scene: Scene) -> Scene:
        frame, whole = frame_of(scene)
        # A ring round everything would tell nothing.
        boxes = [(rect, box) for rect, box in ((r, frame.box(r)) for r in self.rects) if not box.holds(whole)]
        return ringed(
            scene,
            [words_in(scene, box, self._label(rect), self.rects[rect]) or box for rect, box in boxes],
            self._told([r for r, _ in boxes]),
        )

    def _label(self, rect: Rect) -> str:
        """The label of the piece that lies there; empty for a cut, a greeting or a decoration."""
        there: list[tuple[str | None, Rect]] = (
            [(leaf.label, leaf.rect) for leaf in pieces(self.worked.layouts[self.index].tree)]
            if self.on == "sheet"
            else [(placed.label, placed.rect) for placed in self.worked.faces[self.index].stack]
            if self.on == "front"
            else []
        )
        return next((label for label, at in there if label and at == rect), "")

    def _told(self, rects: list[Rect]) -> str:
        """What is circled, in words."""
        labels = Counter(self._label(rect) for rect in rects)
        others = [rect for rect in rects if not self._label(rect)]
        score, lines = self.on == "base", all(not rect.area for rect in others)
        return circled_text(
            {label: n for label, n in labels.items() if label},
            self.worked.sizes,
            cuts=len(others) if lines and not score else 0,
            places=len(others) if not lines and not score else 0,
            score=score and bool(others),
            unit=self.worked.unit,
        )

    @property
    def beside(self) -> _Side:
        """The same in the other unit."""
        told = self.worked.told_in(Rough(other_unit(self.worked.unit)))
        return replace(self, name=f"{self.name}--{told.unit}", worked=told)


def _shown(sides: list[_Side | None], palette: Palette) -> list[Shown | None]:
    """Both sides at one scale, for a wide page and again for a phone, in both units."""
    there = [side for side in sides if side]
    own, others = _at_one_scale(there), _at_one_scale([side.beside for side in there])

    def drawn(scenes: dict[str, dict[int, Scene]], side: _Side) -> Picture:
        both = scenes[side.name][WIDE], scenes[side.name][NARROW]
        return Picture(side.name, (), lambda: both, pixels=False, unit=side.worked.unit)

    return [replace(drawn(own, side), beside=drawn(others, side.beside)).drawn(palette) if side else None for side in sides]


def _at_one_scale(there: list[_Side]) -> dict[str, dict[int, Scene]]:
    """The scenes of sides by name, for each width."""
    scenes: dict[str, dict[int, Scene]] = {side.name: {} for side in there}
    for width in (WIDE, NARROW):
        widest = [side.scene(width, None) for side in there]
        scale = min(scene.stated_scale for scene in widest)
        for side, scene in zip(there, widest):
            scenes[side.name][width] = side.circled(scene if scene.scale == scale else side.scene(width, scale))
    return scenes
