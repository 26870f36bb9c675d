"""The printable of a kit: the one entry for whoever wants its file."""

from __future__ import annotations

from kitwright.drawing.styles import Level
from kitwright.printable.edition import EditionName
from kitwright.printable.two_pages import two_pages
from kitwright.release.stamp import PreviewStamp, Stamp
from kitwright.work.worked import Worked

printables = two_pages


def printable_pdf(worked: Worked, edition: EditionName, *, ink: Level = "full", stamp: Stamp | PreviewStamp | None = None) -> bytes:
    """The same in one ink; see `two_pages`."""
    return printables(worked, edition, inks=(ink,), stamp=stamp)[ink]
