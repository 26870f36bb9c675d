"""How the papers of a question look: as she says, or as stand-ins that differ in pattern and in lightness; and what those are called."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from kitwright.kit.looks import ONE_WAY
from kitwright.kit.model.papers import PaperFace
from kitwright.proposing.wish import Stock, Wish

STAND_INS = (
    PaperFace(look="blossoms", colours=("sage", "linen")),
    PaperFace(look="stripes", colours=("butter", "white")),
    PaperFace(look="dots", colours=("plum", "blush")),
    PaperFace(look="checks", colours=("sky", "white")),
    PaperFace(look="diagonals", colours=("clay", "linen")),
    PaperFace(look="sprigs", colours=("blush", "plum")),
    PaperFace(look="waves", colours=("night", "sky")),
    PaperFace(look="herringbone", colours=("butter", "clay")),
)
"""Looks of papers that nobody described: neighbours lie so far apart in lightness that they are told apart in grey too, and none is of the colour of cardstock."""
UPRIGHT_STAND_INS = (
    PaperFace(look="leaves", colours=("butter", "sage")),
    PaperFace(look="houses", colours=("sky", "night")),
    PaperFace(look="bunting", colours=("blush", "plum", "white")),
)
"""The same of papers with an up."""
BASES_LOOK, MATS_LOOK = PaperFace(look="plain", colours=("white",)), PaperFace(look="plain", colours=("linen",))
"""How cardstock looks of which bases are, and mats: so that a mat is seen on its base."""


def faces_of(wish: Wish) -> Mapping[str, PaperFace]:
    """The printed side of each of her papers, by key; with its up where it has one."""
    return dict(zip((stock.key for stock in wish.stocks), _faces(wish.stocks)))


def called(stocks: Sequence[Stock]) -> tuple[Stock, ...]:
    """Papers that she gave no name to are called by how they are drawn, so that words and pictures agree: `Blossoms`, `Stripes`."""
    taken, found = {stock.name for stock in stocks if _has_its_name(stock)}, []
    for stock, face in zip(stocks, _faces(stocks)):
        if not _has_its_name(stock):
            look = face.drawn_look.capitalize()
            name = next(each for each in (look, *(f"{look} {n}" for n in range(2, len(stocks) + 2))) if each not in taken)
            taken.add(name)
            stock = replace(stock, name=name)
        found.append(stock)
    return tuple(found)


def _has_its_name(stock: Stock) -> bool:
    """Hers, or the club's."""
    return stock.named or stock.face is not None


def _faces(stocks: Sequence[Stock]) -> list[PaperFace]:
    given = [(stock.face.look, stock.face.colours) for stock in stocks if stock.face]
    parts: dict[bool, list[PaperFace]] = {}
    for upright, part in ((False, STAND_INS), (True, UPRIGHT_STAND_INS)):
        # One that she has herself would be taken for hers.
        parts[upright] = [face for face in part if (face.look, face.colours) not in given] or list(part)
    found, used = [], {True: 0, False: 0}
    for stock in stocks:
        face = stock.face
        if face is None:
            face = parts[stock.one_way][used[stock.one_way] % len(parts[stock.one_way])]
            used[stock.one_way] += 1
        found.append(_with_its_up(stock, face))
    return found


def _with_its_up(stock: Stock, face: PaperFace) -> PaperFace:
    upright = stock.one_way or face.drawn_look in ONE_WAY
    return face.model_copy(update={"up": "top"}) if upright and face.up is None else face
