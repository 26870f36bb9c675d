"""What was made before, kept between runs by a digest of exactly what it was made from.

Everything here may vanish at any time: then it is only slower.
"""

from __future__ import annotations

from kitwright.cache.digests import code, digest
from kitwright.cache.kept import FOLDER, Blob, Handle, Lost, Store, handle, keep, known, made, note, read, relied, taken_up, using, value

__all__ = [
    "FOLDER",
    "Blob",
    "Handle",
    "Lost",
    "Store",
    "code",
    "digest",
    "handle",
    "keep",
    "known",
    "made",
    "note",
    "read",
    "relied",
    "taken_up",
    "using",
    "value",
]
