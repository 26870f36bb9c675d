"""Whether a build would change nothing: then nothing of it is run.

When a site is put in its place, it is noted what it was made from, down to the last byte, for
which moments that holds, and how each of its files lies there. Where all of that is still so,
the site is what a build would make of it.
"""

from __future__ import annotations

import datetime as dt
import os
import time
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from kitwright import cache, files
from kitwright.archive.audience import Audience
from kitwright.archive.epoch import typed_epoch
from kitwright.archive.inputs import Inputs, folder_digest, inputs
from kitwright.archive.placing import noted, unchanged
from kitwright.archive.report import BuildReport
from kitwright.kit.project import KITS
from kitwright.kit.theme import PROGRAM, THEME


@dataclass(frozen=True)
class Asked:
    """What a build is asked for."""

    root: Path
    """The folder that holds `kits/`."""
    out: Path
    """Where the site goes, links followed."""
    audience: Audience
    as_of: dt.datetime | None
    now: dt.datetime
    address: str | None = None

    def key(self, given: Inputs | None = None, themes: str = "") -> str:
        """A digest of all that a site is made from, the moment aside: every byte that is read for it, and what else counts.

        Findings name files as she would type them, so where she stands counts too.

        Args:
            given: what lies below the kits, where that is known already.
            themes: a digest of the themes, likewise.
        """
        return cache.digest(
            *(self.root, Path.cwd(), (given or inputs(self.root / KITS)).whole, themes or self.themes()),
            *(self.audience, self.address, typed_epoch()),
            *(self.as_of is None, self.as_of if self.as_of != self.now else None),
            *(self.as_of is not None and self.as_of > self.now,),
        )

    def themes(self) -> str:
        """A digest of the program's theme, and of hers."""
        own = self.root / THEME
        return cache.digest(folder_digest(own) if own.is_dir() else "", folder_digest(PROGRAM))


def as_it_stands(asked: Asked) -> BuildReport | None:
    """What a build would tell, where it would change nothing; None where it has to be run.

    Raises:
        UserError: another command is at work on the kits.
    """
    started = time.monotonic()
    if not asked.out.is_dir() or not os.access(asked.root, os.W_OK):
        return None
    files.sweep(asked.root)
    with cache.using(asked.root / cache.FOLDER), files.held(asked.root / KITS, shared=True):
        stood = noted(asked.out)
        if stood is None or not stood.key or os.path.lexists(files.set_aside(asked.out)):
            return None
        if asked.as_of is not None and not stood.span.holds(asked.as_of):
            return None
        if stood.key != asked.key() or not unchanged(asked.out, stood.files):
            return None
    took = Fraction(round((time.monotonic() - started) * 10), 10)
    return replace(stood.report, seconds=took, kept=None, fresh=False)
