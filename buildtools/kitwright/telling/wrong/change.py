"""Changes to several files as one: why one can't be made, or taken up again after it was cut short."""

from __future__ import annotations

from kitwright.errors import Said, UserError

_NOTHING = "nothing was changed"


def _named(name: str) -> str:
    return f"“{name[:60]}”"


def impossible(reason: UserError) -> Said:
    return f"this can't be changed as a whole: {reason.problem}", _NOTHING


def unfollowed(reason: UserError, folder: str, ready: str) -> Said:
    return (
        f"this is the record of a half-done change, and it can't be followed: {reason.problem}",
        f"if a command of yours was cut short, put {folder}/ back from your backup; else delete the folder {ready}. Nothing was changed",
    )


def outside() -> Said:
    return "this lies outside the folder that is changed", _NOTHING


# --- why: each ends a sentence above ----------------------------------------------------------------


def no_folder(name: str) -> Said:
    return f"{name} is no folder", _NOTHING


def foreign(name: str, folder: str) -> Said:
    return f"{_named(name)} in {folder} is nothing that kitwright put there", _NOTHING


def too_long() -> Said:
    return "it is far too long", _NOTHING


def other_form() -> Said:
    return "it is empty, cut off or not in kitwright’s own form", _NOTHING


def other_files() -> Said:
    return "its files are not the ones that it names", _NOTHING


def both(name: str) -> Said:
    return f"it both writes and removes {name}", _NOTHING


def damaged(name: str) -> Said:
    return f"what it holds for {name} is damaged", _NOTHING


def changed_since(name: str) -> Said:
    return f"{name} was changed since", _NOTHING


def no_path(name: str, folder: str) -> Said:
    return f"{_named(name)} is no path below {folder}/", _NOTHING


def not_changed(name: str) -> Said:
    return f"{_named(name)} is nothing that kitwright would change", _NOTHING


def unseen(name: str) -> Said:
    return f"{_named(name)} can’t be looked at", _NOTHING


def through_a_link(name: str) -> Said:
    return f"{_named(name)} leads through a link", _NOTHING


def through_no_folder(name: str) -> Said:
    return f"{_named(name)} leads through what is no folder", _NOTHING


def not_that_folder(name: str, removed: bool) -> Said:
    return f"{_named(name)} is a folder that kitwright would not {'remove' if removed else 'overwrite'}", _NOTHING


def not_removed(name: str) -> Said:
    return f"{_named(name)} is nothing that kitwright would remove", _NOTHING


def other_kind(name: str) -> Said:
    return f"{_named(name)} is no kind of file that kits are made of", _NOTHING


def new_folder(name: str) -> Said:
    return f"{_named(name)} would begin a folder of its own", _NOTHING
