"""Why a question for layouts gives nothing, and what would give something."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from kitwright.papers import NamedSize
from kitwright.telling.words import listed, number, sheet_text, spelled
from kitwright.units import Length, Size, figure, length_text, size_text

IN_A_FILE = frozenset(
    f"proposing.{name}"
    for name in (
        *("with-waste", "with-less-slack", "with-gap", "with-border", "with-band", "without-band", "with-pieces", "with-any-pieces"),
        *("with-kinds", "with-family", "without-tools", "with-free-papers", "with-one-design", "without-a-gate", "with-step", "with-cards"),
    )
)
"""Codes of what is asked for otherwise, by an option or by a word of a question file (`file`)."""


def _typed(option: str, value: str, file: bool) -> str:
    """What to ask for instead, as an option or in a question file."""
    if file:
        return f"say  {option}: {value}"
    return f"ask for  --{option} {value}" if " " not in value else f'ask for  --{option} "{value}"'


def _leave_out(words: Sequence[str], file: bool) -> str:
    return f"leave out {listed([f' {word}' if file else f' --{word}' for word in words], 'or')}"


def with_waste(waste: Fraction, file: bool = False) -> str:
    whole = -(-waste * 100 // 1)
    return f"The least that is left over is {whole}%: {_typed('waste', f'{whole}%', file)}"


def with_less_slack(slack: Length, unit: str, file: bool = False) -> str:
    return f"They fit sheets of their full size, though not ones that are {length_text(slack, unit)} short: {_leave_out(('slack',), file)}"


def _as_typed(length: Length, unit: str) -> str:
    plain = figure(length, unit, plain=True)
    return f"{plain.replace(' ', '-')}{' mm' if unit == 'mm' else ''}"


def with_gap(gap: Length, unit: str, file: bool = False) -> str:
    return f"With a gap of {length_text(gap, unit)} they fit: {_typed('gap', _as_typed(gap, unit), file)}"


def with_border(border: Length, unit: str, file: bool = False) -> str:
    return f"With a border of {length_text(border, unit)} they fit: {_typed('border', _as_typed(border, unit), file)}"


def with_band(band: Length, unit: str, file: bool = False) -> str:
    return f"With a band of {length_text(band, unit)} they fit: {_typed('band', _as_typed(band, unit), file)}"


def without_band(file: bool = False) -> str:
    return f"Without a free band they fit: {_leave_out(('band',), file)}"


def with_pieces(pieces: tuple[int, int], file: bool = False) -> str:
    least, most = pieces
    return f"With {least} to {most} pieces a card they fit: {_typed('pieces', f'{least}-{most}', file)}"


def with_any_pieces(file: bool = False) -> str:
    return f"With another number of pieces they fit: {_leave_out(('pieces',), file)}"


def with_kinds(kinds: int, file: bool = False) -> str:
    return f"With {spelled(kinds)} sizes on a card they fit: {_typed('kinds', str(kinds), file)}"


def with_family(family: str, file: bool = False) -> str:
    return f"Other layouts fit, such as {family}: {_typed('family', family, file)}"


def without_tools(tools: Sequence[str], file: bool = False) -> str:
    return f"What is cut at the trimmer alone fits: {_leave_out(tools, file)}"


def with_free_papers(sharing: str, file: bool = False) -> str:
    said = (
        "Where papers need not meet on every card, layouts fit"
        if sharing == "share"
        else "Where a card may be of several papers, layouts fit"
    )
    return f"{said}: {_leave_out((sharing,), file)}"


def with_one_design(file: bool = False) -> str:
    return f"Of one design there are layouts: {_leave_out(('designs',), file)}"


def without_a_gate(doors: bool, file: bool = False) -> str:
    """`doors`: whether gate doors were asked for by name."""
    return f"Folded at the side there are layouts: {_typed('fold', 'side', file)}{', and name no gate doors' if doors else ''}"


def with_step(step: Length, unit: str, file: bool = False) -> str:
    return f"In steps of {length_text(step, unit)} they fit: {_typed('grid', _as_typed(step, unit), file)}"


def with_cards(cards: int, more: bool, file: bool = False) -> str:
    """`more`: than were asked for."""
    said = f"The sheets give {cards}" if more else f"For {number(cards, 'card', 'cards')} something comes out"
    return f"{said}: {_typed('cards', str(cards), file)}"


def with_sheets(sheets: int, paper: str = "", sheet: NamedSize | None = None, unit: str = "in") -> str:
    of = paper or (sheet_text(sheet, unit) if sheet else "")
    return f"From {number(sheets, 'sheet', 'sheets')}{f' of {of}' if of else ''} something comes out"


def without_paper(paper: str = "", sheet: NamedSize | None = None, unit: str = "in") -> str:
    return f"Without {paper or (f'sheets of {sheet_text(sheet, unit)}' if sheet else 'one paper')} something comes out"


def with_larger_sheets(sheet: Size, unit: str) -> str:
    return f"The nearest layouts need sheets of {size_text(sheet, unit)}"


def together(wishes: int) -> str:
    return f"No wish stands in the way alone, but {spelled(wishes)} together:"


def no_way_out(whole: bool) -> str:
    """`whole`: whether every wish was given up once, alone."""
    said = "With any one wish given up there is still nothing" if whole else "What was tried of giving up one wish gave nothing either"
    return f"{said}: name another card, other sheets, or fewer wishes"
