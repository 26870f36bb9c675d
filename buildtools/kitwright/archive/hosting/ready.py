"""Whether a built folder may go to the host: for everybody, whole, due, and as it was built."""

from __future__ import annotations

import datetime as dt
import os
import shutil
from pathlib import Path

from kitwright.archive import built
from kitwright.archive.built import PREVIEW, RECORD, Built
from kitwright.errors import Place, UserError


def ready(site: Path, now: dt.datetime, zone: dt.tzinfo) -> Built:
    """What a folder says of itself, where it may go to the host now; moments are told in the club's zone.

    Raises:
        UserError: it may not, with the reason.
    """
    place, one = Place(site), built.read(site)
    if one is None:
        raise UserError("hosting.no-site", place=place)
    if one.audience != "public":
        raise UserError("hosting.not-public", place=place, audience=one.audience)
    if one.files is None or one.kits is None:
        raise UserError("hosting.no-record", place=place)
    if one.everything:
        raise UserError("hosting.own-preview", place=place)
    if one.moment is not None and one.ahead(now):
        raise UserError("hosting.to-come", place=place, moment=one.moment.astimezone(zone))
    previews = tuple(kit for kit, revision in one.kits.items() if revision == PREVIEW)
    if previews:
        raise UserError("hosting.previews", place=place, kits=previews)
    return one


def copy(site: Path, one: Built, home: Path) -> Path:
    """A copy of a site that no build changes meanwhile, as links where the disk is the same; and with nothing else in it.

    Raises:
        UserError: the site is not what was built.
        OSError: there is no room for it.
    """
    assert one.files is not None
    there = built.files_of(site)
    odd = sorted(name for name in {*there, *one.files} if there.get(name) != one.files.get(name))
    if odd:
        raise UserError("hosting.changed-since", place=Place(site / odd[0]), files=len(odd), there=odd[0] in there)
    for name in (*one.files, RECORD):
        to = home / name
        to.parent.mkdir(parents=True, exist_ok=True)
        try:
            os.link(site / name, to)
        except OSError:
            shutil.copyfile(site / name, to)
    return home
