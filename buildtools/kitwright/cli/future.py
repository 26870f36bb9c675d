"""A revision that is dated ahead, told by whatever command publishes it."""

from __future__ import annotations

import datetime as dt

from kitwright.cli.terminal import tell_findings
from kitwright.errors import Place
from kitwright.findings import Finding
from kitwright.kit.read import shown
from kitwright.release.ledger import RECORD
from kitwright.release.record import Revision


def tell_of_the_future(made: Revision) -> None:
    """A revision dated ahead stays out of the site until then, which a slip of the pen would make years."""
    if made.at > dt.datetime.now(dt.UTC):
        tell_findings(
            [Finding("warning", Place(shown(made.folder / RECORD)), "commands.dated-ahead", kit=made.kit, revision=made.number, at=made.at)]
        )
