"""What lies in a set of cut files, in words."""

from __future__ import annotations

from collections.abc import Iterable

from kitwright.cutfiles.mats import Mat
from kitwright.cutfiles.nest import Nest, Setting
from kitwright.kit.names import BASE
from kitwright.telling.backs import back_text
from kitwright.telling.shapes import shaped_with
from kitwright.telling.words import label_text, listed, number
from kitwright.units import Length, length_text, size_text
from kitwright.work.worked import Worked

FIRST_LINE = "Cut files:"
"""Marks a folder as one that may be written anew."""
GENERAL = (
    "Every file is at true size, in millimetres. Check one size before you cut: some programs ask for the unit.",
    "Layer “edges” is cut through; layer “folds” is scored.",
    "Lay the paper in the top left corner of the mat, inside its rim, with the side up that shows on the card.",
    "Blades are sharp, and a moving cutter pulls: keep fingers, hair and sleeves away from it, and small pieces away from children.",
)


def piece_title(worked: Worked, label: str) -> str:
    """A piece with what it is for, and its size."""
    if label == BASE:
        return f"Card base, {size_text(worked.base.cut, worked.kit.spec.unit)}"
    piece = worked.kit.spec.pieces[label]
    shape = f", {shaped_with(piece, worked.kit.spec.unit)}" if piece.notch else ""
    return f"{label}{f', {piece.use}' if piece.use else ''}, {size_text(piece.size, worked.kit.spec.unit)}{shape}{f', {back}' if (back := back_text(worked, label)) else ''}"


def piece_counts(worked: Worked, label: str) -> str:
    """How many the batch takes, from which papers."""
    return listed([f"{n} from {worked.kit.papers[paper].name}" for paper, n in worked.counts(label).items()])


def setting_title(worked: Worked, nest: Nest, setting: Setting) -> str:
    """A layout in a line."""
    on_it = listed([f"{n} {label_text(label, n)}" for label, n in setting.counts])
    return f"{worked.kit.papers[nest.paper].name}: {on_it}"


def setting_notes(worked: Worked, nest: Nest, setting: Setting) -> str:
    """What to lay on the mat, and how often."""
    unit, paper = worked.kit.spec.unit, worked.kit.papers[nest.paper]
    lay = f"Lay a sheet of {size_text(paper.size.size, unit)}" + (f", cut down to {size_text(nest.sheet, unit)}," if nest.cut_down else "")
    notes = [f"{lay} on the mat; cut {number(setting.sheets, 'sheet', 'sheets alike')}."]
    one_way = any(face and face.up for face in (paper.front, paper.back))
    if nest.turned:
        notes.append("Its top edge lies to the right." if one_way else "It lies a quarter turn to the right.")
    elif one_way:
        notes.append("Its top edge lies at the top of the mat.")
    ways = [where for there, where in zip(nest.over, ("from side to side", "from top to bottom")) if there]
    if ways:
        notes.append(f"It reaches over the rim: lay it in the middle of the mat, {listed(ways)}.")
    if not nest.gap and len(setting.parts) > 1:
        notes.append("Pieces touch, since that spares a sheet: where two share an edge it is cut twice.")
    return " ".join(notes)


def text(
    worked: Worked,
    pieces: Iterable[tuple[str, str]],
    layouts: Iterable[tuple[Mat, list[tuple[str, Nest, Setting]], list[Nest]]],
    margin: Length,
) -> str:
    """The contents as plain text.

    Args:
        worked: the kit.
        pieces: path without ending, and label.
        layouts: for each mat its layouts (path without ending, nest, setting) and all its nests.
        margin: the rim of the mats.
    """
    unit = worked.kit.spec.unit
    lines = [f"{FIRST_LINE} {worked.kit.spec.title}", "", *GENERAL, "", "Pieces, each as .svg and .dxf"]
    lines += [f"  {path}  {piece_title(worked, label)}; {piece_counts(worked, label)}" for path, label in pieces]
    for mat, found, nests in layouts:
        lines += ["", f"On a cutting mat of {_mat_text(mat)}, nothing within {length_text(margin, unit)} of its edges"]
        for path, nest, setting in found:
            lines += [f"  {path}  {setting_title(worked, nest, setting)}", f"    {setting_notes(worked, nest, setting)}"]
        for nest in nests:
            if nest.left_out:
                names = listed([label_text(label, 1) for label in nest.left_out])
                verb = "is" if len(nest.left_out) == 1 else "are"
                lines.append(
                    f"  {names} from {worked.kit.papers[nest.paper].name} {verb} too large for this mat: use a larger one, or cut by hand."
                )
    return "\n".join(lines) + "\n"


def _mat_text(mat: Mat) -> str:
    metric = all(side.millimetres.denominator == 1 for side in (mat.size.width, mat.size.height))
    return mat.name if "×" in mat.name else f"{mat.name} size, {size_text(mat.size, 'mm' if metric else 'in')}"
