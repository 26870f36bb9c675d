"""Prose that nobody would read: too long, or too deep."""

from __future__ import annotations

from kitwright.errors import Said


def too_deep() -> Said:
    return "this is nested far too deeply", "take lists and quotations apart"


def too_long(length: int, most: int) -> Said:
    return f"this is far too long: {length} characters", f"say it in {most}, or put the rest on a page of your own and link to it"


def too_many(sign: str, count: int, most: int) -> Said:
    return f"there are far too many {sign} in here: {count}", f"{most} are the most"


def foreign_picture() -> Said:
    return "a picture from another site can't be shown, and is left out", "put the picture into photos/ and name it from there"


def left_out(tag: str, attribute: str | None) -> Said:
    what = f"{attribute} on <{tag}>" if attribute else f"<{tag}>"
    return f"{what} can't stand on a page, and is left out", "say it in words, with the plain signs of Markdown"
