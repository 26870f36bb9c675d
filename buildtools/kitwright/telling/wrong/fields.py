"""Single values of a spec that can't be read: counts, sheets, prices."""

from __future__ import annotations

from typing import Literal

from kitwright.errors import Said
from kitwright.kit.fields import Wanted
from kitwright.kit.looks import COLOURS

_WRITE: dict[Wanted, str] = {
    "length": "a length such as 3-1/4 or 82 mm",
    "margin": "a length such as 1/8 or 0",
    "size": "width x height such as 8-1/2 x 5-1/2",
    "sheet": "a sheet such as Letter or 12 x 12",
    "envelope": "an envelope such as US A2 envelope",
    "weight": "a weight such as 80 lb cover or 216 gsm",
    "count": "a number such as 2",
    "sheets": "a number such as 2",
    "price": "a price such as 0.35",
    "price by length": "a price such as 4.50 for 8 m",
    "price by area": "a price such as 3 for 4 x 6 in",
    "colour": 'a colour in quotes, such as "#B73C1C": without them, whatever follows a # is a note',
    "paper colour": f'a colour by name ({", ".join(COLOURS)}), or any other in quotes, such as "#7a9e7e": without them, whatever follows a # is a note',
    "score line": "a score line such as 4-1/4 back",
    "sheets of a paper": "sheets such as 3 of 8 x 8",
    "card": "a card such as 5 x 7 or ISO A6",
    "margins": "a length, or several with commas between them, such as 1/8, 3/16",
    "pieces on a card": "a number, or two such as 3-5",
    "ruler step": "1/8, 1/16 or mm",
    "part": "a part such as 10%",
    "link": "an address such as https://cards.example/ or mailto:hello@cards.example",
}


def no_text(given: Literal["list", "lines", "blank"], wanted: Wanted) -> Said:
    return f"a {'block of lines' if given == 'lines' else given} can't stand here", f"write {_WRITE[wanted]}"


def no_count(text: str) -> Said:
    return f"“{text[:20]}” is not a number of pieces", "write a whole number, or 1/2 when every second card has one"


def no_piece_at_all() -> Said:
    return "no piece at all is asked for here", "write 1 or more, or leave the line out"


def no_sheets(text: str) -> Said:
    return f"“{text[:20]}” is not a number of sheets", "write whole or half sheets, such as 2, 1-1/2 or half"


def no_score_line(text: str) -> Said:
    return f"“{text[:30]}” is no score line", "write its place and which way it folds, such as 4-1/4 back or 105 mm forward"


def no_sheet_at_all() -> Said:
    return "no sheet at all is given here", "write 1/2 or more, or leave the line out to have it worked out"


def no_price(text: str) -> Said:
    return f"“{text[:20]}” is not a price", "write a plain number such as 0.35; the currency is said once, by  currency"


def no_price_by_length(text: str) -> Said:
    return f"“{text[:30]}” is not a price by the length", "write for example 4.50 for 8 m, or 4.50 for 26 ft"


def no_price_by_area(text: str) -> Said:
    return f"“{text[:30]}” is not a price by the sheet", "write for example 3 for 4 x 6 in, or 3 for 100 x 150 mm"


def no_paper_colour(text: str) -> Said:
    near = text.strip().lower()
    return f"“{text[:20]}” is no colour", f"write {near}, in small letters" if near in COLOURS else f"write {_WRITE['paper colour']}"


def no_colour(text: str) -> Said:
    return f"“{text[:20]}” is not a colour", 'write # and six signs from 0 to 9 and A to F, in quotes, such as "#B73C1C"'
