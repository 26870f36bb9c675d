"""A revision that says what the one before says: state, results and numbers are those, and its files are drawn anew.

The site moved (`readdress.py`), or printables have a new form (`reform.py`). It is no correction, and is told as none.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from kitwright.errors import Place, UserError
from kitwright.kit.kit import Kit
from kitwright.kit.read import CLUB_FILE
from kitwright.kit.yamltext import read_yaml
from kitwright.release import takeback, zonemove
from kitwright.release.calendar import aware, reveal_of
from kitwright.release.kept import results_text
from kitwright.release.publish import Again, Draw, publish
from kitwright.release.record import Revision, Same, yaml_text
from kitwright.release.revisions import as_published
from kitwright.release.takeback import NOTHING, Instead
from kitwright.release.whole import FILES, RESULTS, stop_unless_whole


@dataclass(frozen=True)
class AsOf:
    """When it is."""

    as_of: dt.datetime
    """The instant that is recorded."""
    now: dt.datetime
    """What no reader could have had by then is replaced, under its own number."""


def published_again(kit: Kit, last: Revision, clock: AsOf, draw: Draw, same: Same, club: Mapping[str, Any] | None = None) -> Revision:
    """Publish what a kit's newest revision says once more.

    Args:
        kit: as it is now.
        last: that revision.
        clock: when.
        draw: draws what readers can download.
        same: what alone is new.
        club: what the frozen club says otherwise.

    Raises:
        UserError: something published was touched, or the revision is dated later than it is.
    """
    stop_unless_whole(kit.folder.parent, kit.id)
    zonemove.stop_if_moved(kit.folder.parent, kit.club, clock.now)
    unread = takeback.unread(kit, clock.now)
    instead = Instead(unread.revisions[-1:], unread.at) if unread.revisions else NOTHING
    if not instead.revisions and aware(clock.as_of) <= last.at:
        raise UserError("releases.not-later", place=Place(kit.document.file), kit=kit.id, revision=last.number, at=last.at)
    worked = as_published(kit, last)
    texts = {name: (last.folder / name).read_bytes() for name in last.record.frozen if name != FILES}
    texts |= {RESULTS: texts.get(RESULTS) or results_text(worked).encode()}
    if club:
        texts[CLUB_FILE] = yaml_text(read_yaml(last.folder / CLUB_FILE).data | dict(club)).encode()
    again = Again(texts, last.record.tested, reveal_of(kit, kit.club), same)
    number = last.number if instead.revisions else last.number + 1
    return publish(
        worked, number, aware(clock.as_of), last.record.erratum if instead.revisions else None, draw, instead=instead, again=again
    )
