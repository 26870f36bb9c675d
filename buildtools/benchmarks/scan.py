"""Paints an invented patterned paper, as a photo of it would be: for tests, and to try `scan:` with.

    python buildtools/benchmarks/scan.py FILE [--print meadow|stripes|blooms] [--inches 12] [--pixels 150] [--seed 1]
        [--ground #rrggbb] [--petals #rrggbb…] [--leaves #rrggbb…] [--quality 86]

A print in gouache (grasses and flowers, wavering stripes, or large blooms), with grain, a little more light in the
middle than at the edges, and an Exif block that says how the camera was held and where. Petals are the colours of
flowers and stripes, leaves those of what is green. The same words give the same bytes with the same Pillow. Nothing in
it is of any real paper.
"""

from __future__ import annotations

import argparse
import random
from math import cos, pi, sin
from pathlib import Path
from typing import NamedTuple

from PIL import Image, ImageChops, ImageColor, ImageDraw, ImageFilter

RGB = tuple[int, int, int]
GROUNDS: dict[str, RGB] = {"meadow": (244, 236, 214), "stripes": (247, 243, 236), "blooms": (38, 58, 84)}
GRASS: tuple[RGB, ...] = ((120, 150, 96), (92, 128, 84), (150, 170, 110), (70, 104, 76))
PETALS: tuple[RGB, ...] = ((214, 92, 84), (238, 164, 92), (232, 200, 96), (176, 112, 160), (110, 148, 196))
BANDS: tuple[RGB, ...] = ((126, 166, 178), (232, 176, 150), (196, 206, 170))
ORIENTATION, GPS = 0x0112, 0x8825


class Gouache(NamedTuple):
    """What a sheet is painted with."""

    ground: RGB
    petals: tuple[RGB, ...]
    leaves: tuple[RGB, ...] = GRASS


def gouache(kind: str) -> Gouache:
    """The usual colours of a print."""
    return Gouache(GROUNDS[kind], BANDS if kind == "stripes" else PETALS)


def paper(kind: str, inches: float, per_inch: int, seed: int, colours: Gouache | None = None) -> Image.Image:
    """A sheet of invented paper."""
    chance, edge, paint = random.Random(f"{kind} {seed}"), round(inches * per_inch), colours or gouache(kind)
    sheet = Image.new("RGB", (edge, edge), paint.ground)
    {"meadow": _meadow, "stripes": _stripes, "blooms": _blooms}[kind](ImageDraw.Draw(sheet, "RGBA"), edge, per_inch, chance, paint)
    return _photographed(sheet.filter(ImageFilter.GaussianBlur(per_inch / 160)), seed)


def _meadow(pen: ImageDraw.ImageDraw, edge: int, inch: int, chance: random.Random, paint: Gouache) -> None:
    for _ in range(edge * edge * 60 // (inch * inch)):
        x, y, high = chance.uniform(-0.1, 1) * edge, chance.uniform(0, 1.1) * edge, chance.uniform(0.3, 0.9) * inch
        lean, colour = chance.uniform(-0.3, 0.3) * high, (*chance.choice(paint.leaves), chance.randint(90, 200))
        stops = [(x + lean * t * t, y - high * t) for t in (0, 0.25, 0.5, 0.75, 1)]
        pen.line(stops, fill=colour, width=max(1, round(chance.uniform(0.012, 0.035) * inch)), joint="curve")
    for _ in range(edge * edge * 5 // (inch * inch)):
        _flower(pen, chance.uniform(0, edge), chance.uniform(0, edge), chance.uniform(0.07, 0.2) * inch, chance, paint)


def _blooms(pen: ImageDraw.ImageDraw, edge: int, inch: int, chance: random.Random, paint: Gouache) -> None:
    for _ in range(edge * edge * 2 // (inch * inch)):
        x, y, long = chance.uniform(0, edge), chance.uniform(0, edge), chance.uniform(0.2, 0.5) * inch
        pen.ellipse((x - long / 4, y - long, x + long / 4, y + long), fill=(*chance.choice(paint.leaves), 170))
    for _ in range(edge * edge * 5 // (4 * inch * inch)):
        _flower(pen, chance.uniform(0, edge), chance.uniform(0, edge), chance.uniform(0.25, 0.5) * inch, chance, paint)


def _flower(pen: ImageDraw.ImageDraw, x: float, y: float, size: float, chance: random.Random, paint: Gouache) -> None:
    colour, count = chance.choice(paint.petals), chance.randint(5, 8)
    for i in range(count):
        at, shade = 2 * pi * i / count + chance.uniform(-0.2, 0.2), chance.randint(-18, 18)
        px, py, r = x + cos(at) * size * 0.6, y + sin(at) * size * 0.6, size * chance.uniform(0.4, 0.55)
        red, green, blue = (max(0, min(255, part + shade)) for part in colour)
        pen.ellipse((px - r, py - r, px + r, py + r), fill=(red, green, blue, 215))
    pen.ellipse((x - size / 3, y - size / 3, x + size / 3, y + size / 3), fill=(90, 66, 50, 230))


def _stripes(pen: ImageDraw.ImageDraw, edge: int, inch: int, chance: random.Random, paint: Gouache) -> None:
    x, i = 0.0, 0
    while x < edge:
        wide = chance.uniform(0.2, 0.45) * inch
        sway = [(x + wide * chance.uniform(-0.08, 0.08), y) for y in range(0, edge + inch, inch // 2)]
        other = [(a + wide * chance.uniform(0.92, 1.08), y) for a, y in reversed(sway)]
        pen.polygon([*sway, *other], fill=(*paint.petals[i % len(paint.petals)], 225))
        x, i = x + wide + chance.uniform(0.12, 0.3) * inch, i + 1


def _photographed(sheet: Image.Image, seed: int) -> Image.Image:
    """Grain of paper and sensor, and light that falls off towards the edges."""
    chance = random.Random(seed)
    small = Image.frombytes("L", (256, 256), chance.randbytes(256 * 256)).point(lambda v: 120 + v // 16)
    grain = Image.new("L", sheet.size)
    for x in range(0, sheet.width, 256):
        for y in range(0, sheet.height, 256):
            grain.paste(small.transpose(Image.Transpose(chance.randrange(5))), (x, y))
    sheet = ImageChops.add(sheet, Image.merge("RGB", (grain,) * 3), 1, -128)
    light = Image.radial_gradient("L").resize(sheet.size).point(lambda v: 255 - v // 12)
    return ImageChops.multiply(sheet, Image.merge("RGB", (light,) * 3))


def saved(sheet: Image.Image, file: Path, quality: int = 86) -> None:
    """As a camera would save it, with its notes."""
    exif = Image.Exif()
    exif[ORIENTATION] = 1
    exif.get_ifd(GPS)[1] = "N"
    file.parent.mkdir(parents=True, exist_ok=True)
    sheet.save(file, quality=quality, exif=exif)


def main() -> None:
    """Write one sheet."""
    said = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    said.add_argument("file", type=Path)
    said.add_argument("--print", choices=sorted(GROUNDS), default="meadow", dest="kind")
    said.add_argument("--inches", type=float, default=12)
    said.add_argument("--pixels", type=int, default=150, help="to the inch")
    said.add_argument("--seed", type=int, default=1)
    said.add_argument("--ground", type=ImageColor.getrgb)
    said.add_argument("--petals", type=ImageColor.getrgb, nargs="+")
    said.add_argument("--leaves", type=ImageColor.getrgb, nargs="+")
    said.add_argument("--quality", type=int, default=86, help="of the JPEG")
    asked = said.parse_args()
    usual = gouache(asked.kind)
    paint = Gouache(asked.ground or usual.ground, tuple(asked.petals or usual.petals), tuple(asked.leaves or usual.leaves))
    saved(paper(asked.kind, asked.inches, asked.pixels, asked.seed, paint), asked.file, asked.quality)


if __name__ == "__main__":
    main()
