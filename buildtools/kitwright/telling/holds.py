"""What the pictures of pockets, shakers and belly bands say."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import ceil, floor

from kitwright.card.band import Band
from kitwright.card.pocket import Pocket
from kitwright.card.shaker import Shaker
from kitwright.materials import Range
from kitwright.telling.words import listed
from kitwright.units import ABOUT, ZERO, Length, Size, figure, length_text, size_text

PULL = "pull"
GLUED = "glued under it"
FOAM = "foam under it"
FOAM_NAME = "foam"
LIES_HIDDEN = "lies hidden"
FILM_EDGE = "edge of the film"
BACK, FRONT = "back", "front"
OVERLAP = "overlap"
SCORE_HERE = "score, then fold"


def held_text(name: str, label: str) -> str:
    """What a picture is of: `Pocket K`; its name begins with how it is held."""
    way = name.partition("-")[0]
    return f"{'Belly band' if way == 'band' else way.capitalize()} {label}"


def panel(face: str) -> str:
    """The paper of the card itself under a face, in a cut; of the leading one where none is named."""
    return f"card, {face}" if face else "card front"


def thin_text(thickness: Range, unit: str) -> str:
    """The thickness of a paper or of foam, finer than any ruler shows; a range where it is not given."""
    if thickness.low == thickness.high:
        return _thin(thickness.low, unit, round)
    # Away from the middle, so that the bounds hold.
    return f"{_thin(thickness.low, unit, floor)} to {_thin(thickness.high, unit, ceil)}"


def _thin(millimetres: Fraction, unit: str, to_mark: Callable[[Fraction], int]) -> str:
    """Three decimals of an inch, or two of a millimetre; a plain fraction where it is one."""
    length = Length.mm(millimetres)
    if unit == "in" and length.inches.denominator in (2, 4, 8, 16):
        return figure(length, unit)
    digits = 2 if unit == "mm" else 3
    value = to_mark((millimetres if unit == "mm" else length.inches) * 10**digits)
    return f"{value / 10**digits:.{digits}f}".rstrip("0").rstrip(".")


# --- pocket -----------------------------------------------------------------------------------------


def open_edge(pocket: Pocket) -> list[str]:
    return [f"open edge: {pocket.open}"]


def glue(pocket: Pocket, unit: str) -> list[str]:
    return [f"glued, {length_text(pocket.glue, unit)} wide,", f"on three edges: {figure(pocket.run, unit)} {unit}"]


def spare(label: str, pocket: Pocket, size: Size, unit: str) -> list[str]:
    """Air on each side of what goes in, and how much of it shows."""
    return [
        f"{label} has {length_text((pocket.mouth - pocket.width_of(size)) / 2, unit)}",
        "to spare each side;",
        shows(pocket, size, unit),
    ]


def shows(pocket: Pocket, size: Size, unit: str) -> str:
    """How much of what goes in shows, pushed home."""
    left = pocket.shows(size)
    return f"{length_text(left, unit)} shows" if left > ZERO else "goes in whole"


def pocket_title(label: str, inside: str) -> str:
    return f"Pocket {label}" + (f", {inside} in it" if inside else "")


def pocket_alt(label: str, pocket: Pocket, inside: str, size: Size | None, unit: str) -> str:
    """A pocket and what goes in."""
    text = (
        f"Pocket {label} of {size_text(pocket.rect.size, unit)}: glued {length_text(pocket.glue, unit)} wide along its "
        f"{listed(pocket.glued)}, its {pocket.open} left open."
    )
    if inside and size:
        text += f" {inside} of {size_text(size, unit)} is pushed in loose from the {pocket.open}; pushed home, {shows(pocket, size, unit)}."
    return text


# --- shaker -----------------------------------------------------------------------------------------


def strips(shaker: Shaker, unit: str) -> list[str]:
    """Foam and how its strips are laid."""
    above, beside = shaker.lengths
    long = f"4 × {figure(above, unit)}" if above == beside else f"2 × {figure(above, unit)}, 2 × {figure(beside, unit)}"
    return [f"foam, {length_text(shaker.foam, unit)} wide: {long},", "each end against a side"]


def film(shaker: Shaker, unit: str) -> list[str]:
    return [f"film, {size_text(shaker.film.size, unit)}"]


def loose(inside: str) -> list[str]:
    return [f"loose inside: {inside}," if inside else "loose inside:", "thinner than the foam"]


def cut_through(times: int) -> str:
    """The heading of a cut in which thickness is drawn larger."""
    return f"Cut through the window, thickness × {times}" if times > 1 else "Cut through the window"


def layer(name: str, thickness: Range, unit: str) -> str:
    """A layer in that cut, and how thick it is."""
    return f"{name} {thin_text(thickness, unit)}"


def shaker_title(label: str) -> str:
    return f"Shaker {label}"


def shaker_alt(label: str, shaker: Shaker, layers: Sequence[str], inside: str, unit: str) -> str:
    """A shaker from its front, and cut through its window."""
    above, beside = shaker.lengths
    return (
        f"Shaker {label} of {size_text(shaker.frame.size, unit)} with a window of {size_text(shaker.window.size, unit)}. "
        f"Behind it film of {size_text(shaker.film.size, unit)} and four strips of foam, {length_text(shaker.foam, unit)} wide, "
        f"two {figure(above, unit)} and two {figure(beside, unit)} long, laid round like a pinwheel, {length_text(shaker.set_back, unit)} from the "
        f"window; {inside or 'something'} lies loose inside. From below: {'; '.join(layers)}."
    )


# --- belly band ---------------------------------------------------------------------------------------


def band_title(label: str, band: Band, unit: str) -> str:
    return f"Belly band {label}: {length_text(band.length, unit)} round the closed card"


def band_sum(band: Band, unit: str) -> str:
    """How its length comes about."""

    def plain(length: Length) -> str:
        return thin_text(Range.exact(length.millimetres), unit)

    exact = band.exact.inches if unit == "in" else band.exact.millimetres
    shown = f"{float(exact):.2f}".rstrip("0").rstrip(".")
    sign = "=" if Fraction(shown) == exact else ABOUT
    return (
        f"2 × ({figure(band.width, unit)} + {plain(band.thick)}) + 4 × {plain(band.own)} + {figure(band.overlap, unit)} "
        f"{OVERLAP} {sign} {shown}; cut {length_text(band.length, unit)}"
    )


def band_alt(label: str, band: Band, height: Length, unit: str) -> str:
    """A belly band laid flat."""
    scored = ", ".join(figure(at, unit) for at in band.scores)
    return (
        f"Belly band {label}, {length_text(band.length, unit)} long and {length_text(height, unit)} high, scored up and down at {scored} {unit} "
        f"from the left; its right end reaches {length_text(band.lapped, unit)} over its left one, on the back."
    )
