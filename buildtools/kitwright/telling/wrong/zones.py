"""Time zones that are none, or that name no place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from kitwright.errors import Said
from kitwright.telling.moments import city
from kitwright.telling.words import number

if TYPE_CHECKING:
    from kitwright.release.zonemove import Moved


def _write(meant: tuple[str, ...]) -> str:
    if meant:
        return f"write {' or '.join(meant)}, if that is where your clocks are"
    return "write a region and a large city that goes by the same clocks, an IANA name such as Europe/Lisbon"


def unknown(name: str, meant: tuple[str, ...]) -> Said:
    return f"“{' '.join(name[:40].split())}” is not a time zone", _write(meant)


def no_place(name: str, meant: tuple[str, ...]) -> Said:
    return f"“{name}” is no place, so it says nothing of summer time", _write(meant)


def a_distance(name: str) -> Said:
    return (
        f"“{name}” is no place, so it says nothing of summer time",
        "write the place whose clocks you go by, such as Europe/Lisbon, or UTC",
    )


def moved(was: str, now: str, moved: Sequence[Moved]) -> Said:
    first = f"; the first is {moved[0].name} of {moved[0].kit}" if moved else ""
    return (
        f"the club’s time zone was {city(was)} and is {city(now)} now: {number(len(moved), 'moment', 'moments')} to come would move{first}",
        "see which with  kitwright calendar,  and agree there or with  kitwright calendar --agree;  else put  time zone: "
        + was
        + "  back. "
        "What is public already keeps its dates either way",
    )


def not_moved() -> Said:
    return "the time zone is as it was: there is nothing to agree to", "type the new one here first"
