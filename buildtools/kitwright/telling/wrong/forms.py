"""Why a kit can't be published in a new form."""

from __future__ import annotations

from kitwright.errors import Said


def never_released(kit: str) -> Said:
    return f"{kit} was never released, so it has no other form", f"release it with  kitwright release {kit};  it comes in the form of today"


def new_already(kit: str, revision: int) -> Said:
    return (
        f"revision {revision} of {kit} has the form of today, so there is nothing to do",
        "to change what it says, mend the kit and type  kitwright erratum",
    )
