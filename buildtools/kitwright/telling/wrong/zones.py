"""Time zones that are none, or that name no place."""

from __future__ import annotations

from kitwright.errors import Said


def _write(meant: tuple[str, ...]) -> str:
    if meant:
        return f"write {' or '.join(meant)}, if that is where your clocks are"
    return "write an IANA name: a region and a city, such as Europe/Lisbon"


def unknown(name: str, meant: tuple[str, ...]) -> Said:
    return f"“{' '.join(name[:40].split())}” is not a time zone", _write(meant)


def no_place(name: str, meant: tuple[str, ...]) -> Said:
    return f"“{name}” is no place, so it says nothing of summer time", _write(meant)


def a_distance(name: str) -> Said:
    return (
        f"“{name}” is no place, so it says nothing of summer time",
        "write the place whose clocks you go by, such as Europe/Lisbon, or UTC",
    )
