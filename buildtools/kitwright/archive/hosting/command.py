"""A host that a command of the owner's own reaches: it is shown and agreed to before it runs, and no shell reads it."""

from __future__ import annotations

import subprocess
from pathlib import Path

from kitwright.archive.hosting.target import FOLDER, Target
from kitwright.errors import UserError


def run_command(target: Target, site: Path, root: Path) -> None:
    """Run the owner's command on a whole site; what it prints is seen as it comes.

    Raises:
        UserError: there is no such program, or it failed.
    """
    words = [word.replace(FOLDER, str(site)) for word in target.words]
    try:
        done = subprocess.run(words, cwd=root, check=False)
    except (FileNotFoundError, PermissionError):
        raise UserError("hosting.no-program", program=words[0]) from None
    if done.returncode:
        raise UserError("hosting.command-failed", place=target.place, status=done.returncode)
