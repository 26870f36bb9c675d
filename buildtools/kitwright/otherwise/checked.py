"""A kit looked over whole: itself, and, where it is sound, the arrangements that it names and the other sheets it may be cut from."""

from __future__ import annotations

from kitwright.check import errors, of_the_card, of_the_prose
from kitwright.findings import Finding, errors_in, in_order
from kitwright.otherwise import edition
from kitwright.otherwise.arrangements import mistakes
from kitwright.work.worked import Worked


def check(worked: Worked) -> list[Finding]:
    """Every finding of a kit, errors first, then in the order of the file."""
    found = [*(one for _, one in of_the_card(worked)), *of_the_prose(worked)]
    if not errors(found):
        # Arrangements are found from a card that is sound: its own mix, and those of its samples.
        found += [one for error in mistakes(worked) for one in errors_in(error)]
        found += edition.find(worked)
    return in_order(found)


def check_published(worked: Worked) -> list[Finding]:
    """Every finding in what may still change of a published kit: its prose, and the arrangements that samples name.

    The card is what it was published as, and is no longer to be judged: a later kitwright may find what nobody could find then.
    """
    return in_order([*of_the_prose(worked), *(one for error in mistakes(worked) for one in errors_in(error))])
