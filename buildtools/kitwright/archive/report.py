"""What is told of a build."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from kitwright.findings import Finding


@dataclass(frozen=True)
class BuildReport:
    """What was built."""

    kits: int
    """Kits in the archive, past ones included."""
    pages: int
    files: int
    size: int
    """Bytes in all."""
    seconds: Fraction
    """How long it took, to a tenth."""
    index: Path
    """The page to open."""
    warnings: tuple[Finding, ...] = ()
    """What is worth a look, though it did not stop the build."""
    found: tuple[Finding, ...] = ()
    """What `check` found in the kits that stops nothing."""
    fresh: bool = True
    """Whether anything was built; where nothing had changed, nothing was."""
    kept: Path | None = None
    """Where the site before is kept now; None where nothing new was kept."""
    kept_size: int = 0
    """Bytes of it."""
