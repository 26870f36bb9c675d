"""The shapes of pictures for elsewhere, how fine they are, and what of them stays free of words and cards."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from kitwright.drawing.scene import LEAST_TEXT, Box
from kitwright.exact import Exact

PIXELS = Exact(3)
"""Pixels per point of a picture for elsewhere: so the smallest text of a scene is `LEAST_PIXELS` high."""
LEAST_PIXELS = int(LEAST_TEXT * PIXELS)
"""Pixels: no text is smaller. A picture 1,440 wide is shown about 380 wide on a phone, where that is still read as a word."""


@dataclass(frozen=True, slots=True)
class Ratio:
    """One shape."""

    name: str
    """As files have it: `16x9`."""
    width: int
    """Pixels."""
    height: int
    aside: Fraction = Exact(1, 20)
    """How much of the width stays free on the left, and as much on the right."""
    above: Fraction = Exact(1, 20)
    """How much of the height stays free above."""
    below: Fraction = Exact(1, 20)

    @property
    def said(self) -> str:
        """As it is said: `16:9`."""
        return self.name.replace("x", ":")

    @property
    def proportion(self) -> Fraction:
        """Of its width to its height."""
        return Exact(self.width, self.height)

    @property
    def size(self) -> tuple[Fraction, Fraction]:
        """Points."""
        return self.width / PIXELS, self.height / PIXELS

    @property
    def safe(self) -> Box:
        """What words and cards keep to, points."""
        width, height = self.size
        return Box(width * self.aside, height * self.above, width * (1 - self.aside), height * (1 - self.below))


# A twentieth all round is the safe title area of SMPTE ST 2046-1 for 16:9. Shapes for posts have their corners rounded off
# and are cut a little at the edges in overviews, so they keep the same or a little more; over a tall video its
# place lays names at the top, and buttons and a caption at the bottom.
RATIOS = {
    ratio.name: ratio
    for ratio in (
        Ratio("16x9", 1920, 1080),
        Ratio("1x1", 1440, 1440, Exact(1, 16), Exact(1, 16), Exact(1, 16)),
        Ratio("4x5", 1440, 1800, Exact(1, 16), Exact(1, 16), Exact(1, 16)),
        Ratio("9x16", 1440, 2560, Exact(1, 16), Exact(1, 8), Exact(1, 5)),
        Ratio("1.91x1", 1910, 1000),
    )
}
"""By the name that files have."""
SHARE = Ratio("1.91x1", 1280, 670)
"""What goes with a link to a page: the same shape, not so fine, since every reader of a post loads it."""
