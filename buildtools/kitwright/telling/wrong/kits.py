"""Folders of kits, and kits, that are not there or can't be what they are named."""

from __future__ import annotations

from pathlib import Path

from kitwright.errors import Said


def no_root(start: Path) -> Said:
    return f"no kits folder was found in {start} or above it", "go to your archive first, or begin one with  kitwright begin ../my-club"


def no_folder() -> Said:
    return "there is no folder of kits here", "go to your archive first, or begin one with  kitwright begin ../my-club"


def none() -> Said:
    return "there are no kits in this folder", "“kitwright new 2027-03-first-kit” writes a starter kit"


def unknown(name: str, near: str | None) -> Said:
    return (
        f"there is no kit {name[:60]}" if name else "no kit is named",
        f"did you mean {near}?" if near else "“kitwright check” lists the kits there are",
    )


def not_a_folder() -> Said:
    return "a kit is a folder, and this is none", "give the path to the folder that holds its kit.yaml"


_WRITES = {
    "club.yaml": "begin an archive with  kitwright begin ../my-club,  and copy its kits/club.yaml here",
    "kit.yaml": "“kitwright new” writes a starter kit",
}


def no_file(name: str, near: str | None, add: tuple[str, ...]) -> Said:
    if near:
        return f"there is no such file, but {near}", f"rename {near} to {name}"
    written = f"{_WRITES[name]}; or " if name in _WRITES else ""
    lines = "".join(f"\n    {line}" for line in add)
    return (f"there is no such file, so nothing says {_TELLS[name]}", f"{written}create it with these lines, in your own words:{lines}")


_TELLS = {"club.yaml": "who publishes", "kit.yaml": "what the kit is", "person.yaml": "who that is"}


def one_id(one: str, other: str) -> Said:
    return f"two kits have one id: {one} and {other}", "rename one of the two folders"


def no_id(name: str, near: str | None = None) -> Said:
    return f"“{name[:60]}” can't be a kit's id", f"name the folder like {near or '2027-03-river-stones'}: year, month, short name"


def past_and_described() -> Said:
    return "this is said to be a past kit, of which only an old printable is left, and yet it is described", "take the line  past: yes  out"


def past_but_not_yes() -> Said:
    return "“past” is said, but not yes", "write  past: yes,  or leave the line out and describe the kit"


def no_pdf(name: str) -> Said:
    return f"{name} is not a PDF", "give the old printable as a PDF file"


def no_web_address(text: str) -> Said:
    return f"“{text[:60]}” is not a web address", "write it like https://cards.example/"


def taken(folder: Path) -> Said:
    return f"there is a folder {folder} already", "choose another name; nothing was changed"


def no_title(text: str) -> Said:
    return f"“{text[:40]}” can't be a title", "give one line of 1 to 120 characters, with a letter or a digit in it; nothing was changed"
