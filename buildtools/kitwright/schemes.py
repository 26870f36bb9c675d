"""The colours of a club: ours, or derived from the few that it typed.

A maker's bench in daylight: near-white paper, blue-black ink, one strong accent for what to do
now, one quiet second colour. A club may type each of the four. What is typed keeps its hue; the
rest follows from it at the lightness that ours has, in the light scheme and in the dark one.

In the light scheme, and in print, a colour is used as it was typed if it can be read wherever it
is used, or a little darker where that is all it takes. What would have to become another colour
is refused, with the nearest of its hue that would do. In the dark scheme it is as light as it
has to be: there a colour is expected to be another tone of itself.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from kitwright.colours import RGB, contrast, distance_of_hue, hex_text, lab, luminance, parts, tone, tones
from kitwright.errors import UserError

Scheme = Mapping[str, str]
"""Colours by role, `#RRGGBB`."""
ClubRole = Literal["accent", "second", "ink", "page"]
"""What a club may choose a colour for."""

LIGHT: Scheme = {
    "paper": "#FCFAF5",  # the page and every picture
    "surface": "#F4EEE2",  # rulers, table heads, cards on the web
    "ink": "#1B2737",  # text, edges
    "soft": "#485463",  # second-rank text, dimension figures' lines
    "line": "#77818C",  # thin rules, hatching
    "accent": "#B73C1C",  # cut here, line up there; buttons
    "second": "#186575",  # links, marks
    "on-accent": "#FFFFFF",  # text on accent or second
}
"""Our colours of the light scheme, and of every picture in both schemes."""

DARK: Scheme = {
    "paper": "#141B24",
    "surface": "#1C252E",
    "ink": "#EBE7DF",
    "soft": "#ADB5BE",
    "line": "#76808A",
    "accent": "#EE8F63",
    "second": "#84C7D3",
    "on-accent": "#141B24",
}
"""Our colours of the dark scheme of the web; pictures stay on their own light paper."""


@dataclass(frozen=True, eq=False)
class Palette:
    """The colours of one club: handed down to whatever draws for it."""

    light: Scheme
    """On a light page, in every picture and in print."""
    dark: Scheme
    """On a dark page."""

    @property
    def cut_line(self) -> Literal["red", "coloured", "heavy"]:
        """What a line to cut looks like, in a word; in a grey it is told by its weight."""
        accent = lab(parts(self.light["accent"]))
        if accent.chroma < GREYISH:
            return "heavy"
        # From crimson to brick: OKLab's first axis runs from green to red, its second from blue to yellow.
        return "red" if -accent.green_red < 10 * accent.blue_yellow < 8 * accent.green_red else "coloured"


HOUSE = Palette(LIGHT, DARK)
"""Ours, for a club that typed none."""

TEXT, GRAPHIC = Fraction(9, 2), Fraction(3)
"""Least contrast of text, and of what is needed to understand a graphic: WCAG 2.2, 1.4.3 and 1.4.11 (level AA)."""
AT_EASE = Fraction(7)
"""Contrast from which a label stands on a paper's own colour: WCAG 2.2, 1.4.6 (level AAA). The lightest ink a club may have keeps `TEXT` there."""
BODY = Fraction(10)
"""Least contrast of the ink with the page and with white. Ours, beyond WCAG: soft text and lines lie between the two."""
MOST_DARKER = 15_000_000
"""How much of lightness in OKLab (hundred-millionths) a typed colour may lose before it is another one. Common practice, no source."""
COMFORT = Fraction(6)
"""A typed colour with so much contrast on a dark page is used there as it is; ours have more."""
GREYISH = 4_000_000
"""Chroma in OKLab (hundred-millionths) below which nobody would call a line coloured. Common practice, no source."""
NEUTRAL = 3_000_000
"""The most chroma in OKLab (hundred-millionths) of what is nearly grey: dark pages, soft text, lines."""
TWINS, ONE_HUE = Fraction(3, 2), 6_000_000
"""Below this contrast, and nearer than this in hue and strength, two colours look alike. Common practice, no source."""
WHITE: RGB = (255, 255, 255)
Grounds = Sequence[tuple[str, RGB, Fraction]]
"""What a colour is read on, in a word, and the least contrast that it needs there."""
Fits = Callable[[RGB], bool]


@lru_cache(maxsize=64)
def palette_of(typed: tuple[tuple[ClubRole, RGB], ...]) -> Palette:
    """The colours of a club from those that it typed; the same ones give the same palette.

    Raises:
        UserError: one that can't be read where it is used, or two that look alike; its value `role` names it.
    """
    if not typed:
        return HOUSE
    chosen = dict(typed)
    light = _light(chosen)
    return Palette(_text(light), _text(_dark(chosen, light)))


def alike(one: RGB, other: RGB) -> bool:
    """Whether two colours can hardly be told apart."""
    return contrast(one, other) < TWINS and distance_of_hue(one, other) < ONE_HUE


# --- light --------------------------------------------------------------------------------------------


def _light(chosen: Mapping[ClubRole, RGB]) -> dict[str, RGB]:
    """The light scheme."""
    ours = {role: parts(value) for role, value in LIGHT.items()}
    made = dict(ours)
    if page := chosen.get("page"):
        made["paper"] = _fitted("page", page, [("ink", ours["ink"], BODY)], 0)
        shade = lab(page).light - lab(ours["paper"]).light + lab(ours["surface"]).light
        made["surface"] = tone(page, shade, min(2 * lab(page).chroma, NEUTRAL))
    if ink := chosen.get("ink"):
        made["ink"] = _fitted("ink", ink, [("page", made["paper"], BODY), ("print", WHITE, BODY)])
        made |= {role: _like(ink, ours[role]) for role in ("soft", "line")}
    grounds = [("page", made["paper"]), ("table", made["surface"]), ("print", WHITE)]
    for role, least in (("soft", TEXT), ("line", GRAPHIC)):
        made[role] = _nearest(made[role], _reads([(name, ground, least) for name, ground in grounds])) or made["ink"]
    text = [(name, ground, TEXT) for name, ground in grounds]
    both: tuple[tuple[ClubRole, ClubRole], ...] = (("accent", "second"), ("second", "accent"))
    for role, _ in both:
        if role in chosen:
            made[role] = _fitted(role, chosen[role], text)
    for role, other in both:
        if role not in chosen:
            # Ours gives way to a typed one that is like it: then our other one stands here.
            start = ours[other] if other in chosen and alike(ours[role], made[other]) else ours[role]
            made[role] = _nearest(start, _reads(text)) or made["ink"]
    _told_apart(chosen, made, text)
    return made


def _told_apart(chosen: Mapping[ClubRole, RGB], made: Mapping[str, RGB], text: Grounds) -> None:
    """Refuse two colours that look alike: what is cut from what is linked, and what is cut from the edges of paper."""
    pairs: tuple[tuple[ClubRole, ClubRole], ...] = (("second", "accent"), ("accent", "ink"))
    for role, other in pairs:
        # Whichever was typed is the one to change.
        blamed, kept = (role, other) if role in chosen else (other, role)
        if blamed in chosen and alike(made[role], made[other]):
            rest = [made[each] for each in ("accent", "second", "ink") if each != blamed and (blamed, each) != ("second", "ink")]
            near = _nearest(made[blamed], _unlike(_reads(text), rest))
            raise UserError(
                "colours.alike",
                role=blamed,
                colour=hex_text(chosen[blamed]),
                other=kept,
                theirs=hex_text(made[kept]),
                near=hex_text(near) if near and blamed != "ink" else None,
            )


def _fitted(role: str, colour: RGB, grounds: Grounds, most: int = MOST_DARKER) -> RGB:
    """A typed colour as it can be read on all of these, a little darker if need be: by `most` of lightness.

    Raises:
        UserError: it would have to become another colour.
    """
    reads = _reads(grounds)
    if reads(colour):
        return colour
    near = _nearest(colour, reads)
    if near and abs(lab(colour).light - lab(near).light) <= most:
        return near
    against, ground, least = min(grounds, key=lambda each: contrast(colour, each[1]) / each[2])
    raise UserError(
        "colours.unreadable",
        role=role,
        colour=hex_text(colour),
        against=against,
        ground=hex_text(ground),
        contrast=contrast(colour, ground),
        least=least,
        near=hex_text(near) if near else None,
    )


# --- dark ----------------------------------------------------------------------------------------------


def _dark(chosen: Mapping[ClubRole, RGB], light: Mapping[str, RGB]) -> dict[str, RGB]:
    """The dark scheme: pages from the ink, ink from the page, each of the others in a lighter tone."""
    ours = {role: parts(value) for role, value in DARK.items()}
    made = dict(ours)
    if ink := chosen.get("ink"):
        made |= {role: _like(ink, ours[role]) for role in ("paper", "surface", "soft", "line")}
    if page := chosen.get("page"):
        made["ink"] = _like(page, ours["ink"])
    grounds = [("page", made["paper"]), ("table", made["surface"])]
    for role, least in (("ink", BODY), ("soft", TEXT), ("line", GRAPHIC)):
        made[role] = _nearest(made[role], _reads([(name, ground, least) for name, ground in grounds])) or made["ink"]
    made["on-accent"] = made["paper"]
    reads, eased = (_reads([(name, ground, least) for name, ground in grounds]) for least in (TEXT, COMFORT))
    house = {parts(LIGHT[role]): ours[role] for role in ("accent", "second")}
    before = [made["ink"]]
    roles: tuple[ClubRole, ...] = ("accent", "second")
    for role in roles:
        typed = chosen.get(role, light[role])
        # As it is where that reads with ease on a dark page, else as light as ours.
        start = house.get(light[role]) or (typed if eased(typed) else tone(typed, lab(ours[role]).light))
        fits = _unlike(reads, before)
        # Of two near blacks no tones are apart: then it is one of our own hues, and that too must be.
        hues = (start, ours[role], *(ours[each] for each in roles if each != role))
        made[role] = next(filter(None, (_nearest(hue, fits) for hue in hues)), ours[role])
        before.append(made[role])
    return made


# --- both ----------------------------------------------------------------------------------------------


def _reads(grounds: Grounds) -> Fits:
    return lambda colour: all(contrast(colour, ground) >= least for _, ground, least in grounds)


def _unlike(fits: Fits, others: Sequence[RGB]) -> Fits:
    kept = tuple(others)
    return lambda colour: fits(colour) and not any(alike(colour, each) for each in kept)


def _nearest(colour: RGB, fits: Fits) -> RGB | None:
    """The tone of a colour's hue that fits and is nearest to it in lightness; itself if it does, None where none does."""
    if fits(colour):
        return colour
    here = lab(colour).light
    return next((each for each in sorted(tones(colour), key=lambda c: (abs(lab(c).light - here), luminance(c))) if fits(each)), None)


def _like(hue: RGB, ours: RGB) -> RGB:
    """Nearly grey, in the hue of the first, as light as one of ours."""
    return tone(hue, lab(ours).light, NEUTRAL)


def _text(scheme: Mapping[str, RGB]) -> dict[str, str]:
    return {role: hex_text(scheme[role]).upper() for role in LIGHT}
