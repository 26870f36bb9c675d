"""What a command prints to, whatever stands at its other end."""

from __future__ import annotations

import io
import os
import sys
from typing import Any


class Patient(io.FileIO):
    """What a command prints to. A reader that went away, or a full disk, does not stop the command's work."""

    failed: OSError | None = None

    def write(self, data: Any) -> int:
        if self.failed is None:
            try:
                return super().write(data)
            except OSError as error:
                self.failed = error
        return len(data)


def patient_streams() -> Patient | None:
    """Make what is printed UTF-8 and patient, whatever the terminal says, and open what was closed."""
    for number in (0, 1, 2):
        try:
            os.fstat(number)
        except OSError:
            # Else the next file that is opened would be taken for the terminal.
            os.open(os.devnull, os.O_RDWR)
    if sys.stdin is None:
        sys.stdin = open(0, encoding="utf-8", errors="replace", closefd=False)
    if os.name == "nt":
        for stream in (sys.stdout, sys.stderr):
            # A Windows console may default to a code page without ≈ and ×.
            if isinstance(stream, io.TextIOWrapper):
                stream.reconfigure(encoding="utf-8", errors="replace")
        return None
    raws = [Patient(number, "w", closefd=False) for number in (1, 2)]
    sys.stdout, sys.stderr = (
        io.TextIOWrapper(
            io.BufferedWriter(raw), "utf-8", "replace", line_buffering=raw is raws[1] or raw.isatty(), write_through=raw is raws[1]
        )
        for raw in raws
    )
    return raws[0]
