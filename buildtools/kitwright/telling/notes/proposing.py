"""Why a question for layouts gives nothing, and what would give something."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from kitwright.telling.words import listed, number, spelled
from kitwright.units import Length, Size, figure, length_text, size_text


def _typed(option: str, value: str) -> str:
    return f"ask for  --{option} {value}" if " " not in value else f'ask for  --{option} "{value}"'


def with_waste(waste: Fraction) -> str:
    whole = -(-waste * 100 // 1)
    return f"The least that is left over is {whole}%: {_typed('waste', f'{whole}%')}"


def with_less_slack(slack: Length, unit: str) -> str:
    return f"They fit sheets of their full size, though not ones that are {length_text(slack, unit)} short: leave out  --slack"


def _as_typed(length: Length, unit: str) -> str:
    plain = figure(length, unit, plain=True)
    return f"{plain.replace(' ', '-')}{' mm' if unit == 'mm' else ''}"


def with_gap(gap: Length, unit: str) -> str:
    return f"With a gap of {length_text(gap, unit)} they fit: {_typed('gap', _as_typed(gap, unit))}"


def with_border(border: Length, unit: str) -> str:
    return f"With a border of {length_text(border, unit)} they fit: {_typed('border', _as_typed(border, unit))}"


def with_band(band: Length, unit: str) -> str:
    return f"With a band of {length_text(band, unit)} they fit: {_typed('band', _as_typed(band, unit))}"


def without_band() -> str:
    return "Without a free band they fit: leave out  --band"


def with_pieces(pieces: tuple[int, int]) -> str:
    least, most = pieces
    return f"With {least} to {most} pieces a card they fit: {_typed('pieces', f'{least}-{most}')}"


def with_any_pieces() -> str:
    return "With another number of pieces they fit: leave out  --pieces"


def with_kinds(kinds: int) -> str:
    return f"With {spelled(kinds)} sizes on a card they fit: {_typed('kinds', str(kinds))}"


def with_family(family: str) -> str:
    return f"Other layouts fit, such as {family}: {_typed('family', family)}"


def without_tools(tools: Sequence[str]) -> str:
    return f"What is cut at the trimmer alone fits: leave out {listed([f' --{tool}' for tool in tools], 'or')}"


def with_free_papers(sharing: str) -> str:
    said = (
        "Where papers need not meet on every card, layouts fit"
        if sharing == "share"
        else "Where a card may be of several papers, layouts fit"
    )
    return f"{said}: leave out  --{sharing}"


def with_one_design() -> str:
    return "Of one design there are layouts: leave out  --designs"


def with_step(step: Length, unit: str) -> str:
    return f"In steps of {length_text(step, unit)} they fit: {_typed('grid', _as_typed(step, unit))}"


def with_cards(cards: int) -> str:
    return f"For {number(cards, 'card', 'cards')} something comes out: {_typed('cards', str(cards))}"


def with_sheets(sheets: int, paper: str | None) -> str:
    return f"From {number(sheets, 'sheet', 'sheets')}{f' of {paper}' if paper else ''} something comes out"


def without_paper(paper: str) -> str:
    return f"Without {paper} something comes out"


def with_larger_sheets(sheet: Size, unit: str) -> str:
    return f"The nearest layouts need sheets of {size_text(sheet, unit)}"


def two_together() -> str:
    return "No wish stands in the way alone, but two together:"


def no_way_out(whole: bool) -> str:
    """`whole`: whether every wish was given up once, alone."""
    said = "With any one wish given up there is still nothing" if whole else "What was tried of giving up one wish gave nothing either"
    return f"{said}: name another card, other sheets, or fewer wishes"
