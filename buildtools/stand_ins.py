"""Measures the type that readers' devices bring, for the stand-ins that show until the site's own has come.

    .venv/bin/python buildtools/stand_ins.py REGULAR ITALIC BOLD …

writes `kitwright/archive/stand_ins.json`: how wide a sample of words is in each face, in thousandths of an em.
Arial and Times are measured by the tables that reportlab has of Helvetica and Times, whose widths are the
same; of the others the files are named, three a family: Roboto (Android), DejaVu Sans and DejaVu Serif (Linux).
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from fontTools.ttLib import TTFont
from kitwright.archive.webfonts import SAMPLE, STAND_INS
from reportlab.pdfbase.pdfmetrics import stringWidth

STANDARD = {"Arial": ("Helvetica", "Helvetica-Oblique", "Helvetica-Bold"), "Times New Roman": ("Times-Roman", "Times-Italic", "Times-Bold")}
FACES = ("regular", "italic", "bold")


def measured(file: Path) -> tuple[str, int]:
    """The family of a font file, and how wide the sample is in it."""
    face = TTFont(file)
    known, widths = face.getBestCmap(), face["hmtx"].metrics
    ems = sum(widths[known[ord(letter)]][0] for letter in SAMPLE)
    return face["name"].getBestFamilyName(), round(ems * 1000 / face["head"].unitsPerEm)


def main(files: list[str]) -> None:
    found = {
        family: {face: round(stringWidth(SAMPLE, name, 1000)) for face, name in zip(FACES, names)} for family, names in STANDARD.items()
    }
    for n, file in enumerate(files):
        family, width = measured(Path(file))
        found.setdefault(family, {})[FACES[n % 3]] = width
    STAND_INS.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
