"""What is wrong with a correction that is to be published."""

from __future__ import annotations

import datetime as dt

from kitwright.errors import Said


def never_released(kit: str) -> Said:
    return f"{kit} was never released, so there is nothing to correct", f"release it with  kitwright release {kit}"


def nothing_to_correct(kit: str, revision: int) -> Said:
    return f"{kit} is as revision {revision} has it, so there is nothing to correct", "change the kit first"


def too_early(revision: int, at: dt.datetime) -> Said:
    return f"revision {revision} is dated {at:%Y-%m-%d %H:%M} UTC, and a correction comes after it", "give a later time with --as-of"


def long_name(letters: int, most: int) -> Said:
    return f"a name has {most} letters at most, not {letters}", "give the name alone after --spotted-by"


def long_advice(letters: int, most: int) -> Said:
    return f"the advice has {letters} letters, and {most} are the most", "say in a sentence or two what to do with pieces already cut"


def advice_cites() -> Said:
    return "nothing can be cited in the advice", "write the size or the count out"


def advice_names_spotter() -> Said:
    return "the advice names who spotted it, and would be frozen with the name", "take the name out; she is thanked beside it"


def advice_names(name: str) -> Said:
    return f"the advice names {name}, who may ask one day to be forgotten, and would be frozen with the name", "take the name out"


def published_meanwhile(kit: str, revision: int) -> Said:
    return (
        f"revision {revision} of {kit} was published meanwhile",
        "look at it, and draft the correction again if it is still needed; nothing was changed",
    )
