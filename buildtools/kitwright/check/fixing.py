"""How pieces are held: pockets and what goes in, shakers, hidden edges, and what nothing holds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from kitwright.card.enclosed import foam_of
from kitwright.card.face import Placed, everything, lying_with
from kitwright.card.fixing import across, hidden_edges_of
from kitwright.card.pocket import CLEARANCE, LEAST_SHOWN, Pocket
from kitwright.card.shaker import Shaker
from kitwright.card.shapes import holds_within
from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.geometry import Rect
from kitwright.kit.model import Laid, ShakerSpec
from kitwright.kit.names import Path, laid_items
from kitwright.units import MM, ZERO, Length
from kitwright.work.worked import Worked


def find(worked: Worked) -> Iterator[Finding]:
    """Whatever is not held, or does not go in."""
    laid = {path: entry for entry, path in laid_items(worked.kit)}
    yield from _empty(worked, laid)
    yield from _bands(worked)
    yield from _doors(worked, laid)
    for placed in (placed for _, placed in everything(worked.face, worked.enclosed.inside)):
        entry, stack = laid.get(placed.said), lying_with(worked.face, placed)
        if placed.hold is None:
            continue
        if placed.hold.into:
            yield from _pushed_in(worked, placed, stack)
        elif placed.hold.way == "loose" and not any(piece.band for piece in worked.kit.spec.pieces.values()):
            yield Finding("error", worked.kit.place(*placed.said), "fixing.nothing-holds", label=placed.label)
        elif placed.hold.way == "hidden edge" and not hidden_edges_of(placed, stack, worked.kit.spec.unit):
            yield Finding("error", worked.kit.place(*placed.said, "fixing"), "fixing.no-edge-hidden", label=placed.label)
        elif placed.hold.way == "shaker" and placed.hold.shaker and entry and entry.shaker:
            yield from _shaker(worked, placed, placed.hold.shaker, entry.shaker)


# --- pockets ----------------------------------------------------------------------------------------


def _empty(worked: Worked, laid: Mapping[Path, Laid]) -> Iterator[Finding]:
    """Pockets with nothing in them, with something else than they say, or laid down as none."""
    kit = worked.kit
    for label, piece in kit.spec.pieces.items():
        if piece.pocket is None:
            continue
        inside = {entry.piece: path for path, entry in laid.items() if entry.within == label}
        holds = piece.pocket.holds
        if not inside:
            yield Finding("error", kit.place("pieces", label, "pocket"), "fixing.pocket-empty", label=label, holds=holds)
        for other, path in inside.items():
            if holds and other != holds:
                yield Finding("error", kit.place(*path), "fixing.pocket-of-another", label=label, holds=holds, other=other)
        for path, entry in laid.items():
            if entry.piece == label and entry.held != "flat":
                yield Finding("error", kit.place(*path), "fixing.pocket-otherwise", label=label, fixing=entry.held)


def _pushed_in(worked: Worked, tag: Placed, stack: Sequence[Placed]) -> Iterator[Finding]:
    kit, unit, label = worked.kit, worked.kit.spec.unit, tag.hold.into if tag.hold else ""
    pocket = next((p.hold.pocket for p in stack if p.label == label and p.hold and p.hold.pocket), None)
    if pocket is None:
        return
    thumb = said.thumb_notch if (said := kit.spec.pieces[label].pocket) else None
    if pocket.mouth <= ZERO or pocket.depth <= ZERO:
        most = min(pocket.across / 2, pocket.deep)
        yield Finding("error", _at(worked, label, "glue"), "fixing.pocket-all-glue", label=label, glue=pocket.glue, most=most, unit=unit)
        return
    wide, takes = pocket.width_of(tag.rect.size), pocket.takes(CLEARANCE[unit])
    if takes <= ZERO:
        yield Finding("error", _at(worked, label), "fixing.pocket-too-small", label=label, mouth=pocket.mouth, unit=unit)
    elif wide > takes:
        tight, place = wide < pocket.mouth, kit.place("pieces", tag.label, "size")
        values = {"label": tag.label, "wide": wide, "pocket": label, "takes": takes, "mouth": pocket.mouth}
        yield Finding("warning" if tight else "error", place, "fixing.tag-too-wide", tight=tight, unit=unit, **values)
    if thumb is not None and thumb >= pocket.mouth:
        yield Finding(
            "error", _at(worked, label, "thumb notch"), "fixing.thumb-too-wide", label=label, thumb=thumb, mouth=pocket.mouth, unit=unit
        )
    elif not _to_pull_by(pocket, tag, thumb, unit):
        least = pocket.depth + LEAST_SHOWN[unit]
        values = {"label": tag.label, "pocket": label, "shows": pocket.shows(tag.rect.size), "least": least}
        yield Finding("error", kit.place("pieces", tag.label, "size"), "fixing.nothing-to-pull", unit=unit, **values)


def _to_pull_by(pocket: Pocket, tag: Placed, thumb: Length | None, unit: str) -> bool:
    """Whether enough of it shows, or a thumb reaches it through the notch."""
    if pocket.shows(tag.rect.size) >= LEAST_SHOWN[unit]:
        return True
    return thumb is not None and pocket.depth - pocket.length_of(tag.rect.size) < thumb / 2


def _at(worked: Worked, label: str, key: str = "") -> Place:
    """Where a pocket says something of itself."""
    return worked.kit.place("pieces", label, "pocket", *([key] if key else []))


# --- belly bands ------------------------------------------------------------------------------------


def _bands(worked: Worked) -> Iterator[Finding]:
    kit, unit, card = worked.kit, worked.kit.spec.unit, worked.enclosed.folded
    for band in worked.enclosed.bands:
        said = kit.spec.pieces[band.label].band
        most = card.height if said and said.round == "width" else card.width
        if band.height > most:
            yield Finding(
                "error",
                kit.place("pieces", band.label, "band", "height"),
                "fixing.band-too-wide",
                label=band.label,
                height=band.height,
                most=most,
                unit=unit,
            )
        if band.stack > kit.spec.cards:
            yield Finding(
                "error",
                kit.place("pieces", band.label, "band", "stack"),
                "fixing.band-of-more-cards",
                label=band.label,
                stack=band.stack,
                cards=kit.spec.cards,
            )


# --- doors ------------------------------------------------------------------------------------------


def _doors(worked: Worked, laid: Mapping[Path, Laid]) -> Iterator[Finding]:
    """What lies across doors is fixed to one of them, so that the card opens."""
    kit, panels, shut = worked.kit, worked.base.panels_on(worked.base.leading), list[Rect]()
    for placed in worked.face.stack:
        hold, entry = placed.hold, laid.get(placed.said)
        if placed.layer == "base" or hold and (hold.into or hold.behind or hold.way == "loose"):
            continue
        # What stands on one of the doors is glued to that one, whatever it reaches over.
        own = {name: rect for name, rect in panels.items() if placed.said[:2] == ("faces", name)}
        lies_on, panel = across(placed.rect, own or panels), entry.fixed_to if entry else None
        if panel and panel not in lies_on:
            yield Finding("error", kit.place(*placed.said), "fixing.not-on-the-panel", label=placed.label, panel=panel)
        elif len(lies_on) > 1 and (hold is None or not hold.panel or hold.pocket or hold.shaker):
            if any(rect.contains(placed.rect) for rect in shut):
                # It is glued to that alone, of which it was told.
                continue
            shut.append(placed.rect)
            yield Finding("error", kit.place(*placed.said), "fixing.doors-shut", label=placed.label, doors=lies_on, movable=hold is None)


# --- shakers ----------------------------------------------------------------------------------------


def _shaker(worked: Worked, frame: Placed, shaker: Shaker, said: ShakerSpec) -> Iterator[Finding]:
    kit, unit, label = worked.kit, worked.kit.spec.unit, frame.label
    place = kit.place(*frame.said, "shaker")

    def at(key: str) -> Place:
        return kit.place(*frame.said, "shaker", key)

    if shaker.set_back <= ZERO:
        yield Finding("error", at("from window"), "fixing.foam-in-the-window", label=label)
    elif shaker.border < shaker.least_border:
        values = {"label": label, "border": shaker.border, "set_back": shaker.set_back, "foam": shaker.foam, "least": shaker.least_border}
        yield Finding("error", place, "fixing.frame-too-narrow", unit=unit, **values)
    elif not holds_within(kit.spec.pieces[label], frame.rect, frame.turned, shaker.outer):
        yield Finding("error", place, "fixing.foam-past-the-frame", label=label, outer=shaker.outer.size, unit=unit)
    if not shaker.set_back < shaker.lap <= shaker.border:
        values = {"label": label, "lap": shaker.lap, "set_back": shaker.set_back, "most": shaker.border}
        yield Finding("error", at("lap"), "fixing.film-lap", unit=unit, **values)
    if kit.papers[said.film].material.shows == "nothing":
        yield Finding("error", at("film"), "fixing.film-not-clear", label=label, paper=kit.papers[said.film].name)
    thick, foam = said.inside_thickness, foam_of(kit)
    if thick is not None and thick.millimetres >= foam.low:
        sure, low = thick.millimetres >= foam.high, Length(foam.low * MM)
        yield Finding(
            "error" if sure else "warning",
            at("inside thickness"),
            "fixing.inside-too-thick",
            inside=said.inside,
            thick=thick,
            foam=low,
            known=foam.known,
            unit=unit,
        )
