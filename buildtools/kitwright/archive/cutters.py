"""A kit's cut files as the site hands them out: to everybody, or to members only.

The spec says who gets them (`cut files: public`, `members` or `none`). Public ones stand
beside the kit's page; those for members go to the members' folder and nowhere else.
"""

from __future__ import annotations

from kitwright import cache
from kitwright.archive.drawn_from import drawn_from
from kitwright.cutfiles import cut_files, zipped
from kitwright.kit.kit import Kit
from kitwright.work.worked import Worked


def public_cut_files(worked: Worked) -> bool:
    """Whether everybody gets them; otherwise only members do, or nobody."""
    return worked.kit.spec.cut_files == "public"


def cut_files_of(worked: Worked) -> dict[str, bytes]:
    """A kit's cut files, ready to be handed out, whoever may have them.

    Whoever writes a public page asks `public_cut_files` first.

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
    return {name: cache.made("cutfiles", drawn_from(worked, living=False), lambda: zipped(cut_files(worked), name.removesuffix(".zip")))}


def cut_files_name(kit: Kit) -> str:
    """The file that holds them."""
    return f"{kit.id}-cut-files.zip"
