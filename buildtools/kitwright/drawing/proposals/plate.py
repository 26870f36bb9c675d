"""One proposal as a plate: its card, or one of each design, and beside it every way in which sheets are cut."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction

from kitwright.card.face import Face
from kitwright.drawing.front import Looks
from kitwright.drawing.looks import lay
from kitwright.drawing.proposals.dress import looks_of_wish
from kitwright.drawing.proposals.fronts import fronts_of
from kitwright.drawing.proposals.sheets import small_sheet
from kitwright.drawing.scene import Box, Draft, Frame, Number, Scene, points
from kitwright.drawing.sketch import picture
from kitwright.exact import Exact
from kitwright.proposing.papered import sheet_by_sheet
from kitwright.proposing.records import Proposal, SheetCut
from kitwright.proposing.wish import Wish
from kitwright.telling.drawn_proposals import cards_said, plate_alt, plate_title, sheets_said
from kitwright.telling.proposed_kit import GREETING

WIDE = Exact(276)
"""Of a plate on a screen, its clear margin included; points."""
EDGE = Exact(6)
"""That margin."""
_APART, _BETWEEN = Exact(14), Exact(12)
"""Between drawings side by side, and between rows of them; points."""
_SHARES = {2: (Exact(47, 100), Exact(58, 100), Exact(1, 2)), 3: (Exact(3, 10), Exact(41, 100), Exact(35, 100))}
"""Of the room across, how wide and how high a card is at most, and how long a sheet, where so many of them stand in a row. Two sheets that
are cut otherwise have a row to themselves beneath a card and a sheet."""
_LIFT = Exact(8, 5)
"""How far the shadow of a layer falls, points."""
_LINE, _SWATCH, _SMALL = Exact(14), Exact(9), Exact(9)
"""Room of the line under a drawing, the little squares of paper in it, and its type; points."""


@dataclass(frozen=True, slots=True)
class Scales:
    """At which scale all cards of an answer are drawn, and all sheets; whole per cents."""

    card: Fraction
    sheet: Fraction


def scales_of(wish: Wish, wide: Number = WIDE, row: int = 0) -> Scales:
    """The largest at which every card and every sheet of hers has room; they follow from the question, so that plates drawn one by one agree.

    Args:
        wish: what was asked.
        wide: of each plate, points.
        row: how many drawings are to stand in a row, 2 or 3; a card of each design and a sheet where it is left out.
    """
    row = row or wish.designs + 1
    card_wide, card_high, sheet_long = _SHARES[row]
    room = wide - 2 * EDGE - _APART * (row - 1)
    across, down = (max(getattr(card.closed, side) for card in wish.cards_of) for side in ("width", "height"))
    long = max(max(stock.sheet.size.width, stock.sheet.size.height) for stock in wish.stocks)
    card = min(room * card_wide / points(across, Exact(1)), room * card_high / points(down, Exact(1)))
    return Scales(_whole(card), _whole(room * sheet_long / points(long, Exact(1))))


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
    alt: str

    @property
    def high(self) -> Fraction:
        """With its clear margin."""
        return sum((max(one.high for one in row) for row in self.rows), _BETWEEN * (len(self.rows) - 1)) + 2 * EDGE

    def draw(self, draft: Draft, left: Fraction, top: Fraction) -> None:
        """Draw it, its left and top where it is told; all rows begin at the left."""
        top += EDGE
        for row in self.rows:
            x = left + EDGE
            for one in row:
                one.draw(draft, x, top)
                x += one.wide + _APART
            top += max(one.high for one in row) + _BETWEEN

    @property
    def scene(self) -> Scene:
        """The plate by itself."""
        draft = Draft()
        self.draw(draft, Exact(0), Exact(0))
        return draft.scene(self.wide, self.high, self.title, self.alt)


def plates(wish: Wish, proposals: Iterable[Proposal], wide: Number = WIDE, row: int = 0) -> tuple[Plate, ...]:
    """A plate of each proposal, all at one scale.

    Args:
        wish: what was asked.
        proposals: what is shown.
        wide: of each plate, points.
        row: as for `scales_of`.
    """
    scales = scales_of(wish, wide, row)
    return tuple(_plate(*sheet_by_sheet(wish, one), scales, Exact(wide)) for one in proposals)


def _plate(wish: Wish, proposal: Proposal, scales: Scales, wide: Fraction) -> Plate:
    looks = looks_of_wish(wish)
    faces = fronts_of(wish, proposal, GREETING)
    shown = [_card(face, looks, scales.card, cards_said(face.cards) if len(faces) > 1 else "") for face in faces]
    shown += [_sheet(cut, looks, scales.sheet) for cut in proposal.cuts]
    rows: list[list[Shown]] = []
    for one in shown:
        if rows and sum(each.wide + _APART for each in rows[-1]) + one.wide <= wide - 2 * EDGE:
            rows[-1].append(one)
        else:
            rows.append([one])
    return Plate(wide, tuple(map(tuple, rows)), plate_title(proposal), plate_alt(faces, proposal, wish.unit))


def _card(face: Face, looks: Looks, scale: Fraction, said: str) -> Shown:
    wide, high = points(face.size.width, scale), points(face.size.height, scale)

    def draw(draft: Draft, x: Fraction, y: Fraction) -> None:
        picture(draft, face, looks, Frame(x, y, scale), _LIFT, _LIFT)
        if said:
            draft.text(said, x + wide / 2, y + high + _LINE, _SMALL, "note", "middle")

    return Shown(wide, high + (_LINE if said else _LIFT), draw)


def _sheet(cut: SheetCut, looks: Looks, scale: Fraction) -> Shown:
    rect = cut.tree.rect
    wide, high = points(rect.width, scale), points(rect.height, scale)

    def draw(draft: Draft, x: Fraction, y: Fraction) -> None:
        small_sheet(draft, cut.tree, Frame(x, y, scale), looks[cut.stocks[0][0], "front"])
        _papers(draft, cut, looks, x, y + high + _LINE, x + max(wide, Exact(60)))

    return Shown(wide, high + _LINE, draw)


def _papers(draft: Draft, cut: SheetCut, looks: Looks, x: Fraction, y: Fraction, right: Fraction) -> None:
    """Which sheets are cut so: a little square of each paper, and how many of it; as many papers as there is room for."""
    for key, sheets in cut.stocks:
        if x + _SWATCH + 20 > right:
            break
        square = Box(x, y - _SWATCH, x + _SWATCH, y)
        draft.shapes.append(lay(looks[key, "front"], square.corners, (square.left, square.top), Exact(1, 4)))
        draft.box(square, "paper-edge")
        said = draft.text(sheets_said(sheets), x + _SWATCH + 4, y - Exact(3, 2), _SMALL, "note")
        x += _SWATCH + 4 + said.width + 10
