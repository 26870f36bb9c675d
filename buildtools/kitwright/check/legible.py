"""Words that can't be read where they are printed, whatever ink she takes."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.card.legible import best, grounds, needed
from kitwright.findings import Finding
from kitwright.kit.looks import known_colour
from kitwright.work.worked import Worked


def find(worked: Worked) -> Iterator[Finding]:
    """A warning for each sentiment on a pattern whose light and dark colours leave no ink for it."""
    kit, told = worked.kit, set()
    for face, said in [(side, said) for look in worked.faces for side in look.every for said in side.sentiments]:
        met = grounds(said, face.stack, kit.papers)
        if not met or not all(map(known_colour, met)):
            continue
        least, reached = needed(said), best(met)
        if reached < least and (said, met) not in told:
            told.add((said, met))
            yield Finding(
                "warning",
                kit.place(*said.said, "on"),
                "legible.words",
                text=said.text,
                on=said.on,
                colours=met,
                reached=reached,
                least=least,
            )
