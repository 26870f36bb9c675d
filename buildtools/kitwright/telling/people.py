"""People as pages and commands tell of them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, assert_never

from kitwright.errors import Place
from kitwright.telling.words import number

if TYPE_CHECKING:
    from kitwright.release.forget import Kept


def portrait_of(name: str) -> str:
    """What a picture of somebody shows, where she does not say it."""
    return f"A picture of {name}"


# --- forgetting -----------------------------------------------------------------------------------


def forget_her(name: str) -> str:
    """Whether a person is really to be forgotten."""
    return f"Forget {name}? Her folder is deleted, and “a maker” stands in her place."


def forgotten(files: int) -> str:
    """A person was taken out of so many files."""
    return f"Forgotten; {number(files, 'more file', 'more files')} changed. Now build the site, the team's and the members' anew."


def renamed(old: Path, new: Path) -> str:
    """A file that was called after her."""
    return f"  renamed {old} to {new}"


def part_left(place: Place) -> str:
    """Where a part of her name still stands."""
    return f"{place}: a part of the name stands here; look whether it means the same person"


def kept(file: Path, why: Kept, pictures: int) -> str:
    """What may still hold her name and was not changed.

    Args:
        file: the file or folder.
        why: the reason.
        pictures: how many pictures, where these are the reason.
    """
    return f"{file}: not changed: {kept_because(why, pictures)}"


def kept_because(why: Kept, pictures: int = 0) -> str:
    """Why something was not changed."""
    match why:
        case "link":
            return "a link stays as it is"
        case "id":
            return "the id of a kit never changes"
        case "unreadable":
            return "it is too large, or can't be read"
        case "buried":
            return "her name is in it, and it is no text"
        case "no text":
            return "it is no text: look whether it names her"
        case "hidden":
            return "it is hidden: take her name out by hand"
        case "pictures":
            many = "s" if pictures > 1 else ""
            return f"{pictures} picture{many} can't be looked through: look whether she, her cards or her name are to be seen"
        case "old printables":
            many = "s" if pictures > 1 else ""
            return (
                f"of {pictures} old printable{many} only the words that lie beside can be looked through: look at what is scanned, or long"
            )
        case "history":
            return "the past of the repository keeps her name; ask whoever looks after it"
        case _:
            assert_never(why)
