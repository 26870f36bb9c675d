"""What takes longest is drawn after the page that leads to it: the preview shows a page at once, and its printables follow.

While something is put off, a kit's downloads are those that were drawn for it before; nothing that
was made so is remembered, and whoever shows it must not offer them.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Mapping

from kitwright import cache
from kitwright.archive.content import Content
from kitwright.cache import Blob

_LAST = "handed-last"
_off: list[set[str]] = []
"""Kits of which something was put off; empty where nothing may be."""


@contextlib.contextmanager
def putting_off() -> Iterator[set[str]]:
    """Put off, in this process, what a kit's readers download; the kits of which something was."""
    kits: set[str] = set()
    _off.append(kits)
    try:
        yield kits
    finally:
        _off.remove(kits)


def was_put_off(kit: str) -> bool:
    """Whether something of a kit was."""
    return any(kit in kits for kits in _off)


def before(kit: str, given: str) -> Mapping[str, Content] | None:
    """What stands in for what is put off; None where nothing may be, or nothing was drawn before.

    Args:
        kit: its id.
        given: who gets its cut files: with other files among them, what was drawn before is none of it.
    """
    if not _off:
        return None
    found: Mapping[str, Content] | None = cache.known(_LAST, cache.digest(kit, given))
    if found is None or not all(cache.relied(content) for content in found.values() if isinstance(content, Blob)):
        return None
    _off[-1].add(kit)
    return found


def drawn_last(kit: str, given: str, found: Mapping[str, Content]) -> None:
    """Note what was drawn of a kit last."""
    cache.note(_LAST, cache.digest(kit, given), dict(found))
