"""What the commands say of built sites: which one it is, what was put back, what was published."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from kitwright.telling.words import date_text, listed, megabytes, number


def when(local: dt.datetime) -> str:
    """`6 March 2027, 10:00`."""
    return f"{date_text(local.date())}, {local:%H:%M}"


def which(built: dt.datetime | None, moment: dt.datetime | None, kits: int | None) -> str:
    """A site, by when it was built and for when, and by how many kits it has."""
    told = [f"built {when(built)}" if built else "", f"as of {when(moment)}" if moment else ""]
    return ", ".join([*filter(None, told), *([number(kits, "kit", "kits")] if kits is not None else [])])


# --- the site before --------------------------------------------------------------------------------


def kept(folder: str, size: int) -> str:
    """The site before was kept."""
    return f"The site before is kept in {folder} ({megabytes(size)});  kitwright back  puts it in place again."


def put_back(to: str, was: str) -> str:
    """The site before stands in its place again."""
    return f"Put back the site {to}{f', in place of the one {was}' if was else ''}."


def compared(was: Mapping[str, int | None] | None, to: Mapping[str, int | None] | None) -> list[str]:
    """Which kits a site has otherwise than another, as far as both are known."""
    if was is None or to is None:
        return []
    gone, come = [kit for kit in was if kit not in to], [kit for kit in to if kit not in was]
    other = [f"{kit} ({_state(to[kit])}, was {_state(was[kit])})" for kit in to if kit in was and to[kit] != was[kit]]
    told = (("No longer in it", gone), ("In it again", come), ("In another state", other))
    return [f"{words}: {listed(kits)}." for words, kits in told if kits]


def _state(revision: int | None) -> str:
    return "a past kit" if revision is None else f"revision {revision}" if revision else "a preview"


def after_back(folder: str) -> str:
    """What putting back does not do by itself."""
    return (
        f"What is uploaded stays as it is until you upload {folder}/ again, or type  kitwright publish. "
        "kitwright back  once more puts the newer one back, and the next  kitwright build  makes the site of its day: "
        "mend what was wrong first, and stop your timer, if you have one."
    )


AS_IT_WAS = (
    "This is the site as it was then: what came due later and what was corrected later is not on it. "
    "Samples, answers and whatever else may change after a release say what they say now. Nothing released is taken back: "
    "kitwright build  without a time makes the site of now again."
)
