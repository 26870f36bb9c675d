"""What `release` prints when all went well."""

from __future__ import annotations

from pathlib import Path

from kitwright.telling.words import number


def released(kit: str, code: str, folder: Path) -> str:
    """A kit was published."""
    return f"Released {kit} as revision 1, code {code}. Keep {folder} with the kit, and never edit it."


def taken_in(kit: str, revision: int, code: str, released: str) -> str:
    """One release was taken into the ledger."""
    return f"  {kit}, revision {revision}, code {code}, released {released}"


def all_taken_in(ledger: Path, releases: int) -> str:
    """All that were."""
    return f"Taken into {ledger}: {number(releases, 'release', 'releases')}. Keep it with the kits, and never edit it."


def carried(kit: str, revision: int, files: int) -> str:
    """One revision was carried over."""
    return f"  {kit}, revision {revision}: {number(files, 'file', 'files')} kept"


def all_carried(revisions: int) -> str:
    """All that were."""
    if not revisions:
        return "Every revision keeps its results and files already: nothing need be done."
    return f"Carried over: {number(revisions, 'revision', 'revisions')}. Keep them with the kits, and never edit them."
