"""Desk steps in words."""

from __future__ import annotations

from kitwright.cutting.desk import DeskStep, Fall
from kitwright.units import length_text, size_text
from kitwright.words import label_text, listed, spelled

MANY = {"half": "halves"}


def step_text(step: DeskStep, unit: str, one_way: bool = False) -> str:
    """One step as a good instruction reads.

    Args:
        step: the step.
        unit: `in` or `mm`.
        one_way: whether the paper has an up, which matters before its first cut.
    """
    return " ".join(filter(None, (_take(step, unit, one_way), _line_up(step, unit), _falls(step, unit), _rest(step, unit), _hold(step))))


def _plural(what: str, n: int) -> str:
    return what if n == 1 else MANY.get(what, f"{what}s")


def _take(step: DeskStep, unit: str, one_way: bool) -> str:
    if step.carried:
        return "Go on with what is in hand." if step.things == 1 else "Go on with what is left of each."
    if step.what == "sheet":
        return "Lay the sheet with its pattern the right way up." if one_way else ""
    size = size_text(step.hand.size, unit)
    if step.lying > step.things:
        after = ", one after another" if step.things > 1 else ""
        return f"Take {spelled(step.things)} of the {spelled(step.lying)} {_plural(step.what, step.lying)} of {size}{after}."
    if step.things == 1:
        return f"Take the {step.what} of {size}."
    return f"Take the {spelled(step.things)} {_plural(step.what, step.things)} of {size}, one after another."


def _line_up(step: DeskStep, unit: str) -> str:
    edge = f"the {step.side} edge"
    mark = length_text(step.measure, unit)
    strokes = f"{spelled(step.strokes)} {_plural('stroke', step.strokes)}"
    again = f", and up to the mark again after each stroke: {strokes}" if step.strokes > 1 else ": one stroke"
    turn = f"Turn {'the sheet' if step.what == 'sheet' else 'it' if step.things == 1 else 'each'} so that {edge} lies at the ruler, and line it up" if step.turned else f"Line {edge} up"
    return f"{turn} at {mark}{again}{' on each' if step.things > 1 else ''}."


def _falls(step: DeskStep, unit: str) -> str:
    said = [_one_fall(fall, step.things, unit) for fall in step.falls]
    many = sum(f.each for f in step.falls) * step.things > 1
    return f"{_upper(listed(said))} {'fall' if many else 'falls'} off." if said else ""


def _one_fall(fall: Fall, things: int, unit: str) -> str:
    n = fall.each * things
    if fall.label:
        return f"{spelled(n)} {label_text(fall.label, n)}"
    if fall.what == "leftover":
        return f"{'one leftover' if n == 1 else f'{spelled(n)} leftovers'} of {size_text(fall.size, unit)}"
    return f"{'one' if n == 1 else spelled(n)} {_plural(fall.what, n)} of {size_text(fall.size, unit)}"


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _rest(step: DeskStep, unit: str) -> str:
    if step.rest is None:
        return ""
    n = step.things
    if step.rest.label:
        more = " more" if any(fall.label == step.rest.label for fall in step.falls) else ""
        return f"What stays in hand is {spelled(n)}{more} {label_text(step.rest.label, n)}."
    return f"Set the rest aside: {f'{spelled(n)} leftovers' if n > 1 else 'a leftover'} of {size_text(step.rest.size, unit)}."


def _hold(step: DeskStep) -> str:
    if step.too_narrow:
        return "What falls off and what stays are both too narrow to hold: tape it flat with removable tape, and keep fingers away from the blade."
    if step.tape:
        return "Hold the last narrow piece flat with removable tape."
    return ""
