"""What a kit's page says besides its drawings: how much to buy, how to notch, how it travels, what else to download.

Nothing is computed here; all of it comes from the worked kit and is put into rows.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from kitwright.archive.cutters import cut_files_of, public_cut_files
from kitwright.archive.pictures import looks_of
from kitwright.archive.views import EDITIONS, Download, Fact, Said, Shown, bytes_text, editions_for, said_length, said_size, shown_scene
from kitwright.card.notches import Way, readers, ways
from kitwright.card.shapes import outline_of
from kitwright.cutfiles import contents
from kitwright.cutfiles.mats import MATS, Mat
from kitwright.cutfiles.nest import Nest, Setting, nest, sheet_on_mat
from kitwright.cutfiles.parts import parts, sizes
from kitwright.drawing.matplan import Cut, mat_plan
from kitwright.drawing.scene import Scene
from kitwright.drawing.styles import Level
from kitwright.drawing.svg import svg
from kitwright.drawing.template import piece_template
from kitwright.kit.model import Piece
from kitwright.kit.names import BASE
from kitwright.printable.document import INKS, printables
from kitwright.release.stamp import Preview, Stamp
from kitwright.telling.backs import back_text
from kitwright.telling.line import Line
from kitwright.telling.notches import notch_differences, punch_rule, punch_text, way_steps, way_title
from kitwright.telling.post import post_lines
from kitwright.telling.shapes import shape_words
from kitwright.telling.supplies import cost_lines, supply_lines
from kitwright.telling.words import label_text, led, listed, sheets_text
from kitwright.units import length_text
from kitwright.work.post import mailing
from kitwright.work.supplies import supplies
from kitwright.work.worked import Worked

INK_NAMES: dict[Level, tuple[str, str]] = {
    "full": ("Full ink", "papers in their own colours"),
    "light": ("Light ink", "papers a third as strong"),
    "outline": ("Outline", "lines only, good for copying"),
}
"""Name of each level of ink, and what it does."""
TOLD_ABOVE = ("paper", "envelopes")
"""Lines of the shopping list that stand on the page already."""
MAT_WIDTH, MAT_HEIGHT = 200, 226
"""Room for the drawing of a mat, points."""


@dataclass(frozen=True)
class WayRow:
    """One way to make the notches of a strip."""

    name: str
    own: bool
    cut: Said
    depth: Said
    clear: Said
    tool: str
    how: tuple[str, ...]


@dataclass(frozen=True)
class ShapeView:
    """A piece that is more than a rectangle."""

    label: str
    use: str
    words: str
    picture: Shown
    ways: tuple[WayRow, ...]
    """Of a notched strip, the kit's own first."""
    differences: str
    rule: str
    """How long to cut a notched strip for any shaped punch; empty for other shapes."""
    punches: tuple[WayRow, ...]
    """The same for a few punches; each is called by its measures."""


@dataclass(frozen=True)
class MatView:
    """One layout on a cutting mat."""

    papers: str
    holds: str
    notes: str
    picture: Shown


@dataclass(frozen=True)
class CutFiles:
    """The cut files that everybody may have."""

    download: Download
    mat: str
    """The mat that is shown."""
    mats: str
    """All mats that the files are laid out for."""
    layouts: tuple[MatView, ...]
    left_out: tuple[str, ...]
    """What is too large for the mat shown."""
    advice: tuple[str, ...]


@dataclass(frozen=True)
class Making:
    """All of it for one kit."""

    supplies: tuple[Fact, ...]
    costs: tuple[Fact, ...]
    shapes: tuple[ShapeView, ...]
    post: tuple[Fact, ...]
    """How the card travels; empty for a kit without an envelope."""
    post_source: str
    printables: tuple[tuple[str, tuple[Download, ...]], ...]
    """For each level of ink: its name, and the printable in each edition, the club's own first."""
    ink_words: tuple[str, ...]
    """What each level of ink does, in the same order."""
    cut_files: CutFiles | None
    """None where members alone get them, or nobody."""


def making_of(worked: Worked, stamp: Stamp | Preview) -> tuple[Making, dict[str, bytes]]:
    """What the page says, and the files that it leads to, printables and all.

    Raises:
        UserError: a shape that can't be cut, a citation that names nothing.
    """
    files: dict[str, bytes] = {}
    batch = supplies(worked)
    needed = tuple(_fact(line) for line in supply_lines(worked, batch) if line.about not in TOLD_ABOVE)
    post = post_lines(worked, mailing(worked))
    return Making(
        needed,
        tuple(Fact(line.title, Said(line.text)) for line in cost_lines(worked, batch)),
        _shapes(worked, files),
        tuple(Fact(line.title, Said(line.text)) for line in post[:-1]),
        post[-1].text if post else "",
        _printables(worked, stamp, files),
        tuple(words for _, words in INK_NAMES.values()),
        _cut_files(worked, files),
    ), files


def _fact(line: Line) -> Fact:
    """A line of the list: how much, then by what rule."""
    rule = f"{led(line.rule)}." if line.rule else ""
    # What is left makes a sentence of its own, which the first part leads to.
    return Fact(line.title, Said(f"{line.text}:" if line.about == "leftovers" and rule else line.text, rule))


# --- printables ---------------------------------------------------------------------------------


def _printables(worked: Worked, stamp: Stamp | Preview, files: dict[str, bytes]) -> tuple[tuple[str, tuple[Download, ...]], ...]:
    rows: dict[Level, list[Download]] = {ink: [] for ink in INKS}
    for edition in editions_for(worked.kit.club):
        for ink, data in printables(worked, edition, stamp=stamp).items():
            name = f"{worked.kit.id}-{edition}{'' if ink == 'full' else f'-{ink}'}.pdf"
            files[name] = data
            rows[ink].append(Download(EDITIONS[edition], name, bytes_text(len(data))))
    return tuple((INK_NAMES[ink][0], tuple(row)) for ink, row in rows.items())


# --- notches and other shapes ---------------------------------------------------------------------


def _shapes(worked: Worked, files: dict[str, bytes]) -> tuple[ShapeView, ...]:
    return tuple(_shape(worked, label, piece, files) for label, piece in worked.kit.spec.pieces.items() if piece.notch or piece.shape)


def _shape(worked: Worked, label: str, piece: Piece, files: dict[str, bytes]) -> ShapeView:
    unit = worked.kit.spec.unit
    found = ways(piece, unit)
    scene = piece_template(label, outline_of(piece), piece.size, unit=unit)
    return ShapeView(
        label,
        ", ".join(filter(None, (piece.use, back_text(worked, label)))),
        shape_words(piece),
        _picture(f"shape-{label.casefold()}", scene, files),
        tuple(_way(way, unit) for way in found),
        notch_differences(found, unit) if found else "",
        punch_rule(piece, unit) if found else "",
        tuple(replace(_way(way, unit), name=led(punch_text(way, unit)), tool="", how=()) for way in readers(piece, unit)),
    )


def _way(way: Way, unit: str) -> WayRow:
    return WayRow(
        way_title(way),
        way.own,
        said_size(way.cut, unit),
        said_length(way.depth, unit),
        said_length(way.clear, unit),
        _tool(way, unit),
        way_steps(way, unit),
    )


def _tool(way: Way, unit: str) -> str:
    """How large the tool must be, and whether the kit's own is."""
    if way.tool == "scissors":
        return "any scissors with a fine tip"
    least = length_text(way.least, unit)
    if way.punch:
        needs = punch_text(way, unit)
    else:
        needs = f"a square of {least} or larger" + (f", here {length_text(way.side, unit)}" if way.side and way.side != way.least else "")
    return f"{needs}; the one named in this kit is too small" if way.big_enough is False else needs


def _picture(name: str, scene: Scene, files: dict[str, bytes]) -> Shown:
    files[f"{name}.svg"] = svg(scene).encode()
    return shown_scene(name, scene)


# --- cut files ----------------------------------------------------------------------------------------


def _cut_files(worked: Worked, files: dict[str, bytes]) -> CutFiles | None:
    if not public_cut_files(worked):
        return None
    ((name, data),) = cut_files_of(worked).items()
    files[name] = data
    mat = MATS[0] if worked.kit.club.region == "us" else MATS[2]
    nests = [nest(plan.demand, parts(worked), sizes(worked), mat, unit=worked.kit.spec.unit) for plan in worked.plans]
    groups: list[list[tuple[Nest, Setting]]] = []
    for one in nests:
        for setting in one.settings:
            alike = next((group for group in groups if _same(group[0], (one, setting))), None)
            if alike is None:
                groups.append([(one, setting)])
            else:
                alike.append((one, setting))
    layouts = tuple(_layout(worked, mat, group, i, files) for i, group in enumerate(groups, 1))
    too_large = tuple(
        f"{listed([_named(label, 2) for label in one.left_out])} of {worked.kit.papers[one.paper].name}" for one in nests if one.left_out
    )
    return CutFiles(
        Download("Cut files", name, bytes_text(len(data))), mat.name, listed([m.name for m in MATS]), layouts, too_large, contents.GENERAL
    )


def _same(a: tuple[Nest, Setting], b: tuple[Nest, Setting]) -> bool:
    return (a[0].sheet, a[0].turned, a[1].parts) == (b[0].sheet, b[0].turned, b[1].parts)


def _layout(worked: Worked, mat: Mat, group: list[tuple[Nest, Setting]], number: int, files: dict[str, bytes]) -> MatView:
    one, setting = group[0]
    names = [worked.kit.papers[each.paper].name for each, _ in group]
    counts: dict[str, list[str]] = {}
    for (_, each), name in zip(group, names):
        counts.setdefault(sheets_text(each.sheets), []).append(name)
    papers = listed([f"{sheets} {'each ' if len(of) > 1 else ''}of {listed(of)}" for sheets, of in counts.items()])
    holds = listed([f"{n} {_named(label, n)}" for label, n in setting.counts])
    look = looks_of(worked).get((one.paper, "front"))
    cuts = [
        Cut("base" if label == BASE else label, part.outline, part.folds)
        for part in setting.parts
        for label in [part.name.rpartition("-")[0]]
    ]
    scene = mat_plan(
        mat.size,
        mat.name,
        sheet_on_mat(one),
        cuts,
        look,
        width=MAT_WIDTH,
        height=MAT_HEIGHT,
        name=f"{listed(names)} on a cutting mat",
        alt=f"A sheet of {names[0]} on a cutting mat of {mat.name} with {holds}.",
    )
    return MatView(papers, holds, contents.setting_notes(worked, one, setting), _picture(f"mat-{number}", scene, files))


def _named(label: str, n: int) -> str:
    return label_text("base" if label == BASE else label, n)
