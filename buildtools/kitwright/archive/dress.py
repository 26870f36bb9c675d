"""What a site wears of its club: the mark in the header and in the corner of a tab, and the picture that goes with a link."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from pathlib import Path

from kitwright.archive.content import data_of
from kitwright.archive.make import Made
from kitwright.colours import parts
from kitwright.drawing.initials import initials_svg
from kitwright.kit.model import Club
from kitwright.kit.picture import encoded, own_picture, picture
from kitwright.kit.theme import OUR_MARK

HIGH = 24
"""The mark's height in the header, as its page is told; the style sheet has the last word."""
SHARED = "look/share.jpg"
WIDE = 1200
"""Pixels: how wide a picture that goes with a link need be. Common practice, no source."""
KINDS = {".svg": "image/svg+xml", ".png": "image/png"}


@dataclass(frozen=True)
class Dress:
    """A club's marks, as files and as the pages refer to them."""

    files: dict[str, bytes]
    """File name → bytes, for the folder of styles."""
    logo: str
    icon: str
    """File names of the mark in the header and in the corner of a tab."""
    width: int
    """Of the mark in the header, pixels; it is as high as `HIGH`."""
    ground: str
    """`light` or `dark` where the mark needs a ground of its own to be seen on a page of the other scheme; empty otherwise."""

    @property
    def icon_kind(self) -> str:
        """The media type of the icon."""
        return KINDS[Path(self.icon).suffix]


def dress_of(club: Club) -> Dress:
    """The club's own logo, or else a mark from its initial letters; these stand in a tab too where the logo is too long for it."""
    plain = {OUR_MARK: initials_svg(club.name, club.palette).encode()}
    mark = club.mark
    if mark is None:
        return Dress(plain, OUR_MARK, OUR_MARK, HIGH, "")
    light, dark = (mark.vanishes_on(parts(scheme["paper"])) for scheme in (club.palette.light, club.palette.dark))
    ground = "" if light == dark else "dark" if light else "light"
    files = {mark.name: mark.data} | ({} if mark.square else plain)
    return Dress(files, mark.name, mark.name if mark.square else OUR_MARK, max(1, round(HIGH * mark.width / mark.height)), ground)


@dataclass(frozen=True)
class Shared:
    """A picture that goes with a link to a page (the Open Graph protocol, ogp.me)."""

    path: str
    """From the top of the site."""
    alt: str
    width: int
    """Pixels."""
    height: int


def shared_picture(club: Club, kits: Path) -> tuple[Shared, bytes] | None:
    """The club's own; None where it has none.

    Raises:
        UserError: it can't be read as a picture.
    """
    said = club.share_picture
    if said is None:
        return None
    place = club.place("share picture", "file")
    made = picture(own_picture(kits, said.file, place), place, WIDE)
    return Shared(SHARED, said.alt, made.width, made.height), encoded(made, "JPEG")


def card_of(one: Made) -> Shared | None:
    """A kit's cards, for links to its pages: the drawing made for it, or the picture of an old printable; None where there is neither."""
    image = next((one.images[name] for name in ("share", "card", "page", "thumbnail") if name in one.images), None)
    if image is None:
        return None
    content = one.files.get(image.png)
    data = data_of(content) if content is not None else b""
    # A drawing is finer as a file than on its page; its first block tells how fine (PNG, 11.2.1).
    width, height = struct.unpack(">II", data[16:24]) if data.startswith(b"\x89PNG") else (image.width, image.height)
    return Shared(f"kits/{one.kit.id}/{image.png}", image.alt, width, height)
