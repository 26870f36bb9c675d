"""Cards that people made from a kit: picture, name, link, what they changed and what they used."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from kitwright.archive.atom import shown_samples
from kitwright.archive.gallery import Gallery, Tile
from kitwright.archive.photos import Photo, photo
from kitwright.kit.model import Used
from kitwright.kit.read import Kit
from kitwright.release.people import Person, samples_of

FOLDER = "samples"
"""The folder of the photos, beside the kit's own page."""


@dataclass(frozen=True)
class SampleView:
    """One card that somebody made."""

    key: str
    """The key of the maker; empty for one who has no name here."""
    name: str
    link: str
    """Her own page, if she agreed to it."""
    photo: Photo | None
    alt: str
    changed: str
    used: tuple[Used, ...]
    tile: Tile | None
    """The arrangement that she used, where she says so and the gallery has it."""


def samples_view(
    kit: Kit, gallery: Gallery | None, people: Mapping[str, Person], as_of: dt.datetime | None
) -> tuple[tuple[SampleView, ...], dict[str, bytes]]:
    """Every sample that may be shown at an instant, in the kit's order, with its photos beside the kit's page.

    Args:
        kit: the kit.
        gallery: its arrangements.
        people: everybody on file.
        as_of: the instant; None for eyes that may see all of them.

    Raises:
        UserError: an unknown person or moment, or a photo that can't be read.
    """
    shown = samples_of(kit, people) if as_of is None else [s for s, _ in shown_samples(kit, kit.club, people, as_of)]
    views, files = [], {}
    for n, one in enumerate(shown, 1):
        picture = None
        if one.photo:
            # Numbered as shown, so that a name tells neither who made it nor how many are still to come.
            name = f"{FOLDER}/{n}.jpg"
            picture, files[name] = photo(one.photo, name, kit.place("samples", kit.spec.samples.index(one.sample), "photo"))
        person, sample = one.person, one.sample
        tile = gallery.tile(sample.arrangement) if gallery and sample.arrangement else None
        views.append(
            SampleView(
                person.key if person.agreed("name") else "",
                person.name,
                person.link or "",
                picture,
                sample.alt or f"A card made from {kit.spec.title}",
                " ".join((sample.changed or "").split()),
                tuple(sample.used),
                tile,
            )
        )
    return tuple(views), files
