"""The nearest sizes with which a kit leaves less of its sheets, takes fewer measures, or bears sheets that are a little short.

Sizes move together so that every sum of every face goes on holding (`freedom`), a few steps of the
maker's ruler at most. All such moves are looked at as whole numbers, by the very cuts of the kit
(`recut`): so what is gained is gained by the sizes, and she cuts as she did. A few that need fewer
sheets altogether are planned anew. What is offered was tried on the whole kit, and brings no finding.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Literal

from kitwright.card.face import Face
from kitwright.cutting.plan import HALF
from kitwright.cutting.solver.work import Work
from kitwright.proposing.freedom import Dial, Freedom, freedom
from kitwright.proposing.makeable import LEAST_SLACK
from kitwright.proposing.near.figures import GAINS, Figures, Gain
from kitwright.proposing.near.moves import moves_of, step_of
from kitwright.proposing.near.nudged import CameOut, Nudged
from kitwright.proposing.near.records import Improved, Moved, Nearby, Shows
from kitwright.proposing.near.whole import changed_whole
from kitwright.proposing.wish import Unit
from kitwright.units import ZERO, Length
from kitwright.work.worked import Worked

WORTH = Fraction(1, 100)
"""Less waste than this is no gain: a hundredth of all the sheets."""
DEAR = Fraction(3, 100)
"""More of the sheets than this is too much to pay for slack or for a measure."""
TRIED = 14
"""So many are tried on the whole kit."""
HANDFUL = 5


def improve(worked: Worked, work: Work | None = None) -> Improved:
    """The nearest sizes that better a kit, as a whole with all its designs.

    Args:
        worked: the kit, free of errors.
        work: what may be spent; the usual share where nothing is said.
    """
    worked, work = worked.whole, work or Work()
    step, reach = step_of(worked)
    free = freedom(worked)
    moves, whole = moves_of(free, step, reach)
    work.charge(moves.size)
    search = Nudged(worked, free, step, moves)
    found = search.found(work)
    nearby, tried = tried_whole(worked, search, found, step)
    return Improved(worked, step, reach, search.now, tuple(nearby), len(moves), search.come_out, tried, free.kept, whole)


def tried_whole(worked: Worked, search: Nudged, found: list[CameOut], step: Length) -> tuple[list[Nearby], int]:
    """A handful, the nearest of each kind of gain in turn; near twins are left out."""
    queues = {gain: _queue(search.now, found, gain, step, worked.kit.spec.unit) for gain in GAINS}
    nearby: list[Nearby] = []
    seen: set[tuple[tuple[Dial, int], ...]] = set()
    tried = 0
    while any(queues.values()) and len(nearby) < HANDFUL and tried < TRIED:
        for gain, queue in queues.items():
            while queue and len(nearby) < HANDFUL and tried < TRIED:
                one = queue.pop(0)
                if one.shifts in seen or any(_twins(one, other) for other in nearby):
                    continue
                seen.add(one.shifts)
                tried += 1
                made = changed_whole(worked, search, one, step)
                # Planned anew, it may gain another thing than it was taken for.
                if made is not None and search.now.gain(made[1].figures, gain) > 0:
                    nearby.append(_told(search, made[1], gain, step, made[0]))
                    break
    return nearby, tried


def _queue(now: Figures, found: list[CameOut], gain: Gain, step: Length, unit: Unit) -> list[CameOut]:
    """What is better in one thing by enough: what loses nothing for it first, then the nearest; further ones only where they gain more."""
    worth = {"sheets": HALF, "waste": WORTH, "slack": step.inches, "measures": Fraction(1)}[gain]
    good = [one for one in found if now.gain(one.figures, gain) >= worth and _bearable(now, one.figures, gain, unit)]
    good.sort(key=lambda one: (bool(_losses(now, one.figures)), one.far, -now.gain(one.figures, gain), one.shifts))
    kept: list[CameOut] = []
    best = Fraction(0)
    for one in good:
        if now.gain(one.figures, gain) > best:
            best = now.gain(one.figures, gain)
            kept.append(one)
    return kept


def _bearable(now: Figures, new: Figures, gain: Gain, unit: Unit) -> bool:
    """Whether a gain costs no more than it is worth: fewer sheets are worth any waste, nothing is worth sheets cut to a hair."""
    return (gain == "sheets" or now.gain(new, "waste") >= -DEAR) and new.slack >= min(now.slack, LEAST_SLACK[unit])


def _gains(now: Figures, new: Figures) -> tuple[Gain, ...]:
    return tuple(gain for gain in GAINS if now.gain(new, gain) > 0)


def _losses(now: Figures, new: Figures) -> tuple[Gain, ...]:
    return tuple(gain for gain in GAINS if now.gain(new, gain) < 0)


def _twins(one: CameOut, other: Nearby) -> bool:
    """Whether two move the same sizes the same way."""
    signs = {(dial, by > 0) for dial, by in one.shifts}
    return signs == {(_dial(moved), moved.after > moved.before) for moved in other.moved}


def _dial(moved: Moved) -> Dial:
    return (moved.what, moved.label) if moved.label else (moved.what, moved.design, *moved.path)


def _told(search: Nudged, one: CameOut, gain: Gain, step: Length, changed: Worked) -> Nearby:
    gains = _gains(search.now, one.figures)
    moved = tuple(_moved(search.free, dial, by, step) for dial, by in one.shifts)
    return Nearby(
        moved, one.figures, (gain, *(each for each in gains if each != gain)), _losses(search.now, one.figures), one.same_cuts, changed
    )


def _moved(free: Freedom, dial: Dial, by: int, step: Length) -> Moved:
    what, whose, *path = dial
    before = free.now[dial]
    piece = what in ("width", "height")
    label, called = (str(whose), "") if piece else ("", str(whose))
    return Moved(what, label, called, tuple(path), before, before + step * by)  # type: ignore[arg-type]  # a dial begins with its kind


def shown(worked: Worked, nearby: Nearby) -> tuple[Shows, ...]:
    """What is seen to change on the faces of a kit, beside its pieces: borders, gaps, bands, what shows round a layer."""
    found = []
    for design, new in zip(worked.whole.designs, nearby.changed.designs):
        for face, after in zip(design.face.every, new.face.every):
            found += [Shows(what, design.kit.design, face.on, label, *sides) for what, label, *sides in _seen(face, after)]
    return tuple(one for one in found if one.before != one.after)


def _seen(face: Face, after: Face) -> Iterator[tuple[Literal["border", "gap", "band", "shows"], str, Length, Length]]:
    yield "border", "", face.border or ZERO, after.border or ZERO
    yield "gap", "", face.gap or ZERO, after.gap or ZERO
    for band, new in zip(face.bands, after.bands):
        low = band.width >= band.height
        yield "band", "", band.height if low else band.width, new.height if low else new.width
    for i, (below, layer) in enumerate(zip(face.layers, face.layers[1:])):
        under, over = after.layers[i : i + 2]
        yield "shows", layer.label, (below.rect.width - layer.rect.width) / 2, (under.rect.width - over.rect.width) / 2
