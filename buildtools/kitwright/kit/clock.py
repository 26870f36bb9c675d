"""Time zones: by the place whose clocks are meant, from the pinned tzdata package, so that every machine agrees."""

from __future__ import annotations

import datetime as dt
import difflib
import re
import unicodedata
from functools import lru_cache
from importlib.resources import files
from zoneinfo import ZoneInfo

from kitwright.errors import UserError

PRECISE = {"UTC", "Etc/UTC"}
"""Names without a place that are precise all the same."""
PLACES = {
    "America/New_York": "EST EDT ET EST5EDT EASTERN",
    "America/Chicago": "CST CDT CT CST6CDT CENTRAL",
    "America/Denver": "MST MDT MT MST7MDT MOUNTAIN",
    "America/Los_Angeles": "PST PDT PT PST8PDT PACIFIC",
    "America/Halifax": "AST ADT ATLANTIC",
    "America/St_Johns": "NST NDT",
    "America/Anchorage": "AKST AKDT",
    "Pacific/Honolulu": "HST HAST",
    "Europe/London": "GMT GMT0 GMT+0 GMT-0 BST GREENWICH",
    "Europe/Dublin": "IST",
    "Europe/Lisbon": "WET WEST",
    "Europe/Berlin": "CET CEST MET MEZ MESZ",
    "Europe/Athens": "EET EEST",
    "Europe/Moscow": "MSK",
    "Asia/Kolkata": "IST",
    "Asia/Tokyo": "JST",
    "Asia/Seoul": "KST",
    "Asia/Singapore": "SGT",
    "Africa/Johannesburg": "SAST",
    "Australia/Sydney": "AEST AEDT",
    "Australia/Perth": "AWST",
    "Australia/Adelaide": "ACST ACDT",
    "Pacific/Auckland": "NZST NZDT NZ",
}
"""Where clocks show an abbreviation, for one example each; common practice, no source."""
REGIONS = ("US", "Canada", "Brazil", "Chile", "Mexico", "Australia")
"""Whose older names may be those of a region: `US/Eastern`."""
_LINK = re.compile(r"^L (\S+) (\S+)$", re.MULTILINE)
"""A name that means the same as another, in the rules of the tz database."""
_END_OF_DAY = re.compile(r"(\d{4}-\d{2}-\d{2})[ T]24:00")
_OFFSET = re.compile(r"(?:etc/)?(?:utc|gmt|z)?\s*[+\-−]\s*\d{1,2}(?::?\d{2})?", re.IGNORECASE)


@lru_cache(maxsize=1)
def _names() -> tuple[str, ...]:
    return tuple(files("tzdata").joinpath("zones").read_text(encoding="utf-8").split())


@lru_cache(maxsize=64)
def zone(name: str) -> ZoneInfo:
    """A time zone by its IANA name.

    Raises:
        UserError: no zone of that name, with the one that may be meant.
    """
    if name not in _names():
        raise UserError("zones.unknown", name=name, meant=_meant(name))
    *folders, last = name.split("/")
    with files("tzdata.zoneinfo").joinpath(*folders, last).open("rb") as stream:
        return ZoneInfo.from_file(stream, key=name)


def precise_zone(name: str) -> ZoneInfo:
    """A time zone by the place whose clocks are meant.

    An abbreviation or a distance from Greenwich says nothing of summer time, so that a moment
    would be an hour off for half of the year.

    Raises:
        UserError: no zone of that name, or one that names no place.
    """
    if _OFFSET.fullmatch(name.strip()):
        raise UserError("zones.a-distance", name=name.strip())
    if name not in PRECISE and ("/" not in name or name.startswith("Etc/")) and (name in _names() or _abbreviated(name)):
        raise UserError("zones.no-place", name=name, meant=_meant(name))
    return zone(name)


def zone_of(typed: str) -> str:
    """The name of the zone of a place, which may be typed as its city alone: `Lisbon`.

    Raises:
        UserError: no zone of that name, or one that names no place, with the one that may be meant.
    """
    name = typed.strip()
    try:
        precise_zone(name)
    except UserError:
        # The zone database writes its places without accents.
        name = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
        short = "_".join(name.split()).casefold()
        cities = [n for n in _meant(name) if short in (n.casefold(), n.rsplit("/", 1)[-1].casefold())] if name else []
        # A place with an older name besides is meant by its own.
        cities = [n for n in cities if country(n)] or cities
        if len(cities) != 1:
            raise
        return cities[0]
    return name


def zone_here() -> str | None:
    """The zone that this machine goes by, where it names a place."""
    from babel.localtime import get_localzone

    try:
        name = str(get_localzone())
        precise_zone(name)
    except (LookupError, ValueError, OSError, UserError):
        return None
    return None if name in PRECISE else name


def country(name: str) -> str | None:
    """The country of a zone's place, as two letters, by the zone database's own table; None where it lists none."""
    rows = files("tzdata.zoneinfo").joinpath("zone.tab").read_text(encoding="utf-8").splitlines()
    return next((row[:2] for row in rows if not row.startswith("#") and row.split("\t")[2] == name), None)


def _abbreviated(name: str) -> list[str]:
    short = name.removeprefix("Etc/").upper()
    return [place for place, words in PLACES.items() if short in words.split()]


def _meant(name: str) -> tuple[str, ...]:
    """Which names may be meant: one or two, or none that is near."""
    short = "_".join(name.split()).casefold()
    places = [n for n in _names() if "/" in n and not n.startswith("Etc/")]
    found = (
        [n for n in places if n.casefold() == short]
        or _abbreviated(name)
        or [n for n in places if n.rsplit("/", 1)[1].casefold() == short.rsplit("/", 1)[-1]]
    )
    if not found and name in _names():
        data = files("tzdata.zoneinfo")
        found = [n for n in places if data.joinpath(*n.split("/")).read_bytes() == data.joinpath(*name.split("/")).read_bytes()]
    if not found and short in ("utc", "etc/utc", "universal", "etc/universal", "zulu", "etc/zulu", "uct", "etc/uct", "z"):
        found = ["UTC"]
    cities = {n.rsplit("/", 1)[1].casefold(): n for n in places}
    near = difflib.get_close_matches(short, cities, 1, 0.8) if "/" not in name else []
    found = found or difflib.get_close_matches(name, places, 1, 0.75) or [cities[city] for city in near]
    # Continents first: the rest are older names of the same places.
    found.sort(key=lambda n: n.split("/")[0] in ("US", "Canada", "Brazil", "Chile", "Mexico"))
    return tuple(found[:2])


@lru_cache(maxsize=64)
def placed(name: str) -> str:
    """A time zone by the name that has a city in it: `America/New_York` for `US/Eastern`; any other as it is."""
    if name.split("/")[0] not in REGIONS:
        return "UTC" if name in PRECISE else name
    rules = files("tzdata.zoneinfo").joinpath("tzdata.zi").read_text(encoding="utf-8")
    return {link: target for target, link in _LINK.findall(rules)}.get(name, name)


def end_of_day(text: str) -> dt.datetime | None:
    """The midnight that ends a day, typed as `2027-03-05 24:00` (ISO 8601 has it so); None for any other text.

    Raises:
        ValueError: there is no such day.
        OverflowError: there is no day after it.
    """
    match = _END_OF_DAY.fullmatch(text.strip())
    return dt.datetime.strptime(match[1], "%Y-%m-%d") + dt.timedelta(days=1) if match else None
