"""Whether words can be read where they are printed.

WCAG 2.2, 1.4.3 (level AA) is the measure: 3 : 1 for large text, which begins at 18 points, and
4.5 : 1 for smaller. A printed area under a quarter of an inch (18 points) in height has no room for
a line of large text. It is made for screens; for ink on paper nobody has a better number.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from kitwright.card.face import Placed, Sentiment
from kitwright.colours import RGB, contrast
from kitwright.kit.looks import paper_colour
from kitwright.kit.model import Paper
from kitwright.schemes import GRAPHIC, TEXT
from kitwright.units import Length

LARGE = Length(Fraction(1, 4))
"""18 points: the least height of large text."""
LARGE_TEXT = GRAPHIC
"""The least contrast of large text, which is that of graphics."""
INKS: tuple[RGB, ...] = ((0, 0, 0), (255, 255, 255))
"""Black, and white as it is embossed or printed on dark paper."""


def under(said: Sentiment, stack: Sequence[Placed]) -> list[Placed]:
    """What words stand on, topmost first: the piece that holds all of them, or whatever they reach over; nothing that lies on that."""
    found = []
    last = max((i for i, placed in enumerate(stack) if placed.label == said.on), default=len(stack) - 1)
    for placed in reversed(stack[: last + 1]):
        if placed.covers_some(said.rect):
            found.append(placed)
            if placed.rect.contains(said.rect):
                break
    return found


def tucked_away(said: Sentiment, stack: Sequence[Placed]) -> bool:
    """Whether words stand where a pocket hides them until what carries them is pulled out."""
    carrier = next((placed for placed in reversed(stack) if placed.label == said.on), None)
    pocket = carrier.hold.into if carrier and carrier.hold else ""
    return any(placed.label == pocket and placed.rect.overlaps(said.rect) for placed in stack)


def needed(said: Sentiment) -> Fraction:
    """The least contrast of words so large."""
    return LARGE_TEXT if said.rect.height >= LARGE else TEXT


def grounds(said: Sentiment, stack: Sequence[Placed], papers: Mapping[str, Paper]) -> tuple[str, ...]:
    """The colours that words meet: grounds and the marks of patterns, those below clear film included."""
    opaque = [placed for placed in stack if papers[placed.paper].material.shows != "through"]
    film = [placed for placed in under(said, stack) if placed not in opaque]
    met = [colour for placed in under(said, opaque) for colour in colours_of(papers[placed.paper], placed.face)]
    met += [mark for placed in film for mark in colours_of(papers[placed.paper], placed.face)[1:]]
    return tuple(dict.fromkeys(met))


def colours_of(paper: Paper, side: str) -> tuple[str, ...]:
    """The colours of a face of a paper: its ground, and then the marks of its pattern."""
    face = paper.face(side)
    if face is None:
        return (paper.material.natural,)
    typed = face.drawn_colours or (paper.material.natural,)
    return typed[:1] if face.drawn_look == "plain" else typed


def best(colours: Sequence[str]) -> Fraction:
    """The contrast that the better ink reaches on every one of these."""
    return max(min(contrast(ink, paper_colour(colour)) for colour in colours) for ink in INKS)
