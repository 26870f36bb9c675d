"""What is wrong with a question for layouts: what can't be read, what can't be had together, what is too much to look through."""

from __future__ import annotations

from fractions import Fraction

from kitwright.errors import Said
from kitwright.papers import NamedSize
from kitwright.telling.words import article, listed, number, spelled
from kitwright.units import Length, Size, fraction_text, length_text, rounded, sides_text, size_text

_SHEETS = {"in": "2 of 12 x 12", "mm": "2 of A4"}
_ONE_WAY = {"in": "1 of 8 x 8 one-way", "mm": "1 of A4 one-way"}
_SHEET = {"in": "12 x 12", "mm": "210 x 297"}
_CARD = {"in": "5 x 7", "mm": "105 x 148"}
_ENVELOPE = {"in": "US A2 envelope", "mm": "ISO C6 envelope"}


# --- single words -------------------------------------------------------------------------------


def no_paper(unit: str) -> Said:
    return "no paper is named", f'say which sheets you have, such as  --paper "{_SHEETS[unit]}"'


def no_sheets_of(text: str, meant: tuple[tuple[int, str], ...] | None, unit: str) -> Said:
    """`meant`: sheets and which, of what stands there."""
    return (
        f"“{text[:40]}” does not say how many of which sheets you have",
        f"write {_all_sheets(meant)} if that is meant" if meant else f"write for example {_SHEETS[unit]}, or {_ONE_WAY[unit]}",
    )


def _sheets(sheets: int, sheet: str) -> str:
    return f"{sheets} of {sheet}"


def _all_sheets(some: tuple[tuple[int, str], ...]) -> str:
    return " and ".join(_sheets(*one) for one in some)


def sheets_two_ways(text: str, ways: tuple[tuple[tuple[int, str], ...], ...], unit: str) -> Said:
    return (
        f"“{text[:40]}” may mean {'two things' if len(ways) == 2 else 'several things'}",
        f"write {', or '.join(map(_all_sheets, ways))}",
    )


def part_of_a_sheet(text: str, sheets: int, sheet: str, half: Size, unit: str) -> Said:
    """`half`: half a sheet, cut across its longer side; `sheets`: whole ones beside it."""
    told = unit if rounded(half.width.millimetres, Fraction(1, 2)) != half.width.millimetres else "mm"
    size = size_text(half, told).replace("×", "x").removeprefix("≈ ").removeprefix("≈")
    return (
        f"“{text[:40]}” has half a sheet in it, and a sheet has several halves",
        f"write its measure, {f'{_sheets(sheets, sheet)} and ' if sheets else ''}1 of {size}, if it was cut across its longer side",
    )


def comma_two_ways(before: str, after: str) -> Said:
    """`before` and `after`: the comma."""
    return (
        f"“{before},{after}” may be two values, or one with a decimal comma",
        f"write {before}, {after} for two, {before}.{after} for one",
    )


def no_sheet(text: str) -> Said:
    return f"“{text[:40]}” is no sheet at all", "write 1 or more, or leave that paper out"


def no_such_paper(text: str, near: str | None, papers: tuple[str, ...], unit: str) -> Said:
    known = f"a paper of the club ({', '.join(papers)})" if papers else "a patterned paper of the club file, which has none yet"
    meant = f"did you mean {near}? otherwise " if near else ""
    return (
        f"“{text[:40]}” is no sheet that is known here",
        f"{meant}write its measure, such as {_SHEET[unit]}, a name such as Letter or A4, or {known}",
    )


def not_patterned(paper: str) -> Said:
    return (
        f"{paper} is not patterned, and pieces are looked for in patterned sheets",
        "name patterned sheets; cardstock goes with --cardstock",
    )


def tiny_sheet(text: str, size: Size, least: Length, bare: bool, unit: str) -> Said:
    """`bare`: whether no unit was typed."""
    problem = f"a sheet of {size_text(size, unit)} is smaller than any that pieces are cut from"
    return problem, _in_inches(text) if bare and unit == "mm" else f"name a sheet of {length_text(least, unit)} or more both ways"


def tiny_card(size: Size, least: Length, unit: str) -> Said:
    meant = sides_text(size, unit, plain=True).replace("×", "x")
    larger = f"name a card of {length_text(least, unit)} or more both ways"
    return f"a card of {size_text(size, unit)} is too small to make", _in_inches(meant) if unit == "mm" else larger


def _in_inches(text: str) -> str:
    return f"write  {text} in  if inches are meant,  {text} cm  if centimetres"


def which_card(text: str, sheets: tuple[str, ...], envelopes: tuple[str, ...], unit: str) -> Said:
    """`sheets` and `envelopes`: of that name."""
    meant = [
        *(f"{one} for a card of that size" for one in sheets),
        *(f'--envelope "{one}" for the card that goes into it' for one in envelopes),
    ]
    return (
        f"“{text[:40]}” does not say which card is meant",
        f"write {', or '.join(meant)}"
        if meant
        else f"write its closed front, width x height, such as {_CARD[unit]} or ISO A6; "
        f'or name its envelope instead, such as  --envelope "{_ENVELOPE[unit]}"',
    )


def no_usual_front(envelope: NamedSize, unit: str) -> Said:
    return f"no card is usual for {_named(envelope, unit)}", f'say the card too, such as  --card "{_CARD[unit]}"'


def no_range(text: str) -> Said:
    return f"“{text[:20]}” is no number of pieces", "write a number such as 4, or two such as 3-5"


def range_reversed(least: int, most: int) -> Said:
    return f"{least}-{most} ends below where it begins", f"write {most}-{least}"


def no_piece() -> Said:
    return "a card without any piece needs no layout", "ask for 1 or more pieces"


def too_many_pieces(pieces: int, most: int) -> Said:
    return f"{number(pieces, 'piece', 'pieces')} on a card are more than this looks for", f"ask for {most} or fewer"


def no_part(text: str) -> Said:
    return f"“{text[:20]}” is no part of the paper", "write how much of all sheets may be left over, such as 10%"


def whole_part(text: str) -> Said:
    return f"“{text[:20]}” would leave all paper over", "write less than 100%, such as 10%"


def no_such_family(text: str, near: str | None, known: tuple[str, ...]) -> Said:
    return f"no sort of layout is called “{text[:40]}”", f"{f'did you mean {near}? ' if near else ''}there are: {', '.join(known)}"


# --- two by two ---------------------------------------------------------------------------------


def _named(sheet: NamedSize, unit: str) -> str:
    if not sheet.name:
        text = size_text(sheet.size, unit)
        return f"{article(text)} {text} sheet" if sheet.source == "measured" else text
    return f"{article(sheet.name)} {sheet.name}"


def finer_than_the_ruler(step: Length, finest: Length, unit: str) -> Said:
    return (
        f"a grid of {_exact(step, unit)} is not on a ruler, whose finest mark is {length_text(finest, unit)}",
        "write 1/8 or 1/16" if unit == "in" else "write mm, or 0.5 mm",
    )


def _exact(length: Length, unit: str) -> str:
    """A length finer than a ruler, as it was meant."""
    value = length.inches if unit == "in" else length.millimetres
    return f"{fraction_text(value)} {unit}"


def step_past_the_card(step: Length, inner: Size, unit: str) -> Said:
    return (
        f"a grid of {length_text(step, unit)} has no mark on a front of {size_text(inner, unit)}",
        "ask for a finer grid, or a larger card",
    )


def slack_past_the_sheet(slack: Length, sheet: Size, unit: str) -> Said:
    return (
        f"nothing is left of a sheet of {size_text(sheet, unit)} that may be {length_text(slack, unit)} smaller",
        "ask for less slack, or a larger sheet",
    )


def card_past_every_sheet(card: Size, sheet: Size, unit: str) -> Said:
    return (
        f"a card of {size_text(card, unit)} is larger than every sheet; the largest is {size_text(sheet, unit)}",
        "name a smaller card, or a larger sheet",
    )


def base_past_the_cardstock(base: Size, card: Size, cardstock: NamedSize, unit: str) -> Said:
    sheet = size_text(cardstock.size, unit)
    return (
        f"a card of {size_text(card, unit)} lies flat as {size_text(base, unit)}, which does not come out of cardstock of {sheet}",
        f'name a smaller card, or larger cardstock, such as  --cardstock "{"12 x 12" if unit == "in" else "A3"}"',
    )


def card_past_the_envelope(card: Size, envelope: NamedSize, unit: str) -> Said:
    return (
        f"a card of {size_text(card, unit)} does not slide into {_envelope(envelope, unit)}",
        "name one of the two alone, and leave the other to be found",
    )


def _envelope(envelope: NamedSize, unit: str) -> str:
    size = size_text(envelope.size, unit)
    return f"{article(envelope.name)} {envelope.name} ({size})" if envelope.name else f"an envelope of {size}"


def mat_past_the_card(mat: Length | None, card: Size, unit: str) -> Said:
    return (
        f"nothing is left of a card of {size_text(card, unit)} inside a mat that leaves {length_text(mat or Length(0), unit)} free all round",
        "let less of the base show, or name a larger card",
    )


def border_past_the_card(border: Length, card: Size, unit: str) -> Said:
    return (
        f"a border of {length_text(border, unit)} on both sides leaves nothing of {size_text(card, unit)}",
        "ask for a narrower border, or a larger card",
    )


def band_past_the_front(band: Length, height: Length, border: Length, unit: str) -> Said:
    return (
        f"a band of {length_text(band, unit)} leaves no room for pieces on a front {length_text(height, unit)} high inside its border of {length_text(border, unit)}",
        "ask for a lower band, or a larger card",
    )


def gap_past_the_card(gap: Length, inner: Size, unit: str) -> Said:
    return (
        f"a gap of {length_text(gap, unit)} is as large as the front itself, {size_text(inner, unit)} inside its border",
        "ask for a narrower gap, or a larger card",
    )


def kinds_past_the_pieces(kinds: int, pieces: int) -> Said:
    return (
        f"{spelled(pieces)} {'piece' if pieces == 1 else 'pieces'} a card can't be of {spelled(kinds)} sizes",
        "ask for more pieces, or for fewer kinds",
    )


def odd_cards_of_two_designs(cards: int) -> Said:
    even = [str(n) for n in (cards - 1, cards + 1) if n]
    return (
        f"{number(cards, 'card', 'cards')} can't be half of one design, half of the other",
        f"ask for {' or '.join(even)} cards, or for one design",
    )


def doors_without_a_gate(fold: str) -> Said:
    return f"gate doors are asked for, and the fold is {fold}", "ask for  --fold gate, or for another family"


def gate_without_doors(families: tuple[str, ...]) -> Said:
    return (
        f"a gate fold has its pieces on its doors, and only {listed(list(families))} {'is' if len(families) == 1 else 'are'} asked for",
        'ask for  --family "gate doors", or for another fold',
    )


def band_on_a_gate() -> Said:
    return (
        "a gate fold has doors in front, and no free band for a greeting",
        "leave the band out, and greet inside; or ask for another fold",
    )


def bunting_one_way() -> Said:
    return "flags hang askew, and a paper with an up would hang askew on them", "name a paper that isn't one-way, or ask for another family"


def share_and_whole() -> Said:
    return "papers can't meet on every card and also on none", "keep one of share and whole"


def share_of_one_paper(paper: str | None) -> Said:
    only = f"{paper} is the only one" if paper else "there is only one"
    return f"papers are to meet on every card, and {only}", "name a second paper with another --paper, or leave share out"


def whole_past_the_cards(cards: int, papers: int) -> Said:
    return (
        f"{number(cards, 'card', 'cards')} of one paper each can't use {number(papers, 'paper', 'papers')}",
        "ask for more cards, name fewer papers, or leave whole out",
    )


def blank_past_every_sheet(tool: str, size: Size, blank: Size, sheet: Size, unit: str) -> Said:
    return (
        f"for {size_text(size, unit)} a {tool} takes a blank of {size_text(blank, unit)}, which is larger than every sheet; the largest is {size_text(sheet, unit)}",
        f"name a smaller {tool}, or a larger sheet",
    )


def punch_past_the_card(tool: str, size: Size, blank: Size, inner: Size, unit: str) -> Said:
    return (
        f"what the {tool} makes, {size_text(size, unit)}, is larger than the front, {size_text(inner, unit)} inside its border",
        f"name a smaller {tool}, or a larger card",
    )


def punch_off_the_grid(tool: str, size: Size, blank: Size, step: Length, unit: str) -> Said:
    return (
        f"what the {tool} makes, {size_text(size, unit)}, is not on a grid of {length_text(step, unit)}",
        f"ask for a finer grid, such as  --grid {'1/16' if unit == 'in' else 'mm'}",
    )


# --- too much, too little -----------------------------------------------------------------------


def cards_past_the_paper(cards: int, sheets: int, takes: Fraction, most: int, covered: Fraction, sheet: Size | None, unit: str) -> Said:
    """`takes`: sheets like these that the batch needs at the very least; `covered`: the share of a front that pieces cover."""
    about = min((rounded(takes, Fraction(1, n)) for n in (2, 3, 4)), key=lambda near: abs(near - takes))
    needs = f"{fraction_text(about)} sheets" if about > sheets else f"more than {number(sheets, 'sheet', 'sheets')}"
    of = f" of {size_text(sheet, unit)}" if sheet else " like these"
    half = "half covered" if covered == Fraction(1, 2) else f"{fraction_text(covered)} covered"
    enough = f"ask for {number(most, 'card', 'cards')} at most" if most else "name a smaller card"
    return (
        f"{number(cards, 'card', 'cards')} take {needs}{of} even if their fronts are only {half}, and there {'is' if sheets == 1 else 'are'} {sheets}",
        f"{enough}, or name more sheets",
    )


def too_many_sheets(sheets: int, most: int) -> Said:
    return (
        f"{sheets} sheets are more than one question looks through",
        f"ask about {most} or fewer: what one sheet gives, every sheet like it gives",
    )


def too_many_ranges(borders: int, gaps: int, cards: int, tried: int, most: int) -> Said:
    wide = max((borders, "border"), (gaps, "gap"), (cards, "card"))[1]
    return (
        f"{number(borders, 'border', 'borders')}, {number(gaps, 'gap', 'gaps')} and {number(cards, 'card', 'cards')} make {tried} questions in one",
        f"ask for {most} or fewer at once; fix the {wide} first",
    )


def too_many_layouts(layouts: int, each: int, borders: int, gaps: int) -> Said:
    """`each`: layouts with one border and one gap."""
    wide = "border" if borders >= gaps else "gap"
    return (
        f"{number(borders, 'border', 'borders')} and {number(gaps, 'gap', 'gaps')} make some {layouts:,} layouts, more than one question looks through",
        f"fix the {wide} first: with one border and one gap there are {each:,}; a coarser grid or fewer kinds have fewer too",
    )


# --- the kit that is written --------------------------------------------------------------------


def not_dealt(number: int) -> Said:
    return (
        f"the pieces of proposal {number} can’t be dealt to whole cards of these papers",
        "pick another, or ask once more with --whole, or with as many sheets of each paper",
    )


# --- taking one ---------------------------------------------------------------------------------


def pick_without_into() -> Said:
    return "--pick says which layout, and nothing says into which kit", "add for example  --into kits/2028-05-meadow-strips"


def into_without_pick() -> Said:
    return "--into says which kit, and nothing says which layout", "add its number, such as  --pick 3"


def no_such_layout(pick: int, most: int) -> Said:
    return f"there is no layout {pick}", f"choose one from 1 to {most}"


def typed_otherwise(path: tuple[str | int, ...]) -> Said:
    return (
        f"{' → '.join(map(str, path))} is typed in the kit’s file in a way that is not changed here",
        "copy the kit’s folder, and type the sizes that --improve tells",
    )


def nothing_better(title: str) -> Said:
    return f"nothing near the sizes of {title} is better", "leave out --pick and --into to read what was looked at"


def no_other_card(title: str) -> Said:
    return f"the pieces of {title} make no other usual card", "leave out --pick and --into to read what was looked at"


def into_elsewhere(into: str) -> Said:
    return (
        f"{into} is no folder among the kits of this archive",
        "write  --into kits/  and the name of the kit, such as 2028-05-meadow-strips",
    )


def of_a_kit_alone(option: str) -> Said:
    return f"--{option} asks about a kit that is there, and the other options about one that isn’t yet", "ask the one or the other"
