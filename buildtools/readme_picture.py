"""Draws the picture of README.md: three of the layouts that two sheets give, one of each of the first three families.

    .venv/bin/python buildtools/readme_picture.py

writes `from-paper-to-kit.png` beside this file.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from kitwright.drawing.png import png
from kitwright.drawing.proposals.overview import Caption, overview
from kitwright.drawing.proposals.plate import plates
from kitwright.kit.read import read_club
from kitwright.proposing.asked import read_question
from kitwright.proposing.records import Proposal
from kitwright.proposing.search import propose
from kitwright.proposing.wish import Wish
from kitwright.telling.layout_names import what
from kitwright.telling.proposals import reason

HERE = Path(__file__).parent
QUESTION = {"paper": ["1 of 6x6 as Meadow", "1 of 6x6 as Fern"], "card": ["4-1/4 x 5-1/2"], "cards": "6", "mat": "1/8", "band": "1-1/4"}
SHOWN = 3
FINE = Fraction(5, 3)
"""Pixels to a point."""


def shown(wish: Wish) -> list[Proposal]:
    """One of each of the first families."""
    first = {one.sides[0].family: one for one in reversed(propose(wish).proposals)}
    return sorted(first.values(), key=lambda one: one.number)[:SHOWN]


def main() -> None:
    wish = read_question(QUESTION, read_club(HERE.parent / "kits"), None)
    layouts = shown(wish)
    captions = [Caption(one.number, what(one), (reason(one, wish.unit),)) for one in layouts]
    scene = overview(plates(wish, [(wish, one) for one in layouts]), captions, "", [], "")
    (HERE / "from-paper-to-kit.png").write_bytes(png(scene, FINE))


if __name__ == "__main__":
    main()
