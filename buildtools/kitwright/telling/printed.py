"""What the printable says besides the kit’s own words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from typing import Literal, NamedTuple

from kitwright.card.base import Base
from kitwright.labels import is_base
from kitwright.otherwise.arrangements import Arrangements
from kitwright.otherwise.edition import EditionNote, FromEdition
from kitwright.release.both import Difference
from kitwright.telling import changes
from kitwright.telling.arranging import alike_text
from kitwright.telling.folds import edge_text
from kitwright.telling.shapes import shaped_with
from kitwright.telling.words import led, listed, number, sheets_text, spelled
from kitwright.units import Length, Size, both_text, figure, fraction_text, other_unit, seen_both, size_both, size_text
from kitwright.work.worked import Worked

SCALE_BAR = "Scale bar, drawn true size: 2 inches along its upper edge, 50 millimetres along its lower edge."
CHECK_PRINT = "Lay a ruler on this bar: 2 in above, 50 mm below. If it does not match, print again at actual size, 100 %."
CHECK_TEMPLATES = "Lay a ruler on this bar: it must be 2 in above and 50 mm below before you cut anything by these drawings."
TOO_LARGE_TO_TRACE = "Larger than this page: measure it, don't trace it."
PAGE_HAS = "Corrections, other units and the workbook stand on the kit’s page."
"""Beside the code on the printable."""
CODE_LEADS_TO = "Corrections and the kit’s page are here."
BOTH_CORNERS = "both corners"
"""In place of a ruler mark, where a rectangle is cut from corner to corner."""
PUNCH_TOO_SMALL = "but the one named in this kit is too small"


def title_text(kit: str) -> str:
    """The document’s title."""
    return f"{kit}: card sketch and cutting guide"


def workbook_text(kit: str) -> str:
    """What the second file is called."""
    return f"{kit}: workbook"


def code_alt(address: str) -> str:
    """The QR code, for those who can’t see it."""
    return f"QR code of the address {address}"


def scored_both_text(base: Base, unit: str) -> str:
    """The same in both units: `score at 5¼ in (≈133.5 mm) from the left edge`."""
    places = listed([both_text(at, unit) for at in sorted(score.at for score in base.scored.scores)])
    return f"score at {places} from the {edge_text(base.runs)} edge"


def base_text(size: str) -> str:
    """The flat base of a design."""
    return f"base {size}"


DESIGN, CARDS = "Design", "Cards"
BATCH, FINISHED_CARD, CARD_BASE, ENVELOPE = "The batch", "Finished card", "Card base", "Envelope"
"""The facts of the card on the printable’s first side."""
OF_EACH, EACH = "of each", "each"
"""Behind how many pieces come from every one of several papers; the second where there is little room."""
FINISHED = "The finished card"
"""Under its picture, where all cards of the batch are alike."""


def looks_text(cards: int, name: str) -> str:
    """How many cards of the batch are of one look."""
    return f"{cards} {name}"


def figures_text(lengths: Iterable[Length], unit: str) -> str:
    """The figures of a drawing in the other unit: `In mm: ⅛ is ≈3, 1⅜ is ≈35`."""
    two = other_unit(unit)
    told = dict.fromkeys(
        (figure(length, unit), figure(length, two)) for length in sorted(set(lengths), key=lambda each: each.inches) if length
    )
    return f"In {'inches' if two == 'in' else two}: {', '.join(f'{one} is {other}' for one, other in told)}." if told else ""


def other_sizes_text(sizes: Iterable[Size], unit: str) -> str:
    """Sizes of sheets in both units: `12 × 12 in is ≈305 × 305 mm`."""
    two = other_unit(unit)
    return "; ".join(f"{size_text(size, unit)} is {size_text(size, two)}" for size in sizes) + "."


def piece_text(worked: Worked, label: str, folds: bool) -> str:
    """What a piece is for, and how it is shaped where it is no plain rectangle."""
    if is_base(label):
        return "card base" if folds else "card base, not folded"
    piece = worked.kit.spec.pieces[label]
    return "; ".join(filter(None, (piece.use or "piece", shaped_with(piece, worked.unit))))


def desk_text(ruler_side: str, line: Literal["red", "coloured", "heavy"]) -> str:
    """Over the steps at the trimmer; `line`: what shows the blade there."""
    return f"The same cuts in the same order, guide after guide. The {line} line is the blade; the ruler lies {ruler_side} of it."


STEPS_SHOW = "What a step adds stands out in its picture; what lies there already is pale. A number is that of the move."


def base_named(folded: bool) -> str:
    """What a card base is, in the list of labels."""
    return "card base, scored and folded" if folded else "card base, not folded"


WORKBOOK = "Workbook"
OTHER_GUIDES = "How the sheets asked for most are cut"


def sheet_text(name: str, size: Size) -> str:
    """A sheet by the name under which it is sold, with its millimetres: `6 × 6 in (≈152.5 × 152.5 mm)`."""
    return f"{name} ({size_text(size, 'mm')})"


def cut_from_text(names: Sequence[str], sheets: Fraction) -> str:
    """Over a small guide for another sheet, after that sheet's name: for which papers, and how many."""
    return f"{listed(names)}, {sheets_text(sheets)}{' of each' if len(names) > 1 else ''}"


OWN_IN_BOLD = "What the batch takes from other sheets; this kit’s own is bold."


def belongs_text(kit: str, state: str) -> str:
    """At the head of the workbook: to which printable it belongs."""
    return f"It goes with the two pages of {kit}, which have the sketch, the sheets and the cutting guides. {state}."


def placed_otherwise(design: str) -> str:
    """Over a row of cards from the same pieces."""
    return f"{design}: the same pieces, placed otherwise" if design else "The same pieces, placed otherwise"


def other_cards_text(found: Arrangements) -> str:
    """How many there are, and where the others are."""
    counts, ways = found.counts, len(found.variations)
    said = []
    if counts.different > 1:
        said.append(f"These pieces make {spelled(counts.different)} different cards.")
    if ways:
        said.append(f"A card can also be made in {spelled(ways)} other way{'s' if ways > 1 else ''}.")
    said.append("The kit’s page shows them all and says what changes." if ways else "The kit’s page shows them all.")
    return " ".join(said)


def arrangements_text(found: Arrangements, shown: int) -> str:
    """At the head of the contact sheet: how many there are, and how many of them are shown."""
    counts = found.counts
    told = f"{number(counts.counted, 'arrangement', 'arrangements')} of the same pieces."
    if counts.different != counts.counted:
        told += f" {number(counts.different, 'card', 'cards')} differ; those with one number are one card, {alike_text(found.motions)}."
    if shown < counts.counted:
        told += f" {shown} are shown here."
    return told


# --- the marked note at the head of a printable -------------------------------------------------------

LONGEST_NOTE = 210
"""Letters that two lines of a page hold."""


class Marked(NamedTuple):
    """A note that is set apart."""

    lead: str
    text: str


def edition_text(worked: Worked, note: EditionNote) -> Marked:
    """What changes for a reader of an edition, in two lines at most; as much of it as they hold.

    Args:
        worked: the kit, as this edition shows it or as it is.
        note: of the edition.
    """
    unit, sheet = worked.unit, note.sheet.name
    own = listed(list(dict.fromkeys(each.typed.name or size_text(each.typed.size, unit) for each in note.papers)), "or")
    if note.follows:
        told = f"what you need, the cuts and the guides here are for it, not for {own}"
        return _fitting(f"For {sheet} cardstock", [f"{told}. {_amounts(worked, note.papers)}.", f"{told}."])
    lead, end = f"If your cardstock is {sheet}", f"The guides here are for {own}."
    texts = [f"{_amounts(worked, note.papers, *more)}. {end}" for more in ((_why, _nearest), (_nearest,), (_why,), ())]
    return _fitting(lead, [*texts, f"its sheets and cuts are others: see the kit’s page. {end}"])


def _fitting(lead: str, texts: Sequence[str]) -> Marked:
    """The fullest that two lines hold; the last where none does."""
    return Marked(lead, next((led(text) for text in texts if len(lead) + len(text) < LONGEST_NOTE), led(texts[-1])))


Besides = Callable[[FromEdition, Literal["in", "mm"]], str]


def _amounts(worked: Worked, papers: Sequence[FromEdition], *besides: Besides) -> str:
    """How many sheets each paper takes, those that take as many together, with what is said of each besides."""
    unit = worked.unit
    groups: dict[tuple, list[FromEdition]] = {}
    for each in papers:
        groups.setdefault(() if each.sheets == each.own else (each.sheets, each.own, each.misfits), []).append(each)
    said = []
    for alike in groups.values():
        one, several = alike[0], len(alike) > 1
        names = listed([worked.kit.papers[each.paper].name for each in alike])
        if one.sheets is None:
            wrong = one.misfits[0]
            told = f"{names} can’t be {one.sheet.name}: {_piece(wrong.label)} is {seen_both(wrong.over, unit)} too large"
        elif one.sheets == one.own:
            told = f"{names} {'take' if several else 'takes'} as many sheets, cut otherwise"
        else:
            each_of = " each" if several else ""
            told = f"{names} {'take' if several else 'takes'} {sheets_text(one.sheets)}{each_of}, not {fraction_text(one.own)}"
        said.append(told + "".join(tell(one, unit) for tell in besides))
    return "; ".join(said)


def _why(one: FromEdition, _: str) -> str:
    return ", since a sheet gives one base, not two" if one.one_base else ""


def _nearest(one: FromEdition, unit: Literal["in", "mm"]) -> str:
    """The nearest size that would do, where the whole kit works with it."""
    if one.change is None or not one.shrinks:
        return ""
    size = next(iter(one.change.sizes.values()))
    return f"; bases of {size_both(size, unit)} come two to a sheet" if one.one_base else f"; at {size_both(size, unit)} it fits"


def _piece(label: str) -> str:
    return "the base" if is_base(label) else label


def correction_text(told: Sequence[Difference], revision: int) -> Marked:
    """What a revision corrects, in two lines at most; how many other changes there are where they hold no more."""
    lead, said = f"Corrected in revision {revision}", [changes.sentence(change) for change in told]
    texts = [" ".join(said)]
    for shown in range(len(said) - 1, 0, -1):
        rest = number(len(said) - shown, "other change", "other changes")
        texts.append(f"{' '.join(said[:shown])} The kit’s page has {rest}.")
    return _fitting(lead, [*texts, "what differs stands on the kit’s page."])
