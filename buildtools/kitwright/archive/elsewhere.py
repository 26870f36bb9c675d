"""A kit's cards as pictures for the video and for posts: which there are, at which shapes, and what each shows."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitwright.archive.picture import named
from kitwright.card.face import Face
from kitwright.card.stepped import with_step
from kitwright.drawing import fonts
from kitwright.drawing.display.cards import every_card, fans
from kitwright.drawing.display.display import GROUND, Exhibit, alone, display, fanned_out, in_rows_of, on_nothing
from kitwright.drawing.display.ratios import PIXELS, RATIOS, Ratio
from kitwright.drawing.display.standing import standing_open
from kitwright.drawing.display.title import HEAD, DisplayTitle
from kitwright.drawing.front import Looks
from kitwright.drawing.looks import look_of
from kitwright.drawing.palette import Ink
from kitwright.drawing.png import jpeg, png, see_through
from kitwright.drawing.scene import Scene
from kitwright.drawing.shown import closed_each, looks_of_each, looks_on, sources_on
from kitwright.errors import UserError
from kitwright.kit.kit import Kit
from kitwright.kit.looks import PAPERS
from kitwright.labels import anchor
from kitwright.telling.pictured import alt_file, batch_alt, card_alt, fan_alt, open_alt
from kitwright.telling.words import month_text
from kitwright.work.taken import first_cards
from kitwright.work.worked import Worked

ALT = "alt.txt"
"""The file that says of each picture what it shows."""
TRANSPARENT = "transparent"
"""What a card on nothing has in place of a shape."""
_COLOURS = 256
"""Of a picture's table: soft shadows on one ground are even, and the file is a quarter of one without a table."""


@dataclass(frozen=True)
class Choice:
    """What is asked for."""

    ratios: tuple[Ratio, ...] = tuple(RATIOS.values())
    design: str = ""
    """One design alone."""
    look: str = ""
    """One look of the card alone."""
    ground: Ink = GROUND
    title: DisplayTitle | None = None
    scans: bool = False
    """Whether scans are shown that stay off the public site."""

    @property
    def whole(self) -> bool:
        """Whether nothing is left out of what there is."""
        return not self.design and not self.look and len(self.ratios) == len(RATIOS)


def choice_of(
    kit: Kit,
    ratios: Iterable[str] = (),
    design: str = "",
    look: str = "",
    ground: str | None = None,
    title: bool = False,
    own: str | None = None,
    scans: bool = False,
) -> Choice:
    """What was typed.

    Args:
        kit: whose pictures they are.
        ratios: shapes, `16:9` or however else two numbers are written; all when none is given.
        design, look: one of them alone.
        ground: a colour, by any of its names.
        title: whether to set the kit's title and month.
        own: words to set in place of the title.
        scans: whether scans are shown that stay off the public site.

    Raises:
        UserError: a shape or a colour that there is not; no words, or letters that our type does not have.
    """
    if own is not None and not own.split():
        raise UserError("commands.no-words")
    head = " ".join(own.split()) if own is not None else kit.spec.title if title else ""
    if lacking := fonts.missing(head, HEAD):
        raise UserError("commands.no-letters", words=head, letters=lacking)
    asked = dict.fromkeys(map(_ratio, ratios))
    return Choice(
        tuple(ratio for ratio in RATIOS.values() if not asked or ratio in asked),
        design,
        look,
        GROUND if ground is None else _ground(kit, ground),
        DisplayTitle(head, month_text(kit.reveal) if title else "") if head else None,
        scans,
    )


def _ratio(text: str) -> Ratio:
    numbers = re.findall(r"\d+(?:[.,]\d+)?", text)
    if len(numbers) == 1:
        # Of 1.91:1 the first figure says it all; and a square is one by one.
        numbers.append("1")
    if len(numbers) == 2:
        wide, high = (Fraction(number.replace(",", ".")) for number in numbers)
        found = [ratio for ratio in RATIOS.values() if high and wide / high == ratio.proportion]
        if found:
            return found[0]
    raise UserError("commands.no-ratio", given=text, known=tuple(ratio.said for ratio in RATIOS.values()))


def _ground(kit: Kit, text: str) -> Ink:
    """A colour of paper, one of the kit's papers, or a colour of the club's; each at its full strength."""
    name = text.strip().casefold()
    if name in PAPERS:
        return Ink(name)
    if re.fullmatch("#[0-9a-f]{6}", name):
        return Ink(name.upper())
    for key, paper in kit.papers.items():
        if key.casefold() == name:
            return look_of(paper).inks[0]
    if name in _CLUBS:
        return Ink(_CLUBS[name])
    raise UserError("commands.no-ground", given=text, known=(*PAPERS, *(key for key in kit.papers if key not in PAPERS), *_CLUBS))


_CLUBS = {"page": "paper", "accent": "accent", "second": "second", "ink": "ink"}
"""The club's colours by the names that it types, and what the palette calls them."""


@dataclass(frozen=True)
class Subject:
    """What a picture shows, at whatever shape."""

    name: str
    alt: str
    exhibits: tuple[Exhibit, ...]
    """The ways in which it can be shown."""
    alone: tuple[Face, Looks] | None = None
    """The card and its papers, where it is one by itself, so that it can lie on nothing too."""
    shaped: bool = True
    """Whether it is drawn at every shape, or on nothing alone."""
    scanned: bool = False
    """Whether scans of papers are seen on it."""
    sources: tuple[str, ...] = ()
    """Where those papers are from, as far as it is said."""


def pictures_elsewhere(worked: Worked, choice: Choice) -> dict[str, bytes]:
    """The pictures by name, and what each shows.

    What is drawn is PNG; where scans are seen, a JPEG of the same picture takes a fifth of that.

    Raises:
        UserError: a design or a look that the kit does not have; words that are too long for a picture.
    """
    kit, palette = worked.kit, worked.kit.club.palette
    found: dict[str, bytes] = {}
    for subject in subjects(worked, choice):
        for ratio in choice.ratios if subject.shaped else ():
            scene, name = drawn(subject, ratio, choice), f"{kit.id}-{subject.name}-{ratio.name}"
            if subject.scanned:
                found[f"{name}.jpg"] = jpeg(scene, PIXELS, palette)
            else:
                found[f"{name}.png"] = png(scene, PIXELS, "full", _COLOURS, palette)
        if subject.alone:
            nothing = on_nothing(*subject.alone, name=subject.name, alt=subject.alt)
            found[f"{kit.id}-{subject.name}-{TRANSPARENT}.png"] = see_through(nothing, PIXELS, palette)
    told = ((f"{kit.id}-{subject.name}", subject.alt, subject.sources) for subject in _all(worked, choice))
    found[ALT] = alt_file(told).encode()
    return found


def drawn(subject: Subject, ratio: Ratio, choice: Choice) -> Scene:
    """One picture.

    Raises:
        UserError: words that are too long for it.
    """
    scene = display(subject.exhibits, ratio, ground=choice.ground, title=choice.title, name=subject.name, alt=subject.alt)
    if scene is None:
        assert choice.title
        raise UserError("commands.long-words", words=choice.title.head, ratio=ratio.said)
    return scene


def subjects(worked: Worked, choice: Choice) -> list[Subject]:
    """What is shown of a kit: of a design by itself, of a look by itself, where one is asked for.

    Raises:
        UserError: there is none of that name.
    """
    one = worked
    if choice.design:
        names = tuple(each.kit.design for each in worked.designs if each.kit.design)
        chosen = next((name for name in names if anchor(name) == anchor(choice.design)), None)
        if chosen is None:
            raise UserError("commands.no-design", kit=worked.kit.id, design=choice.design, designs=names)
        one = worked.of(chosen)
    if choice.look:
        known = tuple(face.name for face in one.every_face if face.name)
        found = [
            _look(view, i, choice, shaped=True)
            for view in one.designs
            for i, face in enumerate(view.faces)
            if face.name and anchor(face.name) == anchor(choice.look)
        ]
        if not found:
            raise UserError("commands.no-look", kit=worked.kit.id, look=choice.look, looks=known)
        return found
    return list(_of(one, choice))


def _all(worked: Worked, choice: Choice) -> Iterator[Subject]:
    """Whatever can be asked for."""
    yield from _of(worked, choice)
    if worked.parts:
        for design in worked.designs:
            yield from (subject for subject in _of(design, choice) if not subject.alone)


def _of(worked: Worked, choice: Choice) -> Iterator[Subject]:
    """What is shown of a kit, or of one of its designs."""
    if worked.parts:
        yield _several("cards", card_alt(worked), worked, [[design.face for design in worked.designs]], in_rows_of, choice)
    for design in worked.designs:
        looks = looks_on(design, design.face, team=choice.scans)
        yield _one(named("card", design), card_alt(design, design.face), with_step(design.face, design.base), looks)
        yield from (_look(design, i, choice, shaped=False) for i in range(1, len(design.faces)))
    for design in worked.designs:
        looks = looks_on(design, design.face, team=choice.scans)
        if opened := standing_open(design, looks):
            yield Subject(named("open", design), open_alt(design), (opened,), None, True, _scanned(looks), sources_on([design.face], looks))
    groups = [design.faces for design in worked.designs]
    if parts := fans(groups):
        yield _several(named("fan", worked), fan_alt(worked), worked, parts, fanned_out, choice)
    if len(every := every_card(groups)) > 1:
        yield _several(named("batch", worked), batch_alt(worked, every), worked, [every], in_rows_of, choice)


def _several(
    name: str,
    alt: str,
    worked: Worked,
    groups: Iterable[Sequence[Face]],
    spread: Callable[[Sequence[Face], Sequence[Looks]], list[Exhibit]],
    choice: Choice,
) -> Subject:
    """Several cards together, or others where they suit a shape better; each shows its own places of a scan."""
    exhibits, scanned, sources = list[Exhibit](), False, dict[str, None]()
    for faces in groups:
        looks = looks_of_each(worked, faces, team=choice.scans)
        exhibits += spread(closed_each(worked, faces), looks)
        scanned = scanned or any(map(_scanned, looks))
        sources |= dict.fromkeys(source for face, each in zip(faces, looks) for source in sources_on([face], each))
    return Subject(name, alt, tuple(exhibits), scanned=scanned, sources=tuple(sources))


def _look(design: Worked, i: int, choice: Choice, shaped: bool) -> Subject:
    face, number = design.faces[i], first_cards(design)[i]
    name = f"{named('card', design)}-{anchor(face.name)}"
    return _one(name, card_alt(design, face), with_step(face, design.base), looks_on(design, face, number, team=choice.scans), shaped)


def _one(name: str, alt: str, face: Face, looks: Looks, shaped: bool = True) -> Subject:
    return Subject(name, alt, tuple(alone(face, looks)), (face, looks), shaped, _scanned(looks), sources_on([face], looks))


def _scanned(looks: Looks) -> bool:
    return any(look.scan for look in looks.values())
