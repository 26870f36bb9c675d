"""Several pictures of a kit's page on one drawing, so that the page asks for few files, and for letters and patterns once.

What is seen together lies together: all that has sizes on it (sketch, guides, the base), all looks, and whatever is small (patches
of paper, the sheet in hand, sheets that lie closed). Each picture is a file of its own as well, for whoever takes or shares it.
What has sizes on it has a board for each unit, and of each one for pages with two columns and one for narrower ones.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from kitwright import cache
from kitwright.archive.pictures import Image, Picture, Places, Shown, words_run_round
from kitwright.drawing.photo import FINE
from kitwright.drawing.svg import board
from kitwright.schemes import Palette

MEASURED, LOOKS, SMALL = "drawings", "looks", "small"
"""How the boards are called."""
_FINE = {LOOKS: Fraction(1)}
"""Pixels to a point of the scans on a board whose pictures are shown far smaller than they are drawn: a look as wide as a thumb."""
_ALIKE = {"look": LOOKS, "paper": SMALL, "hand": SMALL, "sheet": SMALL}
"""Where pictures lie of which one drawing does for every width and unit, by how their names begin."""


@dataclass
class Boards:
    """What lies on boards."""

    places: dict[str, tuple[Places, Places | None]] = field(default_factory=dict)
    """Where, by the name of a picture: in the kit's own unit, and in the other where figures are on it."""
    files: dict[str, bytes] = field(default_factory=dict)

    def placed(self, name: str, image: Image) -> Image:
        """A picture with its places."""
        if name not in self.places:
            return image
        own, other = self.places[name]
        return replace(image, places=own, other=replace(image.other, places=other) if image.other else None)


def boards_of(pictures: Mapping[str, Picture], shown: Mapping[str, Shown], palette: Palette, *, several: bool) -> Boards:
    """A kit's boards.

    Args:
        pictures: its pictures by name.
        shown: the same, drawn.
        palette: the club's.
        several: whether it has several designs, so that its sketch is as wide as the page.
    """
    found = Boards()
    for kind in dict.fromkeys(_ALIKE.values()):
        some = [picture for name, picture in pictures.items() if _ALIKE.get(name.partition("-")[0]) == kind]
        if some:
            file = f"{kind}.svg"
            found.files[file] = _drawn([(each.name, each, 0, 0) for each in some], palette, _FINE.get(kind, FINE))
            found.places |= {each.name: (Places(f"{file}#{each.name}", "", f"{file}#{each.name}"), None) for each in some}
    measured = [picture for name, picture in pictures.items() if _is_measured(name, shown[name].image)]
    # Beside their words they stand on wide pages alone: below that these are drawn as for a phone, the others as wide as ever.
    wide = {each.name for each in measured if each.name.startswith("base") or several and each.name == "sketch"}
    for unit in range(2 if any(each.beside for each in measured) else 1):
        end = f"--{next(each.beside.unit for each in measured if each.beside)}" if unit else ""
        large, small = f"{MEASURED}{end}.svg", f"{MEASURED}{end}-narrow.svg"
        narrow = {each.name: f"{each.name}{each.narrow_end}" for each in measured}
        found.files[large] = _drawn([(each.name, each, unit, 0) for each in measured], palette)
        found.files[small] = _drawn(
            [
                *((narrow[each.name], each, unit, 1) for each in measured),
                *((each.name, each, unit, 0) for each in measured if each.name in wide),
            ],
            palette,
        )
        for each in measured:
            middle = f"{small}#{each.name}" if each.name in wide else ""
            places = Places(f"{large}#{each.name}", middle, f"{small}#{narrow[each.name]}")
            found.places[each.name] = (found.places[each.name][0], places) if unit else (places, None)
    return found


def _is_measured(name: str, image: Image) -> bool:
    """Whether a picture lies on the board of sizes: not what a page shows rarely, nor a base that is as wide as the page."""
    kind = name.partition("-")[0]
    return name == "sketch" or kind == "guide" or (kind == "base" and words_run_round(image))


def _drawn(parts: list[tuple[str, Picture, int, int]], palette: Palette, fine: Fraction = FINE) -> bytes:
    """A board of pictures, each with its name there, the unit, and whether it is the phone's; drawn unless it was before."""
    key = cache.digest(
        [(name, each.said, each.beside and each.beside.said, unit, width) for name, each, unit, width in parts], palette, fine
    )
    return cache.made(
        "board", key, lambda: board({name: each.in_both[unit][width] for name, each, unit, width in parts}, palette, fine).encode()
    )
