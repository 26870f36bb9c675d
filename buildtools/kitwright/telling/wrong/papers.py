"""Sheets, envelopes and weights whose name or measure can't be read."""

from __future__ import annotations

from kitwright.errors import Said, UserError
from kitwright.papers import LARGEST, Ware
from kitwright.telling.words import article
from kitwright.units import Size, size_text

_EXAMPLES: dict[Ware, str] = {
    "sheet": "for example Letter, A4 or 12 x 12",
    "envelope": "for example US A2 envelope, ISO C6 envelope or 5-3/4 x 4-3/8",
}


def two_meanings(text: str, kind: Ware, alike: tuple[str, ...], unnamed: Size | None) -> Said:
    meant = [*alike, *([f"a measure such as {size_text(unnamed, 'mm').replace('×', 'x')} for the ISO sheet"] if unnamed else [])]
    return (
        f"“{text}” does not say which {kind} is meant",
        f"write {' or '.join(meant)}" if meant else f"write its measure, {_EXAMPLES[kind]}",
    )


def unknown_name(text: str, kind: Ware, known: tuple[str, ...]) -> Said:
    return (
        f"“{text}” is not the name of {article(kind)} {kind} known here",
        f"known: {', '.join(known)}; or give its measure, {_EXAMPLES[kind]}",
    )


def unreadable(text: str, kind: Ware, why: UserError) -> Said:
    return f"“{text}” is neither the name nor the measure of {article(kind)} {kind}", f"{why.problem}; {_EXAMPLES[kind]}"


def too_large(text: str) -> Said:
    return f"“{text}” is larger than any sheet on a desk", f"a side is {LARGEST} in at most; write mm after it if millimetres are meant"


def pounds_of_no_kind(text: str, pounds: int) -> Said:
    return (
        f"“{text}” does not say which pounds: the same number is half as heavy again for another kind",
        f"write for example {pounds} lb cover or {pounds} lb index, or the grammage such as 216 gsm",
    )


def no_weight(text: str) -> Said:
    return f"“{text}” is not a paper weight", "write for example 80 lb cover or 216 gsm"
