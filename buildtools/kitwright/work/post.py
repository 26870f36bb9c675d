"""What the post makes of a kit's card."""

from __future__ import annotations

from dataclasses import dataclass

from kitwright.card.post import Letters, Parcel, Verdict, letters_for, verdicts
from kitwright.work.worked import Worked


@dataclass(frozen=True)
class Mailing:
    """A card in its sealed envelope, and what the limits for letters say of it."""

    parcel: Parcel
    """The heaviest and the thickest of the batch's looks."""
    letters: Letters
    """The limits that it is held against."""
    verdicts: tuple[Verdict, ...]
    """Every limit that it meets, or may not meet."""

    @property
    def within(self) -> bool | None:
        """Whether it goes as a letter at all; None where that depends on what is not known exactly."""
        said = [v.within for v in self.verdicts if not v.dearer]
        return False if False in said else None if None in said else True


def mailing(worked: Worked) -> Mailing | None:
    """How the card travels; None for a kit without an envelope."""
    whole, letters = worked.enclosed.parcel, letters_for(worked.kit.spec.unit)
    return worked.once("mailing", lambda: Mailing(whole, letters, verdicts(whole, letters)) if whole else None)
