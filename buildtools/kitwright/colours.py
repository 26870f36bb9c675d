"""Colours measured: how light one is, how it stands out from another, and its lighter and darker tones.

All of it in whole numbers, so that the same colour gives the same answer on every machine.
Linear light, relative luminance and contrast ratio are those of WCAG 2.2 (W3C Recommendation,
“relative luminance”, “contrast ratio”). Tones of one hue come from OKLab (Björn Ottosson, “A
perceptual color space for image processing”, 2020), which CSS Color 4 uses to keep a hue too.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal

RGB = tuple[int, int, int]
"""Red, green and blue, each 0 to 255, as sRGB has them."""

_LIGHT = 10**12
"""Full linear light of one channel."""
_UNIT = 10**8
"""1 in OKLab."""
_PART = 10**10
"""1 in the tables below."""
STEPS = 200
"""Tones from black to white."""


def parts(text: str) -> RGB:
    """A colour typed as `#rrggbb`."""
    red, green, blue = (int(text[i : i + 2], 16) for i in (1, 3, 5))
    return red, green, blue


def hex_text(colour: RGB) -> str:
    """A colour as `#rrggbb`."""
    red, green, blue = colour
    return f"#{red:02x}{green:02x}{blue:02x}"


def _root(value: int, degree: int) -> int:
    """The whole part of a root, by Newton's method from above."""
    if value == 0:
        return 0
    found = 1 << -(-value.bit_length() // degree)
    while True:
        lower = ((degree - 1) * found + value // found ** (degree - 1)) // degree
        if lower >= found:
            return found
        found = lower


@lru_cache(maxsize=1)
def _linear() -> tuple[int, ...]:
    """Linear light of each of the 256 steps: c/12.92 below 0.04045, else ((c + 0.055)/1.055)^2.4, which is a fifth root."""
    found = []
    for c in range(256):
        if c * 100_000 <= 4045 * 255:
            found.append(_LIGHT * c * 100 // (255 * 1292))
        else:
            found.append(_root(_LIGHT**5 * (1000 * c + 14_025) ** 12 // 269_025**12, 5))
    return tuple(found)


def luminance(colour: RGB) -> Fraction:
    """Relative luminance, from 0 for black to 1 for white."""
    red, green, blue = (_linear()[c] for c in colour)
    return Fraction(2126 * red + 7152 * green + 722 * blue, 10_000 * _LIGHT)


def contrast(one: RGB, other: RGB) -> Fraction:
    """The contrast ratio of two colours, from 1 to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + Fraction(1, 20)) / (low + Fraction(1, 20))


# --- tones ---------------------------------------------------------------------------------------

_LMS = ((4122214708, 5363325363, 514459929), (2119034982, 6806995451, 1073969566), (883024619, 2817188376, 6299787005))
_LAB = ((2104542553, 7936177850, -40720468), (19779984951, -24285922050, 4505937099), (259040371, 7827717662, -8086757660))
_BACK = ((3963377774, 2158037573), (-1055613458, -638541728), (-894841775, -12914855480))
_RGB = ((40767416621, -33077115913, 2309699292), (-12684380046, 26097574011, -3413193965), (-41960863, -7034186147, 17076147010))


@dataclass(frozen=True, slots=True)
class Lab:
    """A colour as OKLab has it, in hundred-millionths."""

    light: int
    """Lightness, 0 to 1."""
    green_red: int
    blue_yellow: int

    @property
    def chroma(self) -> int:
        """How far it is from grey."""
        return _root(self.green_red**2 + self.blue_yellow**2, 2)


@lru_cache(maxsize=1024)
def lab(colour: RGB) -> Lab:
    """A colour as OKLab has it."""
    linear = [_linear()[c] for c in colour]
    roots = [_root(100 * sum(k * v for k, v in zip(row, linear)), 3) for row in _LMS]
    return Lab(*(sum(k * v for k, v in zip(row, roots)) // _PART for row in _LAB))


def _shown(light: int, green_red: int, blue_yellow: int) -> RGB | None:
    """The nearest colour that a screen can show; None where none is near."""
    cubes = [(light + (a * green_red + b * blue_yellow) // _PART) ** 3 for a, b in _BACK]
    found = []
    for row in _RGB:
        value = sum(k * v for k, v in zip(row, cubes)) // (_PART * _UNIT**3 // _LIGHT)
        if not -_LIGHT // 1000 <= value <= _LIGHT + _LIGHT // 1000:
            return None
        table = _linear()
        above = min(bisect_left(table, value), 255)
        found.append(above - 1 if above and value - table[above - 1] < table[above] - value else above)
    red, green, blue = found
    return red, green, blue


def tone(of: RGB, light: int, most_chroma: int = _UNIT) -> RGB:
    """The colour of the same hue at another lightness, as strong as a screen can show it and no stronger than the first.

    Args:
        of: whose hue.
        light: lightness in OKLab, hundred-millionths.
        most_chroma: bound on its strength, hundred-millionths.
    """
    known = lab(of)
    chroma = max(known.chroma, 1)
    strong = min(_UNIT, most_chroma * _UNIT // chroma)
    for part in range(64, -1, -1):
        found = _shown(light, known.green_red * strong * part // (64 * _UNIT), known.blue_yellow * strong * part // (64 * _UNIT))
        if found is not None:
            return found
    return (0, 0, 0) if light < _UNIT // 2 else (255, 255, 255)


@lru_cache(maxsize=64)
def tones(of: RGB) -> tuple[RGB, ...]:
    """Every tone of a colour's hue, from black to white, the colour itself among them."""
    lights = {_UNIT * step // STEPS for step in range(STEPS + 1)}
    found = {light: tone(of, light) for light in lights} | {lab(of).light: of}
    return tuple(found[light] for light in sorted(found))


def distance_of_hue(one: RGB, other: RGB) -> int:
    """How far two colours are apart in hue and strength, lightness aside; hundred-millionths."""
    a, b = lab(one), lab(other)
    return _root((a.green_red - b.green_red) ** 2 + (a.blue_yellow - b.blue_yellow) ** 2, 2)


Family = Literal["white", "cream", "gray", "black", "pink", "red", "orange", "yellow", "brown", "green", "blue", "purple"]
"""What a colour is called at a first glance."""
_BOUNDS = ((996, 87), (848, 530), (616, 788), (309, 951), (-375, 927), (-966, 259), (-866, -500), (174, -985), (906, -423))
"""Where one hue of OKLab passes into the next, as directions from green to red and from blue to yellow: 5, 32, 52, 72, 112, 165, 210, 280, 335 degrees.
Where makers' names of papers part (`sources.PRACTICE`)."""
_HUNDREDTH = _UNIT // 100


def families(colour: RGB) -> tuple[Family, ...]:
    """What a colour is called at a first glance, one or two names for what lies between two."""
    said = lab(colour)
    light, strength = said.light // _HUNDREDTH, said.chroma // (_HUNDREDTH // 10)
    hue = sum(_reached(said, bound) for bound in _BOUNDS)
    warm = 2 <= hue <= 4
    if strength < 25 or (warm and light >= 86 and strength < 45):
        if light >= 90:
            return ("cream", "white") if warm and strength >= 12 else ("white",)
        return ("black",) if light < 30 else ("cream",) if warm and light >= 86 else ("gray",)
    dull: tuple[Family, ...] = ("gray",) if strength < 45 and light < 86 else ()
    match hue:
        case 0 | 9:
            # Between purple and red: the light ones are pink, of the dark ones the dull are purple.
            if light >= 50:
                return ("pink",) if light >= 70 else ("red", "pink")
            return ("red",) if strength >= 105 else ("red", "purple")
        case 1:
            if light >= 70:
                return ("pink",)
            return ("red", "pink") if light >= 54 and strength < 150 else ("red",)
        case 2:
            if light >= 75:
                return "pink", "orange"
            if strength < 90:
                return ("brown",)
            return ("red", "orange") if strength >= 160 else ("orange", "brown")
        case 3:
            return ("brown",) if light < 60 or strength < 100 else ("orange", "yellow")
        case 4:
            return ("brown",) if light < 62 else ("yellow", "brown") if strength < 100 and light < 82 else ("yellow",)
        case 5:
            return ("green", *dull)
        case 6:
            return ("green", "blue", *dull)
        case 7:
            return ("blue", *dull)
        case _:
            return ("purple", *dull)


def _reached(said: Lab, bound: tuple[int, int]) -> bool:
    """Whether a hue lies at a bound or beyond, counted from red over yellow, green and blue."""
    (x, y), (u, v) = (said.green_red, said.blue_yellow), bound
    half, other = (y < 0 or (y == 0 and x < 0)), (v < 0 or (v == 0 and u < 0))
    return half > other if half != other else u * y - v * x >= 0
