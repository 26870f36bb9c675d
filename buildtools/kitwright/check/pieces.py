"""Labels, sizes and counts."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.card.face import everything
from kitwright.card.liner import liners_of
from kitwright.card.shapes import misshapes
from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.kit.faces import decorations, fronts
from kitwright.kit.kit import Kit
from kitwright.kit.looks import LOOKS, ONE_WAY, known_colour
from kitwright.kit.names import Path
from kitwright.labels import is_base
from kitwright.units import HALF_MM, SIXTEENTH, ZERO, Length, on_grid, rounded
from kitwright.work.worked import Worked, lying_on, needs_of


def find(worked: Worked) -> Iterator[Finding]:
    """What is wrong with the pieces: their counts, sizes, shapes and papers."""
    for design in worked.designs:
        # Where the looks don't make the batch, every count is off for that one reason.
        yield from list(_looks(design)) or _counts(design)
    yield from _off_grid(worked)
    yield from _shapes(worked)
    yield from _one_size_two_labels(worked)
    yield from _papers(worked)
    yield from _liners(worked)
    yield from _photos(worked)


def _counts(worked: Worked) -> Iterator[Finding]:
    """Counts per label and paper must equal what lies on the cards, times the cards."""
    kit, lying = worked.kit, lying_on(worked.kit, worked.faces)
    cards = kit.spec.cards
    asked = {(label, paper): n for paper, labels in needs_of(kit).items() for label, n in labels.items() if not is_base(label)}
    for (label, paper), n in asked.items():
        place = kit.place("pieces", label, "per card", *(() if kit.spec.pieces[label].paper else (paper,)))
        name, on = kit.papers[paper].name, lying.get((label, paper), 0)
        if n.denominator != 1:
            yield Finding("error", place, "pieces.no-whole-number", label=label, paper=name, each=n / cards, cards=cards)
        elif n != on:
            yield Finding("error", place, "pieces.count-off", label=label, paper=name, asked=int(n), lying=on, cards=cards)
    for (label, paper), on in lying.items():
        if (label, paper) not in asked:
            name, papers = kit.papers[paper].name, tuple(kit.spec.pieces[label].share)
            yield Finding("error", _where(worked, label, paper), "pieces.not-cut-from", label=label, lying=on, paper=name, papers=papers)


def _where(worked: Worked, label: str, paper: str) -> Place:
    """The block of the spec that lays down such a piece."""
    lying = (placed.said for face in worked.faces for _, placed in everything(face, None) if (placed.label, placed.paper) == (label, paper))
    said = next(lying, ())
    return worked.kit.place(*(said[:2] if said[:1] == ("faces",) else ("front",)))


def _looks(worked: Worked) -> Iterator[Finding]:
    looks = worked.kit.spec.front.looks
    if looks and (have := sum(look.cards for look in looks)) != worked.kit.spec.cards:
        yield Finding(
            "error", worked.kit.place("front", "looks"), "pieces.looks-make-another-batch", have=have, cards=worked.kit.spec.cards
        )


def _off_grid(worked: Worked) -> Iterator[Finding]:
    kit, unit = worked.kit, worked.kit.spec.unit

    bases = {design.base: design for design in kit.designs}

    def off(of: Kit, path: Path, code: str, length: Length, **whose: str) -> Finding:
        return Finding("warning", of.place(*path), code, length=length, nearest=_nearest(length, unit), unit=unit, **whose)

    for label, size in worked.sizes.items():
        side = next((side for side in (size.width, size.height) if not on_grid(side, unit)), None)
        if side is not None:
            of = bases.get(label, kit)
            path: Path = ("card", "base", "size") if label in bases else ("pieces", label, "size")
            yield off(of, path, "pieces.size-off-the-ruler", side, label=label)
    for of in kit.designs:
        measures = [((*path, key), getattr(said, key)) for said, path in fronts(of.spec) for key in ("border", "gap")]
        for path, length in [(("card", "score"), of.spec.card.score), *measures]:
            if length is not None and not on_grid(length, unit):
                yield off(of, path, "pieces.measure-off-the-ruler", length, what=str(path[-1]))
    for layout in worked.layouts:
        mark = next((m for m in layout.measures if not on_grid(m, unit)), None)
        if layout.guide is not None and mark is not None:
            yield off(kit, ("guides", layout.guide, "cuts"), "pieces.cut-off-the-ruler", mark, guide=layout.name)


def _nearest(length: Length, unit: str) -> Length:
    step = SIXTEENTH if unit == "in" else HALF_MM
    return Length(rounded(length.inches, step))


def _shapes(worked: Worked) -> Iterator[Finding]:
    """Notches and shapes that can be cut, with the tools named."""
    for label, piece in worked.kit.spec.pieces.items():
        for wrong in misshapes(piece, worked.kit.spec.unit):
            yield Finding(
                "error", worked.kit.place("pieces", label, *wrong.path), wrong.code, label=label, unit=worked.kit.spec.unit, **wrong.values
            )


def _one_size_two_labels(worked: Worked) -> Iterator[Finding]:
    seen: dict[frozenset, str] = {}
    for label, piece in worked.kit.spec.pieces.items():
        key = frozenset(((piece.size.width, piece.size.height), piece.notch, piece.shape, piece.pocket))
        if key in seen:
            place, unit = worked.kit.place("pieces", label), worked.kit.spec.unit
            yield Finding("hint", place, "pieces.one-size-two-labels", label=label, other=seen[key], size=piece.size, unit=unit)
        seen.setdefault(key, label)


def _papers(worked: Worked) -> Iterator[Finding]:
    """Looks are drawn in patterns and colours known here; one that is drawn with an up says which edge that is."""
    kit = worked.kit
    for key, paper in kit.papers.items():
        for side in ("front", "back"):
            face = paper.face(side)
            if face is None:
                continue
            place = kit.place("papers", key, side)
            if face.look not in LOOKS:
                yield Finding("error", place, "pieces.no-such-look", look=face.look)
            if face.look in ONE_WAY and face.up is None and face.scan is None:
                yield Finding("hint", place, "pieces.look-without-up", paper=paper.name, look=face.look)
            for colour in face.colours:
                if not known_colour(colour):
                    yield Finding("error", place, "pieces.no-such-colour", colour=colour)
        if paper.grain and not paper.material.grained:
            yield Finding("warning", kit.place("papers", key, "grain"), "pieces.no-grain", paper=paper.name, kind=paper.kind)
    for of in kit.designs:
        for one, path in decorations(of.spec):
            if one.colour and not known_colour(one.colour):
                yield Finding("error", of.place(*path, "colour"), "pieces.no-such-colour", colour=one.colour)


def _liners(worked: Worked) -> Iterator[Finding]:
    """A liner of another envelope than any card of the kit goes into, or of a flap that is gum all over."""
    kit = worked.kit
    envelopes = [design.spec.card.envelope for design in kit.designs if design.spec.card.envelope]
    for label, liner in liners_of(kit).items():
        if liner.covers <= ZERO:
            place, values = kit.place("pieces", label, "liner", "flap"), {"flap": liner.flap, "gum": liner.gum, "unit": kit.spec.unit}
            yield Finding("error", place, "pieces.flap-all-gum", label=label, **values)
        if envelopes and not any(liner.lines(envelope.size) for envelope in envelopes):
            place = kit.place("pieces", label, "liner", "envelope")
            yield Finding(
                "warning", place, "pieces.liner-of-another", label=label, size=liner.envelope, other=envelopes[0], unit=kit.spec.unit
            )


def _photos(worked: Worked) -> Iterator[Finding]:
    for i, photo in enumerate(worked.kit.spec.photos):
        if not photo.alt:
            yield Finding("warning", worked.kit.place("photos", i, "file"), "pieces.photo-without-text", file=photo.file)
