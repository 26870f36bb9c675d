"""Make everything a kit's page shows: its words, its pictures, its printables.

A whole kit is made by one call from nothing but paths, so that several can be made at
once in processes of their own.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import signal
import threading
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field, replace
from multiprocessing import active_children, get_context, parent_process
from os import cpu_count
from pathlib import Path

from kitwright.archive.asked import AskedQuestion, questions_of
from kitwright.archive.audience import Audience
from kitwright.archive.corrections import ErratumView, corrections_of
from kitwright.archive.downloads import CutFiles, Download, Printables, cut_files_shown, printables_of
from kitwright.archive.gallery import Gallery, gallery_of
from kitwright.archive.gather import EVER, Archive, Entry, kit_of
from kitwright.archive.offered import for_everybody, kept_or_drawn
from kitwright.archive.photos import ReadyPhoto, photo, photos_of
from kitwright.archive.pictures import Image, image_of, pictures_of
from kitwright.archive.samples import Samples, samples_shown
from kitwright.archive.standing import State, standing, upcoming
from kitwright.archive.your_paper import your_paper
from kitwright.errors import UserError
from kitwright.kit.folder import files_below, opened, own_file
from kitwright.kit.kit import Kit, PastKit
from kitwright.kit.read import CLUB_FILE
from kitwright.past.kept import OldPrintable, pdf_of
from kitwright.release.people import PEOPLE, Person
from kitwright.release.record import revision_at
from kitwright.release.stamp import PreviewStamp
from kitwright.telling.past import first_page, paper_text
from kitwright.telling.site import old_picture
from kitwright.telling.your_paper import YourPaper
from kitwright.work.worked import Worked

Progress = Callable[[str, int, int], None]
"""What is being done, how much of it is done, and how much there is."""


@dataclass(frozen=True)
class Made:
    """A kit, ready for its pages; paths are those beside the kit's own."""

    entry: Entry
    """The kit as it is shown."""
    files: dict[str, bytes]
    """Whatever its pages show and lead to: file name, with a folder perhaps, to bytes."""
    images: Mapping[str, Image]
    """Its pictures by name (see `pictures_of`); of a past kit `thumbnail` for lists and `page` for its own, if there are any."""
    printables: Printables
    """Of a past kit the old one."""
    cut_files: CutFiles | None = None
    gallery: Gallery | None = None
    """How else its pieces go; None for a past kit."""
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

    @property
    def kit(self) -> Kit | PastKit:
        return kit_of(self.entry)

    @property
    def past(self) -> bool:
        """Whether only its old printable is left."""
        return isinstance(self.entry, PastKit)

    @property
    def downloads(self) -> tuple[Download, ...]:
        """The printable in full ink, the club's own edition first."""
        return self.printables["full"]


Kept = dict[str, tuple[str, Made]]
"""What was made before, by kit and the digest of all it was made from."""


def make_all(archive: Archive, progress: Progress, kept: Kept | None = None) -> list[Made]:
    """Make every kit, several at once, oldest first.

    Args:
        archive: what was read.
        progress: told after each kit.
        kept: what was made before; a kit is made again only when its folder, the club, the
            people, the moment or the audience changed.
    """
    kept = {} if kept is None else kept
    logo = [archive.folder / archive.club.logo] if archive.club.logo else []
    shared = [archive.folder / CLUB_FILE, *logo, *files_below(archive.folder / PEOPLE)]
    when = f"{archive.as_of} {archive.audience} "
    digests = {kit.id: when + digest(archive.folder, [*shared, *files_below(kit.folder)]) for kit in archive.sources}
    wanted = [each for each in zip(archive.sources, archive.entries) if kept.get(each[0].id, ("",))[0] != digests[each[0].id]]
    for made in _at_once(archive, wanted, progress):
        kept[made.kit.id] = digests[made.kit.id], made
    return [kept[kit.id][1] for kit in archive.sources]


def _at_once(archive: Archive, wanted: list[tuple[Kit | PastKit, Entry]], progress: Progress) -> Iterable[Made]:
    people, as_of, audience = archive.people, archive.as_of, archive.audience
    drawn = [each for each in wanted if isinstance(each[0], Kit)]
    workers, done = min(len(drawn), cpu_count() or 1, 8), 0
    progress("Drawing the kits", 0, len(wanted))
    for kit, entry in wanted if workers < 2 else [each for each in wanted if not isinstance(each[0], Kit)]:
        # Of a past kit nothing is drawn; what is copied is not sent from process to process.
        yield make(kit, entry, people, as_of, audience, archive.old.get(kit.id))
        progress("Drawing the kits", done := done + 1, len(wanted))
    if workers < 2:
        return
    try:
        # Started afresh rather than forked: alike on every system, and safe beside the preview's threads.
        with ProcessPoolExecutor(workers, get_context("spawn"), _helping) as pool:
            waiting = [pool.submit(make, kit, entry, people, as_of, audience) for kit, entry in drawn]
            try:
                for future in as_completed(waiting):
                    yield future.result()
                    progress("Drawing the kits", done := done + 1, len(wanted))
            except BaseException:
                # Nobody waits for kits that nobody will see.
                pool.shutdown(wait=False, cancel_futures=True)
                for each in active_children():
                    each.terminate()
                raise
    except BrokenProcessPool:
        raise UserError("site.helper-ended") from None


def _helping() -> None:
    """A helping process ends with the main one, however that ends, and at an interrupt without a word: the main one speaks."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    main = parent_process()
    if main is not None:

        def follow() -> None:
            main.join()
            os._exit(1)

        threading.Thread(target=follow, daemon=True).start()


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
    revision = revision_at(kit, as_of) if as_of else None
    state, older = standing(kit, entry, revision)
    stamp = revision.stamp(entry.kit.club.time_zone) if revision else PreviewStamp(state.code)
    made = _kit(entry, kept_or_drawn(entry, stamp, revision))
    errata, circled = corrections_of(kit, kit.club, people, as_of or EVER)
    samples, photos = samples_shown(entry.kit, people, None if audience == "team" else as_of)
    files = made.files | older | circled | photos
    return replace(made, entry=entry, files=files, errata=errata, samples=samples, state=state, upcoming=upcoming(kit, as_of))


def _kit(worked: Worked, offered: Mapping[str, bytes]) -> Made:
    """What depends on no moment: the drawings of one state with its downloads, and what takes long to work out."""
    pictures = pictures_of(worked)
    files = for_everybody(worked, offered)
    cut_files, mats = cut_files_shown(worked, offered)
    pictures |= {mat.name: mat for mat in mats}
    gallery, drawn = gallery_of(worked, offered)
    yours, data = your_paper(worked)
    palette = worked.kit.club.palette
    photos, photo_files = photos_of(worked.kit)
    for found in (drawn, data, photo_files, *(picture.files(palette) for picture in pictures.values())):
        files |= found
    images = {name: image_of(picture) for name, picture in pictures.items()}
    return Made(worked, files, images, printables_of(worked.kit, offered), cut_files, gallery, yours, questions_of(worked), photos=photos)


def _past(kit: PastKit, old: OldPrintable | None) -> Made:
    """A past kit: its printable as it is, with her own picture, or with page 1."""
    name, pdf = f"{kit.id}.pdf", pdf_of(kit)
    files, images = {name: pdf}, {}
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
    return Made(kit, files, images, {"full": (Download(paper_text(old) if old else "", name, len(pdf)),)}, old=old)


def digest(folder: Path, files: Iterable[Path]) -> str:
    """One checksum over the names and bytes of files below a folder."""
    total = hashlib.sha256()
    for file in files:
        with opened(file) as stream:
            total.update(f"{file.relative_to(folder).as_posix()}\0".encode() + hashlib.sha256(stream.read()).digest())
    return total.hexdigest()
