"""How the cards go together, in about five lines: for the maker who knows cards.

Made from what the steps are made from (`work.stages`, the settings of a front), each length in
both units since it stands on the one sheet that is kept. An author's own words for building
stand here as they stand there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import partial

from kitwright.card.enclosed import Wrapped
from kitwright.card.face import Face, FieldEdge, Placed, Sentiment, Spot, lying_with
from kitwright.card.fixing import hidden_edges_of
from kitwright.card.legible import tucked_away
from kitwright.card.liner import liners_of
from kitwright.card.shaker import Shaker
from kitwright.errors import Place
from kitwright.geometry import Rect
from kitwright.kit.faces import greetings
from kitwright.kit.model import Stage
from kitwright.labels import BASE, PINWHEEL, is_base
from kitwright.telling.backs import marked
from kitwright.telling.folds import edge_text, face_text
from kitwright.telling.steps import ORDER, ground_name
from kitwright.telling.words import led, listed, number, spelled
from kitwright.units import Length, both_text
from kitwright.work.cite import cited
from kitwright.work.stages import built, finished, mounted
from kitwright.work.worked import Worked


def briefly(worked: Worked) -> tuple[str, ...]:
    """What is done with the pieces once they are cut, in order, a few sentences each.

    Raises:
        UserError: a citation in the author's own words that names nothing.
    """
    several = len(worked.designs) > 1
    lines = [*(_own(worked, "stamp") or [_stamped(worked)]), *(_own(worked, "score") or [_folded(worked)])]
    for design in worked.designs:
        told = [*_first(design), *_last(design)] if several else []
        lines += (
            [f"{design.kit.design}: {' '.join(filter(None, told))}"] if any(told) else [] if several else [*_first(design), *_last(design)]
        )
    bands = (_banded(worked, band) for design in worked.designs for band in design.enclosed.bands)
    lines += [*dict.fromkeys(bands), *(_lined(worked, label) for label in liners_of(worked.kit))]
    return tuple(filter(None, lines))


def _first(design: Worked) -> Iterator[str]:
    """Fronts, and what of other looks."""
    if own := _own(design.whole, "build"):
        # Said of all looks, and of all designs.
        if design.kit.design in ("", design.whole.designs[0].kit.design):
            yield from own
        return
    yield _built(design)
    yield " ".join(_other_look(design.face, other, design) for other in design.faces[1:])


def _last(design: Worked) -> Iterator[str]:
    """What is raised or laid over, what goes inside, the other faces."""
    own = _own(design.whole, "finish")
    if not own or design.kit.design in ("", design.whole.designs[0].kit.design):
        yield from own or [" ".join(_finished(design))]
    for other in design.others:
        told = [part for part in (_mounted(other), _built(other, told=True), *_finished(other)) if part]
        if told:
            yield f"On {face_text(other.face.on)}: {' '.join(told)}"
    inside = design.enclosed.inside
    if inside and all(placed.said != inside.said for face in design.face.every for placed in face.stack):
        raised = " on foam" if inside.raised else ""
        yield f"{inside.label} goes inside{raised}, {_where(inside.rect, Rect.of(design.base.back), 'the back panel', _unit(design))}."


def _unit(worked: Worked) -> str:
    return worked.unit


def _own(worked: Worked, stage: Stage) -> list[str]:
    """A stage in the author's own words; nothing where there are none."""
    lines: list[str] = getattr(worked.kit.spec.steps, stage)
    return [cited(worked, line, partial(_place, worked, stage, i)) for i, line in enumerate(lines)]


def _place(worked: Worked, stage: Stage, i: int, _: int) -> Place:
    return worked.kit.place("steps", stage, i)


# --- before anything is laid ----------------------------------------------------------------------


def _stamped(worked: Worked) -> str:
    """Every greeting with its place, each once."""
    found: dict[str, None] = {}
    for design in worked.designs:
        for view in (design, *design.others):
            for said in view.face.sentiments:
                if not tucked_away(said, view.face.stack) or said.on in view.sizes:
                    found[f"“{said.text}” {_printed(view, said)}"] = None
    return f"Stamp {listed([*found])}; let the ink dry." if found else ""


def _printed(worked: Worked, said: Sentiment) -> str:
    spec = next(spec for spec, path in greetings(worked.kit.spec) if path == said.said)
    whole = ground_name(worked) if not worked.kit.design or worked.face.field != Rect.of(worked.face.size) else f"each {worked.kit.base}"
    on = {"band": f"the free band of {whole}", "front": whole, BASE: f"each {worked.kit.base}"}.get(said.on)
    if on is None:
        on = whole if said.on in worked.base.faces else f"each {said.on}"
    return f"{'in the middle of' if spec.place == 'centre' else f'towards the {spec.place} of'} {on}"


def _folded(worked: Worked) -> str:
    """Where bases are scored, how they are folded, and what lies on them all over; of several designs what differs of each."""
    alike: dict[tuple[str, str], list[Worked]] = {}
    for design in worked.designs:
        alike.setdefault((_scored(design, BASE), _mounted(design)), []).append(design)
    said = []
    for designs in alike.values():
        which = BASE if len(alike) == 1 else listed([design.kit.base for design in designs])
        said += [_scored(designs[0], which), _mounted(designs[0])]
    return " ".join(filter(None, said))


def _scored(worked: Worked, which: str) -> str:
    base, unit = worked.base, _unit(worked)
    scores = base.scored.scores
    if not scores:
        return ""
    places = listed([both_text(at, unit) for at in sorted(score.at for score in scores)])
    where = f"at {places} from the {edge_text(base.runs)} edge"
    if base.halves:
        return f"Score each {which} {where} and fold it."
    ways = [score.direction for score in scores]
    order = sorted(scores, key=lambda score: score.at)
    if len({*ways}) == 1:
        how = f"fold {'it' if len(ways) == 1 else 'both lines' if len(ways) == 2 else 'all lines'} {ways[0]}"
    else:
        how = f"fold {', then '.join(f'{way} at the {ORDER[order.index(score)]}' for way, score in zip(ways, scores))}"
    return f"Score each {which}, its {base.scored.lies.split()[0]} up, {where}; {how}."


def _mounted(worked: Worked) -> str:
    """Full layers, each on the one before it."""
    said, unit = [], _unit(worked)
    for layer in mounted(worked):
        below = worked.face.layers[worked.face.layers.index(layer) - 1]
        on = "" if is_base(below.label) else f" on {below.label}"
        left, top = layer.rect.x - below.rect.x, layer.rect.y - below.rect.y
        even = left == below.rect.right - layer.rect.right and top == below.rect.bottom - layer.rect.bottom
        shows = (
            "flush all round"
            if not left and not top
            else f"{both_text(left, unit)} shows all round"
            if left == top
            else f"{_shows(left, unit)} shows at the sides and {_shows(top, unit)} above and below"
        )
        how = f"in the middle: {shows}" if even else _from(left, top, unit)
        said.append(f"{_name(layer)} goes{on}{_foam(layer)} {how}.{_held(worked, layer)}")
    return " ".join(said)


def _shows(by: Length, unit: str) -> str:
    return both_text(by, unit) if by else "nothing"


def _from(left: Length, top: Length, unit: str, of: str = "") -> str:
    return f"{both_text(left, unit)} from the left edge{of} and {both_text(top, unit)} from the top"


def _name(placed: Placed) -> str:
    return marked(placed.label, placed.back)


def _foam(placed: Placed) -> str:
    return " on foam" if placed.raised and not placed.hold else ""


# --- fronts ---------------------------------------------------------------------------------------


def _built(worked: Worked, told: bool = False) -> str:
    """The pieces that lie flat; `told`: the face was named."""
    settings = built(worked)
    if not settings:
        return ""
    order = list(worked.kit.spec.pieces)
    laid = sorted((setting.placed for setting in settings), key=lambda placed: order.index(placed.label))
    counts = Counter(_name(placed) for placed in laid)
    names = listed([name if n == 1 else f"{spelled(n)} {name}" for name, n in counts.items()])
    on = "" if told else f" on {ground_name(worked)}"
    held = "".join(dict.fromkeys(_held(worked, placed) for placed in laid))
    if any(PINWHEEL in placed.said for placed in laid):
        return f"Lay {names}{on} as drawn; the triangles of a pinwheel meet in one point.{held}"
    edges = {d for s in settings for d, thing in ((s.distance, s.against), (s.aside, s.beside)) if isinstance(thing, FieldEdge)}
    gaps = {d for s in settings for d, thing in ((s.distance, s.against), (s.aside, s.beside)) if not isinstance(thing, FieldEdge)}
    unit = _unit(worked)
    apart = ""
    if len(edges) == 1 and len(gaps) <= 1 and all(edges):
        (edge,), gap = edges, next(iter(gaps), None)
        apart = f", {both_text(edge, unit)} from the edges"
        if gap is not None:
            apart += (
                " and from each other" if gap == edge else f" and {both_text(gap, unit)} from each other" if gap else " and edge to edge"
            )
    return f"Lay {names}{on} as drawn{apart}.{held}"


def _other_look(first: Face, other: Face, worked: Worked) -> str:
    """How another look of the batch differs from the one that is drawn."""
    name = {key: paper.name for key, paper in worked.kit.papers.items()}
    pairs = list(dict.fromkeys((one.paper, two.paper) for one, two in zip(first.stack, other.stack) if one.paper != two.paper))
    cards = f"For {other.name} ({number(other.cards, 'card', 'cards')}),"
    if not pairs or len({one for one, _ in pairs}) != len(pairs):
        return f"{cards} lay the papers as its picture shows."
    swapped = [pair for i, pair in enumerate(pairs) if (pair[1], pair[0]) in pairs[i + 1 :]]
    alone = [pair for pair in pairs if (pair[1], pair[0]) not in pairs]
    said = [f"{name[one]} and {name[two]} change places" for one, two in swapped[:1]]
    said += [f"so do {name[one]} and {name[two]}" for one, two in swapped[1:]]
    said += [f"take {listed([f'{name[two]} for {name[one]}' for one, two in alone])}"] if alone else []
    return f"{cards} {listed(said)}."


# --- what comes last ------------------------------------------------------------------------------


def _finished(worked: Worked) -> list[str]:
    face, unit, said = worked.face, _unit(worked), []
    for setting in finished(worked):
        placed = setting.placed
        ground = next(layer for layer in reversed(face.layers) if layer.rect == face.field)
        on = "the front" if is_base(ground.label) and not face.on else face_text(face.on) if is_base(ground.label) else ground.label
        if placed.hold and placed.hold.shaker and not placed.hold.behind:
            said.append(_shaken(worked, placed, placed.hold.shaker))
        said.append(f"{_name(placed)} goes{_foam(placed) or ' on'}, {_over(placed, face, on, unit)}.{_held(worked, placed)}")
    pockets = [placed.label for placed in face.stack if placed.hold and placed.hold.pocket]
    into = {placed.label: placed.hold.into for placed in face.stack if placed.hold and placed.hold.into in pockets}
    said += [f"Slip {label} into {pocket} once the glue is dry." for label, pocket in into.items()]
    return said + _decorated(face.spots)


def _over(placed: Placed, face: Face, on: str, unit: str) -> str:
    """Where it lies, and how far it reaches over the card."""
    rect, card = placed.rect, Rect.of(face.size)
    left, right = card.x - rect.x, rect.right - card.right
    if left == right and left > Length(0):
        down = _where(rect, face.field, on, unit, across=False)
        return f"{down} and reaches {both_text(left, unit)} over the card on both sides"
    return _where(rect, face.field, on, unit)


def _where(rect: Rect, area: Rect, on: str, unit: str, across: bool = True) -> str:
    """Where a rectangle lies in another, in words."""
    left, right, top, bottom = rect.x - area.x, area.right - rect.right, rect.y - area.y, area.bottom - rect.bottom
    if top == bottom and (left == right or not across):
        return f"in the middle of {on}" if across else f"across the middle of {on}"
    if not across:
        return f"{both_text(top, unit)} from the top of {on}"
    if left == right:
        return f"centred from side to side, {both_text(top, unit)} from the top of {on}"
    if top == bottom:
        return f"centred up and down, {both_text(left, unit)} from the left edge of {on}"
    return _from(left, top, unit, f" of {on}")


def _shaken(worked: Worked, frame: Placed, shaker: Shaker) -> str:
    """What is done to a shaker's frame before it goes on."""
    stack, unit = lying_with(worked.face, frame), _unit(worked)
    film = next((below.label for below in stack if below.hold and below.hold.shaker == shaker and below.hold.behind), None)
    said = worked.shaker_said(frame)
    inside = said.inside if said and said.inside else "what is to shake"
    behind = f"Stick {film} behind the window of {frame.label} and foam" if film else f"Stick foam behind {frame.label}"
    return f"{behind}, {both_text(shaker.foam, unit)} wide, all round it without a gap; {inside} go where the window comes."


def _held(worked: Worked, placed: Placed) -> str:
    """How it is held, where that is more than glue all over or foam, as a sentence behind its place."""
    hold, unit = placed.hold, _unit(worked)
    if hold is None:
        return ""
    if hold.way == "pocket" and hold.pocket:
        glued = f"{both_text(hold.pocket.glue, unit)} along its {listed(list(hold.pocket.glued))}"
        return f" It is a pocket: glue only {glued}; the {hold.pocket.open} stays open."
    if hold.way == "hidden edge":
        edges = hidden_edges_of(placed, lying_with(worked.face, placed), unit)
        return f" Glue it along its {edges[0]} edge only." if edges else ""
    if hold.way == "one panel" and hold.glued == placed.rect:
        return " It is raised on foam." if placed.raised else ""
    if hold.panel:
        return f" {'Its foam stands on' if placed.raised else 'Glue it to'} the {hold.panel} only, so that the card opens."
    return " It lies there loose." if hold.way == "loose" else ""


def _decorated(spots: Sequence[Spot]) -> list[str]:
    """Decoration, each once."""
    said = []
    for optional in (False, True):
        counts = Counter(spot.name for spot in spots if spot.optional == optional)
        if counts:
            how = "If you like, add" if optional else "Add"
            said.append(f"{how} {listed([name if n == 1 else f'{name} in {spelled(n)} places' for name, n in counts.items()])} as drawn.")
    return said


def _banded(worked: Worked, band: Wrapped) -> str:
    unit = _unit(worked)
    what = "the closed card" if band.stack == 1 else f"{band.stack} closed cards"
    places = listed([both_text(score, unit) for score in band.band.scores])
    return led(f"score {band.label} at {places} from one end, fold it round {what} and stick its end to the band alone.")


def _lined(worked: Worked, label: str) -> str:
    gum = both_text(liners_of(worked.kit)[label].gum, _unit(worked))
    return f"{label} slides into the envelope: trim it along the flap, {gum} inside its edge, and glue it to the flap alone."
