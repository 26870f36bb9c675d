"""The QR code that leads to the kit's page, drawn as vectors.

ISO/IEC 18004, level M: it is still read when about 15 % of it is smudged. At 20 mm an
address of the usual length has modules of more than half a millimetre.
"""

from __future__ import annotations

import segno
from reportlab.lib.colors import black

from kitwright.printable.job import Job
from kitwright.printable.tags import TaggedCanvas
from kitwright.printable.typeset import BOLD, NOTE, SANS, broken, draw_line, words
from kitwright.telling.printed import CODE_LEADS_TO, code_alt

SIDE = 20 * 72 / 25.4
"""20 mm, without the quiet zone; points."""
QUIET = 4
"""Clear modules around it, as the standard asks."""
BESIDE = 106
"""Room for the words beside it, points."""


def page_address(job: Job) -> str | None:
    """Where the kit's page stands; None for a club that has no address yet."""
    address = job.worked.kit.club.address
    return f"{address.rstrip('/')}/kits/{job.worked.kit.id}/" if address else None


def draw_code(
    canvas: TaggedCanvas,
    address: str,
    right: float,
    bottom: float,
    lead: str = "Is there a newer revision?",
    say: str = CODE_LEADS_TO,
    ink: str = NOTE.ink,
) -> None:
    """The code with its lower right corner here, and beside it what it is for; in points."""
    code = segno.make(address, error="m", micro=False, boost_error=False)
    rows = [list(row) for row in code.matrix]
    module = SIDE / len(rows)
    left = right - SIDE
    with canvas.element("Figure", code_alt(address)):
        canvas.saveState()
        # Black, not the palette's ink: a 1-bit printer would break any other colour up into dots.
        canvas.setFillColor(black)
        path = canvas.beginPath()
        for i, row in enumerate(rows):
            y = bottom + SIDE - (i + 1) * module
            for start, length in _runs(row):
                path.rect(left + start * module, y, length * module, module)
        canvas.drawPath(path, stroke=0, fill=1)
        canvas.restoreState()
    edge = left - max(QUIET * module, 10)
    with canvas.element("P"):
        lines = broken(words(lead, BOLD) + words(say, SANS), NOTE.size, BESIDE)
        top = bottom + SIDE / 2 + len(lines) * NOTE.leading / 2 - 4
        for i, line in enumerate(lines):
            draw_line(canvas, line, edge - BESIDE, top - i * NOTE.leading - NOTE.rise, NOTE.size, ink, goes_on=i < len(lines) - 1)


def _runs(row: list[int]) -> list[tuple[int, int]]:
    """Start and length of the dark runs of a row: fewer seams, fewer bytes."""
    runs: list[tuple[int, int]] = []
    for i, dark in enumerate(row):
        if dark and runs and sum(runs[-1]) == i:
            runs[-1] = runs[-1][0], runs[-1][1] + 1
        elif dark:
            runs.append((i, 1))
    return runs
