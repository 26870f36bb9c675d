"""Where along one side of the sheet a cut can pay.

Pushing every piece to the left shows that it is enough to cut at sums of piece sizes:
the normal points (Herz 1972; Christofides and Whitlock 1977; from memory). Growing every
part until it touches its neighbour thins them out further, to the points that are as far
from the right edge as some normal point is from the left: the raster points (Terno,
Lindemann and Scheithauer 1987; from memory). With L the side, P its normal points and
⟨x⟩ the largest of them that is at most x, they are R = {⟨L − p⟩ : p in P}.

R suffices for every part that comes up, not for the sheet alone. For r = ⟨L − a⟩ in R and
p in P, ⟨r − p⟩ = ⟨L − (a + p)⟩, since P contains every sum of its points up to L: so what
is left of a raster size after a cut, rounded down, is a raster size.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np


class Points:
    """The raster points of one side, in rising order, from 0 to the largest."""

    def __init__(self, length: int, sizes: Iterable[int]) -> None:
        """Args:
        length: the side of the sheet, in steps.
        sizes: how much of this side one piece can take, in steps; all at most `length`.
        """
        self.length = length
        normal = _sums(length, sizes)
        self.at = np.unique(normal[np.searchsorted(normal, length - normal, "right") - 1])
        """The points themselves."""

    def __len__(self) -> int:
        return len(self.at)

    def down(self, size):
        """Index of the largest point that is at most `size` (a number or an array)."""
        return np.searchsorted(self.at, size, "right") - 1

    def up(self, size):
        """Index of the point up to which a part of `size` can grow without loss.

        Whatever lies beside it is at most ⟨L − size⟩, so it may take all the rest.
        """
        return self.down(self.length - self.at[self.down(self.length - size)])

    def holding(self, size: int) -> int:
        """Index of the smallest point that is at least `size`; `len(self)` if there is none."""
        return int(np.searchsorted(self.at, size, "left"))

    def rest(self, i, a):
        """Index of what is left of point i after point a, not above it, is cut off."""
        return self.down(self.at[i] - self.at[a])


def _sums(length: int, sizes: Iterable[int]) -> np.ndarray:
    """All sums of any number of sizes, up to `length`, 0 included."""
    reached, mask = 1, (1 << (length + 1)) - 1
    for size in set(sizes):
        step = size
        while step <= length:
            reached |= (reached << step) & mask
            step *= 2
    bits = np.frombuffer(reached.to_bytes(length // 8 + 1, "little"), dtype=np.uint8)
    return np.flatnonzero(np.unpackbits(bits, bitorder="little"))
