"""What stands on the drawings, and what they show, for those who can’t see them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from kitwright.card.base import Base
from kitwright.card.face import Face, Placed
from kitwright.cutting.desk import CornerStep, DeskStep
from kitwright.cutting.tree import Node, cuts, leaves, pieces, slants
from kitwright.telling.folds import figures_text, folded_text, way_text
from kitwright.telling.holding import held_words
from kitwright.telling.shapes import CORNERS, blank_word, form_text
from kitwright.telling.words import led, listed
from kitwright.units import Size, figure, length_text, size_text

NEW_AND_PALE = "what is new stands out; what lies there already is pale"


def too_small_to_label(labels: Iterable[str]) -> str:
    return f"too small to label here: {', '.join(labels)}"


def two_from_each(size: str) -> str:
    """The size of a rectangle of which two triangles come."""
    return f"two from each {size}"


def corners_note(step: CornerStep) -> str:
    """Which strokes on a guide go from corner to corner."""
    n = len(step.slants)
    return f"corner to corner, {'the' if n == 1 else f'each of the {n}'} {blank_word(step.size, n)} for {step.label}, without the ruler"


def stays_whole(size: str) -> str:
    """What a first cut leaves untouched, and a guide does not show all of."""
    return f"{size} stays whole"


def too_small_to_mark(cuts: Iterable[str]) -> str:
    return f"cuts {', '.join(cuts)} are too small to mark here; the steps name them"


# --- alternate texts ------------------------------------------------------------------------------


def base_alt(base: Base, unit: str, grain: str | None = None) -> str:
    """A flat card base."""
    run = way_text(base.runs)
    text = (
        f"Card base of {size_text(base.cut, unit)}, scored {run} {figures_text(base, unit)} edge; "
        f"folded, the front is {size_text(base.front, unit)}."
        if base.scored.scores
        else f"A piece of {size_text(base.cut, unit)}, which is not folded."
    )
    return text + (f" The grain runs {grain}." if grain else "")


def guide_alt(
    node: Node, unit: str, up: str | None = None, backs: Mapping[str, str] | None = None, goes: Mapping[str, str] | None = None
) -> str:
    """A sheet with its cuts; `up`: the edge that is the top of its pattern; `goes`: to which design a label goes, where there are several."""
    strokes, corners = cuts(node), len(slants(node))
    counted: Counter[tuple] = Counter((leaf.label, leaf.rect.width, leaf.rect.height) for leaf in pieces(node) for _ in range(leaf.gives))
    halved = {leaf.label for leaf in pieces(node) if leaf.diagonal}
    sizes = {(leaf.label, leaf.rect.width, leaf.rect.height): leaf.rect.size for leaf in pieces(node)}
    parts = [
        f"{n} × {key[0]} {'halved from' if key[0] in halved else 'of'} {size_text(sizes[key], unit)}{_aside(key[0], goes, backs)}"
        for key, n in sorted(counted.items())
    ]
    rests = Counter(size_text(leaf.rect.size, unit) for leaf in leaves(node) if leaf.label is None)
    text = f"A sheet of {size_text(node.rect.size, unit)}"
    text += f", its {up} edge up," if up else ""
    every = len(strokes) + corners
    text += f" cut with {every} {'cut' if every == 1 else 'cuts'} into " + ", ".join(parts) + "."
    if strokes:
        text += (
            f" The first cut runs {'up and down' if strokes[0].axis == 'x' else 'across'}, "
            f"{figure(strokes[0].measure, unit)} {unit} from the {strokes[0].off}."
        )
    if corners:
        text += f" {'One goes' if corners == 1 else f'{corners} go'} from corner to corner."
    if rests:
        text += " Left over: " + ", ".join(f"{n} of {s}" if n > 1 else s for s, n in rests.items()) + "."
    return text


def sheet_alt(name: str, alt: str) -> str:
    """The same, led by its name, which says of which papers the sheet is."""
    return f"{name}. {alt}"


def _aside(label: str, *told: Mapping[str, str] | None) -> str:
    """What is told of a label besides, in brackets."""
    found = [each[label] for each in told if each and label in each]
    return f" ({', '.join(found)})" if found else ""


def hand_alt(step: DeskStep, unit: str, backs: Mapping[str, str] | None = None) -> str:
    """The paper in hand at one step at the trimmer; without sizes where there is no `unit`."""
    told = [f" {fall.label} goes on the card {backs[fall.label]}." for fall in step.falls if backs and fall.label and fall.label in backs]
    size, mark = (f" of {size_text(step.hand.size, unit)}", length_text(step.measure, unit)) if unit else ("", "the ruler’s mark")
    return (
        f"{step.what.capitalize()}{size} under the blade, its {step.side} edge at "
        f"{mark}, {'one stroke' if step.strokes == 1 else f'{step.strokes} strokes'}.{''.join(told)}"
    )


def corners_alt(step: CornerStep, unit: str) -> str:
    """The paper in hand at a step from corner to corner."""
    size = f" of {size_text(step.size, unit)}" if unit else ""
    return f"{blank_word(step.size).capitalize()}{size} under the blade, its {CORNERS[step.way]} on its line: two {step.label}."


def face_title(face: Face) -> str:
    """What a face of the card is called at the head of a line: the front that leads, or by its name."""
    return f"Card face “{face.on}”" if face.on else "Card front"


def front_alt(face: Face, unit: str) -> str:
    """The front of a card, from its geometry."""
    text = f"{face_title(face)} of {size_text(face.size, unit)}, {folded_text(face.hinges)}."
    layers = [p for p in face.layers if p.layer != "base"]
    if layers:
        text += " On the base lies " + ", then ".join(f"{p.label} of {size_text(p.rect.size, unit)}" for p in layers) + "."
    if face.pieces:
        text += " Pieces: " + "; ".join(_where(p, face, unit) for p in face.pieces) + "."
    if face.over:
        text += " Over them: " + "; ".join(_where(p, face, unit) for p in face.over) + "."
    if face.sentiments:
        text += f" The greeting reads {listed([f'“{words.text}”' for words in face.sentiments])}."
    if face.spots:
        text += " Decoration: " + ", ".join(s.name for s in face.spots) + "."
    return text


def _where(placed: Placed, face: Face, unit: str) -> str:
    left, top = figure(placed.rect.x, unit), figure(placed.rect.y, unit)
    shaped = f", {form_text(placed.form)}" if placed.form else ""
    back = f", {placed.back}" if placed.back else ""
    return f"{placed.label} of {size_text(placed.rect.size, unit)}{shaped}{back}{held_words(placed)}, {left} from the left and {top} from the top"


def layers_alt(steps: Iterable[str]) -> str:
    """The layers, one after another."""
    return "The layers, lowest first: " + "; ".join(f"{i}. {said}" for i, said in enumerate(steps, 1)) + "."


def step_alt(face: str, added: Mapping[str, int], words: Sequence[str], decoration: Sequence[str]) -> str:
    """The card after one step: what the step adds."""
    said = [f"{n} of {label}" if n > 1 else label for label, n in added.items()]
    said += [f"the words “{text}”" for text in words] + list(decoration)
    return (
        f"{led(face) or 'The card'} after this step, which adds {listed(said)}." if said else f"{led(face) or 'The card'} after this step."
    )


def piles_alt(piles: Iterable[tuple[str, int]]) -> str:
    """What lies on the bench once all is cut."""
    return f"The pieces in piles: {listed([f'{n} of {label}' for label, n in piles])}."


def template_alt(label: str, size: Size, unit: str, printed: bool) -> str:
    """A piece to trace; `printed`: the place of the greeting is on it."""
    return f"Template of {label} at true size, {size_text(size, unit)}" + (", with the place of the greeting." if printed else ".")


def notch_alt(label: str, notch: Size, unit: str) -> str:
    """One notched end of a strip."""
    return f"One end of {label} at true size, its V notch {size_text(notch, unit)}."
