"""Text that is ready to send: the team's brief, the guest's, the text under the video, the members' note.

The wording stands in `theme/briefs/`, one template each; every size, count and time comes
from the kit. One template gives both Markdown and plain text.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal, get_args

from kitwright.errors import Place, UserError
from kitwright.kit.kit import Kit
from kitwright.kit.model import Anniversaries, Club, Link
from kitwright.kit.project import page_of, public_address
from kitwright.kit.theme import BRIEFS, Theme
from kitwright.labels import is_base
from kitwright.release.calendar import moments
from kitwright.release.errata import errata
from kitwright.release.people import Person, guests_of, team_of
from kitwright.release.public import is_public
from kitwright.release.revisions import current
from kitwright.release.state import preview_code
from kitwright.release.team import parts_of
from kitwright.telling.backs import back_text
from kitwright.telling.changes import sentence
from kitwright.telling.errata import asked_lines
from kitwright.telling.facts import envelope_text
from kitwright.telling.kitpage import greetings
from kitwright.telling.members import names_for_members
from kitwright.telling.steps import TITLES
from kitwright.telling.team import asked_of, shared_places, told_at
from kitwright.telling.templates import faults_told, sandbox
from kitwright.telling.words import date_text, listed, number, sheets_text
from kitwright.units import size_both
from kitwright.work.cite import refuse
from kitwright.work.worked import Worked
from kitwright.work.working import work

Whom = Literal["team", "guest", "viewers", "members"]
WHOM: tuple[Whom, ...] = get_args(Whom)


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
class Anniversary:
    """A member who joined in this month, some years ago."""

    name: str
    years: str


class Form:
    """How headings, links and lists are written: Markdown, or plain text."""

    def __init__(self, plain: bool) -> None:
        self.plain = plain

    def title(self, text: str) -> str:
        return text.upper() if self.plain else f"# {text}"

    def heading(self, text: str) -> str:
        return f"{text}\n{'-' * len(text)}" if self.plain else f"## {text}"

    def link(self, text: str, address: str, earns: bool = False) -> str:
        """A link; where it earns money, it says so beside it."""
        told = " (this link earns the club money)" if earns else ""
        return (f"{address}{told}" if text == address else f"{text}: {address}{told}") if self.plain else f"[{text}]({address}){told}"


def brief(
    kit: Kit, whom: Whom, theme: Theme, people: Mapping[str, Person], private: Anniversaries, as_of: dt.datetime, *, plain: bool = False
) -> str:
    """The text for somebody.

    Args:
        kit: the kit as it is now.
        whom: `team`, `guest`, `viewers` or `members`.
        theme: the program's theme, with hers over it.
        people: everybody on file.
        private: members and their days of joining.
        as_of: the instant; what is public by then is told from the newest revision.
        plain: plain text instead of Markdown.

    Raises:
        UserError: a brief for viewers or members before the kit has a revision, or one for guests that a kit does not have;
            or a template of hers can't be filled in.
    """
    club = kit.club
    published = current(kit, as_of)
    if whom in ("viewers", "members") and published is None:
        raise UserError("briefs.no-revision", kit=kit.id, place=Place(kit.document.file))
    # The team works from the kit as it stands; everybody else from what was published.
    worked = published if published and whom in ("viewers", "members") else work(kit)
    refuse(worked)
    kit = replace(kit, spec=worked.kit.spec)
    them = {person.key for person, _ in (guests_of if whom == "guest" else team_of)(kit, people)}
    parts = parts_of(kit, club, people)
    asked = asked_of(kit, club, [part for part in parts if part.person.key in them])
    if whom == "guest" and not asked:
        raise UserError("briefs.no-guest", kit=kit.id, place=Place(kit.document.file))
    said = {
        "form": Form(plain),
        "asked": asked,
        # Everybody once, however much is asked of her.
        "each": list({(one.name, one.times, one.post, one.post_from): one for one in asked}.values()),
        "idle": [part.person.name for part in parts if not part.tasks and part.person.agreed("name")],
        **_common(worked, kit, club, people, as_of),
        "anniversaries": _thanks(private, kit),
        "extras": names_for_members(kit) if whom == "members" else (),
        "code": preview_code(worked) if published is None else "",
    }

    def filled(theme: Theme) -> str:
        return sandbox(theme, BRIEFS).get_template(f"{whom}.md").render(said)

    with faults_told({str(file.path): file for file in theme.hers_in(BRIEFS).values()}, lambda: filled(Theme(theme.program))):
        text = filled(theme)
    return "\n".join(line.rstrip() for line in _thinned(text)).strip() + "\n"


def _thinned(text: str) -> list[str]:
    """Lines with never more than one empty one in a row."""
    lines: list[str] = []
    for line in text.split("\n"):
        if line.strip() or (lines and lines[-1].strip()):
            lines.append(line)
    return lines


def _common(worked: Worked, kit: Kit, club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> dict[str, Any]:
    spec, unit = worked.kit.spec, worked.kit.spec.unit
    return {
        "kit": spec,
        "id": kit.id,
        "club": club,
        "summary": " ".join(spec.summary.split()),
        "cards": number(spec.cards, "card", "cards"),
        "materials": _materials(worked, kit),
        "finished": listed(list(dict.fromkeys(size_both(design.base.finished, unit) for design in worked.designs))),
        "envelope": _envelopes(worked),
        "pieces": [
            f"{label}: {number(sum(worked.counts(label).values()), 'piece', 'pieces')}, {', '.join(filter(None, (size_both(size, unit), back_text(worked, label))))}"
            for label, size in worked.sizes.items()
            if not is_base(label)
        ],
        "sentiment": "; ".join(words for words, _ in greetings(worked)),
        "date_text": date_text,
        "others": [link for link in kit.spec.links if link.what not in worked.kit.papers],
        "times": tuple(told_at(d, d.local) for d in moments(kit, club)),
        "shared": shared_places(worked, club),
        "page": public_address(club, page_of(kit.id)),
        "errata_page": public_address(club, "errata.html"),
        "errata": errata(kit, club, people, as_of),
        "sentence": sentence,
        "asked_lines": asked_lines,
        "public": is_public(kit, club, as_of),
        "cautions": [" ".join(c.split()) for c in worked.kit.club.cautions],
        "terms": " ".join(worked.kit.club.terms.split()),
        "video": kit.spec.video,
        "chapters": _chapters(kit),
    }


def _envelopes(worked: Worked) -> str:
    """The envelope and its room; of each design where they differ."""
    said = {design.kit.design: text for design in worked.designs if (text := envelope_text(design))}
    each = [f"{text} for {name}" for name, text in said.items()] if len(set(said.values())) > 1 else list(said.values())[:1]
    return "; ".join(each)


def _materials(worked: Worked, kit: Kit) -> list[Material]:
    links = {link.what: link for link in kit.spec.links}
    found = []
    for plan in worked.plans:
        paper = worked.kit.papers[plan.paper]
        weight = f", {paper.weight.text}" if paper.weight else ""
        sheet = paper.size.name or size_both(paper.size.size, worked.kit.spec.unit)
        found.append(Material(f"{sheets_text(plan.sheets)} of {paper.name}, {sheet}{weight}", links.get(plan.paper)))
    return found


def clock(seconds: int) -> str:
    """A time in a video: `4:05`, `1:04:05`."""
    hours, rest = divmod(seconds, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if hours else f"{rest // 60}:{rest % 60:02}"


def _chapters(kit: Kit) -> list[Chapter]:
    """The chapter list of the video, in order of time; it begins at 0:00."""
    video = kit.spec.video
    if video is None:
        return []
    said = [(at, TITLES[stage]) for stage, at in video.steps.items()] + [(at, name) for name, at in video.chapters.items()]
    if said and min(said)[0] > 0:
        said.append((0, kit.spec.title))
    return [Chapter(clock(at), title) for at, title in sorted(said)]


def _thanks(private: Anniversaries, kit: Kit) -> list[Anniversary]:
    """Members who joined in the month of the kit, longest first."""
    month = kit.month
    found = [(month.year - m.since.year, m.name) for m in private.members if m.since.month == month.month and m.since.year < month.year]
    return [Anniversary(name, number(years, "year", "years")) for years, name in sorted(found, key=lambda f: (-f[0], f[1]))]
