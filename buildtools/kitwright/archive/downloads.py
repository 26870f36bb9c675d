"""What a kit's page offers to download: the printable in every edition and ink, the workbook, and the cut files with their layouts on a mat."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from kitwright.archive.content import Content, size_of
from kitwright.archive.cutters import cut_files_name, public_cut_files
from kitwright.archive.offered import printable_name, workbook_name
from kitwright.archive.picture import Picture, one_scene
from kitwright.cutfiles.mats import MATS, Mat
from kitwright.cutfiles.nest import MatSetting, Nest, nest, sheet_on_mat
from kitwright.cutfiles.parts import parts, sizes
from kitwright.drawing.matplan import MatCut, mat_plan
from kitwright.drawing.shown import looks_of
from kitwright.drawing.styles import Level
from kitwright.kit.kit import Kit
from kitwright.printable.edition import EDITIONS, EditionName
from kitwright.printable.pages import INKS
from kitwright.telling.kitpage import on_mat_alt, on_mat_title
from kitwright.work.worked import Worked

MAT_WIDTH, MAT_HEIGHT = 200, 226
"""Room for the drawing of a mat, points."""


@dataclass(frozen=True)
class Download:
    """A file that a page leads to."""

    name: str
    """In which form: `Letter`."""
    file: str
    """Its path beside the kit's page."""
    size: int
    """Bytes."""


Printables = Mapping[Level, tuple[Download, ...]]
"""For each level of ink, the printable in each edition, that of the kit's own unit first."""


def editions_for(kit: Kit) -> list[EditionName]:
    """Every edition of a printable, the one that goes with the kit's own unit first."""
    return sorted(EDITIONS, key=lambda edition: (edition == "letter") != (kit.spec.unit == "in"))


def printables_of(kit: Kit, offered: Mapping[str, Content]) -> Printables:
    """The printable, as far as it is offered.

    Args:
        kit: the kit.
        offered: what readers can download, by name.
    """
    return {ink: tuple(_row(kit, offered, ink)) for ink in INKS}


def workbooks_of(kit: Kit, offered: Mapping[str, Content]) -> tuple[Download, ...]:
    """The workbook in each edition, likewise; none of a revision that was published without."""
    return tuple(_named(kit, offered, workbook_name))


def _row(kit: Kit, offered: Mapping[str, Content], ink: Level) -> Iterator[Download]:
    return _named(kit, offered, lambda kit, edition: printable_name(kit, edition, ink))


def _named(kit: Kit, offered: Mapping[str, Content], named: Callable[[Kit, str], str]) -> Iterator[Download]:
    for edition in editions_for(kit):
        name = named(kit, edition)
        if name in offered:
            yield Download(EDITIONS[edition].name, name, size_of(offered[name]))


# --- cut files ----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class OnMat:
    """One layout on a cutting mat, which may serve several papers. Its picture is `mat-1` and so on."""

    papers: tuple[tuple[str, Fraction], ...]
    """Each with its sheets."""
    counts: tuple[tuple[str, int], ...]
    """Pieces by label."""


@dataclass(frozen=True)
class CutFiles:
    """The cut files that everybody may have."""

    download: Download
    mat: str
    """The mat that is shown."""
    layouts: tuple[OnMat, ...]
    left_out: Mapping[str, tuple[str, ...]]
    """Labels that are too large for the mat shown, by paper."""


def cut_files_shown(worked: Worked, offered: Mapping[str, Content]) -> tuple[CutFiles | None, list[Picture]]:
    """The cut files, and a picture of each layout; None where members alone get them, or nobody.

    Args:
        worked: the kit.
        offered: what readers can download, by name.

    Raises:
        UserError: a shape that can't be cut.
    """
    if not public_cut_files(worked):
        return None, []
    name = cut_files_name(worked.kit)
    mat = MATS[0] if worked.kit.club.region == "us" else MATS[2]
    nests = [nest(plan.demand, parts(worked), sizes(worked), mat, unit=worked.kit.spec.unit) for plan in worked.plans]
    groups: dict[object, list[tuple[Nest, MatSetting]]] = {}
    for one in nests:
        for setting in one.settings:
            groups.setdefault((one.sheet, one.turned, setting.parts), []).append((one, setting))
    layouts, pictures = zip(*_layouts(worked, mat, list(groups.values()))) if groups else ((), ())
    left_out = {one.paper: one.left_out for one in nests if one.left_out}
    return CutFiles(Download("ZIP", name, size_of(offered[name])), mat.name, layouts, left_out), list(pictures)


def _layouts(worked: Worked, mat: Mat, groups: list[list[tuple[Nest, MatSetting]]]) -> Iterator[tuple[OnMat, Picture]]:
    for n, group in enumerate(groups, 1):
        one, setting = group[0]
        layout = OnMat(tuple((each.paper, Fraction(of.sheets)) for each, of in group), setting.counts)
        yield layout, _picture(f"mat-{n}", worked, mat, one, setting, layout)


def _picture(name: str, worked: Worked, mat: Mat, one: Nest, setting: MatSetting, layout: OnMat) -> Picture:
    names = [worked.kit.papers[paper].name for paper, _ in layout.papers]
    cuts = [MatCut(label, part.outline, part.folds) for part in setting.parts for label in [part.name.rpartition("-")[0]]]
    sheet, look = sheet_on_mat(one), looks_of(worked).get((one.paper, "front"))
    said, alt = on_mat_title(names), on_mat_alt(names[0], mat.name, layout.counts)
    return one_scene(
        name,
        (mat, sheet, cuts, look, said, alt),
        lambda: mat_plan(mat.size, mat.name, sheet, cuts, look, width=MAT_WIDTH, height=MAT_HEIGHT, name=said, alt=alt),
    )
