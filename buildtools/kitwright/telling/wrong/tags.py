"""Tags that are one and written in two ways, that nobody knows, or that say what is known anyway."""

from __future__ import annotations

from kitwright.errors import Said


def alike(tag: str, other: str, kit: str | None) -> Said:
    where = f" in {kit}" if kit else " in this very kit"
    return (
        f"the tag “{tag}” is “{other}”{where}, so readers who choose one miss the other",
        f"write {other}, or, if they are two things, name both under  tags:  in the club file",
    )


def otherwise(tag: str, other: str) -> Said:
    return f"the tag “{tag}” is “{other}” in the club file", f"write {other}"


def unknown(tag: str, nearest: str | None) -> Said:
    near = f"write {nearest}, which is the nearest, or " if nearest else ""
    return f"the tag “{tag}” is not among the tags of the club file", f"{near}add it there, under  tags:"


def said_by_values(tag: str) -> Said:
    return f"the tag “{tag}” says what the kit’s own sizes and papers say: readers can choose by those", "it can be left out"


def vocabulary_twice(tag: str, other: str) -> Said:
    return f"the tags “{tag}” and “{other}” are one", "leave one of them out"
