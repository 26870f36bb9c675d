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


def not_taken_over(what: str, name: str = "this") -> Said:
    return (
        f"{name} holds more than plain shapes ({what}), and only those are taken over from a drawing",
        "save it as PNG, some 600 pixels wide and see-through around the mark",
    )


def see_through(name: str = "this") -> Said:
    return f"{name} has colours that are half see-through", "save it as PNG, some 600 pixels wide and see-through around the mark"


def too_intricate(name: str = "this") -> Said:
    return f"{name} is far too intricate for a mark", "save it as PNG, some 600 pixels wide"


def too_long(most: int, name: str = "this") -> Said:
    return f"{name} is more than {most} times as long as it is high, or as high as it is long", "take a part of it that is nearer to square"


def too_small(width: int, height: int, least: int, best: tuple[int, int], name: str = "this") -> Said:
    return f"{name} is {width} × {height} pixels, and {least} each way are the least", f"save it larger; {best[0]} × {best[1]} is best"


def empty(name: str = "this") -> Said:
    return f"{name} shows nothing", "save it again, or leave the line out"


def odd_ending(name: str, endings: tuple[str, ...]) -> Said:
    return f"{name} is not named as a picture", f"a picture's name ends in {', '.join(endings)}"


def another_file(name: str, endings: tuple[str, ...]) -> Said:
    return (
        f"{name} is no picture, and only pictures are published from here",
        f"pictures end in {', '.join(endings)}; keep other files in another folder",
    )
