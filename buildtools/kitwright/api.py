"""kitwright for other programs: read a kit, work it out, check it, plan it, draw it.

    from kitwright.api import check, draw, plan, read_kit, work

    kit = read_kit("kits/2027-03-river-stones")
    worked = work(kit)

`kitwright check` and `kitwright plan` call these same functions. Each loads what it needs when it is called, so
importing this module costs next to nothing. What a user typed wrongly is a `UserError`, whose
`problem` and `remedy` are words and whose `code` and `values` are for programs.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Literal, get_args

import kitwright.telling  # noqa: F401 - opens the catalogue
from kitwright.errors import Place, UserError

if TYPE_CHECKING:
    from kitwright.findings import Finding
    from kitwright.kit.kit import Kit
    from kitwright.otherwise.planned import Planned
    from kitwright.release.people import Person
    from kitwright.work.worked import Worked

__all__ = ["UserError", "check", "draw", "plan", "read_kit", "work"]

Format = Literal["svg", "png", "pdf"]


def read_kit(folder: str | Path) -> Kit:
    """Read a kit's folder, with the club file beside it.

    Raises:
        UserError: it can't be read, or is a past kit, of which there is only an old printable.
    """
    from kitwright.kit.kit import Kit
    from kitwright.kit.read import read_with_club

    folder = Path(folder).resolve()
    # Of a kit that is not there, the kit is told, and not the club file beside it.
    if not folder.is_dir():
        raise UserError("kits.not-a-folder", place=Place(folder))
    kit = read_with_club(folder, folder.parent)
    if not isinstance(kit, Kit):
        raise UserError("commands.past-kit", kit=kit.id, asked="computed")
    return kit


def work(kit: Kit) -> Worked:
    """Work a kit out: card, fronts, sheets, plans, each a value and in exact lengths.

    A kit that can't be cut as it says is worked out as far as it goes; `check` tells.
    """
    from kitwright.work import working

    return working.work(kit)


def check(kit: Kit | Worked, people: Mapping[str, Person] | None = None) -> list[Finding]:
    """Everything that `kitwright check` tells of a kit, as records: errors first.

    Args:
        kit: a kit, or one that is worked out already.
        people: everybody on file; read from the folder beside the kit's when left out.

    Raises:
        UserError: a person's file can't be read.
    """
    from kitwright.archive import vocabulary
    from kitwright.findings import LEVELS
    from kitwright.otherwise import checked
    from kitwright.release.lookover import look_over
    from kitwright.release.people import read_people
    from kitwright.work.worked import Worked

    worked = kit if isinstance(kit, Worked) else work(kit)
    everybody = read_people(worked.kit.folder.parent) if people is None else people
    tags = vocabulary.of_kit(vocabulary.tags_of(worked.kit), worked.kit.club, worked)
    found = dict.fromkeys([*checked.check(worked), *look_over(worked, everybody), *tags])
    return sorted(found, key=lambda one: LEVELS.index(one.level))


def plan(
    worked: Worked, *, cards: int | None = None, papers: Mapping[str, str] | None = None, one_way: Collection[str] = ()
) -> list[Planned]:
    """How each paper is cut: as the kit has it, or, where something is asked differently, planned anew.

    Args:
        worked: a kit without errors.
        cards: for so many cards.
        papers: other sheets, by paper: `{"white": "A4"}`.
        one_way: papers that are planned as if their pattern had an up.

    Returns:
        A record for each paper; its `plan` is None where a piece does not fit.

    Raises:
        UserError: the kit has no such paper, there is no such sheet, or fewer than one card is asked for.
    """
    from kitwright.otherwise.planned import planned
    from kitwright.papers import sheet_named

    if cards is not None and cards < 1:
        raise UserError("commands.no-cards", cards=cards)
    papers = papers or {}
    for name in (*one_way, *papers):
        if worked.plan(name) is None:
            raise UserError("commands.no-such-paper", paper=name, papers=tuple(p.paper for p in worked.plans))
    sizes = {name: sheet_named(sheet, worked.kit.spec.unit).size for name, sheet in papers.items()}
    return planned(worked, cards, sizes, one_way)


def draw(worked: Worked, what: str, format: Format = "svg") -> bytes:
    """One of a kit's pictures, its printable or its workbook.

    Args:
        worked: a kit without errors.
        what: `card`, `sketch`, `base`, `fold` of a card that is not just folded in the middle, `layers`, `thumbnail`, `guide-1` and so on for the layouts, `look-1` and so on
            where the batch has several looks, `paper-` and a paper's key, `hand-1-1` and so on for the steps, `shape-` and a label; `printable-letter`, `printable-a4`, `workbook-letter` or `workbook-a4`, which are PDF.
            Other faces are `sketch-inside` and the like; of several designs `base-tall`, `look-1-tall` and so on end in a design's name.
        format: `svg`, `png` (at twice the size of a screen) or `pdf`; a picture as PDF is one page of its own size.

    Raises:
        UserError: the kit has no such picture, or not in that format.
    """
    from kitwright.archive.pictures import pictures_of
    from kitwright.drawing import pdf, png, svg
    from kitwright.printable import EDITIONS, printable_pdf, workbook_pdf

    kinds = {"printable": printable_pdf, "workbook": workbook_pdf}
    documents = {f"{kind}-{edition}": (made, edition) for kind, made in kinds.items() for edition in EDITIONS}
    if what in documents:
        if format != "pdf":
            raise UserError("commands.pdf-alone", what=what)
        made, edition = documents[what]
        return made(worked, edition)
    palette = worked.kit.club.palette
    scenes = {name: picture.wide for name, picture in pictures_of(worked).items()}
    if what not in scenes:
        raise UserError("commands.no-picture", what=what, known=(*scenes, *documents), place=Place(worked.kit.document.file))
    match format:
        case "svg":
            return svg.svg(scenes[what], palette=palette).encode()
        case "png":
            return png.png(scenes[what], palette=palette)
        case "pdf":
            return pdf.pdf(scenes[what], palette=palette)
        case _:
            raise UserError("commands.no-format", format=format, known=get_args(Format))
