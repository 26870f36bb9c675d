"""Desk steps in words."""

from __future__ import annotations

from collections.abc import Mapping

from kitwright.cutting.desk import CornerStep, DeskStep, Fall
from kitwright.cutting.plan import Layout
from kitwright.geometry import HALVES
from kitwright.telling.backs import backs_on
from kitwright.telling.shapes import CORNERS, blank_word
from kitwright.telling.words import label_text, led, listed, spelled
from kitwright.units import length_text, size_text
from kitwright.work.desk import has_up
from kitwright.work.worked import Worked

MANY = {"half": "halves"}
STAYS, KEEP = "What stays in hand is", "Keep"
ASIDE, LEFT = "Set the rest aside:", "Left over:"
"""How what is cut on is told: in full, and where lines are short."""


def step_text(step: DeskStep, unit: str, one_way: bool = False, backs: Mapping[str, str] | None = None) -> str:
    """One step as a good instruction reads.

    Args:
        step: the step.
        unit: `in` or `mm`.
        one_way: whether the paper has an up, which matters before its first cut.
        backs: labels whose pieces lie on the card with their printed back up, and how that is said.
    """
    return " ".join(
        filter(
            None,
            (
                _take(step, unit, one_way),
                _line_up(step, unit),
                _falls(step, unit, backs or {}),
                _rest(step, unit, backs or {}),
                _hold(step),
            ),
        )
    )


def desk_text(worked: Worked, layout: Layout, step: DeskStep) -> str:
    """One step of a kit's guide as a good instruction reads."""
    return step_text(step, worked.unit, has_up(worked, layout), backs_on(worked, layout))


def stroke_text(worked: Worked, layout: Layout, step: DeskStep) -> str:
    """The same where its edge and its mark stand beside it already, and are not said again."""
    unit, backs = worked.unit, backs_on(worked, layout)
    several = " on each" if step.things > 1 else ""
    again = ", to the mark each time" if step.strokes > 1 else ""
    strokes = led(f"{spelled(step.strokes)} {_plural('stroke', step.strokes)}{several}{again}.")
    told = (
        *_taken(step, unit, has_up(worked, layout)),
        strokes,
        _falls(step, unit, backs),
        _rest(step, unit, backs, KEEP, LEFT),
        _hold(step),
    )
    return " ".join(filter(None, told))


def corner_text(step: CornerStep, unit: str, backs: Mapping[str, str] | None = None) -> str:
    """A step from corner to corner as a good instruction reads.

    Args:
        step: the step.
        unit: `in` or `mm`.
        backs: labels whose pieces lie on the card with their printed back up, and how that is said.
    """
    n, what = len(step.slants), blank_word(step.size, len(step.slants))
    several = ", one after another" if n > 1 else ""
    made = f"{spelled(n * HALVES)} {label_text(step.label, n * HALVES)}{_back(step.label, backs or {})}"
    return (
        f"Take the {f'{spelled(n)} ' if n > 1 else ''}{what} of {size_text(step.size, unit)} for {step.label}{several}. "
        f"Without the ruler, lay the {CORNERS[step.way]}{' of each' if n > 1 else ''} on the blade line, hold {'each' if n > 1 else 'it'} flat and cut: one stroke"
        f"{' on each' if n > 1 else ''}. {led(made)} come of {'them' if n > 1 else 'it'}."
    )


def _plural(what: str, n: int) -> str:
    return what if n == 1 else MANY.get(what, f"{what}s")


def _take(step: DeskStep, unit: str, one_way: bool) -> str:
    if step.carried:
        return "Go on with what is in hand." if step.things == 1 else "Go on with what is left of each."
    if step.what == "sheet":
        return "Lay the sheet with its pattern the right way up." if one_way else ""
    size = size_text(step.hand.size, unit)
    return f"Take {_which(step)} of {size}{', one after another' if step.things > 1 else ''}."


def _taken(step: DeskStep, unit: str, one_way: bool) -> tuple[str, ...]:
    """What to take and whether to turn it, which is one short sentence where a part is taken anew."""
    if step.what != "sheet" and not step.carried:
        return (f"{'Turn' if step.turned else 'Take'} {_which(step)} of {size_text(step.hand.size, unit)}.",)
    turned = f"Turn {'the sheet' if step.what == 'sheet' else 'it' if step.things == 1 else 'each'}." if step.turned else ""
    return _take(step, unit, one_way), turned


def _which(step: DeskStep) -> str:
    """Which of the things that lie there: `the six columns`, `three of the six columns`, `the other three columns`."""
    n, what = spelled(step.things), _plural(step.what, step.things)
    if step.lying > step.things:
        if step.gone:
            return f"{'another' if step.things == 1 else f'{n} more'} of the {_plural(step.what, 2)}"
        return f"{n} of the {spelled(step.lying)} {_plural(step.what, step.lying)}"
    if step.things == 1:
        return f"the {('other' if step.gone == 1 else 'last') + ' ' if step.gone else ''}{what}"
    return f"the {'other ' if step.gone else ''}{n} {what}"


def _line_up(step: DeskStep, unit: str) -> str:
    edge = f"the {step.side} edge"
    mark = length_text(step.measure, unit)
    strokes = f"{spelled(step.strokes)} {_plural('stroke', step.strokes)}"
    again = f", and up to the mark again after each stroke: {strokes}" if step.strokes > 1 else ": one stroke"
    turn = (
        f"Turn {'the sheet' if step.what == 'sheet' else 'it' if step.things == 1 else 'each'} so that {edge} lies at the ruler, and line it up"
        if step.turned
        else f"Line {edge} up"
    )
    return f"{turn} at {mark}{again}{' on each' if step.things > 1 else ''}."


def _falls(step: DeskStep, unit: str, backs: Mapping[str, str]) -> str:
    said = [_one_fall(fall, unit, backs) for fall in step.falls]
    many = sum(f.n for f in step.falls) > 1
    return f"{led(listed(said))} {'fall' if many else 'falls'} off." if said else ""


def _one_fall(fall: Fall, unit: str, backs: Mapping[str, str]) -> str:
    n = fall.n
    if fall.halved:
        return f"{spelled(n)} {blank_word(fall.size, n)} for {fall.label}"
    if fall.label:
        return f"{spelled(n)} {label_text(fall.label, n)}{_back(fall.label, backs)}"
    if fall.what == "leftover":
        return f"{'one leftover' if n == 1 else f'{spelled(n)} leftovers'} of {size_text(fall.size, unit)}"
    return f"{'one' if n == 1 else spelled(n)} {_plural(fall.what, n)} of {size_text(fall.size, unit)}"


def _back(label: str, backs: Mapping[str, str]) -> str:
    return f" ({backs[label]})" if label in backs else ""


def _rest(step: DeskStep, unit: str, backs: Mapping[str, str], lead: str = STAYS, aside: str = ASIDE) -> str:
    n = step.things
    if step.kept:
        return _kept(step, step.kept, unit, lead)
    if step.rest is None:
        return ""
    if step.rest.halved:
        return f"{lead} {spelled(n)} {blank_word(step.rest.size, n)} for {step.rest.label}."
    if step.rest.label:
        more = " more" if any(fall.label == step.rest.label for fall in step.falls) else ""
        return f"{lead} {spelled(n)}{more} {label_text(step.rest.label, n)}{_back(step.rest.label, backs)}."
    size = size_text(step.rest.size, unit)
    if aside == LEFT:
        return f"{aside} {f'{spelled(n)} of ' if n > 1 else ''}{size}."
    return f"{aside} {f'{spelled(n)} leftovers' if n > 1 else 'a leftover'} of {size}."


def _kept(step: DeskStep, kept: Fall, unit: str, lead: str) -> str:
    """What stays in hand and is cut on: what it is, and when."""
    n = step.things
    before = next((fall.n for fall in step.falls if (fall.what, fall.size) == (kept.what, kept.size)), 0)
    if kept.what == "half" and before:
        said = "the other half" if n == 1 else f"the other {spelled(n)} {MANY['half']}"
    elif before:
        said = (
            f"{spelled(n)} more of them"
            if sum(fall.n for fall in step.falls) == before
            else f"{spelled(n)} more such {_plural(kept.what, n)}"
        )
    else:
        said = f"{'a' if n == 1 else spelled(n)} {_plural(kept.what, n)} of {size_text(kept.size, unit)}"
    aside = f": set {'it' if n == 1 else 'them'} aside for step {step.later}" if step.later > step.number + 1 and not before else ""
    return f"{lead} {said}{aside}."


def _hold(step: DeskStep) -> str:
    if step.too_narrow:
        return "What falls off and what stays are both too narrow to hold: tape it flat with removable tape, and keep fingers away from the blade."
    if step.tape:
        return "Hold the last narrow piece flat with removable tape."
    return ""
