"""Files that are no picture for a page."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import megabytes


def _so(published: bool) -> str:
    return "" if published else ", so it is not published"


def unreadable(name: str = "this", published: bool = True) -> Said:
    return f"{name} can't be read as a picture{_so(published)}", "save it again as JPEG, PNG or WebP"


def too_large(most: int, name: str = "this", published: bool = True) -> Said:
    return f"{name} is larger than {megabytes(most)}{_so(published)}", "save it smaller"


def too_many_pixels(width: int, height: int, name: str = "this", published: bool = True) -> Said:
    return f"{name} has far too many pixels: {width} × {height}{_so(published)}", "save it again, 4000 pixels wide at most"


def moving(name: str = "this", published: bool = True) -> Said:
    return f"{name} is a moving picture{_so(published)}", "save one picture of it as JPEG or PNG"


def odd_ending(name: str, endings: tuple[str, ...]) -> Said:
    return f"{name} is not named as a picture", f"a picture's name ends in {', '.join(endings)}"


def another_file(name: str, endings: tuple[str, ...]) -> Said:
    return (
        f"{name} is no picture, and only pictures are published from here",
        f"pictures end in {', '.join(endings)}; keep other files in another folder",
    )
