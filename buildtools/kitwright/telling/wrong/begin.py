"""Places and names with which no archive can begin."""

from __future__ import annotations

from pathlib import Path

from kitwright.errors import Said
from kitwright.telling.words import listed

_NOTHING = "; nothing was written"


def not_asked(missing: tuple[str, ...]) -> Said:
    flags = {"name": '--name "The Paper Bench"', "region": "--region us, or --region metric"}
    said = {"name": "the club’s name", "region": "the region"}
    return (
        f"{listed([said[each] for each in missing])} can’t be asked for here, since this is no terminal",
        f"add  {'  and  '.join(flags[each] for each in missing)}{_NOTHING}",
    )


def no_folder(text: str) -> Said:
    return f"“{text[:60]}” can’t be a folder" if text else "no folder is named", f"name one, such as ../my-club{_NOTHING}"


def a_file() -> Said:
    return "this is a file, and an archive is a folder", f"choose another name{_NOTHING}"


def already() -> Said:
    return "this folder holds an archive already", f"go there and type  kitwright check,  or choose another folder{_NOTHING}"


def called_kits(beside: Path) -> Said:
    return "an archive holds a folder called kits, so it can’t be called that itself", f"call it for example {beside}{_NOTHING}"


def other_files(file: str) -> Said:
    return f"this folder holds other files, such as {file}", f"choose a new or an empty one{_NOTHING}"


def inside_another(archive: Path, beside: Path) -> Said:
    return f"this lies inside another archive, {archive}", f"choose a folder beside it, such as {beside}{_NOTHING}"


def inside_a_site(site: Path) -> Said:
    return f"this lies inside a built site, {site}, which the next build replaces", f"choose a folder elsewhere{_NOTHING}"


def no_name(text: str) -> Said:
    shown = " ".join(text.split())[:40]
    return (
        f"“{shown}” can’t be a club’s name",
        f"give one line of 1 to 120 characters, with a letter or a digit in it, and without [[{_NOTHING}",
    )


def no_region(text: str) -> Said:
    return f"“{' '.join(text.split())[:40]}” is neither", "answer us or inches, metric or mm"
