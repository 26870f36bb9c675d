"""The page on which proposed layouts are looked at: opened from a disk, with nothing from the network."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from kitwright.archive import webfonts
from kitwright.archive.text import plain, shown
from kitwright.drawing.fonts import Font
from kitwright.drawing.palette import css_variables
from kitwright.drawing.proposals.plate import Plate, scales_of
from kitwright.drawing.scene import Scene
from kitwright.kit.model import Club
from kitwright.kit.theme import ASSETS, LOCAL, TEMPLATES, Theme
from kitwright.proposing.records import Answer, Proposal
from kitwright.telling.layout_names import what
from kitwright.telling.proposals import asked, completeness, glance, none_found, reason, sizes, twins, ways_out
from kitwright.telling.proposals_page import LOOKING, Choice, Option, choices, facts, orders, scale_said, title
from kitwright.telling.templates import sandbox

TEMPLATE = "proposals.html"
STYLE, SCRIPT = LOCAL
LOOK = "look"
"""The page's folder of style, script and type."""
_FACES = (Font(), Font("sans", "semibold"), Font("serif", "semibold"))
"""What the page is set in."""
_SCREEN = 96, 72
"""Pixels and points to the inch."""


@dataclass(frozen=True, slots=True)
class PartView:
    """Some of the drawings of a layout."""

    picture: str
    width: int
    """Pixels, as it is shown; its file is twice as fine."""
    height: int
    alt: str


@dataclass(frozen=True, slots=True)
class LayoutView:
    """One layout on the page."""

    number: int
    cards: PartView
    sheet: PartView
    """The first; it stands beside the card, or under two."""
    sheets: tuple[PartView, ...]
    """The others on one picture, where there are any."""
    what: str
    glance: tuple[str, ...]
    """What one chooses by."""
    sizes: tuple[str, ...]
    reason: str
    twins: str
    command: tuple[str, ...]
    """Its words."""
    facts: tuple[tuple[str, str], ...]
    """What is asked of it, by name."""


@dataclass(frozen=True, slots=True)
class ProposalsView:
    """What the page says."""

    title: str
    club: str
    asked: str
    first: tuple[str, ...]
    """What is to be known before looking."""
    notes: tuple[str, ...]
    """How much was looked at, and the scale."""
    whole: str
    """The picture of all of them; empty where there is none yet."""
    pdf: str
    style: str
    script: str
    choices: tuple[Choice, ...]
    orders: tuple[Option, ...]
    items: tuple[LayoutView, ...]
    pairs: bool
    """Whether each layout has two cards."""
    cautions: tuple[str, ...]


def view_of(
    answer: Answer,
    plates: Sequence[Plate],
    club: Club,
    *,
    typed: Callable[[int], str],
    pictures: Callable[[int], tuple[str, str, str]],
    files: tuple[str, str] | None,
    done: bool,
    in_file: bool = False,
) -> ProposalsView:
    """What the page says of an answer.

    Args:
        answer: what the question gave so far.
        plates: a picture of each layout.
        club: whose cautions it bears.
        typed: the command that picks a layout, by its number; empty where none can be told.
        pictures: where the pictures of a layout lie beside the page, of its cards, of its first sheet and of other sheets.
        files: the picture of all of them and the file to print, where there are any.
        done: whether that is all.
        in_file: whether the question stands in a file.
    """
    layouts, scales = answer.proposals, scales_of(answer.wish)
    first = [LOOKING] if not done else (ways_out if layouts else none_found)(answer, in_file)
    notes = completeness(answer) if done else []
    notes += [scale_said(scales.card, scales.sheet)] if layouts else []
    return ProposalsView(
        title=title(answer),
        club=club.name,
        asked=asked(answer.wish),
        first=tuple(first),
        notes=tuple(notes),
        whole=files[0] if files else "",
        pdf=files[1] if files else "",
        style=f"{LOOK}/{STYLE}",
        script=f"{LOOK}/{SCRIPT}",
        choices=tuple(choices(answer)),
        orders=tuple(orders(layouts)),
        items=tuple(_layout(one, answer, plate, typed, pictures(one.number)) for one, plate in zip(layouts, plates)),
        pairs=answer.wish.designs == 2,
        cautions=tuple(club.cautions),
    )


def _layout(one: Proposal, answer: Answer, plate: Plate, typed: Callable[[int], str], pictures: tuple[str, str, str]) -> LayoutView:
    unit = answer.wish.unit
    sheet, *others = (_part(name, scene) for name, scene in zip(pictures[1:], plate.sheets))
    return LayoutView(
        number=one.number,
        cards=_part(pictures[0], plate.fronts),
        sheet=sheet,
        sheets=tuple(others),
        what=what(one),
        glance=tuple(glance(one, answer)),
        sizes=tuple(sizes(one, unit)),
        reason=f"{reason(one, unit, answer.proposals)}.",
        twins=twins(one, unit),
        command=tuple(typed(one.number).split()),
        facts=tuple(facts(one).items()),
    )


def _part(picture: str, scene: Scene) -> PartView:
    pixels, points = _SCREEN
    return PartView(picture, round(scene.width * pixels / points), round(scene.height * pixels / points), scene.alt)


def page(view: ProposalsView, theme: Theme) -> bytes:
    """The page itself."""
    # The helpers of the site's pages load half of the program, and are not wanted here.
    env = sandbox(theme, TEMPLATES, autoescape=True, finalize=shown)
    env.filters["attr"] = plain
    return env.get_template(TEMPLATE).render(view=view).encode()


def look(theme: Theme, club: Club, *, type_too: bool) -> dict[str, bytes]:
    """Style and script, by their names beside the page.

    Args:
        theme: the archive's.
        club: whose colours it bears.
        type_too: whether its type comes along; until it does, the page is set in stand-ins.
    """
    light, dark = club.palette.light, club.palette.dark
    ours, hers = theme.programs_in(ASSETS), theme.hers_in(ASSETS)
    style, script = (hers[name].data if name in hers else ours[name].read_bytes() for name in LOCAL)
    rules = [
        webfonts.borrowed_css(),
        webfonts.rules_of(_FACES) if type_too else "",
        f":root {{ --kw-plate: {light['paper']}; }}",
        f":root {{\n{css_variables(light)}\n}}",
        # Paper is light.
        f"@media screen and (prefers-color-scheme: dark) {{ :root {{\n{css_variables(dark)}\n}} }}",
    ]
    files = {STYLE: "\n".join([*rules, ""]).encode() + style, SCRIPT: script}
    files |= webfonts.files_of(_FACES) if type_too else {}
    return {f"{LOOK}/{name}": data for name, data in files.items()}
