"""Which papers are drawn how on a picture: by their scans on finished cards, by their stand-ins everywhere else."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from kitwright.card.face import Face
from kitwright.card.stepped import with_step
from kitwright.drawing.front import Looks
from kitwright.drawing.looks import look_of, stand_in
from kitwright.kit.model import FACES
from kitwright.work.taken import first_cards, taken
from kitwright.work.worked import Worked


def looks_of(worked: Worked) -> Looks:
    """How every face of every paper is drawn where ink and labels count, by paper and face."""
    return {piece: stand_in(look) for piece, look in scanned_looks(worked, team=True).items()}


def scanned_looks(worked: Worked, *, team: bool = False) -> Looks:
    """How every face of every paper is shown: by its scan, where there is one that may be seen.

    Args:
        worked: the kit.
        team: for the team's eyes, who see scans that stay off the public site.
    """
    faces = [(key, side, paper) for key, paper in worked.kit.papers.items() for side in FACES if paper.face(side)]
    looks = {(key, side): look_of(paper, side) for key, side, paper in faces}
    return {piece: look if look.scan and (look.scan.public or team) else stand_in(look) for piece, look in looks.items()}


def looks_on(worked: Worked, face: Face, number: int = 0, *, team: bool = False) -> Looks:
    """The same on a finished card, where each piece shows the very place of the scan that it is cut from.

    Args:
        worked: the kit, or one of its designs.
        face: the card, with all its faces.
        number: which card of the batch it is, counted from 0.
        team: as for `scanned_looks`.
    """
    looks = scanned_looks(worked, team=team)
    if not any(look.scan for look in looks.values()):
        return looks
    found = dict(looks)
    for piece, place in taken(worked, face, number).items():
        look = looks.get(piece[:2])
        if look and look.scan:
            found[piece] = replace(look, cut=place)
    return found


def looks_of_each(worked: Worked, faces: Iterable[Face], *, team: bool = False) -> list[Looks]:
    """The same on several cards of the batch, each in turn the next one of its look.

    Args:
        worked: the kit, or one of its designs.
        faces: the cards, as often as they are shown.
        team: as for `scanned_looks`.
    """
    numbers = {id(face): (design, number) for design in worked.designs for face, number in zip(design.faces, first_cards(design))}
    found = []
    for face in faces:
        design, number = numbers[id(face)]
        numbers[id(face)] = design, number + 1
        found.append(looks_on(design, face, number, team=team))
    return found


def closed_each(worked: Worked, faces: Iterable[Face]) -> list[Face]:
    """Cards of the batch as they are seen closed: of one with a step, that step with what lies on it.

    Args:
        worked: the kit, or one of its designs.
        faces: the cards, as often as they are shown.
    """
    bases = {id(face): design.base for design in worked.designs for face in design.faces}
    return [with_step(face, bases[id(face)]) for face in faces]


def sources_on(faces: Iterable[Face], looks: Looks) -> tuple[str, ...]:
    """Where the papers are from whose scans are seen on any of these cards, each once."""
    seen = [looks.get((placed.paper, placed.face)) for face in faces for side in face.every for placed in side.stack]
    return tuple(dict.fromkeys(look.scan.source for look in seen if look and look.scan and look.scan.source))
