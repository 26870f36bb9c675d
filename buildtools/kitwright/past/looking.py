"""What is known of the old printables of an archive: as it was kept, else from the PDFs themselves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from kitwright.errors import Place, UserError
from kitwright.findings import Finding
from kitwright.kit.kit import PastKit
from kitwright.kit.read import shown
from kitwright.past.kept import OldPrintable, checksum, kept, old_printable, pdf_of
from kitwright.past.reading import Outcome, Unreadable, read_all

_known: dict[str, Outcome] = {}
"""What was read from PDFs in this process, by their checksums: a preview builds many times."""
_MOST_KNOWN = 500


def look(kits: Iterable[PastKit]) -> tuple[Mapping[str, OldPrintable], list[Finding]]:
    """What each old printable is, by kit; and a warning for each that nobody could read, or whose day is in another month than its folder's.

    A warning, since the site can go on without: the file is offered as it is, and a site that
    was built yesterday is built today.
    """
    found: dict[str, OldPrintable] = {}
    findings: list[Finding] = []
    unread: dict[str, tuple[PastKit, str]] = {}
    for kit in kits:
        at = kit.spec.reveal
        if at and (at.year, at.month) != (kit.month.year, kit.month.month):
            # A folder that was renamed to the right month says it only half.
            place = kit.document.place(("reveal",))
            findings.append(Finding("warning", place, "past.other-month", day=at.date(), month=kit.month))
        try:
            pdf = checksum(pdf_of(kit))
        except UserError:
            continue  # Told where the kit is read.
        if (old := kept(kit, pdf)) is not None:
            found[kit.id] = old
        else:
            unread[kit.id] = kit, pdf
    files = {pdf: kit.folder / kit.spec.printable for kit, pdf in unread.values() if pdf not in _known}
    if len(_known) > _MOST_KNOWN:
        _known.clear()
    _known.update(zip(files, read_all(list(files.values()))))
    for kit, pdf in unread.values():
        outcome = _known[pdf]
        if isinstance(outcome, Unreadable):
            findings.append(Finding("warning", kit.document.place(("printable",)), outcome.code, name=kit.spec.printable))
        else:
            found[kit.id] = old_printable(outcome)
    return found, findings


def loose(pages: Iterable[Path], kits: Path) -> list[Finding]:
    """A warning for what lies in the folder of kits and is in no kit."""
    return [Finding("warning", Place(shown(page)), "past.loose", name=page.relative_to(kits.parent).as_posix()) for page in pages]
