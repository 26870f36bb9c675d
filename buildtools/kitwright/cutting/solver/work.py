"""Work, counted: what ends a search at the same place on every machine, however busy it is.

No search of this package looks at a clock. Whatever may take long spends steps from a purse
and stops when the purse is empty; what was found by then is the answer.
"""

from __future__ import annotations


class OutOfWork(Exception):
    """The work allowed is done."""


class Work:
    """A purse of steps.

    A step is a fixed amount of counting and comparing, roughly what a processor of the 2020s
    does in a microsecond. It is reckoned from the sizes of what is looked at, never measured.
    """

    def __init__(self, most: int | None = None) -> None:
        """Args:
        most: how many steps there are; None: any number.
        """
        self.most = most
        self.spent = 0

    @property
    def over(self) -> bool:
        """Whether all of it is spent."""
        return self.most is not None and self.spent >= self.most

    @property
    def left(self) -> float:
        """Steps that may still be spent."""
        return float("inf") if self.most is None else max(self.most - self.spent, 0)

    def charge(self, steps: int) -> None:
        """Note steps that were made."""
        self.spent += steps

    def spend(self, steps: int) -> None:
        """Note steps, and raise OutOfWork once the purse is empty."""
        self.charge(steps)
        if self.over:
            raise OutOfWork
