"""What lies in a set of cut files, and what to do with it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from kitwright.labels import BASE, is_base
from kitwright.telling.backs import back_text
from kitwright.telling.formats import ENDINGS
from kitwright.telling.shapes import shaped_with
from kitwright.telling.words import label_text, listed, number, sheets_text
from kitwright.units import Length, Size, length_text, size_text
from kitwright.work.worked import Worked

FIRST_LINE = "Cut files:"
"""Marks a folder as one that may be written anew."""
SCORED = "Layer “edges” is cut through; layer “folds” is scored."
DASHED = "Layer “edges” is cut through; so is layer “folds”, whose dashes make the paper fold there."
GENERAL = (
    "Every file is at true size, in millimetres. Check one size before you cut: some programs ask for the unit.",
    SCORED,
    "Lay the paper in the top left corner of the mat, inside its rim, with the side up that shows on the card.",
    "Blades are sharp, and a moving cutter pulls: keep fingers, hair and sleeves away from it, and small pieces away from children.",
)


def piece_title(worked: Worked, label: str) -> str:
    """A piece with what it is for, and its size."""
    if is_base(label):
        name = "Card base" if label == BASE else label
        return f"{name}, {size_text(worked.sizes[label], worked.unit)}"
    piece = worked.kit.spec.pieces[label]
    shape = f", {shaped_with(piece, worked.unit)}" if piece.notch or piece.made_with else ""
    return f"{label}{f', {piece.use}' if piece.use else ''}, {size_text(piece.size, worked.unit)}{shape}{f', {back}' if (back := back_text(worked, label)) else ''}"


def piece_counts(worked: Worked, label: str) -> str:
    """How many the batch takes, from which papers."""
    return listed([f"{n} from {worked.kit.papers[paper].name}" for paper, n in worked.counts(label).items()])


def takes_text(worked: Worked, label: str) -> str:
    """What a file of one piece says of it."""
    return f"The batch takes {piece_counts(worked, label)}."


def layout_title(worked: Worked, paper: str, counts: Sequence[tuple[str, int]]) -> str:
    """A layout in a line."""
    return f"{worked.kit.papers[paper].name}: {listed([f'{n} {label_text(label, n)}' for label, n in counts])}"


def layout_notes(
    worked: Worked, paper: str, *, sheets: int, cut_down: Size | None, turned: bool, over: tuple[bool, bool], touching: bool
) -> str:
    """What to lay on the mat, and how often.

    Args:
        cut_down: what the sheet is cut down to first, if it is.
        turned: it lies a quarter turn to the right.
        over: whether it reaches over the rim from side to side, and from top to bottom.
        touching: its pieces share edges.
    """
    unit, kind = worked.unit, worked.kit.papers[paper]
    lay = f"Lay a sheet of {size_text(kind.size.size, unit)}" + (f", cut down to {size_text(cut_down, unit)}," if cut_down else "")
    notes = [f"{lay} on the mat; cut {number(sheets, 'sheet', 'sheets alike')}."]
    one_way = any(face and face.up for face in (kind.front, kind.back))
    if turned:
        notes.append("Its top edge lies to the right." if one_way else "It lies a quarter turn to the right.")
    elif one_way:
        notes.append("Its top edge lies at the top of the mat.")
    ways = [where for there, where in zip(over, ("from side to side", "from top to bottom")) if there]
    if ways:
        notes.append(f"It reaches over the rim: lay it in the middle of the mat, {listed(ways)}.")
    if touching:
        notes.append("Pieces touch, since that spares a sheet: where two share an edge it is cut twice.")
    return " ".join(notes)


def mat_head(name: str, size: Size, margin: Length, unit: str) -> str:
    """Over the layouts for one mat; nothing is cut within `margin` of its edges."""
    metric = all(side.millimetres.denominator == 1 for side in (size.width, size.height))
    mat = name if "×" in name else f"{name} size, {size_text(size, 'mm' if metric else 'in')}"
    return f"On a cutting mat of {mat}, nothing within {length_text(margin, unit)} of its edges"


def left_out_text(worked: Worked, paper: str, labels: Sequence[str]) -> str:
    """Pieces that the mat can’t hold."""
    names, verb = listed([label_text(label, 1) for label in labels]), "is" if len(labels) == 1 else "are"
    return f"{names} from {worked.kit.papers[paper].name} {verb} too large for this mat: use a larger one, or cut by hand."


def more_sheets_text(worked: Worked, paper: str, sheets: int, by_hand: Fraction) -> str:
    """A mat on which the batch takes more whole sheets of a paper than the cuts at the trimmer do."""
    return f"{worked.kit.papers[paper].name}: {number(sheets, 'sheet', 'sheets')} on this mat, where {sheets_text(by_hand)} will do at the trimmer."


def text(worked: Worked, pieces: Sequence[tuple[str, str]], mats: Sequence[str], dashed: bool = False) -> str:
    """The contents as plain text.

    Args:
        pieces: path without ending, and label.
        mats: lines on each mat and its layouts.
        dashed: whether score lines are dashes.
    """
    general = [DASHED if dashed and line == SCORED else line for line in GENERAL]
    lines = [f"{FIRST_LINE} {worked.kit.spec.title}", "", *general, "", f"Pieces, each as {ENDINGS}"]
    lines += [f"  {path}  {piece_title(worked, label)}; {piece_counts(worked, label)}" for path, label in pieces]
    return "\n".join([*lines, *mats]) + "\n"
