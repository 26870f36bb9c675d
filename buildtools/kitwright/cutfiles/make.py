"""The whole set of a kit's cut files."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Collection, Iterable, Mapping
from importlib import import_module
from math import ceil

from kitwright.cutfiles.mats import MATS, RIM, Mat
from kitwright.cutfiles.names import names_of
from kitwright.cutfiles.nest import nest
from kitwright.cutfiles.parts import Drawing, parts, sizes
from kitwright.errors import UserError
from kitwright.kit.model import FoldLines
from kitwright.telling import contents
from kitwright.telling.formats import FORMATS
from kitwright.units import Length
from kitwright.work.worked import Worked

CONTENTS = "contents.txt"


def cut_files(
    worked: Worked,
    mats: Iterable[Mat] = MATS,
    margin: Length = RIM,
    gap: Length | None = None,
    folds: FoldLines | None = None,
    released: Collection[str] = (),
) -> dict[str, bytes]:
    """Every cut file of a kit.

    Args:
        worked: a kit that passes its checks.
        mats: the cutting mats to set the batch out on.
        margin: the rim of a mat where nothing is cut.
        gap: between neighbours; left out, a sixteenth of an inch, or none where that spares a sheet.
        folds: how score lines are drawn; as the club has it when left out.
        released: paths, without endings, that its newest revision has.

    Returns:
        Relative path (`pieces/A.svg`, `layouts/12x12in/meadow-1.dxf`, `contents.txt`) → bytes, the
        same for the same kit; empty when the kit says `cut files: none`. Whether they are for
        members only, `worked.kit.spec.cut_files` says.

    Raises:
        UserError: a shape that can't be cut, or a rim as wide as the mat.
    """
    mats = tuple(mats)
    for mat in mats:
        if margin * 2 >= min(mat.size.width, mat.size.height):
            unit = worked.kit.spec.unit
            raise UserError("mats.all-rim", rim=margin, mat=mat.size, unit=unit)
    if worked.kit.spec.cut_files == "none":
        return {}
    files: dict[str, bytes] = {}
    dashed = (folds or worked.kit.club.fold_lines) == "dashed"
    all_parts, all_sizes = parts(worked), sizes(worked)
    pieces = [(path, label) for label, path in names_of(worked, released).items()]
    for path, label in pieces:
        title = f"{worked.kit.spec.title}: {contents.piece_title(worked, label)}"
        papers = ((("_".join(worked.counts(label))), (all_parts[label],)),)
        _add(files, path, Drawing(title, contents.takes_text(worked, label), all_sizes[label], papers, dashed))
    lines: list[str] = []
    for mat in mats:
        lines += ["", contents.mat_head(mat.name, mat.size, margin, worked.kit.spec.unit)]
        nests = [nest(plan.demand, all_parts, all_sizes, mat, margin, gap, worked.kit.spec.unit) for plan in worked.plans]
        taken = [sum(setting.sheets for setting in one.settings) for one in nests]
        found = [(f"layouts/{mat.key}/{one.paper}-{i}", one, setting) for one in nests for i, setting in enumerate(one.settings, 1)]
        for path, one, setting in found:
            title = contents.layout_title(worked, one.paper, setting.counts)
            notes = contents.layout_notes(
                worked,
                one.paper,
                sheets=setting.sheets,
                cut_down=one.sheet if one.cut_down else None,
                turned=one.turned,
                over=one.over,
                touching=not one.gap and len(setting.parts) > 1,
            )
            _add(files, path, Drawing(f"{worked.kit.spec.title}, {title}", notes, mat.size, ((one.paper, setting.parts),), dashed))
            lines += [f"  {path}  {title}", f"    {notes}"]
        lines += [f"  {contents.left_out_text(worked, one.paper, one.left_out)}" for one in nests if one.left_out]
        lines += [
            f"  {contents.more_sheets_text(worked, plan.paper, sheets, plan.sheets)}"
            for one, sheets, plan in zip(nests, taken, worked.plans)
            if not one.left_out and sheets > ceil(plan.sheets)
        ]
    files[CONTENTS] = contents.text(worked, pieces, lines, dashed).encode("utf-8")
    return files


def _add(files: dict[str, bytes], path: str, drawing: Drawing) -> None:
    for name in map(str.lower, FORMATS):
        drawn: Callable[[Drawing], bytes] = import_module(f"kitwright.cutfiles.{name}").drawn
        files[f"{path}.{name}"] = drawn(drawing)


def zipped(files: Mapping[str, bytes], folder: str) -> bytes:
    """The same files in one ZIP, inside a folder of this name; same bytes everywhere.

    Stored, not deflated: what a compressor makes of the same bytes differs between systems.
    """
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED) as archive:
        for path in sorted(files):
            entry = zipfile.ZipInfo(f"{folder}/{path}", (1980, 1, 1, 0, 0, 0))
            entry.external_attr = 0o644 << 16
            entry.create_system = 3
            archive.writestr(entry, files[path])
    return stream.getvalue()
