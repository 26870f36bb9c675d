"""Kits that are left out of a build, since they can't be read and are not due."""

from __future__ import annotations

import datetime as dt

from kitwright.errors import Said
from kitwright.findings import Finding
from kitwright.telling.words import date_text


def left_out(kit: str, day: dt.date, first: Finding, more: int) -> Said:
    return _left_out(kit, day, f"{first.problem}{f', and {more} more' if more else ''}")


def fault(kit: str, day: dt.date, fault: str) -> Said:
    return _left_out(kit, day, f"kitwright itself fails over this ({fault})")


def _left_out(kit: str, day: dt.date, why: str) -> Said:
    return (
        f"{kit[:60]} is left out, and not due before {date_text(day)}: {why}",
        f"mend it by then, or that day’s build stops;  kitwright check {kit[:60]}  tells everything",
    )
