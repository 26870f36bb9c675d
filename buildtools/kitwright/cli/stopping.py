"""A long search that can be stopped: the first signal asks it to end with what it has, the second ends the command."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from kitwright.errors import STOPS, Stopped


class Stop:
    """Whether, and by which signal, the search was asked to end."""

    number: int | None = None

    def asked(self) -> bool:
        """Whether it was."""
        return self.number is not None

    def heard(self, number: int, frame: FrameType | None) -> None:
        """Take note of a signal.

        Raises:
            Stopped: it is the second.
        """
        if self.number is not None:
            raise Stopped(number)
        self.number = number


@contextmanager
def stoppable() -> Iterator[Stop]:
    """Have signals that end a command be heard by a search first."""
    stop = Stop()
    before = {number: signal.signal(number, stop.heard) for number in STOPS if signal.getsignal(number) is not signal.SIG_IGN}
    try:
        yield stop
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
