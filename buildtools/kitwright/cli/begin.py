"""`kitwright begin`: an archive of one's own."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import TypeVar

import click

from kitwright.archive.begin import Beginning, HowTyped, club_name, place_for, write_archive
from kitwright.cli.schemas import renew_schemas
from kitwright.cli.terminal import at_a_terminal, say
from kitwright.cli.typed import typed_here
from kitwright.cli.worded import Worded
from kitwright.errors import Place, UserError
from kitwright.kit.clock import country, zone_here, zone_of
from kitwright.kit.project import KITS
from kitwright.kit.read import check_address
from kitwright.telling import begun as words

REGIONS = ("us", "metric")
ANSWERS = {
    "us": ("us", "usa", "in", "inch", "inches", "letter"),
    "metric": ("metric", "mm", "cm", "millimetre", "millimetres", "millimeter", "millimeters", "a4"),
}
"""What somebody may answer who is asked, by the region that she means."""
AT_HOME_IN_INCHES = {"US", "CA", "PR", "GU", "VI", "AS", "MP"}
"""Countries where Letter lies in the printer; common practice, no source. Only the answer that is offered hangs on it."""
UTC = "UTC"
T = TypeVar("T")


@click.command("begin", cls=Worded)
@click.argument("folder", metavar="DIR")
@click.option("--name")
@click.option("--time-zone", metavar="CITY")
@click.option("--region", type=click.Choice(REGIONS, case_sensitive=False))
@click.option("--address", metavar="URL")
def command(folder: str, name: str | None, time_zone: str | None, region: str | None, address: str | None) -> None:
    place = place_for(folder)
    given = Beginning(
        club_name(name) if name is not None else "",
        zone_of(time_zone) if time_zone is not None else "",
        region or "",
        _address(address or ""),
    )
    here = None if given.zone else zone_here()
    club = _asked(given, here, address is None) if at_a_terminal() else _unasked(given, here)
    typed = typed_here()
    file, line = typed.kept_in, typed.shorter
    once = words.ONCE.format(file=file) if file else words.ONCE_ON_WINDOWS
    kit = write_archive(place, club, HowTyped(typed.line(), once, line or ""), dt.datetime.now(dt.UTC))
    renew_schemas(place / KITS)
    say(words.wrote(place, kit))
    say(words.taken(club.zone, club.region))
    if not (given.zone or here) and club.zone == UTC:
        say(words.NOWHERE)
    say(f"\n{words.NEXT}\n\n  {typed.go(place)}\n  {typed.line('build')}\n\n{words.FROM_THERE}")
    if line:
        say(f"\n{words.shorter(file)}\n\n" + "\n".join(f"  {each}" for each in line.split("\n")))


def _asked(given: Beginning, here: str | None, with_address: bool) -> Beginning:
    """What was given, and the rest as it is answered."""
    if not (given.name and given.zone and given.region and (given.address or not with_address)):
        say(words.QUESTIONS)
    name = given.name or _ask(words.NAME, club_name)
    zone = given.zone or _ask(words.ZONE, zone_of, here)
    region = given.region or _ask(words.REGION, _region, _usual(zone))
    address = given.address or (_ask(words.ADDRESS, _address, "") if with_address else None)
    return Beginning(name, zone, region, address)


def _unasked(given: Beginning, here: str | None) -> Beginning:
    """What was given, and the rest as far as this machine tells it.

    Raises:
        UserError: something is missing that only she can say.
    """
    zone = given.zone or here or UTC
    region = given.region or _usual(zone) or ""
    missing = tuple(what for what, said in (("name", given.name), ("region", region)) if not said)
    if missing:
        raise UserError("begin.not-asked", missing=missing)
    return Beginning(given.name, zone, region, given.address)


def _usual(zone: str) -> str | None:
    """The region that most who live by these clocks are at home in; None where no country is known."""
    where = country(zone)
    return None if where is None else "us" if where in AT_HOME_IN_INCHES else "metric"


def _ask(question: str, read: Callable[[str], T], offered: str | None = None) -> T:
    """Ask until what is answered can be read."""

    def answer(text: str) -> T:
        try:
            return read(text)
        except UserError as error:
            raise click.UsageError(f"{error.problem}: {error.remedy}") from None

    told: T = click.prompt(question, value_proc=answer, default=offered, show_default=bool(offered), prompt_suffix=" ")
    return told


def _region(text: str) -> str:
    """The region that an answer means."""
    for region, answers in ANSWERS.items():
        if text.strip().casefold() in answers:
            return region
    raise UserError("begin.no-region", text=text)


def _address(text: str) -> str | None:
    if not text.strip():
        return None
    check_address(text, Place())
    return text.strip()
