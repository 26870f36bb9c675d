"""What is drawn of a kit, kept under a digest of exactly what it is drawn from: a changed word in its notes draws no picture anew."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from kitwright import cache
from kitwright.archive.content import Content, put_away
from kitwright.archive.cutters import cut_files_of
from kitwright.archive.drawn_from import drawn_from
from kitwright.archive.later import before, drawn_last
from kitwright.archive.offered import kept_or_drawn, printed
from kitwright.archive.pictures import pictures_of
from kitwright.cache import Blob
from kitwright.release.record import Revision
from kitwright.release.stamp import PreviewStamp, Stamp
from kitwright.work.worked import Worked


def handed(worked: Worked, stamp: Stamp | PreviewStamp, revision: Revision | None) -> dict[str, Content]:
    """What readers can download of a kit, by name: what a revision kept, else as it is drawn.

    Raises:
        UserError: as for `kept_or_drawn`.
    """
    kept = (revision.record.format, revision.record.files, revision.record.frozen) if revision else None
    key = cache.digest(drawn_from(worked, living=False), worked.kit.notes, stamp, kept)
    given = worked.kit.spec.cut_files
    if revision is None and cache.known("handed", key) is None and (stands_in := before(worked.kit.id, given)) is not None:
        return dict(stands_in)
    found = _files("handed", key, lambda: kept_or_drawn(worked, stamp, revision) if revision else _fresh(worked, stamp))
    if revision is None:
        drawn_last(worked.kit.id, given, found)
    return found


def to_print(worked: Worked, stamp: Stamp | PreviewStamp) -> dict[str, Content]:
    """What of that is printed, of a kit as it stands: whoever wants no cut files does not wait for them.

    Raises:
        UserError: as for `kept_or_drawn`.
    """
    key = cache.digest(drawn_from(worked, living=False), worked.kit.notes, stamp)
    return _files("to print", key, lambda: printed(worked, stamp))


def _fresh(worked: Worked, stamp: Stamp | PreviewStamp) -> dict[str, Content]:
    return {**to_print(worked, stamp), **cut_files_of(worked)}


def pictured(worked: Worked) -> dict[str, Content]:
    """The files of the pictures on a kit's page, by name."""
    palette = worked.kit.club.palette

    def draw() -> dict[str, Content]:
        return {name: data for picture in pictures_of(worked).values() for name, data in picture.files(palette).items()}

    return _files("pictured", drawn_from(worked), draw)


def _files(kind: str, key: str, make: Callable[[], Mapping[str, Content]]) -> dict[str, Content]:
    """Files as they were kept, if all of them are still there; else made now."""
    if cache.handle().folder is None:
        return dict(make())
    made = False

    def fresh() -> dict[str, Content]:
        nonlocal made
        made = True
        return dict(put_away(make()))

    found = cache.value(kind, key, fresh)
    if not made and not all(cache.relied(content) for content in found.values() if isinstance(content, Blob)):
        found = fresh()
        cache.note(kind, key, found)
    return found
