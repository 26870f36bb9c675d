"""Every file that readers can download of a kit: printables in each edition and ink, workbooks, contact sheets, cut files.

This is the one place where they are drawn: once when a kit is published, by `kitwright
release`, and at every build for a kit that is not published yet. What a revision kept is copied.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from kitwright.archive.content import Content
from kitwright.archive.cutters import cut_files_name, cut_files_of, public_cut_files
from kitwright.drawing.styles import Level
from kitwright.errors import UserError
from kitwright.kit.kit import Kit
from kitwright.kit.project import printable_file
from kitwright.labels import named
from kitwright.otherwise.arrangements import Arrangements, arrangements_of
from kitwright.printable.contact_sheet import contact_sheet_pdf
from kitwright.printable.document import printables
from kitwright.printable.edition import EDITIONS
from kitwright.printable.pages import INKS
from kitwright.printable.workbook import workbook_pdf
from kitwright.release.record import Revision
from kitwright.release.revisions import files_of
from kitwright.release.stamp import PreviewStamp, Stamp
from kitwright.work.worked import Worked


def offered(worked: Worked, stamp: Stamp | PreviewStamp) -> dict[str, bytes]:
    """All of them, drawn: name → bytes, for the public and for members, the same for the same kit and stamp.

    Args:
        worked: the kit; it should have no errors left.
        stamp: revision, date and code once released, and the code of the preview before.

    Raises:
        UserError: a citation that names nothing, an arrangement that there is not, a shape that can't be cut.
    """
    return printed(worked, stamp) | cut_files_of(worked)


def printed(worked: Worked, stamp: Stamp | PreviewStamp) -> dict[str, bytes]:
    """Those of them that are printed, likewise: printables, workbooks and contact sheets."""
    files: dict[str, bytes] = {}
    every = [arrangements_shown(design) for design in worked.designs]
    for edition in EDITIONS:
        drawn = printables(worked, edition, stamp=stamp)
        files |= {printable_name(worked.kit, edition, ink): drawn[ink] for ink in INKS}
        files[workbook_name(worked.kit, edition)] = workbook_pdf(worked, edition, stamp=stamp)
        for found in filter(has_page, every):
            files[sheet_name(found.worked.kit, edition)] = contact_sheet_pdf(found, edition, stamp=stamp)
    return files


def kept_or_drawn(worked: Worked, stamp: Stamp | PreviewStamp, revision: Revision) -> dict[str, bytes]:
    """What readers can download of a revision: the very files that it kept, or as they are drawn now where it kept none.

    Raises:
        UserError: kept files that are not as they were written, and as for `offered`.
    """
    if not revision.keeps:
        # Published before a club could have colours of its own.
        kit = worked.kit
        plain = worked.seen_as(replace(kit, club=kit.club.undressed))
        return printed(plain, stamp) | cut_files_of(plain, by_label=True)
    files = files_of(revision)
    # Cut files that are given out only since then were not drawn with the others.
    return files if cut_files_name(worked.kit) in files else files | cut_files_of(worked)


def cut_files_given(worked: Worked, revision: Revision | None) -> dict[str, bytes]:
    """A kit's cut files alone, those that a revision kept before any drawn now; empty where the kit says that there are none.

    Raises:
        UserError: as for `kept_or_drawn`.
    """
    name = cut_files_name(worked.kit)
    kept = files_of(revision) if revision and revision.keeps and worked.kit.spec.cut_files != "none" else {}
    return {name: kept[name]} if name in kept else cut_files_of(worked)


def for_everybody(worked: Worked, offered: Mapping[str, Content]) -> dict[str, Content]:
    """Those that everybody may have, and nothing by another name."""
    kit = worked.kit
    names = [
        name
        for edition in EDITIONS
        for name in (
            *(sheet_name(design, edition) for design in kit.designs),
            *(printable_name(kit, edition, ink) for ink in INKS),
            workbook_name(kit, edition),
        )
    ]
    names += [cut_files_name(kit)] if public_cut_files(worked) else []
    return {name: offered[name] for name in names if name in offered}


def printable_name(kit: Kit, edition: str, ink: Level = "full") -> str:
    """The file of a printable."""
    return printable_file(kit.id, edition, ink)


def workbook_name(kit: Kit, edition: str) -> str:
    """The file of a workbook."""
    return f"{kit.id}-workbook-{edition}.pdf"


def sheet_name(kit: Kit, edition: str) -> str:
    """The file of a contact sheet; of one of several designs with its name."""
    return f"{kit.id}-{arrangements_name(kit.design)}-{edition}.pdf"


def arrangements_name(design: str) -> str:
    """What the page of a design's arrangements is called, without an ending, and the folder of its pictures."""
    return named("arrangements", design)


def arrangements_shown(worked: Worked) -> Arrangements:
    """The arrangements of a kit, or of one of its designs, that are shown, those that its samples name among them.

    Raises:
        UserError: the author's own mix, or a sample, names an arrangement that there is not.
    """
    of, leading = worked.kit.leading, worked.whole.kit.leading
    samples = [one.arrangement for one in worked.kit.spec.samples if one.arrangement and (one.design or leading) == of]
    try:
        return arrangements_of(worked, also=samples)
    except UserError as error:
        raise error.at(worked.kit.place("samples")) from None


def has_page(found: Arrangements) -> bool:
    """Whether they have a page and a contact sheet; where the pieces fit in one way only, the kit's own page says so."""
    return len(found.items) + len(found.variations) > 1
