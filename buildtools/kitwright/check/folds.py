"""Folds: doors that meet, panels rolled in with room, an inside that clears its folds, nothing glued across what has to open.

What `folding` works out of the base is asked here; that it can be folded at all was asked when it was read.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from kitwright.card.enclosed import foam_of, shut_in, stocks_of
from kitwright.card.face import Placed, everything
from kitwright.card.fixing import across
from kitwright.card.post import thickest
from kitwright.check.envelope import LEAST_ROOM
from kitwright.check.front import meant_of
from kitwright.findings import Finding
from kitwright.folding.faces import DOORS, CardFace, End, closed_of
from kitwright.folding.kinds import kinds, scored
from kitwright.folding.kinds.kind import Asked
from kitwright.kit.names import Path
from kitwright.materials import Range
from kitwright.units import MM, SIXTEENTH, ZERO, Length
from kitwright.work.desk import grain_runs_along_fold
from kitwright.work.worked import Worked

MOST_APART: Mapping[str, Length] = {"in": Length(Fraction(1, 8)), "mm": Length.mm(3)}
"""Doors further apart than this do not look as if they met."""
ROLLED_IN: Mapping[str, Length] = {"in": Length(SIXTEENTH), "mm": Length.mm(Fraction(3, 2))}
"""The least room from a panel that lies rolled in to the fold round it, however thin it is."""
STIFF_CLEAR: Mapping[str, Length] = {"in": Length(Fraction(1, 8)), "mm": Length.mm(3)}
"""What hardly bends keeps this far from a fold that closes over it."""
FOAM_CLEAR: Mapping[str, Length] = {"in": Length(Fraction(1, 4)), "mm": Length.mm(6)}
"""The same of what stands on foam; two that face each other add."""
ONE_SCORE = Length(SIXTEENTH)
"""A fold that closes over more than this wants two score lines, as far apart as what lies in it is thick."""


def find(worked: Worked) -> Iterator[Finding]:
    """What keeps a card from closing, or from opening."""
    if not worked.base.faces:
        # What can't be folded was told with its score lines.
        return
    yield from _doors(worked)
    yield from _hidden(worked)
    yield from _rolled_in(worked)
    yield from _near(worked)
    yield from _across(worked)
    yield from _thick(worked)
    yield from _grain(worked)


def _fold(worked: Worked, score: int | None = None) -> Path:
    """Where a fold is typed: its score line, the one length of a fold that takes one, or its name."""
    card = worked.kit.spec.card
    if score is not None and not isinstance(card.fold, str):
        return ("card", "fold", "scores", score)
    return ("card", "score") if card.score is not None else ("card", "fold")


# --- doors ------------------------------------------------------------------------------------------


def _doors(worked: Worked) -> Iterator[Finding]:
    base, card, unit = worked.base, worked.kit.spec.card, worked.kit.spec.unit
    if base.leading != DOORS:
        return
    panels = base.scored.panels
    parts = sorted(base.faces[DOORS].parts, key=lambda part: part.start)
    named = kinds()[card.fold] if isinstance(card.fold, str) else None
    for one, other in zip(parts, parts[1:]):
        if abs(panels.index(one.panel) - panels.index(other.panel)) != 2:
            # They hang on different panels: one shows beside the other, and neither is to meet it.
            continue
        gap, between = other.start - (one.start + one.length), other.start + other.length - one.start
        values = {"doors": (one.panel, other.panel), "each": between / 2, "score": base.parted / 4 if named and named.takes_score else None}
        if gap < ZERO and "overlap" not in card.meant:
            values["each"] = (base.closed.length if base.closed else between) / 2
            yield Finding("error", worked.kit.place(*_fold(worked)), "folds.doors-overlap", by=-gap, unit=unit, **values)
        elif gap > MOST_APART[unit] and "gap" not in card.meant:
            yield Finding("error", worked.kit.place(*_fold(worked)), "folds.doors-apart", gap=gap, unit=unit, **values)


# --- what is to show beside the front -----------------------------------------------------------------


def _hidden(worked: Worked) -> Iterator[Finding]:
    """Faces that such a fold shows on the closed card, and that lie hidden where it is scored here."""
    base, card, unit = worked.base, worked.kit.spec.card, worked.kit.spec.unit
    if card.score is None or not isinstance(card.fold, str) or base.closed is None:
        return
    usual = scored(card.fold, base.parted, Asked(metric=unit == "mm"))
    closed, now = closed_of(usual), {seen[2:] for seen in base.closed.seen()}
    for panel, side in dict.fromkeys(seen[2:] for seen in closed.seen()) if closed else ():
        if (panel, side) not in now:
            values = {"at": card.score, "usual": usual.scores[0].at, "unit": unit}
            yield Finding("warning", worked.kit.place(*_fold(worked)), "folds.nothing-shows", panel=panel, side=side, **values)


# --- panels rolled in ---------------------------------------------------------------------------------


def _between(worked: Worked, score: int) -> Range:
    """Millimetres of whatever lies between the two panels of a fold, at its thickest place, in any look."""
    kit, each = worked.kit, []
    for face in worked.faces:
        held = shut_in(worked.base, face, worked.enclosed.inside, score)
        each.append(thickest(held, stocks_of(kit), foam_of(kit)) if held.stack or held.spots else Range.exact(Fraction(0)))
    return Range(min(one.low for one in each), max(one.high for one in each))


def _rolled_in(worked: Worked) -> Iterator[Finding]:
    base, card, unit = worked.base, worked.kit.spec.card, worked.kit.spec.unit
    if base.closed is None or "tight" in card.meant:
        return
    for enclosure in base.closed.enclosures:
        thick = _between(worked, enclosure.score)
        low, high = Length(thick.low * MM), Length(thick.high * MM)
        if enclosure.room < max(ROLLED_IN[unit], high):
            yield Finding(
                "error" if enclosure.room <= low else "warning",
                worked.kit.place(*_fold(worked, enclosure.score)),
                "folds.rolled-in-tight",
                panel=enclosure.panel,
                room=enclosure.room,
                at=base.scored.scores[enclosure.score].at,
                thick=thick,
                least=ROLLED_IN[unit],
                unit=unit,
            )


# --- what lies near a fold ------------------------------------------------------------------------------


def _near(worked: Worked) -> Iterator[Finding]:
    """Pieces on a face that a fold closes over, too near that fold or past it."""
    kit, base, unit = worked.kit, worked.base, worked.kit.spec.unit
    told = set()
    for face in worked.faces:
        lying = [(on or base.leading, placed) for on, placed in everything(face, worked.enclosed.inside)]
        for on, placed in lying:
            carries, own = base.faces[on], _room(worked, placed)
            if placed.said in told or {"larger", "overhang"} & meant_of(worked, placed) or _is_panel(worked, placed):
                continue
            if placed.hold and placed.hold.behind:
                # What is stuck behind a frame is told with the frame.
                continue
            for end in carries.valleys:
                gap = _to_fold(worked, on, end, placed)
                facing = max((_room(worked, other) for other in _facing(worked, carries, end, placed, lying)), default=ZERO)
                least = own + facing if placed.raised else own
                if gap < ZERO and placed.said == ("card", "inside"):
                    # The panel inside is told with the envelope where it reaches past an edge.
                    break
                if gap < least:
                    told.add(placed.said)
                    yield Finding(
                        "error" if gap < ZERO else "warning",
                        kit.place(*placed.said),
                        "folds.past-the-fold" if gap < ZERO else "folds.near-the-fold",
                        label=placed.label,
                        on=on,
                        **({"by": -gap} if gap < ZERO else {"gap": gap, "least": least, "raised": placed.raised, "faced": facing > ZERO}),
                        unit=unit,
                    )
                    break


def _is_panel(worked: Worked, placed: Placed) -> bool:
    """Whether it is the flat panel in a card of one fold, which is told with the envelope."""
    return placed.said == ("card", "inside") and worked.base.halves and not placed.raised


def _room(worked: Worked, placed: Placed) -> Length:
    """How far a piece keeps from a fold that closes over it."""
    if placed.raised:
        return FOAM_CLEAR[worked.kit.spec.unit]
    return LEAST_ROOM if worked.kit.papers[placed.paper].material.flexible else STIFF_CLEAR[worked.kit.spec.unit]


def _to_fold(worked: Worked, on: str, end: End, placed: Placed) -> Length:
    base, rect = worked.base, placed.rect
    first, last = (rect.x, rect.right) if base.runs == "down" else (rect.y, rect.bottom)
    return first if end == "start" else base.faces[on].length - last


def _facing(worked: Worked, carries: CardFace, end: End, placed: Placed, lying: list[tuple[str, Placed]]) -> Iterator[Placed]:
    """What stands on foam on the panel that a fold lays over a piece, where it comes to lie over it."""
    base = worked.base
    here = base.closed_at(carries.name, placed.rect)
    for on, other in lying:
        parts = base.faces[on].parts
        if other.raised and len(parts) == 1 and (parts[0].panel, parts[0].side) == carries.faced(end):
            if base.closed_at(on, other.rect).overlaps(here):
                yield other


# --- what lies across doors -------------------------------------------------------------------------------


def _across(worked: Worked) -> Iterator[Finding]:
    """Decoration that is glued to more than one panel; pieces are told with how they are fixed."""
    panels = worked.base.panels_on(worked.base.leading)
    for spot in worked.face.spots:
        under = across(spot.rect, panels)
        carried = any(placed.layer != "base" and placed.rect.contains(spot.rect) for placed in worked.face.stack)
        if len(under) > 1 and not carried:
            yield Finding("warning", worked.kit.place(*spot.said), "folds.decoration-across", name=spot.name, panels=under)


# --- thick folds, and the grain -----------------------------------------------------------------------------


def _thick(worked: Worked) -> Iterator[Finding]:
    base, unit = worked.base, worked.kit.spec.unit
    for i, score in enumerate(base.scored.scores):
        thick = _between(worked, i)
        if thick.low * MM > ONE_SCORE.inches:
            yield Finding("hint", worked.kit.place(*_fold(worked, i)), "folds.thick", at=score.at, thick=thick, unit=unit)


def _grain(worked: Worked) -> Iterator[Finding]:
    """Several folds across the grain; of one fold the facts of the kit tell it."""
    kit, base = worked.kit, worked.base
    key = kit.spec.card.base.paper
    paper, plan = kit.papers[key], worked.plan(key)
    if len(base.scored.scores) < 2 or paper.grain is None or not paper.material.grained or plan is None:
        return
    layouts = [run.layout for run in plan.runs if kit.base in run.layout.yields]
    if not all(grain_runs_along_fold(worked, layout) for layout in layouts):
        yield Finding("warning", kit.place("card", "base", "paper"), "folds.against-the-grain", paper=paper.name, runs=base.runs)
