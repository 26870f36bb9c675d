"""What the templates of the month's texts are given: every size, count, name and moment, from the kit as it was published or as it stands."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from kitwright.kit.kit import Kit
from kitwright.kit.model import Club, Link
from kitwright.kit.project import PRINTED, page_of, printable_file, public_address, team_address
from kitwright.labels import is_base
from kitwright.release.calendar import moments
from kitwright.release.credits import credits_of
from kitwright.release.errata import errata
from kitwright.release.people import Person, team_of
from kitwright.release.public import is_public, published_at, shown_samples
from kitwright.telling.backs import back_text
from kitwright.telling.changes import sentence
from kitwright.telling.errata import asked_lines
from kitwright.telling.facts import envelope_text
from kitwright.telling.kitpage import envelopes_of, greetings
from kitwright.telling.moments import when_text
from kitwright.telling.month.amounts import batch_text, envelopes_text, sheets_needed
from kitwright.telling.pictured import card_alt
from kitwright.telling.steps import TITLES
from kitwright.telling.team import Shared, shared_places, told_at
from kitwright.telling.words import MONTHS, curly, date_text, listed, number, sheets_text
from kitwright.units import size_both, size_text
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class ShareFile:
    """The picture that goes with a link to a kit's page, beside which it lies."""

    file: str
    alt: str
    """What it shows, for those who can't see it."""
    caption: str = ""
    """Where the papers on it are from, if that has to be told."""


Share = Callable[[Worked], ShareFile]


def the_card(worked: Worked) -> ShareFile:
    """The picture of the finished card alone."""
    return ShareFile("card.png", card_alt(worked))


@dataclass(frozen=True)
class Material:
    """A paper or another thing that the kit takes."""

    words: str
    link: Link | None


@dataclass(frozen=True)
class Chapter:
    """A chapter of the video."""

    time: str
    title: str


@dataclass(frozen=True)
class Product:
    """Something with a link to where it is to be had."""

    name: str
    address: str
    earns: bool


@dataclass(frozen=True)
class Credited:
    """Somebody who is named in public, as far as she agreed to it."""

    name: str
    link: str | None
    """Her own page, the first time that she is named."""


@dataclass(frozen=True)
class ShareImage:
    """The picture that goes with a link to the kit's page."""

    address: str
    """In full; empty where the club has no address."""
    alt: str
    """What it shows, for those who can't see it."""
    caption: str
    """Told beside it; mostly empty."""


def values(
    worked: Worked, kit: Kit, club: Club, people: Mapping[str, Person], as_of: dt.datetime, share: Share = the_card
) -> dict[str, Any]:
    """What every template is given.

    Args:
        worked: the kit as it was published, or as it stands, for the team.
        kit: as it is now, with its moments, samples and links.
        club: as it is now.
        people: everybody on file.
        as_of: the instant; a text for a moment to come is told as of that moment.
        share: finds the picture that goes with a link to the kit's page.
    """
    spec, unit = worked.kit.spec, worked.unit
    shown = published_at(kit, club)
    told = max(as_of, shown) if shown else as_of
    reveal = next(due for due in moments(kit, club) if due.name == "reveal")
    sizes = list(dict.fromkeys(design.base.finished for design in worked.designs))
    links = {link.what: link for link in kit.spec.links}
    others = [link for link in kit.spec.links if link.what not in worked.kit.papers]
    return {
        "kit": spec,
        "id": kit.id,
        "club": club,
        "month": MONTHS[kit.month.month - 1],
        "summary": _prose(spec.summary),
        "cards": number(spec.cards, "card", "cards"),
        "batch": batch_text(worked),
        "sheets": sheets_needed(worked),
        "materials": _materials(worked, links),
        "finished": listed([size_both(size, unit) for size in sizes]),
        "card_size": listed([size_text(size, unit) for size in sizes]),
        "envelope": _envelopes(worked),
        "envelopes": [envelopes_text(n, envelope, unit) for n, envelope in envelopes_of(worked)],
        "pieces": _pieces(worked),
        "sentiment": "; ".join(words for words, _ in greetings(worked)),
        "date_text": date_text,
        "others": others,
        "products": [
            Product(worked.kit.papers[link.what].name if link.what in worked.kit.papers else link.what, link.address, link.earns)
            for link in kit.spec.links
        ],
        "earns": any(link.earns for link in kit.spec.links),
        "times": tuple(told_at(d, d.local) for d in moments(kit, club)),
        "shown_from": when_text(reveal.local),
        "shared": shared_places(worked, club),
        "printables": _printables(kit, club),
        "team_site": team_address(club),
        "team_page": team_address(club, page_of(kit.id)),
        "page": public_address(club, page_of(kit.id)),
        "picture": _picture(worked, club, share(worked)),
        "errata_page": public_address(club, "errata.html"),
        "errata": errata(kit, club, people, told),
        "sentence": sentence,
        "asked_lines": asked_lines,
        "public": is_public(kit, club, as_of),
        "cautions": [_prose(caution) for caution in worked.kit.club.cautions],
        "terms": _prose(worked.kit.club.terms),
        "video": kit.spec.video,
        "chapters": chapters_of(kit),
        "credits": _credits(kit, club, people, told),
        "signed": _signed(kit, club, people),
    }


def _prose(text: str) -> str:
    """What somebody typed, on one line, as print has it."""
    return curly(" ".join(text.split()))


def _pieces(worked: Worked) -> list[str]:
    unit, found = worked.unit, []
    for label, size in worked.sizes.items():
        if not is_base(label):
            pieces = number(sum(worked.counts(label).values()), "piece", "pieces")
            found.append(f"{label}: {pieces}, {', '.join(filter(None, (size_both(size, unit), back_text(worked, label))))}")
    return found


def _envelopes(worked: Worked) -> str:
    """The envelope and its room; of each design where they differ."""
    said = {design.kit.design: text for design in worked.designs if (text := envelope_text(design))}
    each = [f"{text} for {name}" for name, text in said.items()] if len(set(said.values())) > 1 else list(said.values())[:1]
    return "; ".join(each)


def _materials(worked: Worked, links: Mapping[str, Link]) -> list[Material]:
    found = []
    for plan in worked.plans:
        paper = worked.kit.papers[plan.paper]
        weight = f", {paper.weight.text}" if paper.weight else ""
        sheet = paper.size.name or size_both(paper.size.size, worked.unit)
        found.append(Material(f"{sheets_text(plan.sheets)} of {paper.name}, {sheet}{weight}", links.get(plan.paper)))
    return found


def _printables(kit: Kit, club: Club) -> list[Shared]:
    """The printable in each edition, in the team's site, the one that goes with the kit's own unit first."""
    order = sorted(PRINTED, key=lambda edition: (edition == "letter") != (kit.spec.unit == "in"))
    return [Shared(PRINTED[edition], team_address(club, f"kits/{kit.id}/{printable_file(kit.id, edition)}")) for edition in order]


def _picture(worked: Worked, club: Club, found: ShareFile) -> ShareImage:
    return ShareImage(public_address(club, f"kits/{worked.kit.id}/{found.file}") or "", found.alt, found.caption)


def _credits(kit: Kit, club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> dict[str, list[Credited]]:
    """Who is named in public, each once in a part: `by`, `tested`, `team`, `guest`, `samples`, `thanks`.

    Guests and samples are told from their own moments on; of the team, who drew the kit up is not named twice.
    """
    found: dict[str, list[Person]] = {part: list(each) for part, each in credits_of(kit, people, as_of).items()}
    drew = found.get("by", [])
    found["team"] = [person for person, _ in team_of(kit, people) if person not in drew]
    found["samples"] = [shown.person for shown, _ in shown_samples(kit, club, people, as_of)]
    found["thanks"] = [erratum.spotted_by for erratum in errata(kit, club, people, as_of) if erratum.spotted_by]
    told, linked = {}, set()
    for part in ("by", "tested", "team", "guest", "samples", "thanks"):
        if each := _once(found.get(part, ())):
            # Where somebody is named again, her link need not be.
            told[part] = [Credited(person.name, None if person.key in linked else person.link) for person in each]
            linked |= {person.key for person in each}
    return told


def _once(people: Iterable[Person]) -> list[Person]:
    return list({person.key: person for person in people if person.agreed("name")}.values())


def _signed(kit: Kit, club: Club, people: Mapping[str, Person]) -> str:
    """Who writes: whoever drew the kit up, for the club, where she agreed to be named."""
    person = people.get(kit.spec.by) if kit.spec.by else None
    return f"{person.name}, for {club.name}" if person and person.agreed("name") else club.name


# --- the video ----------------------------------------------------------------------------------------


def clock(seconds: int) -> str:
    """A time in a video: `4:05`, `1:04:05`."""
    hours, rest = divmod(seconds, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60}:{rest % 60:02}"


def chapters_of(kit: Kit) -> list[Chapter]:
    """The chapter list of the video, in order of time, each time once; it begins at 0:00."""
    video = kit.spec.video
    if video is None:
        return []
    said = [(at, TITLES[stage]) for stage, at in video.steps.items()] + [(at, name) for name, at in video.chapters.items()]
    if said and min(said)[0] > 0:
        said.append((0, kit.spec.title))
    at_once: dict[int, list[str]] = {}
    for at, title in sorted(said, key=lambda each: each[0]):
        at_once.setdefault(at, []).append(title)
    return [Chapter(clock(at), listed(titles)) for at, titles in at_once.items()]
