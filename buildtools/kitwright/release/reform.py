"""A new form of printables: a kit that was published in an earlier one is published in that of today, by its author's choice.

What it says stays, and so does every copy that somebody printed: an earlier revision is as good to cut from.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from kitwright.errors import Place, UserError
from kitwright.kit.kit import Kit
from kitwright.release.again import AsOf, published_again
from kitwright.release.publish import Draw
from kitwright.release.record import FORM, Revision, released


def reformed(kit: Kit, clock: AsOf, draw: Draw) -> Revision:
    """Publish a kit's newest revision in the form of today.

    Args:
        kit: as it is now.
        clock: when.
        draw: draws what readers can download.

    Raises:
        UserError: it was never released, or has that form; something published was touched, or the revision is dated later than it is.
    """
    revisions = released(kit)
    if not revisions:
        raise UserError("forms.never-released", place=Place(kit.document.file), kit=kit.id)
    last = revisions[-1]
    if last.record.form >= FORM:
        raise UserError("forms.new-already", place=Place(kit.document.file), kit=kit.id, revision=last.number)
    return published_again(kit, last, clock, draw, "redrawn")


def all_reformed(kits: Iterable[Kit], clock: AsOf, draw: Draw) -> Iterator[Revision]:
    """The same for every kit that was published in an earlier form, one after the other."""
    for kit in kits:
        revisions = released(kit)
        if revisions and revisions[-1].record.form < FORM:
            yield reformed(kit, clock, draw)
