"""What is seen beside a step of the making: the piles once all is cut, the card after a step, and what is held in a way of its own.

A printable and a page both show it, each at its own size.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from kitwright.card.face import Face, Placed, Sentiment
from kitwright.card.shapes import outline_of
from kitwright.drawing.front import Looks
from kitwright.drawing.holds.held import Held
from kitwright.drawing.looks import DrawnLook
from kitwright.drawing.onestep import ShownStep
from kitwright.drawing.piles import Pile
from kitwright.geometry import Rect
from kitwright.labels import is_base
from kitwright.telling.folds import face_text
from kitwright.telling.steps import Step, numbered
from kitwright.telling.words import led
from kitwright.work.stages import built, finished, mounted
from kitwright.work.worked import Worked


def piles_of(worked: Worked, looks: Looks) -> tuple[Pile, ...]:
    """What lies on the bench once all is cut, the bases last.

    Args:
        worked: the kit.
        looks: how each paper is drawn, by (paper, face).
    """
    spec = worked.kit.spec
    faces = [(placed.label, placed.paper, placed.face) for face in worked.every_face for placed in face.stack]

    def shown(label: str, paper: str) -> DrawnLook:
        """By the face that shows on the card."""
        side = next((face for one, of, face in faces if (one, of) == (label, paper)), "front")
        return looks[paper, side]

    piles = []
    for label in [label for label in worked.sizes if not is_base(label)] + [*filter(is_base, worked.sizes)]:
        counts = worked.counts(label)
        piece = spec.pieces.get(label)
        ring = outline_of(piece).rounded_off()[0] if piece and piece.diagonal else ()
        if counts:
            tops = tuple(shown(label, paper) for paper in counts)
            piles.append(Pile(label, worked.sizes[label], tops, sum(counts.values()), tuple(ring)))
    return tuple(piles)


def faces_after(design: Worked, step: Step) -> list[ShownStep]:
    """Each face of the card on which a step does something, as it is after it; named where there are several."""
    faces = [shown for shown in _shown(design, step) if shown.added or shown.printed or shown.spots]
    several = len(faces) > 1
    return [shown if several or shown.name == INSIDE else replace(shown, name="") for shown in faces]


def stage_of(design: Worked, held: Held) -> str:
    """At which stage a piece is held so."""
    views = (design, *design.others)
    if any(setting.placed.label == held.label for view in views for setting in built(view)):
        return "build"
    return "mount" if any(p.label == held.label for view in views for p in mounted(view)) else "finish"


# --- the card after a step ----------------------------------------------------------------------

INSIDE = led(face_text("inside"))
"""What the panel on the inside of the back is called."""


def _shown(design: Worked, step: Step) -> Iterator[ShownStep]:
    """What is to be seen after a step of each face."""
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
