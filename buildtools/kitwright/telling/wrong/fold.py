"""Score lines that part nothing, or that paper keeps from being folded."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.folding.scored import Runs
from kitwright.telling.words import listed
from kitwright.units import ZERO, Length, length_text


def scored_twice(at: Length, unit: str) -> Said:
    return f"a second score line lies at {length_text(at, unit)}", "keep one of the two"


def score_outside(at: Length, length: Length, runs: Runs, unit: str) -> Said:
    side = "left edge" if runs == "down" else "top"
    where = "on the edge of" if at in (ZERO, length) else "outside"
    return (
        f"the score line at {length_text(at, unit)} lies {where} a base that is {length_text(length, unit)} long there",
        f"score lines lie between 0 and {length_text(length, unit)}, measured from the {side}",
    )


def no_back(at: Length, middle: Length, unit: str) -> Said:
    return (
        f"scored {length_text(at, unit)} from both ends, the card has no back between its doors",
        f"write less than {length_text(middle, unit)}, or leave it out: usual is {length_text(middle / 2, unit)}",
    )


def blocked(at: Length, panel: str, by: Length, before: tuple[Length, ...], unit: str) -> Said:
    first = f", once {listed([length_text(each, unit) for each in before])} {'is' if len(before) == 1 else 'are'} folded" if before else ""
    return (
        f"the score line at {length_text(at, unit)} can’t be folded in its turn{first}: the {panel} reaches {length_text(by, unit)} over it",
        "fold it earlier, fold it the other way, or make that panel shorter",
    )


def hidden(role: str, name: str, seen: tuple[str, ...]) -> Said:
    if role == "front":
        problem = f"nothing is seen of the {name}, which is to be the front, once the card is closed"
    else:
        problem = f"closed, the card does not lie on the {name}, which is to be its back"
    if not seen:
        return problem, "fold another way, so that it lies outside"
    return problem, f"write  {role}: {seen[0]}" + "".join(f"  or  {other}" for other in seen[1:])
