"""Where a club's site goes: what `publish` in the club file says. A club file may come from a stranger."""

from __future__ import annotations

import re
import shlex
from dataclasses import dataclass
from pathlib import Path
from typing import Literal
from urllib.parse import unquote, urlsplit

from kitwright.errors import Place, UserError
from kitwright.files import real
from kitwright.kit.model import Club

FOLDER = "{folder}"
"""Stands in a command for the folder that it takes."""
_SECRET = re.compile(
    r"://[^/@\s]*:[^/@\s]+@|^[^/@\s:]+:[^/@\s]+@|(?:\s-u\s*|\s--user[=\s]+)(?!\d+:\d+\b)[^\s,:]+[,:]\S+|(?:pass(?:word|wd|phrase)?|secret|token|api-?key)[=:\s]+\S",
    re.IGNORECASE,
)
_HOST = re.compile(r"(?![-])(?:[\w.+-]+@)?(?!-)[\w.-]+|(?:[\w.+-]+@)?\[[0-9A-Fa-f:.]+\]")


@dataclass(frozen=True)
class Target:
    """Where a site goes."""

    way: Literal["rsync", "sftp", "command"]
    typed: str
    """As it stands in the club file."""
    place: Place
    host: str = ""
    """With SFTP: whose machine, `anna@host.example`."""
    port: int | None = None
    folder: str = ""
    """The folder there; with rsync the whole target, as rsync takes it."""
    words: tuple[str, ...] = ()
    """The words of a command."""


def target_of(club: Club, root: Path) -> Target:
    """What the club file says of its host.

    Args:
        club: the club.
        root: the folder that holds `kits/`.

    Raises:
        UserError: it says nothing, two things, something that can't be meant, or a password.
    """
    said = club.publish
    if said is None or (said.to is None) == (said.command is None):
        raise UserError(
            "hosting.no-target" if said is None else "hosting.one-of-two", place=club.place("publish") if said else club.place()
        )
    key = "to" if said.to is not None else "command"
    typed, place = said.to or said.command or "", club.place("publish", key)
    if _SECRET.search(typed):
        raise UserError("hosting.secret", place=place)
    try:
        return _command(typed, place) if said.command else _place(typed, place, root)
    except ValueError:
        raise UserError("hosting.no-place", place=place, typed=typed) from None


def _command(typed: str, place: Place) -> Target:
    words = tuple(shlex.split(typed))
    if not any(FOLDER in word for word in words[1:]):
        raise UserError("hosting.no-folder-in-it", place=place)
    return Target("command", typed, place, words=words)


def _place(typed: str, place: Place, root: Path) -> Target:
    if re.search(r"[\x00-\x1f\x7f]", typed) or typed.startswith("-"):
        raise ValueError
    if "://" in typed:
        parts = urlsplit(typed)
        if parts.scheme == "sftp":
            name = f"{parts.username}@" if parts.username else ""
            return Target("sftp", typed, place, _host(name + (parts.hostname or "")), parts.port, _below(unquote(parts.path)))
        if parts.scheme == "rsync":
            _host(parts.netloc.rpartition(":")[0] if parts.port else parts.netloc)
            return Target("rsync", typed, place, folder=typed.rstrip("/") + "/")
        raise ValueError
    host, colon, folder = typed.partition(":")
    # A single letter before a colon is a drive.
    if colon and "/" not in host and len(host) > 1:
        _host(host)
        return Target("rsync", typed, place, folder=f"{host}:{folder.rstrip('/') or ('/' if folder else '.')}/".replace("//", "/"))
    if "@" in typed:
        raise ValueError
    local = real(root / Path(typed).expanduser())
    if local.is_relative_to(real(root)) or real(root).is_relative_to(local):
        raise UserError("hosting.in-the-archive", place=place, typed=typed)
    return Target("rsync", typed, place, folder=f"{local}/")


def _host(name: str) -> str:
    if not _HOST.fullmatch(name):
        raise ValueError
    return name


def _below(path: str) -> str:
    """A folder on the host: `/~/cards` is one below the home folder, `/srv/cards` is that."""
    return path.removeprefix("/~/") or "." if path.startswith("/~/") else path or "."
