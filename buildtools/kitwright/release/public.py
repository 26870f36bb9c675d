"""When a kit is in the public site: from its reveal on, once it was released."""

from __future__ import annotations

import datetime as dt

from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.model import Club
from kitwright.release.calendar import aware, reveal_of
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
