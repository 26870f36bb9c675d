"""The stages of the work for the whole batch, in the order in which hands go through them."""

from __future__ import annotations

from kitwright.card.face import Setting
from kitwright.card.liner import liners_of
from kitwright.kit.model import STAGES, Stage
from kitwright.work.worked import Worked


def stages_of(worked: Worked) -> tuple[Stage, ...]:
    """The stages that this kit has: those in which there is something to do, or of which the author has something to say."""
    spec, face = worked.kit.spec, worked.face
    there: dict[Stage, bool] = {
        "cut": bool(worked.layouts),
        "stamp": face.sentiment is not None,
        "score": True,
        "build": bool(built(worked)),
        "mount": len(face.layers) > 1 or worked.enclosed.inside is not None,
        "finish": bool(finished(worked) or face.spots or worked.enclosed.bands or liners_of(worked.kit)),
    }
    return tuple(stage for stage in STAGES if there[stage] or getattr(spec.steps, stage))


def built(worked: Worked) -> list[Setting]:
    """What is laid while the fronts are built."""
    return [one for one in worked.face.settings if not _last(one)]


def finished(worked: Worked) -> list[Setting]:
    """What is laid last: on foam, or over the pieces."""
    return [one for one in worked.face.settings if _last(one)]


def _last(setting: Setting) -> bool:
    return setting.placed.raised or setting.placed.layer == "over"
