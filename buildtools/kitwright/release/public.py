"""When a kit is in the public site: from its reveal on, once it was released; and from when on each of its samples."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.release.calendar import aware, moment, reveal_of
from kitwright.release.people import Person, Shown, samples_of
from kitwright.release.record import released


def published_at(kit: Kit | PastKit, club: Club) -> dt.datetime | None:
    """When a kit became or becomes public: its reveal, or its release where that is later. None while it has no revision."""
    reveal = reveal_of(kit, club)
    if isinstance(kit, PastKit):
        return reveal
    revisions = released(kit)
    return max(reveal, revisions[0].at) if revisions else None


def is_public(kit: Kit | PastKit, club: Club, as_of: dt.datetime) -> bool:
    """Whether a kit is in the public site at an instant: revealed, and released by then."""
    at = published_at(kit, club)
    return at is not None and at <= aware(as_of)


def shown_samples(kit: Kit, club: Club, people: Mapping[str, Person], as_of: dt.datetime) -> list[tuple[Shown, dt.datetime]]:
    """Samples that may be shown at an instant, with the instant from which on; none before the kit is public."""
    public = published_at(kit, club)
    if public is None:
        return []
    found = []
    for shown in samples_of(kit, people):
        at = max(moment(kit, club, shown.moment).at, public)
        if at <= aware(as_of):
            found.append((shown, at))
    return found
