"""What stands beside a step: the card as it is after it, and what is held in a way of its own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from kitwright.card.face import Face, Placed, Sentiment
from kitwright.card.shapes import outline_of
from kitwright.drawing.holds.held import Held, held_of
from kitwright.drawing.onestep import ShownStep, step_picture
from kitwright.drawing.piles import Pile, piles_picture
from kitwright.drawing.scene import Scene
from kitwright.geometry import Rect
from kitwright.labels import is_base
from kitwright.printable import pictures
from kitwright.printable.job import Job
from kitwright.printable.pictures import room
from kitwright.telling.folds import face_text
from kitwright.telling.steps import Step, numbered
from kitwright.telling.words import led
from kitwright.work.stages import built, finished, mounted
from kitwright.work.worked import Worked


def beside(job: Job, step: Step, width: float, height: float) -> list[Scene]:
    """The pictures beside a step, each for a face of the card on which it does something.

    Args:
        job: the printable.
        step: what it is about.
        width, height: of each at most, points.
    """
    design = job.of(step.design)
    if step.stage == "cut":
        return [job.once(("piles", room(width), room(height)), lambda: _piles(job, width, height))]
    if step.stage == "score":
        base = design.worked.base
        return [pictures.base(design, width, height)] if base.plain or base.closed is None else []
    faces = [shown for shown in _shown(design, step) if shown.added or shown.printed or shown.spots]
    several = len(faces) > 1
    wide, high = room(width), room(height)

    def drawn(shown: ShownStep) -> Scene:
        named = shown if several or shown.name == INSIDE else replace(shown, name="")
        key = "step", design.worked.kit.design, step.stage, shown.face.on, shown.name, wide, high
        return design.once(key, lambda: step_picture(named, job.looks, width=wide, height=high))

    return [drawn(shown) for shown in faces]


def below(job: Job, step: Step, width: float, height: float) -> list[Scene]:
    """The drawings of pockets, shakers and bands that a step makes."""
    design = job.of(step.design)
    wide, high = room(width), room(height)

    def drawn(each: Held) -> Scene:
        return design.once((each.name, design.worked.kit.design, wide, high), partial(each.draw, wide, high))

    return [drawn(each) for each in held_of(design.worked, design.looks) if _stage_of(design.worked, each) == step.stage]


def folded(job: Job, step: Step, width: float, height: float) -> Scene | None:
    """Of scoring, how the base folds, where its flat drawing does not show it all."""
    return pictures.fold(job.of(step.design), width, height) if step.stage == "score" else None


# --- what is cut ------------------------------------------------------------------------------


def _piles(job: Job, width: float, height: float) -> Scene:
    worked, spec = job.worked, job.worked.kit.spec
    labels = [label for label in worked.sizes if not is_base(label)] + [*filter(is_base, worked.sizes)]
    piles = []
    for label in labels:
        counts = worked.counts(label)
        piece = spec.pieces.get(label)
        ring = outline_of(piece).rounded_off()[0] if piece and piece.diagonal else ()
        if counts:
            looks = tuple(job.shown(label, paper) for paper in counts)
            piles.append(Pile(label, worked.sizes[label], looks, sum(counts.values()), tuple(ring)))
    return piles_picture(piles, width=room(width), height=room(height))


# --- the card after a step ----------------------------------------------------------------------

INSIDE = led(face_text("inside"))
"""What the panel on the inside of the back is called."""


def _shown(job: Job, step: Step) -> Iterator[ShownStep]:
    """What is to be seen after a step of each face."""
    design = job.worked
    numbers = numbered(design) if step.stage == "build" and not step.own else {}
    for view in (design, *design.others):
        face = view.face
        name = led(face_text(face.on)) if face.on else "Front"
        match step.stage:
            case "stamp":
                yield _stamped(face, name) if face.sentiments else ShownStep(face)
            case "build":
                added = tuple(setting.placed for setting in built(view))
                before = (_ground(face),) if added else ()
                yield ShownStep(
                    face, before=before, added=added, words=_words(face, (*before, *added)), numbers=numbers.get(face.on, {}), name=name
                )
            case "mount":
                yield _mounted(view, name)
            case "finish":
                added = tuple(setting.placed for setting in finished(view))
                yield ShownStep(
                    face,
                    before=tuple(p for p in face.stack if p not in added),
                    added=added,
                    words=_words(face, face.stack),
                    spots=face.spots,
                    name=name,
                )
    if step.stage == "mount" and design.enclosed.inside:
        yield _inside(design, design.enclosed.inside)


def _ground(face: Face) -> Placed:
    """What the pieces are laid out on."""
    return next(p for p in reversed(face.layers) if p.rect == face.field)


def _stamped(face: Face, name: str) -> ShownStep:
    """What is stamped stands out, by itself or where it will be."""
    on = {said.on for said in face.sentiments}
    added = tuple(p for p in face.stack if p.label in on)
    if not added or any(not any(p.label == said.on for p in added) for said in face.sentiments):
        added = (*added, _ground(face))
    return ShownStep(face, before=tuple(p for p in face.stack if p not in added), added=added, printed=face.sentiments, name=name)


def _mounted(view: Worked, name: str) -> ShownStep:
    """The layers that go on, with what was built on them."""
    face, layers = view.face, mounted(view)
    if not layers:
        return ShownStep(face)
    carried = tuple(setting.placed for setting in built(view))
    before = tuple(p for p in face.layers if p not in layers)
    return ShownStep(face, before=before, carried=carried, added=layers, words=_words(face, (*before, *carried, *layers)), name=name)


def _inside(design: Worked, inside: Placed) -> ShownStep:
    """The panel that is glued inside, on the back of the card."""
    back = replace(design.face.layers[0], rect=Rect.of(design.base.back), outline=(), edges=(), form=())
    face = replace(
        design.face, layers=(back, inside), field=back.rect, pieces=(), over=(), sentiment=None, words=(), spots=(), settings=(), sides=()
    )
    return ShownStep(face, before=(back,), added=(inside,), name=INSIDE)


def _words(face: Face, lying: tuple[Placed, ...]) -> tuple[Sentiment, ...]:
    """The words whose carriers are there."""
    labels = {p.label for p in lying}
    return tuple(said for said in face.sentiments if said.on in labels or not any(p.label == said.on for p in face.stack))


def _stage_of(design: Worked, held: Held) -> str:
    """At which stage a piece is held so."""
    views = (design, *design.others)
    if any(setting.placed.label == held.label for view in views for setting in built(view)):
        return "build"
    return "mount" if any(p.label == held.label for view in views for p in mounted(view)) else "finish"
