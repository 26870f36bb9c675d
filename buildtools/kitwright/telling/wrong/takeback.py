"""Why a revision can't be taken back."""

from __future__ import annotations

import datetime as dt

from kitwright.errors import Said


def never_released(kit: str) -> Said:
    return f"{kit} was never released, so there is nothing to take back", f"release it with  kitwright release {kit}"


def was_public(kit: str, revision: int, at: dt.datetime) -> Said:
    return (
        f"revision {revision} of {kit} has been public since {at:%Y-%m-%d %H:%M} UTC, and readers may have it",
        f"correct it with  kitwright erratum {kit}",
    )
