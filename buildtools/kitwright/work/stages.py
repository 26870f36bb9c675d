"""The stages of the work for the whole batch, in the order in which hands go through them."""

from __future__ import annotations

from kitwright.card.face import Placed, Setting
from kitwright.card.liner import liners_of
from kitwright.kit.model import STAGES, Stage
from kitwright.work.worked import Worked


def stages_of(worked: Worked) -> tuple[Stage, ...]:
    """The stages that this kit has: those in which there is something to do, or of which the author has something to say."""
    there = {stage for design in worked.designs for stage, does in _there(design).items() if does}
    return tuple(stage for stage in STAGES if stage in there or getattr(worked.kit.spec.steps, stage))


def _there(design: Worked) -> dict[Stage, bool]:
    faces = (design, *design.others)
    return {
        "cut": bool(design.layouts),
        "stamp": any(face.face.sentiment is not None for face in faces),
        "score": bool(design.base.scored.scores),
        "build": any(map(built, faces)),
        "mount": any(map(mounted, faces)) or design.enclosed.inside is not None,
        "finish": any(finished(face) or face.face.spots for face in faces) or bool(design.enclosed.bands or liners_of(design.kit)),
    }


def built_up(design: Worked) -> bool:
    """Whether anything is put on a card: paper or decoration, on any face, or a band round it."""
    return any(len(face.stack) > 1 or face.spots for face in design.face.every) or bool(design.enclosed.bands)


def mounted(worked: Worked) -> tuple[Placed, ...]:
    """Full layers of the face that leads here, each with what it lies on before it; the piece inside is told with the front."""
    return tuple(layer for layer in worked.face.layers[1:] if layer.said != ("card", "inside"))


def built(worked: Worked) -> list[Setting]:
    """What is laid while the fronts are built."""
    return [one for one in worked.face.settings if not _last(one)]


def finished(worked: Worked) -> list[Setting]:
    """What is laid last: on foam, or over the pieces."""
    return [one for one in worked.face.settings if _last(one)]


def _last(setting: Setting) -> bool:
    return setting.placed.raised or setting.placed.layer == "over"
