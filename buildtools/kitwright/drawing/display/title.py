"""Words beside or above the cards: as large as suits the picture, in few even lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from kitwright.colours import contrast, parts
from kitwright.drawing import fonts
from kitwright.drawing.display.ratios import Ratio
from kitwright.drawing.fonts import Font
from kitwright.drawing.palette import Ink
from kitwright.drawing.scene import LEAST_TEXT, Draft
from kitwright.exact import Exact
from kitwright.kit.looks import PAPERS, paper_colour
from kitwright.schemes import LIGHT, TEXT, WHITE

HEAD, UNDER = Font("serif", "semibold"), Font("sans")
_LEADING = Exact(23, 20)
_BELOW = Exact(2, 5)
"""How large the line below is, of the title's size."""
_APART = Exact(11, 20)
"""How far its top is from the title's last baseline, of that too: clear of what hangs below it."""
_QUIET = Exact(3, 10)
"""The least of it, of the size that a short title has."""


@dataclass(frozen=True, slots=True)
class DisplayTitle:
    """What is set with the cards."""

    head: str
    under: str = ""
    """A quiet line below, such as the month."""


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """A title in lines, at a size."""

    lines: tuple[str, ...]
    size: Fraction
    under: str
    small: Fraction
    """Size of the line below, points."""
    beside: bool
    """Whether it stands at the left of the cards, its lines beginning alike; otherwise above them, in the middle."""

    @property
    def width(self) -> Fraction:
        return max([fonts.width(line, self.size, HEAD) for line in self.lines] + [fonts.width(self.under, self.small, UNDER)])

    @property
    def height(self) -> Fraction:
        """From the tops of capitals to the foot of the last line."""
        head = self.size * (fonts.CAP + _LEADING * (len(self.lines) - 1))
        if self.under:
            return head + self._down + self.small * fonts.drop(self.under)
        return head + self.size * fonts.drop(self.lines[-1])

    @property
    def _down(self) -> Fraction:
        """From the title's last baseline to that of the line below."""
        return self.size * _APART + self.small * fonts.CAP

    def draw(self, draft: Draft, x: Fraction, top: Fraction, roles: tuple[str, str]) -> None:
        """Draw it: `x` is where its lines begin, or their middle."""
        anchor, y = "start" if self.beside else "middle", top + self.size * fonts.CAP
        for i, line in enumerate(self.lines):
            y += self.size * _LEADING if i else 0
            draft.text(line, x, y, self.size, roles[0], anchor, HEAD.family, HEAD.weight)
        if self.under:
            draft.text(self.under, x, y + self._down, self.small, roles[1], anchor, UNDER.family, UNDER.weight)


def title_blocks(title: DisplayTitle, ratio: Ratio) -> Iterator[TitleBlock]:
    """The ways in which a title can stand on a picture: above the cards, and beside them where it is wide.

    Nothing where its longest word is too long at the least size.
    """
    width, height = ratio.size
    short, safe = min(width, height), ratio.safe
    yield from _set(title, short / 10, safe.width, 2, beside=False)
    if width * 2 >= height * 3:
        yield from _set(title, short / 9, safe.width * Exact(9, 25), 4, beside=True)


def _set(title: DisplayTitle, size: Fraction, room: Fraction, most: int, beside: bool) -> Iterator[TitleBlock]:
    """The title as large as can be up to a size, in at most so many lines; in more where it is long, rather than very small."""
    for lines in (most, most + 2, most + 6):
        at = size
        while at >= max(Exact(LEAST_TEXT), size / 3 if lines < most + 6 else 0):
            small = max(Exact(LEAST_TEXT), at * _BELOW, size * _QUIET)
            found = fonts.wrap(title.head, at, room, HEAD)
            if len(found) <= lines and fonts.width(title.under, small, UNDER) <= room and _fits(found, at, room):
                yield TitleBlock(tuple(_even(title.head, at, room, len(found))), at, title.under, small, beside)
                return
            at = at * 15 / 16


def _fits(lines: list[str], size: Fraction, room: Fraction) -> bool:
    return all(fonts.width(line, size, HEAD) <= room for line in lines)


def _even(words: str, size: Fraction, room: Fraction, count: int) -> list[str]:
    """In as many lines, but of lengths as even as can be."""
    found = fonts.wrap(words, size, room, HEAD)
    for part in range(19, 5, -1):
        tried = fonts.wrap(words, size, room * part / 20, HEAD)
        if len(tried) > count or not _fits(tried, size, room * part / 20):
            break
        found = tried
    return found


_ROLES = {"paper": ("title", "note"), "surface": ("title", "note"), "accent": ("tag", "tag"), "second": ("tag", "tag")}
"""What words on a ground of the club's own palette are set in; it sees to it that they can be read."""


def words_on(ground: Ink) -> tuple[str, str]:
    """The roles of a title and of the quiet line below it that can be read on a ground."""
    if ground.name in _ROLES:
        return _ROLES[ground.name]
    if ground.name not in PAPERS and not ground.name.startswith("#"):
        return "sentiment-light", "sentiment-light"
    if ground.strength < Exact(1, 2):
        return "title", "note"
    colour = paper_colour(ground.name)
    if contrast(parts(LIGHT["soft"]), colour) >= TEXT:
        return "title", "note"
    ways = {"title": contrast(parts(LIGHT["ink"]), colour), "sentiment-light": contrast(WHITE, colour)}
    role = max(ways, key=lambda one: ways[one])
    role = role if ways[role] >= TEXT else "sentiment-black"
    return role, role
