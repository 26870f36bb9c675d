"""The site before: kept beside the one that took its place, for `kitwright back`.

Only a site that everybody could have seen is kept, and only one that differs: a timer that
builds every hour and changes nothing leaves the useful one alone.
"""

from __future__ import annotations

import datetime as dt
import shutil
from dataclasses import dataclass, replace
from pathlib import Path

from kitwright import files
from kitwright.archive import built
from kitwright.archive.built import Built
from kitwright.archive.placing import KEPT_FILES
from kitwright.errors import Place, UserError

SITE = "site"
_OWN = b"*\n"
"""Tells git to keep nothing of it."""


def home_of(out: Path) -> Path:
    """Where the site before the one in `out` is kept: beside it, so that either takes the other's place at one stroke."""
    return out.parent / f".{out.name}-before"


def put(new: Path, out: Path, now: dt.datetime) -> Built | None:
    """Put a whole site in its place, and keep the one before where that is worth it.

    The new one first takes the place of what was kept, and then changes places with the old
    one: stopped in between, the old one stands, and the next build comes to the same end.

    Returns:
        What is known of the site that stood there, if it is kept now.

    Raises:
        OSError: it can't be put there; what stood there stands.
        UserError: something else lies where it would be kept, or another command is at it.
    """
    home = home_of(out)
    one = built.read(new)
    if _worth_keeping(one, new, out, now):
        _made(home)
        with files.held(home):
            # Another build may have been here meanwhile.
            if was := _worth_keeping(one, new, out, now):
                _through(new, home / SITE, out)
                return was
    files.put_folder(new, out)
    return None


def _worth_keeping(one: Built | None, new: Path, out: Path, now: dt.datetime) -> Built | None:
    """What is known of the site in `out`, if it is worth keeping beside the new one."""
    was = built.read(out)
    if one is None or was is None or {one.audience, was.audience} != {"public"} or one.ahead(now) or was.ahead(now):
        return None
    was = was if was.files else replace(was, files=built.files_of(out))
    return was if (one.files or built.files_of(new)) != was.files else None


def _made(home: Path) -> None:
    if home.is_symlink() or home.exists() and not home.is_dir():
        raise UserError("site.no-place-for-the-one-before", place=Place(home))
    home.mkdir(exist_ok=True)
    own = home / ".gitignore"
    if not own.is_file() or own.read_bytes() != _OWN:
        files.write_file(own, _OWN)


def _through(new: Path, kept: Path, out: Path) -> None:
    older = files.put_folder(new, kept)
    try:
        files.put_folder(kept, out)
    except BaseException:
        # As it was: what was kept before lies where the new one was made.
        if older:
            files.put_folder(new, kept)
        else:
            kept.rename(new)
        raise


def taken_up(left: Path, out: Path) -> bool:
    """Keep what an exchange in two strokes left aside when it was cut short, if it was the kept site's place that it came from."""
    home = home_of(out)
    if built.read(left) is None or not home.is_dir() or home.is_symlink() or (home / SITE).exists():
        return False
    left.rename(home / SITE)
    return True


@dataclass(frozen=True)
class Change:
    """What was put back."""

    to: Built
    """The site that stands there now."""
    was: Built | None
    """The one that stood there, and is kept now; None where there was none."""


def back(out: Path) -> Change:
    """Let the site and the one before change places.

    Args:
        out: the site's folder, looked at already: nothing of anybody else's lies in it.

    Raises:
        UserError: none was kept, or it can't be put in place; what stood there stands.
    """
    home = home_of(out)
    kept = home / SITE
    to, was = built.read(kept), built.read(out)
    if home.is_symlink() or kept.is_symlink() or to is None:
        raise UserError("site.none-before", place=Place(out), folder=out.name)
    try:
        with files.held(home):
            for name in KEPT_FILES:
                if (out / name).is_file():
                    shutil.copy2(out / name, kept / name)
            files.put_folder(kept, out)
    except OSError as error:
        raise files.trouble(error, "disk.back", out) from None
    return Change(to, was)
