"""What a question's papers look like: as she says, or as stand-ins that differ in lightness and pattern."""

from __future__ import annotations

from kitwright.drawing.front import Looks
from kitwright.drawing.looks import DrawnLook
from kitwright.kit.looks import ONE_WAY
from kitwright.proposing.wish import Stock, Wish
from kitwright.work.taken import Piece

CARDSTOCK = "cardstock"
"""Stands for the paper that bases and mats are of; no stock's key, since those name patterned sheets."""
_STAND_INS = (
    DrawnLook("blossoms", ("linen", "clay")),
    DrawnLook("stripes", ("sky", "white")),
    DrawnLook("dots", ("plum", "blush")),
    DrawnLook("checks", ("butter", "white")),
    DrawnLook("diagonals", ("sage", "linen")),
    DrawnLook("waves", ("night", "sky")),
    DrawnLook("sprigs", ("blush", "plum")),
    DrawnLook("herringbone", ("clay", "linen")),
)
"""Neighbours lie far apart in lightness, and no two are of one pattern."""
_WITH_AN_UP = (
    DrawnLook("leaves", ("linen", "sage"), "top"),
    DrawnLook("houses", ("sky", "night"), "top"),
    DrawnLook("bunting", ("white", "clay", "sage"), "top"),
)
"""The same for papers whose pattern has an up."""


def looks_of_wish(wish: Wish) -> Looks:
    """How each of her papers is drawn, by (key, "front"), and the cardstock."""
    looks: dict[Piece, DrawnLook] = {(CARDSTOCK, "front"): DrawnLook()}
    given = [_given(stock) for stock in wish.stocks]
    free = {one_way: [look for look in part if look not in given] or list(part) for one_way, part in _PARTS.items()}
    taken = {True: 0, False: 0}
    for stock, look in zip(wish.stocks, given):
        if look is None:
            part = free[stock.one_way]
            look = part[taken[stock.one_way] % len(part)]
            taken[stock.one_way] += 1
        looks[stock.key, "front"] = look
    return looks


_PARTS = {False: _STAND_INS, True: _WITH_AN_UP}


def _given(stock: Stock) -> DrawnLook | None:
    """As she says, without any scan: labels and cuts have to be read on it."""
    face = stock.face
    if face is None:
        return None
    up = face.up or ("top" if stock.one_way or face.drawn_look in ONE_WAY else None)
    return DrawnLook(face.drawn_look, face.drawn_colours, up)
