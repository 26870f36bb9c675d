"""What somebody of the team reads, in a brief or on her own page: her deadlines and moments on her own clock, and what she shares."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from kitwright.kit.kit import Kit
from kitwright.kit.model import Club, Task
from kitwright.kit.project import page_of, public_address
from kitwright.labels import named
from kitwright.release.calendar import REVEAL, Due, moments
from kitwright.release.team import Part
from kitwright.telling.arranging import titled
from kitwright.telling.moments import city, until_text, when_text
from kitwright.telling.steps import steps_of
from kitwright.telling.words import listed
from kitwright.work.worked import Worked

OWN_CARD = "a card of your own from this kit"
"""What is asked for where nothing is said."""
THE_KIT = "the kit itself, with its page and printables"
YOUR_OWN = "what you made"


@dataclass(frozen=True)
class Told:
    """A moment as somebody reads it on her own clock."""

    name: str
    when: str
    show: str
    """What may be shown from then on, where the author says it."""
    club: str = ""
    """The same on the club's clock; empty where that shows the same."""


@dataclass(frozen=True)
class ToldTask:
    """Something to make."""

    make: str
    by: str
    """When it is due, on her own clock."""
    moment: str
    """Which moment that is."""
    club: str
    """When it is due on the club's clock; empty where that shows the same."""


@dataclass(frozen=True)
class Asked:
    """Somebody who makes something for a kit; one for each thing that is asked of her."""

    name: str
    make: str
    due: str
    """The moment by which, and when that is on her clock."""
    times: tuple[Told, ...]
    post: str
    """What she can paste with her card."""
    post_from: str
    """From when on, on her clock."""
    page: str
    """Her own page of the kit, from the top of the team's site."""


@dataclass(frozen=True)
class ToldPart:
    """Somebody's part in a kit, as her own page tells it."""

    name: str
    """Her name where she agreed to it; empty otherwise."""
    mark: str
    """What her page is called by."""
    guest: bool
    tasks: tuple[ToldTask, ...]
    times: tuple[Told, ...]
    city: str
    """Whose clocks these are."""
    club_city: str
    elsewhere: bool
    """Whether a time zone of her own is on file."""
    post: str
    post_from: str


def page_name(mark: str) -> str:
    """What somebody's own page of a kit is called: an address that stays, whatever she is called."""
    return f"for-{mark}"


def page_title(title: str, name: str) -> str:
    """What somebody's own page of a kit is called.

    Args:
        title: the kit's.
        name: hers; empty where she did not agree to be named.
    """
    return f"{title}: for {name or 'you'}"


def told_part(worked: Worked, club: Club, part: Part) -> ToldPart:
    """Somebody's part in words, every moment on her own clock.

    Args:
        worked: the kit.
        club: as it is now.
        part: hers.
    """
    kit, zone = worked.kit, part.person.zone(club)
    tasks = []
    for task, due in part.tasks:
        here, there = until_text(due.at.astimezone(zone)), until_text(due.local)
        tasks.append(ToldTask(make_text(task), here, due_name(due), "" if alike(due, due.at.astimezone(zone)) else there))
    times = []
    for due in moments(kit, club):
        local = due.at.astimezone(zone)
        times.append(Told(due.name, when_text(local), shown_then(due, part), "" if alike(due, local) else when_text(due.local)))
    return ToldPart(
        name=part.person.name if part.person.agreed("name") else "",
        mark=part.mark,
        guest=part.guest,
        tasks=tuple(tasks),
        times=tuple(times),
        city=city(zone.key),
        club_city=city(club.time_zone),
        elsewhere=bool(part.person.spec.time_zone),
        post=post_text(kit, club, part),
        post_from=when_text(part.turn.at.astimezone(zone)),
    )


def asked_of(kit: Kit, club: Club, parts: Iterable[Part]) -> list[Asked]:
    """Everything that is asked of these, with every moment on the clock of whoever is asked."""
    found = []
    for part in parts:
        zone = part.person.zone(club)
        times = tuple(
            # In her own words, where the author says what may be shown.
            Told(due.name, when_text(due.at.astimezone(zone)), " ".join(due.show.split()) or shown_then(due, part))
            for due in moments(kit, club)
        )
        post, since = post_text(kit, club, part), when_text(part.turn.at.astimezone(zone))
        for task, due in part.tasks:
            by = f"{until_text(due.at.astimezone(zone))} ({due_name(due)})"
            found.append(Asked(part.person.name, make_text(task), by, times, post, since, f"kits/{kit.id}/{page_name(part.mark)}.html"))
    return found


@dataclass(frozen=True)
class Clock:
    """Every moment on one clock."""

    names: str
    """Who reads it: `Ada Bell and Noor Hale`."""
    times: tuple[Told, ...]


@dataclass(frozen=True)
class Posting:
    """A text that several can paste with their cards."""

    text: str
    since: tuple[tuple[str, str], ...]
    """Who, and from when on, on her clock; several who may at once are named together."""


def clocks_of(each: Iterable[Asked]) -> list[Clock]:
    """Everybody's moments, those who read the same clock together."""
    found: dict[tuple[Told, ...], list[str]] = {}
    for one in each:
        found.setdefault(one.times, []).append(one.name)
    return [Clock(listed(list(dict.fromkeys(names))), times) for times, names in found.items()]


def posts_of(each: Iterable[Asked]) -> list[Posting]:
    """What everybody can paste, each text once."""
    found: dict[str, dict[str, list[str]]] = {}
    for one in each:
        found.setdefault(one.post, {}).setdefault(one.post_from, []).append(one.name)
    return [Posting(text, tuple((listed(list(dict.fromkeys(names))), since) for since, names in by.items())) for text, by in found.items()]


def make_text(task: Task) -> str:
    """What to make."""
    return " ".join((task.make or OWN_CARD).split()).rstrip(".")


def due_name(due: Due) -> str:
    """By which moment something is due: `cards in`, `a day before samples`, `a day before the reveal`."""
    name = "the reveal" if due.name == REVEAL else due.name
    return f"a day before {name}" if due.ahead else due.name


def told_at(due: Due, local: dt.datetime) -> Told:
    """A moment in words, on the clocks of a place."""
    return Told(due.name, when_text(local), " ".join(due.show.split()))


def shown_then(due: Due, part: Part) -> str:
    """What somebody may show from a moment on; empty where it brings nothing new."""
    said = " ".join(due.show.split()) or (THE_KIT if due.name == REVEAL else "")
    return "; and ".join(filter(None, (said, YOUR_OWN if due.name == part.turn.name else "")))


def alike(due: Due, local: dt.datetime) -> bool:
    """Whether somebody's clock shows what the club's does."""
    return local.replace(tzinfo=None) == due.local.replace(tzinfo=None)


# --- what she shares ---------------------------------------------------------------------------------


def post_text(kit: Kit, club: Club, part: Part) -> str:
    """What she can paste with her card: whose kit it is, where it stands, and which links earn money."""
    address = public_address(club, page_of(kit.id))
    said = [f"My card is made from “{kit.spec.title}”, a kit by {club.name}."]
    if address:
        # Nothing stands right behind an address, or it would be taken for a part of it.
        said.append(f"Cut along: {address}")
    if any(link.earns for link in kit.spec.links):
        said.append("(Some links on the kit’s page earn the club money.)")
    if part.earns:
        said.append("(Some links to what I used earn money.)")
    return " ".join(said)


@dataclass(frozen=True)
class Shared:
    """A place of the kit's page that the team points its own readers to."""

    name: str
    address: str
    """In full; empty where the club has none."""


def shared_places(worked: Worked, club: Club, arrangements: Iterable[tuple[str, str]] = ()) -> tuple[Shared, ...]:
    """The kit's page and its steps, with their public addresses.

    Args:
        worked: the kit.
        club: whose site.
        arrangements: the pages of its arrangements: the design where there are several, and the file.
    """
    places = [
        ("The whole kit", ""),
        ("The sketch", "#the-sketch"),
        ("What you need", "#what-you-need"),
        ("The pieces", "#the-pieces"),
        ("Cutting guides", "#cutting-guides"),
        *((f"The guide for {layout.name}", f"#guide-{n}") for n, layout in enumerate(worked.layouts, 1)),
        *([] if worked.parts else [("The card base", "#the-card-base")]),
        ("Step by step", "#step-by-step"),
        *((design.kit.design, f"#{named('design', design.kit.design)}") for design in worked.designs if worked.parts),
        *((step.title, f"#{step.anchor}") for step in steps_of(worked)),
    ]
    page = page_of(worked.kit.id)
    found = [Shared(name, public_address(club, page + spot) or "") for name, spot in places]
    for design, file in arrangements:
        found.append(Shared(titled("Arrangements", design), public_address(club, page.replace("index.html", file)) or ""))
    return tuple(found)


# --- everything in one download ------------------------------------------------------------------------


def printable_text(name: str, ink: str) -> str:
    """A printable in the one download, by its edition and its ink."""
    return ", ".join(filter(None, (f"The printable, {name}", ink)))


def workbook_text(name: str) -> str:
    """A workbook in it, by its edition."""
    return f"The workbook, {name}"


def sheet_text(name: str, design: str = "") -> str:
    """A contact sheet in it, by its edition, and by the design where there are several."""
    return ", ".join(filter(None, ("The contact sheet of arrangements", design, name)))


def contents_text(title: str, club: str, files: Iterable[tuple[str, str]], preview: str) -> str:
    """What lies in the one download, with what each file is.

    Args:
        title: the kit's.
        club: who publishes it.
        files: path and words of each.
        preview: the code of the preview; empty once the kit is released.
    """
    lines = [
        f"{title}, a kit by {club}",
        "",
        "For the team. Please show nothing of this before its moment: your own page says when, on your clock.",
    ]
    if preview:
        lines += ["", f"The kit is not released yet: its printables say PREVIEW and the code {preview}."]
    return "\n".join([*lines, "", *(f"{path}\n    {' '.join(words.split())}" for path, words in files), ""])
