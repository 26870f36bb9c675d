"""Words that can't be read where they are printed."""

from __future__ import annotations

from fractions import Fraction

from kitwright.card.legible import LARGE
from kitwright.errors import Said
from kitwright.telling.words import listed
from kitwright.units import both_text, rounded


def words(text: str, on: str, colours: tuple[str, ...], reached: Fraction, least: Fraction) -> Said:
    def ratio(value: Fraction) -> str:
        return f"{float(rounded(value, Fraction(1, 10))):g} : 1"

    return (
        f"“{text}” stands on {on}, whose {listed(list(colours))} lie too far apart for any ink: "
        f"the best reaches {ratio(reached)}, and words of this size need {ratio(least)} (WCAG 2.2; under {both_text(LARGE)} high they count as small)",
        "print it on a plain strip, or choose a paper whose colours are all light or all dark",
    )
