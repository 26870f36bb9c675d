"""What readers asked, with the answers: beside the step, the piece or the sheet that it is about, and on a page of its own."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from kitwright.archive.text import fractions, in_both, shown
from kitwright.kit.markup import mapped, rendered
from kitwright.telling.answers import Answered, answers
from kitwright.telling.steps import steps_of
from kitwright.units import other_unit
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class AskedQuestion:
    """A question with its answer, and where it stands."""

    number: int
    """Counted from 1, within the kit."""
    told: Answered
    beside: Answered
    """The same in the other unit."""
    unit: str
    """The kit's own."""
    about: str
    """`the step “Cut everything”`; empty where it is about the whole kit."""
    place: str
    """What it stands beside on the kit's page: `step-cut`, `the-pieces`, `guide-2`, or `asked`."""

    @property
    def answer(self) -> Markup:
        """As the page has it, in either unit: what was worked out is plain text, what an author wrote may have Markdown."""
        own, other = (Markup(f"<p>{shown(one.answer)}</p>") if one.computed else written(one.answer) for one in (self.told, self.beside))
        return in_both(own, other, self.unit)


def questions_of(worked: Worked) -> tuple[AskedQuestion, ...]:
    """Every question of a kit, in its order.

    Raises:
        UserError: a question about something that the kit does not have.
    """
    told, beside = answers(worked), answers(worked.told_in(other_unit(worked.unit)))
    return tuple(AskedQuestion(n, *pair, worked.unit, *_about(worked, pair[0])) for n, pair in enumerate(zip(told, beside), 1))


def _about(worked: Worked, one: Answered) -> tuple[str, str]:
    if one.tied == "step":
        # Of its own design first; else of all, or of the first.
        steps = sorted((step for step in steps_of(worked) if step.stage == one.to), key=lambda step: step.design != one.design)
        step = next(iter(steps), None)
        if step:
            return f"the step “{step.title}”", step.anchor
    if one.tied == "piece":
        return "the card base" if one.to == "base" else f"piece {one.to}", "the-pieces"
    if one.tied == "sheet":
        guide = next((i for i, layout in enumerate(worked.layouts, 1) if one.to in layout.papers), None)
        if guide:
            return worked.kit.papers[one.to].name, f"guide-{guide}"
    return "", "asked"


def written(answer: str) -> Markup:
    """An author's answer, with the Markdown that she wrote; a `<` in it is a sign like any other."""
    return Markup(mapped(rendered(answer.strip(), simple=True), fractions))
