"""What the pictures for elsewhere show, for those who can’t see them: short, as one says it beside a post."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from kitwright.card.face import Face
from kitwright.telling.folds import fold_text, folded_text
from kitwright.telling.scans import sources_text
from kitwright.telling.words import article, led, listed, spelled
from kitwright.units import size_text
from kitwright.work.worked import Worked

_NAMED = 4
"""As many papers and looks are named; of more it is said how many there are."""


def card_alt(worked: Worked, face: Face | None = None) -> str:
    """The finished card by itself, in one of its looks, or in the one that leads; of several designs each, one after another.

    This is also what a post says of its picture.
    """
    if face is None and worked.parts:
        told = " ".join(f"{led(design.kit.design)}: {_card(design, design.faces[:1])}." for design in worked.designs)
        return f"{_title(worked)}, {spelled(len(worked.designs))} designs side by side. {told}"
    one = face or worked.face
    named = ", ".join(filter(None, (_title(worked), worked.kit.design, one.name if face and len(worked.faces) > 1 else "")))
    return f"{named}: {_card(worked, (one,))}."


def look_alt(worked: Worked, face: Face | None = None) -> str:
    """The same without its size, for a picture without figures: it stands beside sizes in the reader's own unit."""
    if face is None and worked.parts:
        return f"{_title(worked)}: {' '.join(f'{led(design.kit.design)} is {_card(design, design.faces[:1], sized=False)}.' for design in worked.designs)}"
    one = face or worked.face
    named = ", ".join(filter(None, (_title(worked), worked.kit.design, one.name if len(worked.faces) > 1 else "")))
    return f"{named}: {_card(worked, (one,), sized=False)}."


def fan_alt(worked: Worked) -> str:
    """Some cards of the batch, fanned, with every look among them."""
    looks = tuple(dict.fromkeys(f"“{face.name}”" for face in worked.every_face if face.name))
    said = f", {listed(looks)}" if 1 < len(looks) <= _NAMED else f", in {spelled(len(looks))} looks" if len(looks) > 1 else ""
    return f"Cards of {_title(worked)}, fanned{said}. {_said(worked)}"


def batch_alt(worked: Worked, shown: Sequence[Face]) -> str:
    """The whole batch in rows."""
    count = len(shown)
    lead = f"All {spelled(count)} cards of {_title(worked)} in rows" if count > 1 else f"The one card of {_title(worked)}"
    return f"{lead}{_looks(worked, shown)}. {_said(worked)}"


def open_alt(worked: Worked) -> str:
    """The folded card, standing open."""
    within = listed([f"“{words.text}”" for face in worked.face.sides for words in face.sentiments])
    return f"{card_alt(worked, worked.face)} It stands open on its folds{f', and inside reads {within}' if within else ''}."


def _card(worked: Worked, faces: Sequence[Face], sized: bool = True) -> str:
    """One card, or what holds for those that differ in their papers alone."""
    face, plain = faces[0], worked.base.plain
    papers, words = _papers(worked, faces), _greeting(face)
    size = f"{size_text(face.size, worked.unit)} card" if sized else "card"
    folded = folded_text(face.hinges) if plain else fold_text(worked.base)
    return f"{article(size)} {size}, {folded}{f', of {papers}' if papers else ''}{f'; it reads {words}' if words else ''}"


def _papers(worked: Worked, faces: Sequence[Face]) -> str:
    """The papers that are seen, those with a pattern first."""
    seen = dict.fromkeys(placed.paper for face in faces for placed in reversed(face.stack) if placed.paper in worked.kit.papers)
    keys = sorted(seen, key=lambda key: worked.kit.papers[key].kind != "patterned")
    names = [worked.kit.papers[key].name for key in keys]
    return listed(names) if len(names) <= _NAMED else f"{spelled(len(names))} papers, {listed(names[: _NAMED - 1])} among them"


def _greeting(face: Face) -> str:
    return listed([f"“{words.text}”" for words in face.sentiments])


def _looks(worked: Worked, shown: Sequence[Face]) -> str:
    """How many of each look there are; nothing where all look alike."""
    named = [face.name for face in shown if face.name]
    looks = {name: named.count(name) for name in dict.fromkeys(named)}
    if len(looks) < 2:
        return ""
    if len(looks) > _NAMED:
        return f", in {spelled(len(looks))} looks"
    return f": {listed([f'{spelled(times)} “{name}”' for name, times in looks.items()])}"


def _said(worked: Worked) -> str:
    """What one of them is, where the greeting is the same on all."""
    if worked.parts:
        return " ".join(f"{led(design.kit.design)} is {_card(design, design.faces)}." for design in worked.designs)
    return f"Each is {_card(worked, worked.faces)}."


def _title(worked: Worked) -> str:
    return worked.whole.kit.spec.title


def alt_file(pictures: Iterable[tuple[str, str, Sequence[str]]]) -> str:
    """What each picture shows, to be copied from: its name without shape and ending, and below its text and where its papers are from."""
    return "\n".join("".join(f"{line}\n" for line in (name, alt, sources_text(sources)) if line) for name, alt, sources in pictures)
