"""What is wrong with the cuts that an author writes."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import listed
from kitwright.units import Length, Size, figure, length_text, size_text

EXAMPLES = "write for example “2 strips of 1-1/2 off the bottom: A”, “halve at 4”, “turn” or “the rest: B”"


# --- a line that can't be read ----------------------------------------------------------------------


def not_a_cut(text: str) -> Said:
    return f"“{text}” is not a cut that can be read", EXAMPLES


def not_one_cut() -> Said:
    return "this is not one cut", EXAMPLES


def not_a_label() -> Said:
    return "this is neither a label nor a list of cuts", EXAMPLES


def not_a_number(text: str, what: str) -> Said:
    return f"“{text}” is not a number of {what}s", EXAMPLES


def no_such_piece(label: str, known: tuple[str, ...]) -> Said:
    return f"there is no piece {label} in this kit", f"known here: {', '.join(known)}; or write “leftover”"


def nothing_after(text: str) -> Said:
    return f"“{text}” takes nothing after it", "end the line there, and put what follows on lines of its own"


def side_missing(text: str) -> Said:
    return f"“{text}” does not say from which side", "add for example “off the bottom”"


# --- a line that can't be cut -----------------------------------------------------------------------


def no_side(text: str) -> Said:
    return f"“{text[:40]}” is no side of what lies in hand", "write top, right, bottom or left"


def nothing_in_hand(text: str) -> Said:
    return f"nothing is left in hand for “{text}”", "the cuts above use it all; take this line out"


def past_the_hand(count: int, measure: Length, room: Length, unit: str) -> Said:
    fits = room // measure
    return (
        f"{count} of {length_text(measure, unit)} need {length_text(measure * count, unit)}, past the {length_text(room, unit)} in hand",
        f"at most {fits} come off here" if fits else "the piece in hand is smaller than that",
    )


def no_such_half(in_hand: Size, measure: Length, unit: str) -> Said:
    halves = dict.fromkeys(figure(side / 2, unit, plain=True) for side in (in_hand.width, in_hand.height))
    return (
        f"the piece in hand is {length_text(in_hand.width, unit)} by {length_text(in_hand.height, unit)}: "
        f"no half of it is {length_text(measure, unit)}",
        f"halve at {' or '.join(halves)}, or name the strip you want",
    )


def stops_inside(text: str) -> Said:
    return f"“{text}” stops inside the sheet: a trimmer cuts from edge to edge", "cut right across, or cut the outer part off first"


def part_of_another_size(label: str, size: Size, lies: Size, twin: str | None, unit: str) -> Said:
    return (
        f"{label} is {size_text(size, unit)}, but the part cut here is {size_text(lies, unit)}",
        f"that is the size of {twin}: are the two labels swapped?" if twin else "give this part a label of its own, or change the cuts",
    )


# --- triangles --------------------------------------------------------------------------------------


def triangle_uncut(label: str) -> Said:
    return f"{label} is a triangle, and this line stops at its rectangle", f"indent under this line:  - corner to corner: {label}"


def no_triangle(label: str, known: tuple[str, ...]) -> Said:
    known_here = f"triangles here: {listed([*known])}; or " if known else ""
    return f"{label} is no triangle, so no cut from corner to corner gives it", f"{known_here}give {label} the line  shape: triangle"


def corners_of_what(known: tuple[str, ...]) -> Said:
    return "“corner to corner” does not say which triangle it gives", f"write  corner to corner: {known[0] if known else 'T'}"


def no_rectangle(label: str, size: Size, lies: Size, unit: str) -> Said:
    return (
        f"no line gives {label} a {size_text(size, unit)} rectangle: what is in hand here is {size_text(lies, unit)}",
        f"cut {size_text(size, unit)} first, then  corner to corner: {label}  under it",
    )


def too_many_lines(most: int) -> Said:
    return f"more than {most} lines cut one thing in hand", "take strips of one measure together:  9 strips of 1/4 off the top: A"


def too_many_parts(most: int) -> Said:
    return f"this guide cuts a sheet into more than {most} parts", f"at most {most} come off one sheet; cut larger parts, or fewer of them"


# --- guides beside the kit --------------------------------------------------------------------------


def different_sheets() -> Said:
    return "one guide can't cut sheets of different sizes", "give each size of sheet a guide of its own"


def left_to_auto(labels: tuple[str, ...], name: str, paper: str) -> Said:
    names, (are, them) = listed(labels), ("is", "it") if len(labels) == 1 else ("are", "them")
    return (
        f"{names} {are} on no guide of {name}: auto cuts {them} from further sheets",
        f"put {names} on a guide, or say that it is meant with a guide of  papers: {paper}  and  cuts: auto",
    )


def sheets_unsaid(name: str, guides: int) -> Said:
    return f"{name} is cut by {guides} guides, and this one does not say how many sheets", "add a line such as  sheets: 1  to each of them"
