"""What is new, as the feed tells it."""

from __future__ import annotations

from collections.abc import Iterable

from kitwright.release.errata import Erratum
from kitwright.release.people import Shown
from kitwright.telling.changes import sentence
from kitwright.telling.errata import asked_lines
from kitwright.telling.words import listed, number

LABELS = {"reveal": "new kit", "samples": "samples", "erratum": "correction"}
"""What a category is called."""


def samples_title(kit: str) -> str:
    """Samples of a kit came."""
    return f"{kit}: samples"


def samples_text(samples: Iterable[Shown]) -> str:
    """How many, and by whom."""
    names = [sample.person.name for sample in samples]
    return f"{number(len(names), 'card', 'cards')} to look at, by {listed(list(dict.fromkeys(names)))}."


def erratum_title(kit: str, revision: int) -> str:
    """A kit was corrected."""
    return f"{kit}: a correction, revision {revision}"


def erratum_text(erratum: Erratum) -> str:
    """What was wrong, and what is to be done."""
    return " ".join([*map(sentence, erratum.changes.told), *asked_lines(erratum)])
