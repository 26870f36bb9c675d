"""What is public, read back from the site's own address and held against what was built."""

from __future__ import annotations

import hashlib
import http.client
import urllib.error
import urllib.request
from collections.abc import Collection, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from urllib.parse import quote, urlsplit

from kitwright.archive.built import Written
from kitwright.archive.hosting.plan import is_page

MOST_FILES, MOST_BYTES = 2_000, 200_000_000
AT_ONCE = 4
PATIENCE = 30
"""Seconds without an answer after which a host is taken to be silent."""
NOWHERE = (404, 410)


@dataclass
class Reread:
    """What was found at an address."""

    read: int = 0
    """Files that were read."""
    of: int = 0
    """Files that there are."""
    other: list[str] = field(default_factory=list)
    """Files that are not there as they were built."""
    older: list[str] = field(default_factory=list)
    """Files of which an older copy is still given out, though the new one is there."""
    still: list[str] = field(default_factory=list)
    """Files that should be gone."""
    why: str = ""
    """Why nothing could be read; empty where something could."""


def reread(address: str, files: Mapping[str, Written], first: Collection[str], gone: Collection[str]) -> Reread:
    """Read a site back.

    Args:
        address: where it stands.
        files: what was built.
        first: what was sent, which is read before all else.
        gone: what should not be there any more.
    """
    top = address.rstrip("/") + "/"
    public = [name for name in files if not any(part.startswith(".") for part in name.split("/"))]
    names: list[str] = []
    room = MOST_BYTES
    for name in sorted(public, key=lambda name: (name not in first, not is_page(name), name)):
        room -= files[name].size
        if room >= 0 and len(names) < MOST_FILES:
            names.append(name)
    found = Reread(of=len(public))
    if urlsplit(top).scheme not in ("http", "https"):
        return found
    try:
        _get(top + "index.html", MOST_BYTES)
    except OSError as error:
        found.why = _reason(getattr(error, "reason", error))
        return found
    with ThreadPoolExecutor(AT_ONCE) as pool:
        for name, state in zip(names, pool.map(lambda name: _state(top, name, files[name]), names)):
            found.read += 1
            if state != "same":
                (found.older if state == "older" else found.other).append(name)
        hidden = [name for name in gone if not any(part.startswith(".") for part in name.split("/"))][:MOST_FILES]
        found.still = [name for name, there in zip(hidden, pool.map(lambda name: _there(top, name), hidden)) if there]
    return found


def _reason(error: object) -> str:
    """What the machine says of it, without its number."""
    return (isinstance(error, OSError) and error.strerror) or str(error)


def _state(top: str, name: str, file: Written) -> str:
    where = top + quote(name)
    if _is(where, file):
        return "same"
    # Asked for as nobody asked before, no cache on the way has an answer.
    return "older" if _is(f"{where}?kitwright={file.sha256[:12]}", file) else "other"


def _is(where: str, file: Written) -> bool:
    try:
        status, data = _get(where, file.size + 1)
    except OSError:
        return False
    return (status == 200 or where.rpartition("/")[2].startswith("404.html")) and hashlib.sha256(data).hexdigest() == file.sha256


def _there(top: str, name: str) -> bool:
    try:
        return _get(top + quote(name), 1)[0] not in NOWHERE
    except OSError:
        return False


def _get(where: str, most: int) -> tuple[int, bytes]:
    """An answer's status and no more of its bytes than are of use.

    Raises:
        OSError: there is no answer.
    """
    request = urllib.request.Request(where, headers={"Cache-Control": "no-cache", "User-Agent": "kitwright"})
    try:
        with urllib.request.urlopen(request, timeout=PATIENCE) as answer:
            return answer.status, answer.read(most)
    except urllib.error.HTTPError as error:
        with error:
            return error.code, error.read(most)
    except (http.client.HTTPException, ValueError) as error:
        raise OSError(str(error)) from error
