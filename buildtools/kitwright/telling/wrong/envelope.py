"""What keeps the closed card out of its envelope, or from closing."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.folding.scored import Runs
from kitwright.units import Length, Size, length_text, size_text

_LITTLE = {"in": "less than a sixteenth of an inch", "mm": "less than 1.6 mm"}


def _called(envelope: str, holds: Size, unit: str) -> str:
    """An envelope by its name, if it has one, and its size."""
    return f"{envelope} ({size_text(holds, unit)})" if envelope else f"an envelope of {size_text(holds, unit)}"


# --- the panels -------------------------------------------------------------------------------------


def card_jams(panel: str | None, size: Size, envelope: str, holds: Size, score: Length | None, even: Size | None, unit: str) -> Said:
    """`panel`: the larger of two that differ; `score`: where it would help to score, for two `even` panels."""
    what = f"the {panel} panel, {size_text(size, unit)}," if panel else "the card"
    return f"{what} has {_LITTLE[unit]} of room in {_called(envelope, holds, unit)}", _larger_or_even(score, even, unit)


def card_too_large(panel: str | None, size: Size, envelope: str, holds: Size, score: Length | None, even: Size | None, unit: str) -> Said:
    what = f"the {panel} panel of the folded card" if panel else "the finished card"
    return f"{what}, {size_text(size, unit)}, does not fit {_called(envelope, holds, unit)}", _larger_or_even(score, even, unit)


def _larger_or_even(score: Length | None, even: Size | None, unit: str) -> str:
    if score is None or even is None:
        return "use a larger envelope or a smaller base"
    return f"score at {length_text(score, unit)}, so that both panels are {size_text(even, unit)}; or use a larger envelope"


# --- whatever overhangs -------------------------------------------------------------------------------


def overhang_jams(
    name: str, by: Length, side: str, size: Size, envelope: str, holds: Size, most: Length | None, both: bool, unit: str
) -> Said:
    """`most`: how far it may reach at most, at both ends where it does; None where it may not."""
    return f"{_out(name, by, side, size, unit)} and has {_LITTLE[unit]} of room in {_called(envelope, holds, unit)}", _shorter(
        most, both, unit
    )


def overhang_too_large(
    name: str, by: Length, side: str, size: Size, envelope: str, holds: Size, most: Length | None, both: bool, unit: str
) -> Said:
    return f"{_out(name, by, side, size, unit)} and does not fit {_called(envelope, holds, unit)}", _shorter(most, both, unit)


def _out(name: str, by: Length, side: str, size: Size, unit: str) -> str:
    return f"with {name} sticking out {length_text(by, unit)} at the {side}, the closed card is {size_text(size, unit)}"


def _shorter(most: Length | None, both: bool, unit: str) -> str:
    if most is None:
        return "keep it within the card, or use a larger envelope"
    return f"let it reach {length_text(most, unit)} at most{', at both ends' if both else ''}; or use a larger envelope"


# --- the panel inside ---------------------------------------------------------------------------------


def inside_too_large(label: str, size: Size, on: str, room: Size, unit: str) -> Said:
    return (f"{_panel(label, size, unit)} is larger than the {on}, {size_text(room, unit)}", "make it smaller than the panel it lies on")


def inside_past_the_edge(label: str, size: Size, by: Length, side: str, on: str, unit: str) -> Said:
    return (
        f"{_panel(label, size, unit)} reaches {length_text(by, unit)} past the {side} edge of the {on}",
        "move it in, or say  meant: overhang",
    )


def inside_past_the_fold(label: str, size: Size, by: Length, unit: str) -> Said:
    return (
        f"{_panel(label, size, unit)} reaches {length_text(by, unit)} past the fold, and the card would not close",
        "move it in, or say  meant: overhang",
    )


def inside_near_the_fold(label: str, size: Size, touches: bool, runs: Runs, unit: str) -> Said:
    near = "reaches right into" if touches else "lies too close to"
    return (
        f"{_panel(label, size, unit)} {near} the fold, where it keeps the card from closing",
        f"make it {'narrower' if runs == 'down' else 'lower'} or move it away from the fold",
    )


def _panel(label: str, size: Size, unit: str) -> str:
    return f"the inside panel {label}, {size_text(size, unit)},"
