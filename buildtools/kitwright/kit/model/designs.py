"""One of several designs of a kit: cards, fronts and batches of their own, from one set of sheets."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, StringConstraints

from kitwright.kit.model.card import CardSpec
from kitwright.kit.model.front import ArrangementsSpec, Decoration, Front, SentimentSpec
from kitwright.kit.model.text import Spec

DESIGN_FORM = r"^[^\W\d_][\w' -]{0,29}$"
"""A letter, then letters of any language, digits, spaces, dashes: a name is part of labels, links and names of files."""
DesignName = Annotated[str, StringConstraints(strip_whitespace=True, pattern=DESIGN_FORM), Field(examples=["Tall"])]


class DesignSpec(Spec):
    """One design: what is its own; papers, pieces and guides are the kit's."""

    cards: int = Field(ge=1, le=500, examples=[8])
    """Cards of this design in a batch."""
    card: CardSpec
    front: Front
    sentiment: SentimentSpec | None = None
    decorations: list[Decoration] = []
    arrangements: ArrangementsSpec = ArrangementsSpec()
    """How else the same pieces may go."""


DESIGNED = tuple(DesignSpec.model_fields)
"""What is each design's own; in a kit of one design it stands at the top of the file."""
