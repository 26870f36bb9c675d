"""All that a kit's page tells besides the kit itself: corrections, samples, questions, the video, people.

None of it is frozen with a revision. It is shown as it is now, as far as it is due and agreed to.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from kitwright.archive.asked import AskedView, asked_of
from kitwright.archive.audience import Audience
from kitwright.archive.corrections import ErratumView, corrections_of
from kitwright.archive.gallery import Gallery
from kitwright.archive.gather import EVER
from kitwright.archive.makers import Credit, Part, credits_of, guests_now
from kitwright.archive.samples import SampleView, samples_view
from kitwright.archive.team import TeamView, team_view
from kitwright.archive.watch import VideoView, video_view
from kitwright.kit.model import Link
from kitwright.release.people import Person
from kitwright.release.stamp import Preview, Stamp
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class After:
    """What a kit's page tells besides the kit."""

    errata: tuple[ErratumView, ...]
    """Newest first."""
    samples: tuple[SampleView, ...]
    asked: tuple[AskedView, ...]
    video: VideoView | None
    where: tuple[tuple[str, Link], ...]
    """What is to be had where: what it is, and the link."""
    credits: tuple[Credit, ...]
    parts: tuple[Part, ...]
    """Who had which part in it, for the page of people."""
    team: TeamView | None
    """What the team's own page of the kit says; for the team alone."""

    def asked_at(self, place: str) -> tuple[AskedView, ...]:
        """The questions that stand beside a place of the kit's page."""
        return tuple(one for one in self.asked if one.place == place)


def after_of(
    worked: Worked,
    stamp: Stamp | Preview,
    gallery: Gallery | None,
    people: Mapping[str, Person],
    as_of: dt.datetime | None,
    audience: Audience,
) -> tuple[After, dict[str, bytes]]:
    """All this for one kit, and the files that it needs beside the kit's page.

    Args:
        worked: the kit as it is shown.
        stamp: its state.
        gallery: its arrangements.
        people: everybody on file.
        as_of: the instant; None for the author's own preview, which shows everything.
        audience: for whom. The team sees every sample and guest at once.

    Raises:
        UserError: a person, a photo or a question that is not right, with file and line.
    """
    kit = worked.kit
    seen = None if audience == "team" else as_of
    errata, drawn = corrections_of(kit, kit.club, people, as_of or EVER)
    samples, photos = samples_view(kit, gallery, people, seen)
    where = tuple((kit.papers[link.what].name if link.what in kit.papers else link.what, link) for link in kit.spec.links)
    told = credits_of(kit, people, seen)
    after = After(
        errata,
        samples,
        asked_of(worked),
        video_view(kit.spec.video),
        where,
        told,
        _parts(worked, people, errata, samples, seen),
        team_view(worked, stamp.code if isinstance(stamp, Preview) else "", people, as_of) if audience == "team" else None,
    )
    return after, drawn | photos


def _parts(
    worked: Worked,
    people: Mapping[str, Person],
    errata: tuple[ErratumView, ...],
    samples: tuple[SampleView, ...],
    as_of: dt.datetime | None,
) -> tuple[Part, ...]:
    kit = worked.kit
    keys = [("by", kit.spec.by)] if kit.spec.by else []
    keys += [("tested", t.by) for t in kit.spec.tested]
    keys += [("guest", p.key) for p in guests_now(kit, people, as_of)]
    keys += [("sample", s.key) for s in samples if s.key]
    keys += [("thanks", p.key) for p in people.values() for e in errata if p.thanked(kit.id, e.number)]
    return tuple(dict.fromkeys(Part(key, kind, kit.id, kit.spec.title) for kind, key in keys if key in people))
