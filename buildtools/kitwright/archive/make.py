"""Make everything a kit's page shows: its words, its pictures, its printables.

Several are made at once in processes of their own (`units.py`).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from kitwright.archive.asked import AskedQuestion, questions_of
from kitwright.archive.audience import Audience
from kitwright.archive.content import Content, lying
from kitwright.archive.corrections import ErratumView, corrections_of
from kitwright.archive.downloads import CutFiles, Download, Printables, printables_of, workbooks_of
from kitwright.archive.drawings import drawn
from kitwright.archive.drawn import handed
from kitwright.archive.gallery import Gallery
from kitwright.archive.gather import EVER, Entry, kit_of
from kitwright.archive.given import Given, given_of
from kitwright.archive.offered import for_everybody
from kitwright.archive.photos import ReadyPhoto, photo, photos_of
from kitwright.archive.picture import Image
from kitwright.archive.samples import Samples, samples_shown
from kitwright.archive.standing import State, standing, upcoming
from kitwright.kit.folder import own_file
from kitwright.kit.kit import Kit, PastKit
from kitwright.past.kept import OldPrintable, pdf_file
from kitwright.release.people import Person
from kitwright.release.record import revision_at
from kitwright.release.stamp import PreviewStamp
from kitwright.telling.kitpage import line_of
from kitwright.telling.past import first_page, paper_text
from kitwright.telling.site import old_picture
from kitwright.telling.your_paper import YourPaper
from kitwright.units import other_unit
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class Made:
    """A kit, ready for its pages; paths are those beside the kit's own."""

    entry: Entry
    """The kit as it is shown."""
    files: Mapping[str, Content]
    """Whatever its pages show and lead to: file name, with a folder perhaps, to what it holds."""
    images: Mapping[str, Image]
    """Its pictures by name (see `pictures_of`); of a past kit `thumbnail` for lists and `page` for its own, if there are any."""
    printables: Printables
    """Of a past kit the old one."""
    cut_files: CutFiles | None = None
    galleries: tuple[Gallery, ...] = ()
    """How else its pieces go, design by design; none for a past kit."""
    yours: YourPaper | None = None
    """The kit from other paper and for other batches; None for a past kit."""
    asked: tuple[AskedQuestion, ...] = ()
    errata: tuple[ErratumView, ...] = ()
    """Newest first."""
    photos: Mapping[str, ReadyPhoto] = field(default_factory=dict)
    """Its own photos, by the name that its spec gives."""
    samples: Samples = ()
    state: State | None = None
    """Which state of the kit it is; None for a past kit."""
    old: OldPrintable | None = None
    """What is known of a past kit's printable; None for another, and where nobody can open it."""
    upcoming: str = ""
    """When it will be public, on the team's site; empty once it is."""
    teamwork: Any = None
    """What the team's own pages say of it (`teamwork.Teamwork`); None on any other site."""
    workbooks: tuple[Download, ...] = ()
    """Its workbook in each edition; none of a kit that was published before there were any."""
    given: Given | None = None
    """What members get of it; None on any other site, and where that is nothing."""

    @property
    def kit(self) -> Kit | PastKit:
        return kit_of(self.entry)

    @property
    def worked(self) -> Worked:
        """The kit worked out; asked only of one that is computed."""
        assert isinstance(self.entry, Worked), "a past kit is not worked out"
        return self.entry

    @property
    def gallery(self) -> Gallery | None:
        """How else the pieces of its one design go, or of the first; None for a past kit."""
        return self.galleries[0] if self.galleries else None

    @property
    def line(self) -> tuple[str, ...]:
        """What other pages say of it below its title."""
        return line_of(self.entry, self.old)

    @property
    def unit(self) -> str:
        """The kit's own; that of inches for a past kit, which tells no sizes."""
        return self.entry.unit if isinstance(self.entry, Worked) else "in"

    @property
    def line_beside(self) -> tuple[str, ...]:
        """The same line in the other unit."""
        entry = self.entry
        return line_of(entry.told_in(other_unit(entry.unit))) if isinstance(entry, Worked) else self.line

    @property
    def past(self) -> bool:
        """Whether only its old printable is left."""
        return isinstance(self.entry, PastKit)

    @property
    def downloads(self) -> tuple[Download, ...]:
        """The printable in full ink, the edition of the kit's own unit first."""
        return self.printables["full"]


def make(
    kit: Kit | PastKit,
    entry: Entry,
    people: Mapping[str, Person],
    as_of: dt.datetime | None,
    audience: Audience,
    old: OldPrintable | None = None,
) -> Made:
    """Make one kit, as it is at a moment for an audience; as it stands for None.

    Args:
        kit: as it is now.
        entry: as it is shown.
        people: everybody on file.
        as_of: the moment.
        audience: for whom.
        old: what is known of a past kit's printable.
    """
    if isinstance(kit, PastKit):
        return _past(kit, old)
    if isinstance(entry, PastKit):
        return _past(entry, old)
    if audience == "members":
        return Made(entry, {}, {}, {"full": ()}, given=given_of(entry, revision_at(entry.kit, as_of or EVER)))
    revision = revision_at(kit, as_of) if as_of else None
    state, older = standing(kit, entry, revision)
    stamp = revision.stamp(entry.kit.club.time_zone) if revision else PreviewStamp(state.code)
    made = _kit(entry, handed(entry, stamp, revision), audience == "team")
    errata, circled = corrections_of(kit, kit.club, people, as_of or EVER)
    samples, photos = samples_shown(entry.kit, people, None if audience == "team" else as_of)
    files = {**made.files, **older, **circled, **photos}
    return replace(made, entry=entry, files=files, errata=errata, samples=samples, state=state, upcoming=upcoming(kit, as_of))


def _kit(worked: Worked, offered: Mapping[str, Content], team: bool) -> Made:
    """What depends on no moment: the drawings of one state with its downloads, and what takes long to work out."""
    found = drawn(worked, offered, team)
    photos, photo_files = photos_of(worked.kit)
    # A photo may not stand in for a drawing of that name.
    files = {**for_everybody(worked, offered), **photo_files, **found.files}
    printables, asked = printables_of(worked.kit, offered), questions_of(worked)
    return Made(
        worked,
        files,
        found.images,
        printables,
        found.cut_files,
        found.galleries,
        found.yours,
        asked,
        photos=photos,
        workbooks=workbooks_of(worked.kit, offered),
    )


def _past(kit: PastKit, old: OldPrintable | None) -> Made:
    """A past kit: its printable as it is, with her own picture, or with page 1."""
    name, pdf = f"{kit.id}.pdf", lying(pdf_file(kit))
    files: dict[str, Content] = {name: pdf}
    images = {}
    if kit.spec.thumbnail:
        place = kit.document.place(("thumbnail",))
        source = own_file(kit.folder, kit.spec.thumbnail, place)
        # A drawing stays a drawing, a photo a photo.
        picture = "thumbnail.jpg" if source.suffix.lower() in (".jpg", ".jpeg") else "thumbnail.png"
        made, files[picture] = photo(source, picture, place)
        alt = kit.spec.thumbnail_alt or old_picture(kit.spec.title)
        size = (made.width, made.height)
        images["thumbnail"] = images["page"] = Image(picture, picture, picture, alt, *size, *size)
    elif old:
        alt = kit.spec.thumbnail_alt or first_page(kit.spec.title)
        for use, shown, leaf in (("thumbnail", "page-1-small", old.small), ("page", "page-1", old.large)):
            picture = f"{shown}{leaf.ending}"
            files[picture], size = leaf.data, (leaf.width, leaf.height)
            images[use] = Image(picture, picture, picture, alt, *size, *size)
        # On a phone the small one is as wide as the screen, and half as heavy.
        small = images["thumbnail"]
        images["page"] = replace(images["page"], narrow=small.src, narrow_width=small.width, narrow_height=small.height)
    return Made(kit, files, images, {"full": (Download(paper_text(old) if old else "", name, pdf.size),)}, old=old)
