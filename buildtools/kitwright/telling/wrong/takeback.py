"""Why a revision can't be taken back."""

from __future__ import annotations

import datetime as dt

from kitwright.errors import Said
from kitwright.telling.moments import when_text


def never_released(kit: str) -> Said:
    return f"{kit} was never released, so there is nothing to take back", f"release it with  kitwright release {kit}"


def was_public(kit: str, revision: int, at: dt.datetime) -> Said:
    return (
        f"revision {revision} of {kit} has been public since {when_text(at)}, and readers may have it",
        f"correct it with  kitwright erratum {kit}",
    )
