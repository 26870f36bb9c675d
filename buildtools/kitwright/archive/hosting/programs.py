"""Programs of the system that take files to a host."""

from __future__ import annotations

import os
import re
import subprocess
from collections.abc import Sequence
from typing import NamedTuple

from kitwright.errors import UserError

_PATIENT = "-o ConnectTimeout=30 -o ServerAliveInterval=15 -o ServerAliveCountMax=4"
SSH_OPTIONS = tuple(_PATIENT.split())
"""So that a host that falls silent is told, and not waited for."""
_SUM = re.compile(r"rsync (error|warning): .* \(code \d+\) at |rsync: .*Broken pipe|rsync: connection unexpectedly closed|@+$")
"""What adds nothing to the lines before or after it: how rsync sums up, that the other end went, a frame of stars or the like."""
LONGEST = 300
"""Letters of what a program said that are told."""


class Said(NamedTuple):
    """How a program ended."""

    status: int
    out: str
    why: str
    """The last that it complained of, in its own words."""


def run(words: Sequence[str], given: str = "", *, last: bool = False) -> Said:
    """Run a program and hear what it says.

    Args:
        words: the program and what it is told.
        given: what it reads.
        last: whether the last of its complaints are the telling ones, or the first.

    Raises:
        UserError: there is no such program.
    """
    own = {"LC_ALL": "C.UTF-8", "RSYNC_RSH": os.environ.get("RSYNC_RSH", f"ssh {_PATIENT}")}
    try:
        done = subprocess.run(words, input=given.encode(), capture_output=True, env={**os.environ, **own}, check=False)
    except (FileNotFoundError, PermissionError):
        raise UserError("hosting.no-program", program=words[0]) from None
    lines = [line.strip() for line in done.stderr.decode("utf-8", "replace").splitlines() if line.strip()]
    lines = [line for line in lines if not _SUM.match(line)] or lines
    why = "; ".join(dict.fromkeys(lines[-2:] if last else lines[:2])) if lines else f"exit status {done.returncode}"
    return Said(done.returncode, done.stdout.decode("utf-8", "replace"), why[:LONGEST])
