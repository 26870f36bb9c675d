"""Notes and the author's own steps: every citation names something."""

from __future__ import annotations

from collections.abc import Iterator

from kitwright.cite import notes_of
from kitwright.errors import UserError
from kitwright.findings import Finding
from kitwright.steps import steps_of
from kitwright.worked import Worked


def find(worked: Worked) -> Iterator[Finding]:
    """Citations in notes and steps that name nothing."""
    for read in (notes_of, steps_of):
        try:
            read(worked)
        except UserError as error:
            yield Finding("error", error.place, error.problem, error.remedy)
