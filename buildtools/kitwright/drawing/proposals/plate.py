"""One proposal as a plate: its card, or one of each design, and beside it every way in which sheets are cut."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple

from kitwright.card.face import Face
from kitwright.drawing import fonts
from kitwright.drawing.fonts import Font
from kitwright.drawing.front import Looks
from kitwright.drawing.looks import lay
from kitwright.drawing.proposals.dress import looks_of_wish
from kitwright.drawing.proposals.fronts import fronts_of
from kitwright.drawing.proposals.sheets import ON_SCREEN, small_sheet
from kitwright.drawing.scene import Box, Draft, Frame, Number, Scene, points
from kitwright.drawing.sketch import picture
from kitwright.exact import Exact
from kitwright.proposing.papered import AsMade, sheet_by_sheet
from kitwright.proposing.records import Answer, Proposal, SheetCut
from kitwright.proposing.wish import Wish
from kitwright.telling.drawn_proposals import cards_said, fronts_alt, plate_title, sheet_alt, sheets_said
from kitwright.telling.proposed_kit import GREETING
from kitwright.units import Size

WIDE, WIDER = Exact(276), Exact(420)
"""Of a plate on a screen, its clear margin included: three stand side by side, or two that show more; points."""
EDGE = Exact(6)
"""That margin."""
_APART, _BETWEEN = Exact(14), Exact(12)
"""Between drawings side by side, and between rows of them; points."""
_LIFT = Exact(8, 5)
"""How far the shadow of a layer falls, points."""
_LINE, _SWATCH, _SMALL = Exact(14), Exact(9), Exact(9)
"""Room of the line under a drawing, the little squares of paper in it, and its type; points."""
_NOTE = Font()


class Row(NamedTuple):
    """Drawings that are to have room side by side."""

    cards: int
    sheets: int


_SHARE = {Row(1, 1): Exact(29, 50), Row(1, 2): Exact(37, 100), Row(2, 1): Exact(23, 50), Row(2, 0): Exact(29, 50)}
"""Of the room across, how much a sheet takes at most: as much as if cards and sheets were of one scale, as long as a card is seen well."""
_HIGH = {2: Exact(29, 50), 3: Exact(41, 100)}
"""Of the room across, how high a drawing is at most, where so many stand in a row."""


def usual_row(wish: Wish) -> Row:
    """A card and a sheet side by side; or both designs, and the sheets beneath."""
    return Row(wish.designs, 2 - wish.designs)


def wide_row(wish: Wish) -> Row:
    """One more in the row."""
    return Row(wish.designs, 3 - wish.designs)


def is_wide(proposals: Iterable[Proposal]) -> bool:
    """Whether some of these have more to show than a card and a sheet."""
    return any(len(one.sides) + len(one.cuts) > 2 for one in proposals)


@dataclass(frozen=True, slots=True)
class Scales:
    """At which scale all cards of an answer are drawn, and all sheets; whole per cents."""

    card: Fraction
    sheet: Fraction


def scales_of(wish: Wish, wide: Number = WIDE, row: Row | None = None) -> Scales:
    """The largest at which every card and every sheet of hers has room; they follow from the question, so that plates drawn one by one agree.

    Args:
        wish: what was asked.
        wide: of each plate, points.
        row: which drawings are to stand in a row; the usual ones where it is left out.
    """
    row = row or usual_row(wish)
    in_row = row.cards + row.sheets
    room = wide - 2 * EDGE - _APART * (in_row - 1)
    high = room * _HIGH[in_row]
    card, sheet = _most(card.closed for card in wish.cards_of), _most(stock.sheet.size for stock in wish.stocks)
    share = min(sheet[0] / (card[0] * row.cards + sheet[0] * row.sheets), _SHARE[row]) if row.sheets else _SHARE[row]
    of_sheet = min(room * share / sheet[0], high / sheet[1])
    of_card = min((room - of_sheet * sheet[0] * row.sheets) / row.cards / card[0], high / card[1])
    return Scales(_whole(of_card), _whole(of_sheet))


def _most(sizes: Iterable[Size]) -> tuple[Fraction, Fraction]:
    """Points that the widest takes across, and the highest down."""
    sides = [(points(size.width, Exact(1)), points(size.height, Exact(1))) for size in sizes]
    return max(wide for wide, _ in sides), max(high for _, high in sides)


def _whole(scale: Fraction) -> Fraction:
    return Exact(max(1, min(100, int(scale * 100))), 100)


@dataclass(frozen=True, slots=True)
class Shown:
    """A drawing of a plate."""

    wide: Fraction
    high: Fraction
    """Points, with the line under it."""
    draw: Callable[[Draft, Fraction, Fraction], None]
    """Draws it, its left and top where it is told."""


@dataclass(frozen=True, slots=True)
class Plate:
    """The drawings of one proposal, in rows."""

    wide: Fraction
    """Points, as all lengths here."""
    rows: tuple[tuple[Shown, ...], ...]
    title: str
    alts: tuple[str, ...]
    """What its cards show, and then what each of its sheets."""
    lone: tuple[Shown, ...]
    """Its cards as they stand by themselves, beside words that tell how many there are where they are of one design."""
    indent: Fraction = Exact(0)
    """How far rows after the first are set in."""

    @property
    def high(self) -> Fraction:
        """With its clear margin."""
        return sum((max(one.high for one in row) for row in self.rows), _BETWEEN * (len(self.rows) - 1)) + 2 * EDGE

    def draw(self, draft: Draft, left: Fraction, top: Fraction) -> None:
        """Draw it, its left and top where it is told."""
        top += EDGE
        for i, row in enumerate(self.rows):
            x = left + EDGE + (self.indent if i else 0)
            for one in row:
                one.draw(draft, x, top)
                x += one.wide + _APART
            top += max(one.high for one in row) + _BETWEEN

    @property
    def scene(self) -> Scene:
        """The plate by itself."""
        return self._drawn(self.wide, self.rows, self.alts)

    @property
    def fronts(self) -> Scene:
        """Its cards by themselves, on a line."""
        return self._drawn(None, (self.lone,), self.alts[:1])

    @property
    def sheets(self) -> tuple[Scene, ...]:
        """Its sheets by themselves: the first, and where there are more the others, as many side by side as have room."""
        each = [one for row in self.rows for one in row][len(self.lone) :]
        parts = [rows for some in (each[:1], each[1:]) if (rows := _in_rows(some, self.wide))]
        return tuple(self._drawn(None, rows, alts) for rows, alts in zip(parts, (self.alts[1:2], self.alts[2:])))

    def _drawn(self, wide: Fraction | None, rows: tuple[tuple[Shown, ...], ...], alts: Iterable[str]) -> Scene:
        """Rows of drawings as a picture, so wide as is said or as they are."""
        part = replace(self, rows=rows, wide=wide or max(_across(row) for row in rows) + 2 * EDGE, indent=self.indent if wide else Exact(0))
        draft = Draft()
        part.draw(draft, Exact(0), Exact(0))
        return draft.scene(part.wide, part.high, self.title, " ".join((f"{self.title}.", *alts)))


def _across(row: Sequence[Shown]) -> Fraction:
    """How wide drawings are side by side."""
    return sum((one.wide for one in row), _APART * (len(row) - 1))


def _in_rows(shown: Iterable[Shown], wide: Fraction) -> tuple[tuple[Shown, ...], ...]:
    """As many side by side as have room."""
    rows: list[tuple[Shown, ...]] = []
    for one in shown:
        if rows and _across((*rows[-1], one)) <= wide - 2 * EDGE:
            rows[-1] += (one,)
        else:
            rows.append((one,))
    return tuple(rows)


def as_made(answer: Answer) -> tuple[AsMade, ...]:
    """Every layout of an answer with the papers that its pictures show."""
    return tuple(sheet_by_sheet(answer.wish, one) for one in answer.proposals)


def plates(
    wish: Wish, made: Iterable[AsMade], wide: Number = WIDE, row: Row | None = None, *, least: Number = ON_SCREEN
) -> tuple[Plate, ...]:
    """A plate of each layout, all at one scale.

    Args:
        wish: what was asked.
        made: what is shown.
        wide: of each plate, points.
        row: as for `scales_of`.
        least: the smallest type of a label, points.
    """
    scales = scales_of(wish, wide, row)
    return tuple(_plate(*one, scales, Exact(wide), Exact(least)) for one in made)


def _plate(wish: Wish, proposal: Proposal, scales: Scales, wide: Fraction, least: Fraction) -> Plate:
    looks = looks_of_wish(wish)
    faces = fronts_of(wish, proposal, GREETING)
    cards = [_card(face, looks, scales.card, cards_said(face.cards) if len(faces) > 1 or wish.cards is None else "") for face in faces]
    lone = tuple(cards) if len(faces) > 1 else (_card(faces[0], looks, scales.card, ""),)
    shown = cards + [_sheet(cut, looks, scales.sheet, least) for cut in proposal.cuts]
    rows = _in_rows(shown, wide)
    # More sheets stand under the first one, and not under the card.
    aside = shown[0].wide + _APART if len(faces) == 1 and len(rows[0]) > 1 else Exact(0)
    fits = all(aside + _across(row) <= wide - 2 * EDGE for row in rows[1:])
    alts = fronts_alt(faces, wish.unit), *(sheet_alt(cut, wish.unit) for cut in proposal.cuts)
    return Plate(wide, rows, plate_title(proposal), alts, lone, aside if fits else Exact(0))


def _card(face: Face, looks: Looks, scale: Fraction, said: str) -> Shown:
    wide, high = points(face.size.width, scale), points(face.size.height, scale)

    def draw(draft: Draft, x: Fraction, y: Fraction) -> None:
        picture(draft, face, looks, Frame(x, y, scale), _LIFT, _LIFT)
        if said:
            draft.text(said, x + wide / 2, y + high + _LINE, _SMALL, "note", "middle")

    return Shown(wide, high + (_LINE if said else _LIFT), draw)


def _sheet(cut: SheetCut, looks: Looks, scale: Fraction, least: Fraction) -> Shown:
    rect = cut.tree.rect
    wide, high = points(rect.width, scale), points(rect.height, scale)
    papers = _papers(cut)
    if _wide(papers) > wide:
        papers = _papers(cut, short=True)

    def draw(draft: Draft, x: Fraction, y: Fraction) -> None:
        small_sheet(draft, cut.tree, Frame(x, y, scale), looks[cut.stocks[0][0], "front"], least)
        _legend(draft, papers, looks, x, y + high + _LINE)

    return Shown(max(wide, _wide(papers)), high + _LINE, draw)


def _papers(cut: SheetCut, short: bool = False) -> list[tuple[list[str], str]]:
    """Which sheets are cut so: papers of which there are as many, and what is said of them."""
    counts = list(dict.fromkeys(n for _, n in cut.stocks))
    together = [([key for key, n in cut.stocks if n == count], count) for count in counts]
    return [(keys, sheets_said(count, len(keys) > 1, short)) for keys, count in together]


def _wide(papers: Sequence[tuple[list[str], str]]) -> Fraction:
    """How wide that line is."""
    return sum(((_SWATCH + 3) * len(keys) + 1 + fonts.width(said, _SMALL, _NOTE) + 10 for keys, said in papers), Exact(-10))


def _legend(draft: Draft, papers: Sequence[tuple[list[str], str]], looks: Looks, x: Fraction, y: Fraction) -> None:
    """A little square of each paper, and how many sheets of it."""
    for keys, said in papers:
        for key in keys:
            square = Box(x, y - _SWATCH, x + _SWATCH, y)
            draft.shapes.append(lay(looks[key, "front"], square.corners, (square.left, square.top), Exact(1, 4)))
            draft.box(square, "paper-edge")
            x += _SWATCH + 3
        x += 1
        text = draft.text(said, x, y - Exact(3, 2), _SMALL, "note")
        x += text.width + 10
