"""Files that can't be read or written, or that a spec may not name."""

from __future__ import annotations

import unicodedata

from kitwright.errors import Said
from kitwright.telling.words import megabytes

# --- text files -----------------------------------------------------------------------------------


def a_folder(name: str) -> Said:
    return "this is a folder, not a file", f"put a text file named {name} in its place"


def no_ordinary_text(name: str) -> Said:
    return "this is no ordinary file", f"put a text file named {name} in its place"


def a_link(name: str) -> Said:
    return "this is a link to a file somewhere else", f"put the text itself here, as {name}"


def none() -> Said:
    return "there is no such file", "create it, or check its name"


def too_long() -> Said:
    return "this file is far too long for its job", "a spec is a page or two of text"


def unreadable_text(why: str | None) -> Said:
    return f"this can't be read ({why or 'a link that leads nowhere'})", "check the file's permissions"


def no_utf_8() -> Said:
    return "this is not plain UTF-8 text", "save the file as UTF-8"


# --- files that a spec names ----------------------------------------------------------------------


def _short(name: str) -> str:
    """A name as an error shows it: one short line."""
    clean = "".join(c if unicodedata.category(c)[0] not in "CZ" else " " for c in name[:60])
    return " ".join(clean.split())[:40]


def _a_file_in(folder: str) -> str:
    return f"give the name of a file in {folder}/, such as photos/first.jpg"


def no_name(name: str, folder: str) -> Said:
    return f"“{_short(name)}” can't be the name of a file", _a_file_in(folder)


def long_name(name: str, folder: str) -> Said:
    return f"“{_short(name)}” is too long for the name of a file", _a_file_in(folder)


def backslash(name: str, folder: str) -> Said:
    return f"“{_short(name)}” has a backslash in it", "write / between a folder and a file, on Windows too"


def outside(name: str, folder: str) -> Said:
    return f"“{_short(name)}” lies outside the folder", "put the file inside the folder, and name it from there, such as photos/first.jpg"


def no_name_everywhere(name: str, folder: str) -> Said:
    return f"“{_short(name)}” can't be the name of a file on every system", "name it with letters, digits and dashes"


def hidden(name: str, folder: str) -> Said:
    return f"“{_short(name)}” is hidden", "name it without a dot before it"


def linked_outside(name: str, folder: str) -> Said:
    return f"{name} lies outside {folder}/: a link leads there", "put the file itself inside the folder"


def not_there(name: str, folder: str, near: str | None) -> Said:
    return f"there is no file {name} in {folder}/", f"did you mean {near}?" if near else "add the file, or take this line out"


def unreadable(name: str, folder: str) -> Said:
    return f"{_short(name)} can't be read", f"look at the file in {folder}/, or take this line out"


def named_a_folder(name: str, folder: str) -> Said:
    return f"there is no file {name} in {folder}/, but a folder of that name", "name a file in it"


def no_ordinary_file(name: str) -> Said:
    return f"{name} is no ordinary file", "put the file itself in its place"


def forbidden(name: str) -> Said:
    return f"{name} can't be read", "check the file's permissions"


def too_large(name: str, size: int, most: int) -> Said:
    return f"{name} is far too large: {megabytes(size)}", f"{megabytes(most)} is the most; save it smaller"


def link_out(name: str, home: str) -> Said:
    return f"{name} is a link that leads out of {home}/", "put the folder or file itself here: nothing is read through such a link"


def and_more() -> Said:
    return "and more is wrong from here on", "mend what is told above first"
