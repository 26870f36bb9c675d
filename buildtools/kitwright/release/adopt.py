"""Take releases into the ledger that were published before there was one, or in another archive.

Nothing published changes but its records, which gain their seals.
"""

from __future__ import annotations

from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.kit.kit import Kit
from kitwright.kit.read import kit_folders, read_with_club, shown
from kitwright.release import atomic, whole
from kitwright.release.guard import says_its_code
from kitwright.release.ledger import LEDGER, RECORD, LedgerLine, appended, opened, read_ledger, sealed
from kitwright.release.record import Revision, released
from kitwright.release.revisions import as_published


def adopt(kits: Path, only: str | None = None) -> list[LedgerLine]:
    """Seal every record, and write the ledger, all of it or nothing.

    Args:
        kits: the folder of kits.
        only: a kit that came from another archive, to be added to this one's ledger; None where there is no ledger yet.

    Returns:
        The lines that were written, in their order: the order of the instants of release.

    Raises:
        UserError: there is a ledger already, there are no releases, or one of them was touched.
    """
    ledger = read_ledger(kits)
    if ledger and (only is None or ledger.of(only)):
        raise UserError("releases.in-ledger-already", place=Place(shown(ledger.file)), kit=only)
    if ledger is None and only is not None:
        raise UserError("releases.no-ledger-to-add-to", place=Place(shown(kits / LEDGER)))
    if ledger:
        whole.stop_unless_whole(kits, "")
    revisions = [r for folder in kit_folders(kits) if only in (None, folder.name) for r in _sound(kits, folder)]
    if not revisions:
        raise UserError("releases.nothing-to-take-in", place=Place(shown(kits)))
    written: dict[Path, bytes] = {}
    entries: list[LedgerLine] = []
    last: dict[str, str] = {}
    for revision in sorted(revisions, key=lambda r: (r.at, r.kit, r.number)):
        file = revision.folder / RECORD
        text, own = sealed(opened(file.read_text(encoding="utf-8")).body, last.get(revision.kit, ""))
        last[revision.kit] = own
        entries.append(LedgerLine(revision.kit, revision.number, revision.record.released, revision.code, own))
        written[file] = text.encode()
    atomic.change(kits, written | appended(kits, entries))
    return entries


def _sound(kits: Path, folder: Path) -> tuple[Revision, ...]:
    """The revisions of a kit, after a look whether each is what was published."""
    if not whole.revision_folders(folder):
        return ()
    alone = whole.without_ledger(kits, folder.name)
    if alone:
        raise alone[0].raised()
    kit = read_with_club(folder, kits)
    if not isinstance(kit, Kit):
        raise UserError("releases.past-kit", place=Place(kit.document.file), kit=kit.id)
    for revision in released(kit):
        if not says_its_code(revision, as_published(kit, revision)):
            raise UserError("releases.other-code", place=Place(shown(revision.folder / RECORD)), kit=kit.id, revision=revision.number)
    return released(kit)
