"""People who are named and not on file, or who have not agreed."""

from __future__ import annotations

from kitwright.errors import Said


def bad_key(key: str) -> Said:
    return f"“{key[:60]}” can't be a person's key", "name the folder like ada-bell: small letters and dashes"


def nobody(key: str, known: tuple[str, ...]) -> Said:
    return (f"there is nobody {key} in kits/people", f"write kits/people/{key}/person.yaml, or one of: {', '.join(known) or 'nobody yet'}")


def nobody_called(name: str, known: tuple[str, ...]) -> Said:
    return (
        f"there is nobody called {name[:60]} in kits/people",
        f"on file: {', '.join(known) or 'nobody'}; somebody who stands in old printables alone gets a folder there first, with her name",
    )


def not_agreed(who: str) -> Said:
    return f"{who} has not agreed to have her cards shown, so this sample is left out", "ask her, and note it under  consent"


# --- forgetting -----------------------------------------------------------------------------------


def named_after_her() -> Said:
    return (
        "this file is named after her, and it is too large or can't be read",
        "rename it by hand, and what names it, then type this again; nothing was changed",
    )


def other_meaning() -> Said:
    return (
        "this file would not mean the same without her name",
        "take the name out by hand where it stands as a word before a colon, or in an odd place, then type this again; nothing was changed",
    )
