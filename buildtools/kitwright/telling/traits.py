"""What the values of a kit are called where readers choose by them, and all the words that would say the same as a tag."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.papers import SHEETS
from kitwright.telling.folds import fold_text, name_text
from kitwright.telling.words import number, spelled
from kitwright.units import size_text
from kitwright.work.traits import Shape, paper_traits, shape_of, standing, techniques_of
from kitwright.work.worked import Worked

SHAPES: dict[Shape, tuple[str, ...]] = {
    "square": ("square",),
    "tall": ("tall", "upright", "portrait"),
    "wide": ("wide", "landscape"),
    "slimline": ("slimline", "slim line"),
}
"""What a card of each shape is called; first as pages call it."""
ALSO: dict[str, tuple[str, ...]] = {
    "raised pieces": ("raised", "foam", "dimensional"),
    "pull-out tag": ("tag", "pull-out"),
    "triangles": ("triangle",),
    "punched pieces": ("punched", "punch"),
    "die cuts": ("die cut",),
    "banner": ("notched",),
}
"""Other words for a technique."""


def said_by_values(worked: Worked) -> tuple[str, ...]:
    """All that a tag need not say of a kit, since its values do: shape, size, fold, envelope, papers, unit, techniques."""
    return tuple(dict.fromkeys(filter(None, _said(worked))))


def _said(worked: Worked) -> Iterator[str]:
    spec, unit = worked.kit.spec, worked.kit.spec.unit
    yield "metric" if unit == "mm" else "inches"
    yield number(spec.cards, "card", "cards")
    for design in worked.designs:
        size, envelope = design.base.finished, design.kit.spec.card.envelope
        # A slimline card is tall or wide besides.
        yield from (*SHAPES[shape_of(size)], *SHAPES[standing(size)])
        yield size_text(size, unit, plain=True)
        if design.base.scored.scores:
            yield from (fold_text(design.base), name_text(design.base.fold))
        if envelope and envelope.name:
            yield from (envelope.name, envelope.name.removesuffix(" envelope"))
        yield from (sheet.name for sheet in SHEETS if size in (sheet.size, sheet.size.turned))
    yield from _counted(len(worked.parts), "design")
    yield from _counted(len(worked.every_face), "look")
    papers = paper_traits(worked)
    patterned = [paper for paper in papers if paper.patterned]
    yield from _counted(len(patterned), "paper")
    yield from _counted(len(patterned), "patterned paper")
    sheets = sum(paper.sheets for paper in patterned)
    if sheets.denominator == 1:
        yield from _counted(int(sheets), "sheet")
    if any(paper.sheets.denominator > 1 for paper in papers):
        yield "half sheet"
    if any(paper.one_way for paper in papers):
        yield from ("one-way", "one-way paper", "directional paper")
    if any(paper.double_sided for paper in papers):
        yield from ("double-sided", "double-sided paper")
    for technique in techniques_of(worked):
        yield from (technique, *ALSO.get(technique, ()))


def _counted(n: int, what: str) -> Iterator[str]:
    if n:
        yield f"{spelled(n)} {what}{'s' if n > 1 else ''}"
