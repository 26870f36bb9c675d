"""How the papers of a question are drawn."""

from __future__ import annotations

from kitwright.drawing.front import Looks
from kitwright.drawing.looks import DrawnLook
from kitwright.kit.model.papers import PaperFace
from kitwright.proposing.faces import BASES_LOOK, MATS_LOOK, faces_of
from kitwright.proposing.wish import Wish

BASE, MAT = "*base", "*mat"
"""Stand for the cardstock of bases and of mats; no paper of hers has a name with a star."""


def looks_of_wish(wish: Wish) -> Looks:
    """How each of her papers is drawn, and the cardstock, by (key, "front")."""
    faces = {**faces_of(wish), BASE: BASES_LOOK, MAT: MATS_LOOK}
    return {(key, "front"): _drawn(face) for key, face in faces.items()}


def _drawn(face: PaperFace) -> DrawnLook:
    """By its stand-in, and not by any scan: labels and cuts have to be read on it."""
    return DrawnLook(face.drawn_look, face.drawn_colours, face.up)
