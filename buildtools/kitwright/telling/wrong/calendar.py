"""Moments that are mistyped, or that clocks and calendars contradict; and where the calendar file can't go."""

from __future__ import annotations

import datetime as dt

from kitwright.errors import Said
from kitwright.telling.moments import DAYS, day_text, in_place
from kitwright.telling.words import month_text, number


def no_time(text: str, meant: str | None = None) -> Said:
    like = meant or "2027-03-06 10:00"
    return (f"“{text[:30]}” is not a time", f"write it like {like}, in the club's own time, or with an offset such as +01:00")


def too_far(text: str) -> Said:
    return f"“{text[:30]}” is too far away", "write a time within a lifetime"


def other_month(reveal: dt.datetime, month: dt.date) -> Said:
    months = (reveal.year - month.year) * 12 + reveal.month - month.month
    by = number(abs(months) // 12, "year", "years") if months % 12 == 0 else number(abs(months), "month", "months")
    return (
        f"the reveal is in {month_text(reveal.date())}, and the folder is that of {month_text(month)}: {by} {'early' if months < 0 else 'late'}",
        f"write it like {month:%Y-%m}-{reveal.day:02} {reveal:%H:%M}, rename the folder, or say  meant: reveal  on a line of its own",
    )


def skipped(moment: str, zone: str, at: dt.time, counts: dt.time) -> Said:
    return f"{moment}: clocks {in_place(zone)} skip {at:%H:%M} on that day", f"it counts as {counts:%H:%M}; write that, or another time"


def twice(moment: str, zone: str, at: dt.time) -> Said:
    return (
        f"{moment}: clocks {in_place(zone)} show {at:%H:%M} twice on that day",
        "the first of the two counts; choose another time if that is not meant",
    )


def due_at_midnight(moment: str, at: dt.datetime) -> Said:
    ends = at.date() - dt.timedelta(days=1)
    return (
        f"what is due by “{moment}” is due as {day_text(at)} begins, so at the end of {day_text(ends)}",
        f"if all of that {DAYS[at.weekday()]} counts, write {at:%Y-%m-%d} 24:00; else {ends} 24:00 says the same, and nobody is a day late",
    )


def due_after_shown(by: str, shows: str) -> Said:
    return (
        f"this is asked for by “{by}”, when it has been on show since “{shows}”",
        f"it is told as due a day before “{shows}”; name an earlier moment, or let it show later, by  from  under samples",
    )


def reveal_among_moments() -> Said:
    return "“reveal” is given among the moments", "write it as  reveal: …  at the top"


def samples_before_reveal() -> Said:
    return "samples come before the reveal", "nothing shows before the reveal; give a later time, or leave it"


def no_moment(moment: str, moments: tuple[str, ...]) -> Said:
    return f"there is no moment “{moment}” in this kit", f"its moments: {', '.join(moments)}"


def in_site() -> Said:
    return "the calendar names upcoming kits and can't go into the site", "give another place with --ics"


def no_ordinary_file() -> Said:
    return "this is no ordinary file", "give another name with --ics; nothing was written"


def no_calendar() -> Said:
    return "this file is something other than a calendar", "give another name with --ics; nothing was written"
