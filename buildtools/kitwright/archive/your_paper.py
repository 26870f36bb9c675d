"""The page of a kit for any number of cards and from other paper, and its data beside it."""

from __future__ import annotations

import json
from dataclasses import replace

from kitwright.archive.any_batch import batch_script
from kitwright.archive.called import call
from kitwright.telling.questions import as_json
from kitwright.telling.yields import as_data
from kitwright.telling.your_paper import YourPaper, on_your_paper
from kitwright.units import other_unit
from kitwright.work.worked import Worked

DATA = "questions.json"
"""Beside the kit's own page."""
YIELDS = "yields.js"
"""Likewise: its tables of yields, for the page's scripts (`telling.yields`)."""


def your_paper(worked: Worked) -> tuple[YourPaper, dict[str, bytes]]:
    """The page of a kit, and its data by file name."""
    beside = on_your_paper(worked.told_in(other_unit(worked.unit)))
    data = (json.dumps(as_json(worked), ensure_ascii=False, indent=1) + "\n").encode()
    return replace(on_your_paper(worked), beside=beside), {DATA: data, YIELDS: call("kwYields", as_data(worked)), **batch_script(worked)}
