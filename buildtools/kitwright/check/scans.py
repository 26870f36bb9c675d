"""Scans of papers: fine enough for pictures, and of the form of what they show."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kitwright.findings import Finding
from kitwright.kit.model import FACES
from kitwright.kit.scan import COARSE
from kitwright.work.worked import Worked

_STRETCHED = Fraction(1, 20)
"""How much more one way than the other a scan may be stretched, unseen."""


def find(worked: Worked) -> Iterator[Finding]:
    """What will look wrong of the scans.

    Raises:
        UserError: one is broken off, or was changed meanwhile.
    """
    kit = worked.kit
    for key, paper in kit.papers.items():
        for side in FACES:
            face = paper.face(side)
            scan = face.picture if face else None
            if scan is None:
                continue
            scan.picture()
            place = kit.place("papers", key, side, "scan")
            if scan.stretched > 1 + _STRETCHED:
                percent = int(100 * (scan.stretched - 1))
                yield Finding("warning", place, "scans.stretched", paper=paper.name, shows=scan.whole, percent=percent)
            if scan.density < COARSE:
                yield Finding("warning", place, "scans.soft", paper=paper.name, density=scan.density, wanted=COARSE)
