"""A secret of the user's own, kept outside every archive.

What is kept between runs is read back as Python's own values, and reading such values can run
code. An archive may come from a stranger, with whatever lies in it: only what was signed with
this secret is read.
"""

from __future__ import annotations

import contextlib
import os
import secrets
from functools import cache
from pathlib import Path

from platformdirs import user_state_path

SIZE = 32
"""Bytes."""
HANDED = "KITWRIGHT_CACHE_SECRET"
"""Where helping processes of this one find it, where it can't be kept."""


def home() -> Path:
    """The file that it is kept in."""
    return user_state_path("kitwright", appauthor=False) / "cache-secret"


@cache
def own_secret() -> bytes:
    """It, made at first use; where no place can keep it, one for this process and its helpers."""
    with contextlib.suppress(ValueError):
        if len(handed := bytes.fromhex(os.environ.get(HANDED, ""))) == SIZE:
            return handed
    for _ in range(3):
        with contextlib.suppress(OSError):
            found = home().read_bytes()
            if len(found) == SIZE:
                return found
            home().unlink()  # Cut short by a full disk.
        with contextlib.suppress(OSError):
            _begin(home())
    made = secrets.token_bytes(SIZE)
    os.environ[HANDED] = made.hex()
    return made


def _begin(file: Path) -> None:
    """Put a new one there whole, unless another process was first.

    Raises:
        OSError: it can't be kept there.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    aside = file.with_name(f"{file.name}-{secrets.token_hex(4)}")
    try:
        with open(os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as stream:
            stream.write(secrets.token_bytes(SIZE))
        if os.name == "nt":
            os.rename(aside, file)
        else:
            # A link fails where the name is taken, a renaming would not.
            os.link(aside, file)
    finally:
        aside.unlink(missing_ok=True)
