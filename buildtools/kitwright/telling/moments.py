"""Moments in words, wherever they are told: the day of the week always, the place whose clocks are meant, and never a bare midnight.

A midnight belongs to two days, so that somebody comes a day late. It is told by the day that it
ends where something is due by then, by the day that it begins where something may be shown from
then on, and by both days besides. Data, such as the feed, has RFC 3339 instead.
"""

from __future__ import annotations

import datetime as dt

from kitwright.telling.words import date_text, shortened

DAYS = "Monday Tuesday Wednesday Thursday Friday Saturday Sunday".split()
SMALL_HOURS = 4
"""Until this hour people may call it the night of the day before."""
_AS_SPELT = {
    "Asuncion": "Asunción",
    "Bogota": "Bogotá",
    "Canary": "Canary Islands",
    "Cayman": "Cayman Islands",
    "Easter": "Easter Island",
    "Faroe": "Faroe Islands",
    "Galapagos": "Galápagos",
    "Ho Chi Minh": "Ho Chi Minh City",
    "Kiev": "Kyiv",
    "Reunion": "Réunion",
    "Sao Paulo": "São Paulo",
    "St Johns": "St John’s",
    "Zurich": "Zürich",
}
"""Places whose IANA name is not how they are spelt; from memory."""


# --- where -------------------------------------------------------------------------------------------


def city(zone: str) -> str:
    """The place of a time zone in plain words: `Lisbon`, `New York`, `St John’s`; `UTC` for none.

    Args:
        zone: an IANA name.
    """
    # Late, for --help words moments too, and needs no kit.
    from kitwright.kit.clock import placed

    name = placed(zone).rsplit("/", 1)[-1].replace("_", " ")
    return _AS_SPELT.get(name, name)


def in_place(zone: str) -> str:
    """`in Lisbon`, or `UTC`."""
    name = city(zone)
    return name if name == "UTC" else f"in {name}"


# --- when --------------------------------------------------------------------------------------------


def day_text(day: dt.date) -> str:
    """`Friday 5 March 2027`."""
    return f"{DAYS[day.weekday()]} {date_text(day)}"


def when_text(local: dt.datetime) -> str:
    """A moment from which on something is so: `Friday 5 March 2027, 18:30, Lisbon time`.

    Args:
        local: the moment in the time zone whose clocks are meant.
    """
    if midnight(local):
        return f"the very start of {day_text(local)} ({_between(local)}), {_where(local)}"
    return f"{day_text(local)}, {_clock(local)}, {_where(local)}"


def until_text(local: dt.datetime) -> str:
    """A moment by which something is due: the same, but a midnight is the end of a day.

    Args:
        local: the moment in the time zone whose clocks are meant.
    """
    if midnight(local):
        return f"the end of {day_text(_day_before(local))} ({_between(local)}), {_where(local)}"
    return when_text(local)


def midnight(local: dt.datetime) -> bool:
    """Whether a moment lies between two days."""
    return (local.hour, local.minute) == (0, 0)


def night_text(local: dt.datetime) -> str:
    """Which night is meant, where a date alone could be taken for the day before or after; empty where it can't."""
    if midnight(local):
        return _between(local)
    return f"the night from {_two_days(local, ' to ')}" if local.hour < SMALL_HOURS else ""


def _between(local: dt.datetime) -> str:
    return f"midnight between {_two_days(local, ' and ')}"


def _two_days(local: dt.datetime, joint: str) -> str:
    return joint.join((DAYS[_day_before(local).weekday()], DAYS[local.weekday()]))


def _day_before(local: dt.datetime) -> dt.date:
    return local.date() - dt.timedelta(days=1)


def _clock(local: dt.datetime) -> str:
    """The time of day, with whatever a bare one leaves open."""
    noon = " noon" if (local.hour, local.minute) == (12, 0) else ""
    more = [night] if (night := night_text(local)) else []
    if local.utcoffset() != local.replace(fold=1 - local.fold).utcoffset():
        # Clocks show this time twice, as they go back.
        more.append(f"the {'second' if local.fold else 'first'} of the two times that clocks show it")
    told = f" ({', '.join(more)})" if more else ""
    return f"{local:%H:%M}{noon}{told}"


def _where(local: dt.datetime) -> str:
    """Whose clocks; never with “in”, which stands for inches behind a figure."""
    name = city(str(local.tzinfo))
    return name if name == "UTC" else f"{name} time"


# --- in a calendar ---------------------------------------------------------------------------------


def event_title(kit: str, name: str) -> str:
    """What an event is called.

    Args:
        kit: the kit's title.
        name: the moment's own name.
    """
    return f"{kit}: {name}"


def ready_title(kit: str, name: str) -> str:
    """What a deadline of the whole team is called that is no moment of the kit's own."""
    return f"{kit}: due, {name}"


def event_about(kit: str, local: dt.datetime, show: str) -> str:
    """What an event is.

    Args:
        kit: the kit's id.
        local: the moment on the clock of whoever reads it.
        show: what may be shown from then on; empty where the author does not say it.
    """
    shown = f" From then on may be shown: {show}" if show else ""
    return f"Kit {kit}, {when_text(local)}.{shown}"


def due_title(kit: str, local: dt.datetime, make: str) -> str:
    """What an event is called by which something has to be ready; a calendar shows a midnight on the day that it begins."""
    end = f" by the end of {DAYS[_day_before(local).weekday()]}" if midnight(local) else ""
    return f"{kit}, due{end}: {shortened(make, 80)}"


def due_about(kit: str, local: dt.datetime, make: str) -> str:
    """What that event is."""
    return f"Kit {kit}. To be ready by {until_text(local)}: {make}."


def due_soon(kit: str, local: dt.datetime, make: str = "") -> str:
    """What an alarm says before it."""
    return f"{kit}, due by {until_text(local)}{f': {make}' if make else ''}"


def show_now(kit: str, show: str) -> str:
    """What an alarm says at the moment from which something may be shown."""
    return f"{kit}: from now on you may show {show}"
