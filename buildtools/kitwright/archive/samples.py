"""Cards that people made from a kit, with their photos made ready for its page."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from kitwright.archive.photos import ReadyPhoto, photo_to_open
from kitwright.kit.kit import Kit
from kitwright.release.people import Person, Shown, samples_of
from kitwright.release.public import shown_samples

FOLDER = "samples"
"""The folder of the photos, beside the kit's own page."""
Samples = tuple[tuple[Shown, ReadyPhoto | None], ...]
"""Each with its photo, where there is one and its maker agreed."""


def samples_shown(kit: Kit, people: Mapping[str, Person], as_of: dt.datetime | None) -> tuple[Samples, dict[str, bytes]]:
    """Every sample that may be shown at an instant, in the kit's order, with its photos beside the kit's page.

    Args:
        kit: the kit.
        people: everybody on file.
        as_of: the instant; None for eyes that may see all of them.

    Raises:
        UserError: an unknown person or moment, or a photo that can't be read.
    """
    found: list[tuple[Shown, ReadyPhoto | None]] = []
    files: dict[str, bytes] = {}
    for n, one in enumerate(samples_of(kit, people) if as_of is None else [s for s, _ in shown_samples(kit, kit.club, people, as_of)], 1):
        picture = None
        if one.photo:
            # Numbered as shown, so that a name tells neither who made it nor how many are still to come.
            name = f"{FOLDER}/{n}.jpg"
            picture, made = photo_to_open(one.photo, name, kit.place("samples", kit.spec.samples.index(one.sample), "photo"))
            files |= made
        found.append((one, picture))
    return tuple(found), files
