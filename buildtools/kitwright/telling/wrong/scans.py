"""What a scan of a paper can't show."""

from __future__ import annotations

from fractions import Fraction

from kitwright.errors import Said
from kitwright.units import Length, Size, both_text, size_both


def unnamed() -> Said:
    return "“scan” names no picture", "write its name, papers/meadow.jpg, or leave the line out"


def none(key: str) -> Said:
    return f"“{key}” says how a scan lies, and there is none", "name the picture in “scan”, or leave this out"


def cropped_away(shows: Size, off: Size) -> Said:
    return (
        f"the scan shows {size_both(shows)}, and “crop” leaves off {size_both(off)}: nothing remains",
        "leave off less; “shows” is how much paper the whole picture shows, before anything is left off",
    )


def shows_too_little(shows: Size, least: Length) -> Said:
    return (
        f"the scan is said to show {size_both(shows)}, and of that less than {both_text(least)} remains one way",
        "write how much paper the picture shows from edge to edge, width × height; say in or mm where you measured in the other unit",
    )


def shows_too_much(shows: Size, sheet: Size) -> Said:
    return (
        f"the scan is said to show {size_both(shows)}, far more than the sheet of {size_both(sheet)}",
        "write how much paper the picture shows from edge to edge, width × height; say in or mm where you measured in the other unit",
    )


def changed(name: str) -> Said:
    return f"{name} was saved again while it was read", "start the command again"


def soft(paper: str, density: Fraction, wanted: int) -> Said:
    return (
        f"the scan of {paper} has {int(density)} pixels to the inch of what it shows, and looks soft in large pictures",
        f"scan it at {wanted} to the inch or more, or take the photo from nearer; check that “shows” is right",
    )


def stretched(paper: str, shows: Size, percent: int) -> Said:
    return (
        f"the scan of {paper} would be stretched by {percent} %: it has another form than the {size_both(shows)} that it is to show",
        "write in “shows” how much paper the whole picture shows; “turned” sets it upright first, “crop” leaves off what is no paper",
    )
