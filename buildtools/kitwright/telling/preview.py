"""What the preview says on the pages that it shows, and beside them in the terminal."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from fractions import Fraction

from kitwright.findings import Level
from kitwright.telling.words import date_text, listed, number

LEVELS: dict[Level, str] = {"error": "Error", "warning": "Worth a look", "hint": "Good to know"}
"""What stands before what was found."""
AS_SHOWN = "Mended: all of it is shown as it was saved."
BUILDING = "Building"
FIRST_BUILD = "The site is being built for the first time."
NOT_BUILT = "Nothing can be shown yet"
NOT_YET = "This page can’t be shown yet"
MENDED = "Mend what stands here and save: the page follows."
STANDS_IN_KITS = "Found in these kits:"
ELSEWHERE = "In other kits:"
LATER = "What can be downloaded of this kit is still being drawn."
LOST = "The preview was stopped, or its program ended. This page is as it was last."


def counted(counts: Mapping[Level, int]) -> str:
    """`1 error and 2 warnings`."""
    return listed([number(n, level, f"{level}s") for level, n in counts.items() if n])


def at_text(seconds: float, now: float) -> str:
    """When something was saved, by this machine's own clock: the time, and the day where it is another."""
    at, today = dt.datetime.fromtimestamp(seconds), dt.datetime.fromtimestamp(now)
    return f"at {at:%H:%M:%S}" if at.date() == today.date() else f"on {date_text(at.date())} at {at:%H:%M:%S}"


def held(what: str, shown: str | None, saved: str | None) -> str:
    """What is shown of a part, and what was saved since.

    Args:
        what: the part, as the user knows it: `kits/2027-03-river-stones`.
        shown: when that was saved which is shown; None where nothing can be.
        saved: when it was last saved; None where it was deleted.
    """
    if shown is None:
        return f"{what} was saved {saved} and can’t be shown yet."
    since = f"Saved since {saved} and not shown." if saved else "Deleted since, which is not shown."
    return f"{what} is shown as saved {shown}. {since}"


def here(counts: Mapping[Level, int]) -> str:
    """How much stands on a page, before links to each."""
    return f"{counted(counts)} on this page:"


def still(parts: Sequence[str]) -> str:
    """Parts of an archive of which the last good state is shown."""
    return f"Still shown as last built: {listed(list(parts))}."


def missing(parts: Sequence[str]) -> str:
    """Parts of an archive that were never good."""
    return f"Not shown yet: {listed(list(parts))}."


def rebuilt(kits: int, seconds: Fraction) -> str:
    """The preview built the site anew."""
    return f"Built {number(kits, 'kit', 'kits')} in {float(seconds):.1f} s."


def open_at(address: str) -> str:
    """Where the preview is."""
    return f"Open {address}  (Ctrl+C stops)"


def progress(words: str, done: int, total: int) -> str:
    """What is being done, and how far it is."""
    return f"{words}: {done} of {total}" if total > 1 else words
