"""A kit's cut files as the site hands them out: to everybody, or to members only.

The spec says who gets them (`cut files: public`, `members` or `none`). Public ones stand
beside the kit's page; those for members go to the members' folder and nowhere else.
"""

from __future__ import annotations

import io
import zipfile

from kitwright import cache
from kitwright.archive.drawn_from import drawn_from
from kitwright.cutfiles import cut_files, zipped
from kitwright.cutfiles.names import labelled, names_of
from kitwright.kit.kit import Kit
from kitwright.release.record import released
from kitwright.release.revisions import files_of
from kitwright.work.worked import Worked


def public_cut_files(worked: Worked) -> bool:
    """Whether everybody gets them; otherwise only members do, or nobody."""
    return worked.kit.spec.cut_files == "public"


def cut_files_of(worked: Worked, by_label: bool = False) -> dict[str, bytes]:
    """A kit's cut files, ready to be handed out, whoever may have them.

    Whoever writes a public page asks `public_cut_files` first.

    Args:
        worked: the kit.
        by_label: whether each file is named by its label, as all were before mats had names of their own.

    Returns:
        File name → bytes, the same for the same kit: one ZIP that holds every piece and
        every layout in every format, with its contents in words. Empty for a kit that says
        `cut files: none`.

    Raises:
        UserError: a shape that can't be cut.
    """
    if worked.kit.spec.cut_files == "none":
        return {}
    name = cut_files_name(worked.kit)
    before = labelled(worked.kit) if by_label else names_released(worked.kit)
    key = cache.digest(drawn_from(worked, living=False), names_of(worked, before))
    return {name: cache.made("cutfiles", key, lambda: zipped(cut_files(worked, released=before), name.removesuffix(".zip")))}


def names_released(kit: Kit) -> frozenset[str]:
    """Paths of pieces' files, without their endings, in the newest cut files that a revision kept; those names stay.

    Raises:
        UserError: kept files that are not as they were written.
    """
    name, revisions = cut_files_name(kit), released(kit)
    if not all(one.keeps for one in revisions):
        return labelled(kit)
    newest = next((one for one in reversed(revisions) if name in one.files), None)
    if newest is None:
        return frozenset()

    def read() -> frozenset[str]:
        with zipfile.ZipFile(io.BytesIO(files_of(newest)[name])) as kept:
            return frozenset(path.partition("/")[2].rpartition(".")[0] for path in kept.namelist())

    return cache.value("names of cut files", cache.digest(newest.files[name]), read)


def cut_files_name(kit: Kit) -> str:
    """The file that holds them."""
    return f"{kit.id}-cut-files.zip"
