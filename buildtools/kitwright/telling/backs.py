"""Pieces that lie on the card with their printed back up, said in two words wherever a hand acts on them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from kitwright.card.face import BACK_UP
from kitwright.cutting.plan import Layout
from kitwright.work.desk import lying_back
from kitwright.work.worked import Worked


def back_text(worked: Worked, label: str, papers: Iterable[str] | None = None) -> str:
    """`back up`, or `6 of 12 back up` where only some pieces of a label lie so in the batch; empty where none does.

    Args:
        worked: the kit.
        label: the label.
        papers: only of these papers.
    """
    back, every = lying_back(worked, label, papers)
    return "" if not back else BACK_UP if back == every else f"{back} of {every} {BACK_UP}"


def backs_on(worked: Worked, layout: Layout) -> Mapping[str, str]:
    """The same for every label of a sheet's layout; only those of which some lie so."""
    told = {label: back_text(worked, label, layout.papers) for label in layout.yields}
    return {label: text for label, text in told.items() if text}


def marked(name: str, back: str) -> str:
    """A name with that beside it: `B (back up)`."""
    return f"{name} ({back})" if back else name
