"""How pieces are fixed, step by step, where that is more than glue all over: pockets, shakers, hidden edges, bands."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from kitwright.card.enclosed import Wrapped
from kitwright.card.face import Face, Placed, lying_with
from kitwright.card.fixing import hidden_edges_of
from kitwright.card.pocket import Pocket
from kitwright.card.shaker import Shaker
from kitwright.telling.words import listed
from kitwright.units import Length, length_text, size_text
from kitwright.work.worked import Worked


def held_words(placed: Placed) -> str:
    """Where a piece goes that is not set down by itself: ` behind F`, ` into K`; empty for any other."""
    if placed.hold and placed.hold.behind:
        return f" behind {placed.hold.behind}"
    return f" into {placed.hold.into}" if placed.hold and placed.hold.into else ""


def before(worked: Worked, placed: Placed) -> list[str]:
    """What is done to a piece before it is set down."""
    if placed.hold and placed.hold.way == "shaker" and placed.hold.shaker:
        return list(_shaker(worked, placed, placed.hold.shaker))
    return []


def after(worked: Worked, placed: Placed) -> str:
    """How it is fixed where it is set down, as a sentence behind its place; empty where glue all over holds it."""
    unit, hold = worked.unit, placed.hold
    if hold is None:
        return " Raise it on foam." if placed.raised else ""
    if hold.way == "pocket" and hold.pocket:
        return f" Glue three edges of it only, {listed(list(hold.pocket.glued))}, {length_text(hold.pocket.glue, unit)} wide: the {hold.pocket.open} stays open."
    if hold.way == "shaker":
        return f" Heap {_inside(worked, placed)} where its window comes, then press {placed.label} down on the foam all round."
    if hold.way == "hidden edge":
        edges = hidden_edges_of(placed, lying_with(worked.face, placed), unit)
        return f" Glue it along its {edges[0]} edge only, which another piece hides." if edges else ""
    if hold.way == "one panel" and hold.glued == placed.rect:
        return " Raise it on foam." if placed.raised else ""
    if hold.way == "one panel" and placed.raised:
        return f" Raise it on foam that stands on the {hold.panel} only, so that the card opens."
    if hold.panel:
        return f" Glue it to the {hold.panel} only, so that the card opens."
    return " Lay it there loose."


def pushed_in(worked: Worked, stack: Sequence[Placed]) -> Iterator[str]:
    """What is slipped into the pockets of a face, once they hold."""
    pockets = {placed.label: placed.hold.pocket for placed in stack if placed.hold and placed.hold.pocket}
    for placed in stack:
        into = placed.hold.into if placed.hold else ""
        if into in pockets:
            yield f"Slip {placed.label} into {into} once the glue is dry{_shows(worked, placed, pockets[into])}."


def _shows(worked: Worked, placed: Placed, pocket: Pocket) -> str:
    shows = pocket.shows(placed.rect.size)
    return f": {length_text(shows, worked.unit)} of it shows to pull it out by" if shows else ""


def _inside(worked: Worked, placed: Placed) -> str:
    said = worked.shaker_said(placed)
    return said.inside if said and said.inside else "what is to shake"


def _shaker(worked: Worked, frame: Placed, shaker: Shaker) -> Iterator[str]:
    unit, label = worked.unit, frame.label
    stack = lying_with(worked.face, frame)
    film = next((below.label for below in stack[: stack.index(frame)] if below.hold and below.hold.shaker == shaker), None)
    if film:
        yield f"Stick {film} ({size_text(shaker.film.size, unit)}) behind the window of {label}, {length_text(shaker.lap, unit)} past it all round."
    wide, high = shaker.lengths
    strips = (
        f"four strips of {length_text(wide, unit)}"
        if wide == high
        else f"two strips of {length_text(wide, unit)} and two of {length_text(high, unit)}"
    )
    yield (
        f"Cut foam {length_text(shaker.foam, unit)} wide into {strips} for each {label}. Lay them behind it round the window like a pinwheel, "
        f"{length_text(shaker.set_back, unit)} from it, each end against the side of the next."
    )


# --- what it takes ----------------------------------------------------------------------------------


def adhesive_rule(worked: Worked) -> str:
    """What adhesive is counted for besides pieces that are glued all over; empty for a kit without."""
    ways = {placed.hold.way for _, _, placed in _everything(worked) if placed.hold}
    told = {
        "pocket": "three edges of a pocket",
        "film": "all round a shaker’s film",
        "hidden edge": "the one edge that is hidden",
        "one panel": "what lies on the one panel",
        "loose": "nothing for what lies loose",
    }
    return "; ".join(
        [what for way, what in told.items() if way in ways]
        + (["across the end of a belly band"] if any(design.enclosed.bands for design in worked.designs) else [])
    )


def foam_rule(worked: Worked) -> str:
    """The same of foam."""
    shaken = any(placed.hold and placed.hold.way == "shaker" for _, _, placed in _everything(worked))
    return "all round a shaker’s window" if shaken else ""


def to_shake(worked: Worked, cards: int) -> list[str]:
    """What goes into the shakers of so many cards: `beads for 4 F`."""
    counted: Counter[tuple[str, str]] = Counter()
    for design, face, placed in _everything(worked):
        if placed.hold and placed.hold.way == "shaker":
            counted[(_inside(design, placed), placed.label)] += face.cards
    return [f"{inside} for {ceil(Fraction(n * cards, worked.kit.spec.cards))} {label}" for (inside, label), n in counted.items()]


def _everything(worked: Worked) -> Iterator[tuple[Worked, Face, Placed]]:
    """All that lies on the cards of a kit, with its design and its face."""
    for design in worked.designs:
        for face in (side for look in design.faces for side in look.every):
            yield from ((design, face, placed) for placed in face.stack)


# --- belly bands ------------------------------------------------------------------------------------


def wrapped(worked: Worked, band: Wrapped) -> str:
    """How a belly band goes round."""
    unit, many = worked.unit, band.stack
    what = "the closed card" if many == 1 else f"{many} closed cards"
    return (
        f"Score {band.label} at {_places(band.band.scores, unit)} from one end and fold it round {what}. "
        "Stick the overlap to the band itself only, so that it slides off."
    )


def _places(scores: tuple[Length, ...], unit: str) -> str:
    return listed([length_text(score, unit) for score in scores])
