"""Sheets, envelopes and weights whose name or measure can't be read."""

from __future__ import annotations

from kitwright.errors import Said, UserError
from kitwright.papers import LARGEST, Ware
from kitwright.telling.words import article, listed
from kitwright.units import Length, Size, length_text, size_text

_INCHES: dict[Ware, str] = {"sheet": "Letter, A4 or 12 x 12", "envelope": "US A2 envelope, ISO C6 envelope or 5-3/4 x 4-3/8"}
_METRIC: dict[Ware, str] = {"sheet": "A4, A3 or 305 x 305", "envelope": "ISO C6 envelope, ISO DL envelope or 162 x 114"}


def _examples(kind: Ware, unit: str) -> str:
    """`unit`: what a bare number means."""
    return f"for example {(_INCHES if unit == 'in' else _METRIC)[kind]}"


def two_meanings(text: str, kind: Ware, alike: tuple[str, ...], others: tuple[str, ...], unnamed: Size | None, unit: str) -> Said:
    """`alike`: of the kind that is asked for; `others`: of the other kind; `unnamed`: a sheet that goes by measure alone."""
    other: Ware = "envelope" if kind == "sheet" else "sheet"
    meant = [*alike, *([f"a measure such as {size_text(unnamed, 'mm').replace('×', 'x')} for the ISO sheet"] if unnamed else [])]
    if others and not meant:
        problem = f"“{text}” is {article(other)} {other}, and {article(kind)} {kind} is asked for"
    else:
        problem = f"“{text}” does not say which {kind} is meant"
    beside = f"; {listed(others)} is {article(other)} {other}" if others and meant else ""
    return problem, f"write {' or '.join(meant)}{beside}" if meant else f"write its measure, {_examples(kind, unit)}"


def unknown_name(text: str, kind: Ware, known: tuple[str, ...], unit: str) -> Said:
    return (
        f"“{text}” is not the name of {article(kind)} {kind} known here",
        f"known: {', '.join(known)}; or give its measure, {_examples(kind, unit)}",
    )


def unreadable(text: str, kind: Ware, why: UserError, unit: str) -> Said:
    return f"“{text}” is neither the name nor the measure of {article(kind)} {kind}", f"{why.problem}; {_examples(kind, unit)}"


def too_large(text: str, unit: str) -> Said:
    meant = "; write mm after it if millimetres are meant" if unit == "in" else ""
    return (
        f"“{text}” is larger than any sheet on a desk",
        f"a side is {length_text(Length(LARGEST), 'in' if unit == 'in' else 'mm')} at most{meant}",
    )


def pounds_of_no_kind(text: str, pounds: int) -> Said:
    return (
        f"“{text}” does not say which pounds: the same number is half as heavy again for another kind",
        f"write for example {pounds} lb cover or {pounds} lb index, or the grammage such as 216 gsm",
    )


def no_weight(text: str) -> Said:
    return f"“{text}” is not a paper weight", "write for example 80 lb cover or 216 gsm"
