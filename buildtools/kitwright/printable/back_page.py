"""What closes a printable: supplies, the post, cautions, terms, and room for the reader's own notes."""

from __future__ import annotations

from reportlab.platypus.flowables import Flowable

from kitwright.printable.blocks import GUTTER, Block, Heading, Listed, Prose, Side, hairline, stack
from kitwright.printable.job import Job, state_text
from kitwright.printable.typeset import BODY, NOTE
from kitwright.telling.post import post_lines
from kitwright.telling.supplies import supply_lines
from kitwright.work.post import mailing
from kitwright.work.supplies import supplies


def supplies_and_post(job: Job) -> list[Flowable]:
    """What the batch takes besides paper, and how the card travels, side by side."""
    left, right = _besides(job), _post(job)
    room = job.edition.width - GUTTER
    if left and right:
        return [Side([left, right], [room / 2, room / 2], GUTTER, job.edition.height, before=16)]
    return left or right


def _besides(job: Job) -> list[Flowable]:
    """What the batch takes besides paper."""
    # The first page gives the sheets already.
    lines = [line for line in supply_lines(job.worked, supplies(job.worked)) if line.about != "paper"]
    if not lines:
        return []
    return [Heading("Besides paper", 3, bookmark="supplies"), *(Prose(f"{line.whole}.", BODY, lead=f"{line.title}:") for line in lines)]


def _post(job: Job) -> list[Flowable]:
    """How the card travels; of several designs what differs is said of each."""
    every = [(design.kit.design, post_lines(design, mailing(design))) for design in job.worked.designs]
    every = [(name, lines) for name, lines in every if lines]
    if not every:
        return []
    told: list[Flowable] = [Heading("By post", 3, bookmark="post")]
    for about in dict.fromkeys(line.about for _, lines in every for line in lines[:-1]):
        of_each = [(name, line) for name, lines in every for line in lines if line.about == about]
        alike = len(of_each) == len(every) and len({line.text for _, line in of_each}) == 1
        for name, line in of_each[: 1 if alike else None]:
            lead = line.title if alike else ", ".join(filter(None, (line.title, name)))
            told.append(Prose(line.text, BODY, lead=f"{lead}:"))
    return [*told, Prose(f"Limits: {every[0][1][-1].text}", NOTE)]


def closing(job: Job) -> Side:
    """Cautions, the club's terms of use, revision and date."""
    club, room = job.worked.kit.club, job.edition.width - GUTTER
    cautions: list[Flowable] = [Heading("Mind your hands", 3, bookmark="cautions"), Listed([Prose(line, BODY) for line in club.cautions])]
    terms: list[Flowable] = [
        Heading("Terms of use", 3, bookmark="terms"),
        Prose(club.terms, BODY),
        Prose(f"{club.name}. {state_text(job)}.", BODY),
    ]
    sides = [Side([cautions, terms], [room * part, room * (1 - part)], GUTTER, job.edition.height, before=16) for part in (0.5, 0.56, 0.62)]
    # The division that ends both columns most nearly level.
    return min(sides, key=lambda side: side.wrap(job.edition.width, 1e6)[1])


class Notes(Block):
    """Ruled lines for the reader's own notes, on what is left of the last page; none where that is too little."""

    LEAST, MOST, STEP = 84, 300, 21
    """Height that is worth having, height that is enough, and from line to line; points."""

    def __init__(self, job: Job) -> None:
        super().__init__(before=16)
        self.job, self.heading = job, Heading("Your notes", 3, bookmark="notes")

    def wrap(self, room: float, height: float) -> tuple[float, float]:
        self.width = room
        self.height = min(height, self.MOST) if height >= self.LEAST else 0
        return room, self.height

    def split(self, room: float, height: float) -> list[Flowable]:
        return []

    def draw(self) -> None:
        if not self.height:
            return
        stack([self.heading], self.canv, 0, self.height, self.width)
        y = self.height - self.heading.height - self.STEP
        while y > 0:
            hairline(self.canv, 0, self.width, y)
            y -= self.STEP
