"""The steps for the whole batch, derived from the layers.

Cut; stamp in one go; score and fold; build all fronts; add them to the bases; raised
pieces and decoration at the end. An author's own words for a stage replace what is
derived for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from kitwright.card.base import Base
from kitwright.card.face import Face, FieldEdge, Placed, Sentiment, Setting
from kitwright.card.legible import under
from kitwright.card.liner import Liner, liners_of
from kitwright.cutting.plan import Layout
from kitwright.errors import Place
from kitwright.geometry import Rect
from kitwright.kit.faces import greetings
from kitwright.kit.model import Piece, Stage
from kitwright.labels import BASE, PINWHEEL, is_base, slug
from kitwright.telling import holding
from kitwright.telling.backs import marked
from kitwright.telling.folds import DIRECTIONS, face_text, scores_text, way_text
from kitwright.telling.goes import dealt_text
from kitwright.telling.materials import cutting, gluing, inking
from kitwright.telling.shapes import ground_text, lying_text, made_text
from kitwright.telling.words import listed, sheets_text, spelled
from kitwright.units import Length, length_text, size_text
from kitwright.work.cite import cited, spec_in
from kitwright.work.stages import built, finished, mounted, stages_of
from kitwright.work.worked import Worked

TITLES: dict[Stage, str] = {
    "cut": "Cut everything",
    "stamp": "Stamp the sentiments in one go",
    "score": "Score and fold the bases",
    "build": "Build all the fronts",
    "mount": "Add the fronts to the bases",
    "finish": "Raised pieces and decoration last",
}

ORDER = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth")
"""Of pieces alike that are set down one after another."""
HEAVY = 250
"""Grams per square metre from which stock is scored on the outside of its fold."""


@dataclass(frozen=True, slots=True)
class Step:
    """One stage of the work."""

    stage: Stage
    title: str
    lines: tuple[str, ...]
    """What to do, a sentence or two each."""
    own: bool
    """Whether these are the author's own words."""
    design: str = ""
    """The design that it is about; empty for a kit of one, and for what is done for all."""

    @property
    def anchor(self) -> str:
        """Its name in a link."""
        return f"step-{self.stage}{f'-{slug(self.design)}' if self.design else ''}"


def steps_of(worked: Worked) -> tuple[Step, ...]:
    """All stages that this kit has, in order; of several designs the cutting once, then one design after another.

    Raises:
        UserError: a citation in the author's own words that names nothing.
    """
    return tuple(replace(step, lines=_lines(worked, step)) for step in heads_of(worked))


def _every_face(design: Worked, told: Callable[[Worked], list[str]]) -> tuple[str, ...]:
    """What is said of a stage for the face that leads, then for each other face, named first."""
    lines = told(design)
    for other in design.others:
        if more := told(other):
            if told is _build and not lines:
                lines = [_going_about(design)]
            lines += [f"On {face_text(other.face.on)}{', ' if told is _build else ': '}{more[0]}", *more[1:]]
    return tuple(lines)


def steps_parted(worked: Worked) -> dict[str, list[Step]]:
    """The same by design: what is done for all first, under an empty name; what the author says of a stage of all stands with the design at which it comes."""
    parted: dict[str, list[Step]] = {name: [] for name in ("", *worked.kit.spec.designs)}
    now = ""
    for step in steps_of(worked):
        now = step.design or now
        parted[now].append(step)
    return parted


def heads_of(worked: Worked) -> tuple[Step, ...]:
    """The same without what is said of each: what there is to do, when, and for which design."""
    return tuple(_heads(worked))


def _heads(worked: Worked) -> Iterator[Step]:
    stages = stages_of(worked)
    for i, design in enumerate(worked.designs):
        for stage in stages:
            own = bool(getattr(worked.kit.spec.steps, stage))
            if own or stage == "cut":
                # Said of all designs, so it stands once.
                yield from () if i else (Step(stage, TITLES[stage], (), own),)
            elif stage in stages_of(design):
                name, title = design.kit.design, TITLES[stage]
                yield Step(stage, f"{name}: {title[0].lower()}{title[1:]}" if name else title, (), False, name)


def _lines(worked: Worked, step: Step) -> tuple[str, ...]:
    """What is said of a stage."""
    if step.own:
        lines: list[str] = getattr(spec_in(worked).steps, step.stage)
        return tuple(cited(worked, line, partial(_place, worked, step.stage, i)) for i, line in enumerate(lines))
    design = worked.of(step.design)
    if step.stage in ("cut", "score"):
        return tuple(DERIVED[step.stage](design))
    return _every_face(design, DERIVED[step.stage])


def _place(worked: Worked, stage: Stage, i: int, _: int) -> Place:
    return worked.kit.place("steps", stage, i)


def name_of(worked: Worked, placed: Placed) -> str:
    """A piece as it is spoken of: `A (Meadow stripe)`."""
    if is_base(placed.label):
        return "the base"
    paper = worked.kit.papers[placed.paper].name
    return f"{placed.label} ({', '.join(filter(None, (paper, placed.back)))})"


def _cut(worked: Worked) -> list[str]:
    kit, lines = worked.kit, []
    for layout in worked.layouts:
        each = []
        for paper in layout.papers:
            plan = worked.plan(paper)
            runs = [run for run in plan.runs if run.layout == layout] if plan else []
            each += [f"{sheets_text(run.sheets)} of {kit.papers[paper].name}" for run in runs]
        several = any(len(plan.runs) > 1 for plan in worked.plans if plan.paper in layout.papers)
        line = f"Cut {listed(each)} as drawn" + (f" under “{layout.name}”" if several else "")
        if len(each) > 1:
            line += ", all alike"
        line += "." + _last_half(worked, layout)
        up = [kit.papers[p].name for p in layout.papers if kit.papers[p].front.up]
        lines.append(line + (f" Lay {listed(up)} the right way up before the first cut." if up else ""))
    if any(len(run.layout.yields) > 1 for plan in worked.plans for run in plan.runs):
        lines.append("Stack the pieces by label as they fall.")
    if parted := dealt_text(worked):
        lines.append(f"Then part the stacks: {parted}.")
    for tool, how in (("punch", "Punch"), ("die", "Die-cut")):
        stamped = [(label, piece) for label, piece in kit.spec.pieces.items() if piece.made_with and piece.made_with.tool == tool]
        if stamped:
            told = listed([f"{label} ({size_text(piece.size, worked.unit)})" for label, piece in stamped])
            lines.append(f"{how} {told}, each from the middle of its blank; keep fingers clear of the edge.")
    made = {label: made_text(label, piece, worked.unit) for label, piece in kit.spec.pieces.items()}
    lines += filter(None, made.values())
    shaped = [label for label, piece in kit.spec.pieces.items() if piece.shaped and not piece.made_with and not _all_made(piece)]
    if shaped:
        lines.append(f"Shape {listed(shaped)} as the templates show.")
    return lines + cutting(kit.papers[plan.paper].kind for plan in worked.plans)


def _all_made(piece: Piece) -> bool:
    """Whether what is said of making its edge is all that there is to it."""
    shape = piece.shape
    return bool(shape and not shape.window and (shape.triangle or shape.trapezoid or shape.parallelogram or shape.scalloped))


def _last_half(worked: Worked, layout: Layout) -> str:
    """What to do where the last of several sheets is only half needed."""
    runs = [run for plan in worked.plans for run in plan.runs if run.layout == layout]
    if not any(run.sheets > 1 and run.sheets.denominator > 1 for run in runs):
        return ""
    return f" Half of {'each last' if len(runs) > 1 else 'the last'} sheet is enough: halve it first and keep the rest whole."


def _stamp(worked: Worked) -> list[str]:
    """Each sentiment, and what there is to know of ink on what they stand on."""
    said_here = worked.face.sentiments
    kinds = [worked.kit.papers[placed.paper].kind for said in said_here for placed in under(said, worked.face.stack)]
    return [line for said in said_here for line in _stamped(worked, said)] + inking(kinds)


def _stamped(worked: Worked, said: Sentiment) -> list[str]:
    back = next((placed.back for placed in worked.face.stack if placed.label == said.on), "")
    on = (
        ground_name(worked)
        if said.on in ("band", "front") or said.on in worked.base.faces
        else "each base"
        if is_base(said.on)
        else f"each {marked(strip_name(worked, said.on), back)}"
    )
    when = " before it goes on" if said.on in worked.sizes and not is_base(said.on) else ""
    cards = worked.kit.spec.cards
    batch = f", all {cards} in one go" if cards > 1 else ""
    return [
        f"Place “{said.text}” once, {where_printed(worked, said)}, and make a test print on a scrap.{_band_text(worked, said)}",
        f"Then stamp {on}{when}{batch}, and let the ink dry.",
    ]


def _band_text(worked: Worked, said: Sentiment) -> str:
    """Where the free band will be, while nothing lies beside it yet."""
    face, unit = worked.face, worked.unit
    band = next((b for b in face.bands if b.contains(said.rect)), None) if said.on == "band" else None
    if band is None:
        return ""
    down = f"{length_text(band.y - face.field.y, unit)} from the top of {_ground_word(worked)}"
    if band.x == face.field.x and band.right == face.field.right or len(face.bands) == 1 and band.width * 2 > face.field.width:
        return f" The band begins {down} and is {length_text(band.height, unit)} tall."
    return f" The band begins {down} and {length_text(band.x - face.field.x, unit)} from its left edge; it is {size_text(band.size, unit)}."


def strip_name(worked: Worked, label: str) -> str:
    """`strip S` where a piece is long and narrow, `S` where it is not."""
    size = worked.sizes[label]
    return f"strip {label}" if max(size.width, size.height) >= min(size.width, size.height) * 2 else label


def where_printed(worked: Worked, said: Sentiment) -> str:
    """Where a sentiment goes, in words: `in the middle of S`."""
    spec = next(spec for spec, path in greetings(worked.kit.spec) if path == said.said)
    places = {"band": "the free band", "front": "the front", BASE: "the base"} | {name: face_text(name) for name in worked.base.faces}
    on = places.get(said.on) or strip_name(worked, said.on)
    return f"in the middle of {on}" if spec.place == "centre" else f"towards the {spec.place} of {on}"


def _score(worked: Worked) -> list[str]:
    base, unit = worked.base, worked.unit
    if not base.scored.scores:
        return []
    lines = [_one_score(base, unit)] if base.halves else _several_scores(base, unit)
    paper = worked.kit.papers[worked.kit.spec.card.base.paper]
    if paper.weight and paper.weight.grammage >= HEAVY:
        turned = " For a fold forward, turn the base over and measure from the other edge." if not base.halves else ""
        lines.append(f"This stock is heavy: score it on the side that becomes the outside of the fold.{turned}")
    return lines


def _one_score(base: Base, unit: str) -> str:
    """Where to score a fold in two."""
    return (
        f"Score each base at {scores_text(base, unit)} edge, {way_text(base.runs)}, then fold and press the crease: "
        f"a {size_text(base.finished, unit)} card."
    )


def _several_scores(base: Base, unit: str) -> list[str]:
    """Where to score, then what to fold in which order."""
    scored = base.scored
    lines = [f"Lay each base with its {scored.lies.split()[0]} up and score it at {scores_text(base, unit)} edge, {way_text(base.runs)}."]
    for i, score in enumerate(scored.scores):
        first = "First" if not i else "Then" if i < len(scored.scores) - 1 else "Last"
        lines.append(f"{first}, at {length_text(score.at, unit)}, {DIRECTIONS[score.direction]}; press the crease.")
    lines.append(f"Closed, it is a {size_text(base.finished, unit)} card.")
    return lines


def _going_about(worked: Worked) -> str:
    """How to go about the faces of a card whose front is bare."""
    return f"Work from the edges of each face inward{_all_alike(worked, ', ')}one piece at a time."


def _all_alike(worked: Worked, alone: str, then: str = "") -> str:
    """What is said of a batch of one look before what is done piece by piece; of one card only `alone`."""
    n = worked.kit.spec.cards
    return f"; {then}make all {n} alike, " if n > 1 else alone


def _build(worked: Worked) -> list[str]:
    return [line for line, _ in _built(worked)]


def _built(worked: Worked) -> list[tuple[str, tuple[Placed, ...]]]:
    """What is said of building, each line with the pieces that are set down by it."""
    face = worked.face
    if not built(worked):
        return []
    ground = ground_name(worked)
    lead = (
        f"Work on {ground} from the edges inward, so that small errors gather "
        f"{'in the free band' if face.bands else 'in the middle'}{_all_alike(worked, '; lay ', 'then ')}one piece at a time."
        if len(worked.faces) == 1
        else f"Work on {ground} from the edges inward, one piece at a time for the whole batch; "
        f"{listed([f'{f.cards} with {f.name}' for f in worked.faces])}."
    )
    # How to go about it was said of the front.
    lines: list[tuple[str, tuple[Placed, ...]]] = [] if face.on else [(lead, ())]
    lines += [(line, _together(worked, s.placed)) for s in built(worked) if (line := _set_down(worked, s))]
    after = [_other_look(worked, other) for other in worked.faces[1:]] + _gluing(worked, (s.placed for s in built(worked)))
    return lines + [(line, ()) for line in after]


def numbered(design: Worked) -> dict[str, dict[Placed, int]]:
    """The numbers under which the moves of building are told, by face and by what each sets down; the first line tells how to go about it."""
    found: dict[str, dict[Placed, int]] = {}
    i = 0 if _built(design) else 1
    for view in (design, *design.others):
        for _, pieces in _built(view):
            found.setdefault(view.face.on, {}).update(dict.fromkeys(pieces, i))
            i += 1
    return found


def _set_down(worked: Worked, setting: Setting) -> str:
    """One move; a pinwheel is told as a whole with its first triangle, and not again."""
    placed = setting.placed
    if PINWHEEL not in placed.said:
        return setting_text(worked, setting) + holding.after(worked, placed)
    around = _together(worked, placed)
    if placed is not next((s.placed for s in worked.face.settings if s.placed in around), placed):
        return ""
    names = list(dict.fromkeys(name_of(worked, p) for p in around))
    middle = max(p.rect.x for p in around), max(p.rect.y for p in around)
    left, top, ground, unit = middle[0] - worked.face.field.x, middle[1] - worked.face.field.y, _ground_word(worked), worked.unit
    turns = f"{listed(names)} in turn" if len(names) > 1 else names[0]
    return (
        f"Pinwheel, {spelled(len(around))} triangles, {turns}: a sharp corner of each meets the others in one point, "
        f"{length_text(left, unit)} from the left edge of {ground} and {length_text(top, unit)} from its top."
    )


def _together(worked: Worked, placed: Placed) -> tuple[Placed, ...]:
    """What is set down in one move: all of a pinwheel, or the piece alone."""
    if PINWHEEL not in placed.said:
        return (placed,)
    home = placed.said[: placed.said.index(PINWHEEL) + 1]
    face = next((one for one in (worked.face, *worked.face.sides) if placed in one.pieces), worked.face)
    return tuple(p for p in face.pieces if p.said[: len(home)] == home)


def _gluing(worked: Worked, fixed: Iterable[Placed]) -> list[str]:
    """What there is to know before pieces are fixed, material by material."""
    return gluing(worked.kit.papers[placed.paper].kind for placed in fixed)


def _other_look(worked: Worked, other: Face) -> str:
    """How another look of the batch differs from the one that was told."""
    name = {key: paper.name for key, paper in worked.kit.papers.items()}
    pairs = list(dict.fromkeys((one.paper, two.paper) for one, two in zip(worked.face.pieces, other.pieces) if one.paper != two.paper))
    if len({one for one, _ in pairs}) != len(pairs) or not pairs:
        return f"For {other.name}, lay the papers as its picture shows."
    return f"For {other.name}, take {listed([f'{name[two]} for {name[one]}' for one, two in pairs])}."


def ground_name(worked: Worked) -> str:
    """What the pieces are laid out on, in words."""
    ground = _ground(worked)
    side = face_text(worked.face.on) if worked.face.on else "the front"
    return f"{side} of each base" if is_base(ground.label) else f"each {ground.label}"


def _ground(worked: Worked) -> Placed:
    return next(p for p in reversed(worked.face.layers) if p.rect == worked.face.field)


def _ground_word(worked: Worked) -> str:
    """One of them: `M`, or the card."""
    ground = _ground(worked)
    return "the card" if is_base(ground.label) else ground.label


def setting_text(worked: Worked, setting: Setting) -> str:
    """One move, with the distance to set."""
    unit = worked.unit

    def apart(distance: Length, thing: Placed | FieldEdge) -> str:
        what = edge_text(thing) if isinstance(thing, FieldEdge) else _neighbour(worked, thing, setting.placed)
        if distance.inches < 0:
            return f"{length_text(abs(distance), unit)} past {what}"
        return f"flush with {what}" if not distance else f"{length_text(distance, unit)} from {what}"

    return f"{name_of(worked, setting.placed)}{lying_text(setting.placed)}: {apart(setting.distance, setting.against)}, {apart(setting.aside, setting.beside)}."


def edge_text(edge: FieldEdge) -> str:
    """`the top edge of M`."""
    return f"the {edge.side} edge of {ground_text(edge.of)}"


def _neighbour(worked: Worked, placed: Placed, mover: Placed) -> str:
    """A piece to measure from: by its label, and by its paper too where the label lies on the card more than once."""
    if (placed.label, placed.paper) == (mover.label, mover.paper):
        alike_down = [s.placed for s in built(worked) if (s.placed.label, s.placed.paper) == (mover.label, mover.paper)]
        if len(alike_down) > 2 and placed in alike_down[: len(ORDER)]:
            # Which one is before it is no longer plain.
            return f"the {ORDER[alike_down.index(placed)]} {placed.label}"
        return f"the {placed.label} before it"
    alike = sum(other.label == placed.label for other in worked.face.pieces)
    return name_of(worked, placed) if alike > 1 else placed.label


def _mount(worked: Worked) -> list[str]:
    layers, unit = mounted(worked), worked.unit
    lines = []
    for layer in layers:
        below = worked.face.layers[worked.face.layers.index(layer) - 1]
        on = "the base" if is_base(below.label) else below.label
        left, top = layer.rect.x - below.rect.x, layer.rect.y - below.rect.y
        even = left == below.rect.right - layer.rect.right and top == below.rect.bottom - layer.rect.bottom
        how = (
            f"in the middle, {_showing(left, top, unit)}"
            if even
            else f"{length_text(left, unit)} from its left edge and {length_text(top, unit)} from its top"
        )
        raised = " on foam" if layer.raised else ""
        lines.append(f"Fix {name_of(worked, layer)} on {on}{raised}, {how}.{_besides(worked, layer)}")
    inside, back = worked.enclosed.inside, Rect.of(worked.base.back)
    if inside:
        raised = " on foam" if inside.raised else ""
        lines.append(
            f"Fix the panel {inside.label} inside{raised}, in the middle."
            if inside.rect.centre == back.centre
            else f"Fix the panel {inside.label} inside, on the back of the card{raised}, "
            f"{length_text(inside.rect.x, unit)} from its left edge and {length_text(inside.rect.y, unit)} from its top."
        )
    return lines + _gluing(worked, (*layers, inside) if inside else layers)


def _besides(worked: Worked, layer: Placed) -> str:
    """How a full layer is held, where that is more than glue all over or foam."""
    return holding.after(worked, layer) if layer.hold else ""


def _showing(sides: Length, ends: Length, unit: str) -> str:
    """How much of the layer below shows around a centred one."""
    if not sides and not ends:
        return "flush all round"
    if sides == ends:
        return f"with {length_text(sides, unit)} showing all round"
    parts = [
        f"{length_text(by, unit)} {where}" if by else f"nothing {where}"
        for by, where in ((sides, "at the sides"), (ends, "above and below"))
    ]
    return f"with {listed(parts)} showing"


def _finish(worked: Worked) -> list[str]:
    face, unit = worked.face, worked.unit
    lines = []
    for setting in finished(worked):
        lines += holding.before(worked, setting.placed)
        lines.append(setting_text(worked, setting) + holding.after(worked, setting.placed))
    lines += holding.pushed_in(worked, face.stack)
    lines += _gluing(worked, (s.placed for s in finished(worked)))
    ground = _ground_word(worked)
    for spot in face.spots:
        optional = "If you like, add" if spot.optional else "Add"
        lines.append(
            f"{optional} {spot.name} within {size_text(spot.rect.size, unit)}, "
            f"{length_text(spot.rect.x - face.field.x, unit)} from the left edge of {ground} and {length_text(spot.rect.y - face.field.y, unit)} from its top."
        )
    if worked.face.on:
        # A band and a liner are the card's, and told with its front.
        return lines
    lines += [holding.wrapped(worked, band) for band in worked.enclosed.bands]
    return lines + [_lining(label, liner, unit) for label, liner in liners_of(worked.kit).items()]


def _lining(label: str, liner: Liner, unit: str) -> str:
    return (
        f"Slide {label} into each envelope down to the bottom, the printed side to the flap, and trim it along the flap, "
        f"{length_text(liner.gum, unit)} inside its edge, so that the gum stays free. Fold it with the flap, and glue it to the flap alone."
    )


DERIVED: dict[Stage, Callable[[Worked], list[str]]] = {
    "cut": _cut,
    "stamp": _stamp,
    "score": _score,
    "build": _build,
    "mount": _mount,
    "finish": _finish,
}
"""What is said of a stage of which the author says nothing."""
