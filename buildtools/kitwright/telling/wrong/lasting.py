"""An address that readers were led to and that leads nowhere now."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import listed

_LINE = "kits/old/index.html -> kits/new/index.html"


def page(typed: str) -> Said:
    return f"“{typed}” is no page of a site", f"each line begins with a page, as in  archive.html  or  {_LINE}"


def now(page: str, now: str) -> Said:
    said = f"“{now}” is no page of a site" if now else "nothing stands behind the arrow"
    return f"where {page} stands now can’t be read: {said}", f"write for example  {_LINE}  or  {page} -> gone"


def twice(page: str, first: int) -> Said:
    return f"{page} stands here twice, in line {first} too", "keep one of the two lines"


def too_large(most: int) -> Said:
    return (
        f"this file is larger than {most // 1_000_000} megabytes",
        "put it back from your backup, or delete it: the next publish writes it anew",
    )


def gone(page: str, near: str | None) -> Said:
    return (
        f"readers were led to {page}, and this site has no such page: links to it would break",
        f"bring it back; or say in this line where it stands now,  {page} -> {near or 'archive.html'},  or that it is gone for good,  {page} -> gone",
    )


def nowhere(page: str, now: str) -> Said:
    return f"{page} leads to {now}, which is no page of this site", f"name a page that is there, or write  {page} -> gone"


def places_gone(page: str, gone: tuple[str, ...]) -> Said:
    many = len(gone)
    some = listed([f"#{one}" for one in gone[:5]])
    more = f" and {many - 5} more" if many > 5 else ""
    return (
        f"readers were led to places in {page} that are gone: {some}{more}",
        "links to them open the page at its top; bring the headings back, or take the places out of this line",
    )
