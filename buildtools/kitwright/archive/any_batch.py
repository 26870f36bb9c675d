"""What a kit's page follows a reader's number of cards with: a script beside it that hands its texts over (`theme/assets/numbers.js`).

It is loaded at the first use, with the tables of yields. A script and no data, so that a page on a disk can load it too.
"""

from __future__ import annotations

from kitwright.archive.called import call
from kitwright.telling.any_batch import ELSEWHERE, LINK, UPRIGHT, any_batch, as_drawn
from kitwright.units import other_unit
from kitwright.work.worked import Worked

SCRIPT = "batch.js"
"""Beside the kit's own page."""


def batch_script(worked: Worked) -> dict[str, bytes]:
    """The script of a kit, by its file name."""
    said, beside = any_batch(worked), any_batch(worked.told_in(other_unit(worked.unit)))
    texts = {
        "guides": [layout.papers for layout in worked.layouts],
        "so": [as_drawn(worked, layout) for layout in worked.layouts],
        "said": said,
        # In the other unit, what is said otherwise in it.
        "beside": {hook: texts for hook, texts in beside.items() if texts != said[hook]},
        "elsewhere": ELSEWHERE,
        "upright": UPRIGHT,
        "link": LINK,
    }
    return {SCRIPT: call("kwBatch", texts)}
