"""Notes and the author's own steps: every citation ends, and names something."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kitwright.cite import CITATION, notes_of
from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.steps import steps_of
from kitwright.worked import Worked


CODE = re.compile(r"(`+)[^`].*?\1", re.DOTALL)


def _line_ends(match: re.Match) -> str:
    return "\n" * match[0].count("\n")


def find(worked: Worked) -> Iterator[Finding]:
    """Citations in notes and steps that name nothing, and those in notes that never end."""
    for read in (notes_of, steps_of):
        try:
            read(worked)
        except UserError as error:
            yield Finding("error", error.place, error.problem, error.remedy)
    # Lines are kept, and citations that end taken out; code in backticks may show brackets of its own.
    rest = CODE.sub(_line_ends, CITATION.sub(_line_ends, worked.kit.notes))
    for number, line in enumerate(rest.split("\n"), 1):
        if "[[" in line:
            yield Finding("warning", Place(worked.kit.notes_file, number), "a citation begins here and does not end: the page would show the brackets", "end it with  ]]")
