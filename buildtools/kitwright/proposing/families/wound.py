"""Strips wound round a middle: each begins where the last one ends, as sails do; the middle is free where a band is asked for."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kitwright.geometry import Rect
from kitwright.proposing.families.face import Walk
from kitwright.proposing.families.family import Batch, Field
from kitwright.proposing.families.values import crossed, upto
from kitwright.proposing.records import Side


class WoundFamily:
    """Two level strips, two upright ones, and what lies in their middle. No rows can say that: pieces are set down by position."""

    name = "wound strips"
    place = 6

    def batches(self, field: Field) -> Iterator[Batch]:
        across, down, inside, between = field.room("x", 2), field.room("y", 2), field.room("x", 3), field.room("y", 3)
        pieces = 4 if field.band else 5
        if field.card.fold == "gate" or not field.takes(pieces) or across is None or down is None or inside is None or between is None:
            return
        narrow, tile, panel = field.asked_of
        least = panel if field.band else tile
        tall = max(least, -(-field.band // field.step)) if field.band else least
        params = crossed(upto(narrow, (inside - least) // 2, field.every), upto(narrow, (between - tall) // 2, field.every))
        aside, above = params[:, 0], params[:, 1]
        level, upright = np.column_stack([across - aside, above]), np.column_stack([aside, down - above])
        middle = np.column_stack([inside - 2 * aside, between - 2 * above])
        sizes = np.stack([level, upright] if field.band else [level, upright, middle], axis=1)
        each = (2, 2) if field.band else (2, 2, 1)
        good = field.kept(sizes, each)
        if good.any():
            yield Batch("wound", sizes[good], each, params[good])

    def side(self, field: Field, batch: Batch, i: int) -> Side:
        walk = Walk(field, batch, i)
        aside, above = (field.step * int(one) for one in batch.params[i])
        places = [walk.set_down(0, 0, 0), walk.set_down(1, -1, 0), walk.set_down(0, -1, -1), walk.set_down(1, 0, -1)]
        inner, gap = field.inner, field.gap
        middle = Rect(inner.x + aside + gap, inner.y + above + gap, inner.width - (aside + gap) * 2, inner.height - (above + gap) * 2)
        if field.band:
            walk.band = middle
        else:
            places.append(walk.centred(2, middle))
        return walk.side(self.name, {"border": field.border, "gap": field.gap, "places": places})


FAMILY = WoundFamily()
