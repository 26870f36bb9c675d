"""Several pictures of a kit's page on one drawing, so that the page asks for few files, and for letters and patterns once.

What is seen together lies together: all that has sizes on it (sketch, guides, the base), all looks, and with the card at the page's
head whatever is small (patches of paper, the sheet in hand, sheets that lie closed). Each picture is a file of its own as well, for whoever takes or shares it.
What has sizes on it has a board for each unit, and of each one for pages with two columns and one for narrower ones; of several
designs, whose sketch is as wide as the page, one for phones besides.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from kitwright import cache
from kitwright.archive.picture import Image, Picture, Places, Shown, words_run_round
from kitwright.drawing.photo import FINE
from kitwright.drawing.svg import board
from kitwright.schemes import Palette

MEASURED, LOOKS, SMALL = "drawings", "looks", "small"
"""How the boards are called."""
_FINE = {LOOKS: Fraction(1)}
"""Pixels to a point of the scans on a board whose pictures are shown far smaller than they are drawn: a look as wide as a thumb."""
_ALIKE = {"card": SMALL, "look": LOOKS, "paper": SMALL, "hand": SMALL, "sheet": SMALL}
"""Where pictures lie of which one drawing does for every width and unit, by how their names begin."""


_Part = tuple[str, Picture, int, int]
"""A picture on a board: its name there, itself, the unit, and whether it is the phone's redraw."""


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
    measured = [picture for name, picture in pictures.items() if _is_measured(name)]
    small_once = {each.name for each in measured if _folds(each.name) and words_run_round(shown[each.name].image)}
    width = _Widths(
        {each.name for each in measured if each.name in small_once or several and each.name == "sketch"},
        {each.name for each in measured if _folds(each.name)} - small_once,
    )
    for unit in range(2 if any(each.beside for each in measured) else 1):
        places, files = _measured(measured, unit, width, palette, several=several)
        found.files |= files
        found.places |= {name: (found.places[name][0], place) if unit else (place, None) for name, place in places.items()}
    return found


@dataclass(frozen=True)
class _Widths:
    """How wide pictures stand where a page is too narrow for two columns, and wider than a phone's: most as on a phone."""

    whole: set[str]
    """Those that stand there as on a wide page."""
    never: set[str]
    """Those that stand as on a phone on every page."""


def _measured(
    pictures: list[Picture], unit: int, width: _Widths, palette: Palette, *, several: bool
) -> tuple[dict[str, Places], dict[str, bytes]]:
    """Where all that has sizes on it lies in one unit, and those boards."""
    end = f"--{next(each.beside.unit for each in pictures if each.beside)}" if unit else ""
    large, small = f"{MEASURED}{end}.svg", f"{MEASURED}{end}-narrow.svg"
    middle = f"{MEASURED}{end}-middle.svg" if several else small
    drawn: dict[str, _Part] = {each.name: (each.name, each, unit, 0) for each in pictures}
    redrawn: dict[str, _Part] = {each.name: (f"{each.name}{each.narrow_end}", each, unit, 1) for each in pictures}
    lying = {large: [(redrawn if name in width.never else drawn)[name] for name in drawn], small: [*redrawn.values()]}
    if several:
        lying[middle] = [(drawn if name in width.whole else redrawn)[name] for name in drawn]
    else:
        lying[small] += [drawn[name] for name in drawn if name in width.whole]
    places = {}
    for name, (narrow, *_) in redrawn.items():
        whole = name in width.whole
        between = f"{middle}#{name if whole else narrow}" if several or whole else ""
        places[name] = Places(f"{large}#{narrow if name in width.never else name}", between, f"{small}#{narrow}", not whole)
    return places, {file: _drawn(parts, palette) for file, parts in lying.items()}


def _is_measured(name: str) -> bool:
    """Whether a picture lies on the board of sizes: not what stands in closed parts."""
    return name == "sketch" or name.startswith("guide-") or _folds(name)


def _folds(name: str) -> bool:
    """Whether it shows the base, flat or folded."""
    return name.partition("-")[0] in ("base", "fold")


def _drawn(parts: list[_Part], palette: Palette, fine: Fraction = FINE) -> bytes:
    """A board of pictures, each with its name there, the unit, and whether it is the phone's; drawn unless it was before."""
    key = cache.digest(
        [(name, each.said, each.beside and each.beside.said, unit, width) for name, each, unit, width in parts], palette, fine
    )
    return cache.made(
        "board", key, lambda: board({name: each.in_both[unit][width] for name, each, unit, width in parts}, palette, fine).encode()
    )
