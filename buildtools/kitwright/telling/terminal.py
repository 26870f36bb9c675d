"""What the commands print, errors and findings aside (`wrong/`), and help (`help.py`)."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from fractions import Fraction
from pathlib import Path

from kitwright.findings import Level
from kitwright.telling.moments import DAYS, city, night_text
from kitwright.telling.words import listed, number

NOTHING_CHANGED = "Nothing was changed."


# --- check, show ----------------------------------------------------------------------------------

PAST_SHOWN = "An old printable, from before kits were worked out here."


def found(counts: Mapping[Level, int]) -> str:
    """How much was found in a kit."""
    return ", ".join(number(n, level, f"{level}s") for level, n in counts.items() if n) or "nothing to mend"


def old_found(counts: Mapping[Level, int]) -> str:
    """How much was found in a past kit."""
    return f"an old printable; {found(counts)}"


def old_sound(count: int) -> str:
    """Past kits in which nothing was found."""
    return f"{number(count, 'old printable', 'old printables')}: {found({})}"


# --- new, cutfiles, build -------------------------------------------------------------------------


def new_kit(name: str) -> str:
    """A starter kit was written."""
    return f"Wrote {name}. Open its kit.yaml, change it, then run  kitwright check {name}"


def cut_files(files: int, folder: Path) -> str:
    """Cut files were written."""
    return f"Wrote {number(files, 'file', 'files')} to {folder}. Begin with contents.txt there."


def hers_stay(names: Sequence[str]) -> str:
    """Files that somebody changed by hand stay as they are."""
    return f"You changed {listed(list(names))}: kept as you have {'it' if len(names) == 1 else 'them'}. Delete or rename to have anew what is told now."


def drawn(files: int, new: int, folder: Path) -> str:
    """A kit's printables and pictures were drawn."""
    if not new:
        return f"Nothing has changed: {number(files, 'file', 'files')} in {folder}."
    return (
        f"Wrote {new} of {number(files, 'file', 'files')} in {folder}; the others are as they were."
        if new < files
        else (f"Wrote {number(files, 'file', 'files')} to {folder}.")
    )


READING = "Reading the kits"
NOT_PUBLIC = "This is not public: put it only where a password guards it."
NO_KITS = "No kit is public yet: each comes with its reveal."
NO_MEMBERS_FILES = "Nothing for members yet: no public kit has files under  members , or says  cut files: members."


def built(kits: int, seconds: Fraction, index: Path) -> str:
    """A site was built."""
    return f"Built {number(kits, 'kit', 'kits') if kits else 'the site, without a kit,'} in {round(seconds)} s. Open {index}"


def unchanged(kits: int, index: Path) -> str:
    """A site stands as it would be built."""
    of = f" of {number(kits, 'kit', 'kits')}" if kits else ""
    return f"Nothing has changed: the site{of} stands as it was built. Open {index}"


# --- calendar -------------------------------------------------------------------------------------


def clock_of(zone: str) -> str:
    """Whose clock the calendar goes by."""
    return f"By the clocks of {city(zone)}:" if city(zone) != "UTC" else "In UTC:"


def due(at: dt.datetime, past: bool, kit: str, name: str, missing: bool) -> str:
    """One line of the calendar: when, whether that is past, which kit, what, and which night where it is to come and a date leaves that open."""
    night = "" if past else night_text(at)
    return (
        f"{DAYS[at.weekday()][:3]} {at:%Y-%m-%d %H:%M}  {'past' if past else 'to come':7}  {kit}  {name}"
        f"{f', {night}' if night else ''}{', not released' if missing else ''}"
    )


def wrote(file: Path) -> str:
    """A file was written."""
    return f"Wrote {file}."
