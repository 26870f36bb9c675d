"""Moments as a calendar shows them."""

from __future__ import annotations

import datetime as dt


def event_title(kit: str, name: str) -> str:
    """What an event is called.

    Args:
        kit: the kit's title.
        name: the moment's own name.
    """
    return f"{kit}: {name}"


def event_about(kit: str, local: dt.datetime, zone: str, show: str) -> str:
    """What an event is.

    Args:
        kit: the kit's id.
        local: the moment in the club's own time.
        zone: the club's time zone.
        show: what may be shown from then on; empty where the author does not say it.
    """
    shown = f" From then on may be shown: {show}" if show else ""
    return f"Kit {kit}, {local:%Y-%m-%d %H:%M} in {zone}.{shown}"
