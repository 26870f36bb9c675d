"""Old printables that can't be used, or not yet."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from kitwright.errors import Said
from kitwright.kit.read import LARGEST_PDF
from kitwright.telling.words import date_text, megabytes, month_text

_SAVE = "open it in a PDF viewer and save or print it as a new PDF"


def encrypted(name: str) -> Said:
    return f"{name} asks for a password, so readers can't open it", "save it without the password"


def broken(name: str) -> Said:
    return f"{name} can't be opened: it is broken, or breaks off", f"take it from a backup, or {_SAVE}"


def no_page(name: str) -> Said:
    return f"{name} has no page", "give the PDF that was meant"


def stubborn(name: str) -> Said:
    return f"{name} can't be read: it asks for far more work or memory than a printable does", _SAVE


def too_large(name: str) -> Said:
    return f"{name} is far too large for a printable", f"{megabytes(LARGEST_PDF)} is the most; save it smaller"


def empty(name: str) -> Said:
    return f"{name} is no PDF: there is nothing in it", "take it from a backup, or load it down anew"


def no_pdf(name: str) -> Said:
    return f"{name} is no PDF, whatever it is called", "if it is a picture, open it, and print it as a PDF"


def unreadable(name: str) -> Said:
    return f"{name} can't be read", "check the file's permissions"


def other_month(day: dt.date, month: dt.date) -> Said:
    return f"{date_text(day)} is in another month than its folder, {month_text(month)}", "correct the one or the other: the day counts"


def undated(name: str, year: int | None, typed: Path) -> Said:
    return (
        f"nothing tells when {name} is from" + (f", but for the year {year}" if year else ""),
        f'put its month into its name, or say it:  kitwright import "{typed}" --month {year or 2019}-07',
    )


def changed(name: str) -> Said:
    return f"{name} was changed while it was looked at", "import it again"


def not_there() -> Said:
    return "there is no such file or folder", "give the folder that holds the old printables"


def not_a_pdf() -> Said:
    return "this is neither a folder nor a PDF", "give the folder that holds the old printables, or one PDF"


def no_month(text: str) -> Said:
    return f"“{text[:40]}” is no month that is over or has begun", "write it like 2019-07"


def loose(name: str) -> Said:
    return f"{name} is in no kit, so the site shows nothing of it", f'make a past kit of it with  kitwright import "{name}"'


def only_loose(kits: str) -> Said:
    return "there are PDFs here, and no kits yet", f"make past kits of them with  kitwright import {kits}"
