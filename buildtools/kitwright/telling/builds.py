"""What the commands say of built sites: which one it is, what was put back, what was published."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

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
        f"Readers see no difference until you upload {folder}/ again, or type  kitwright publish.\n"
        "Mend what was wrong before the next  kitwright build,  which makes the site of its day; stop your timer, if you have one.\n"
        "kitwright back  once more puts the newer one back."
    )


AS_IT_WAS = (
    "This is the site as it was then: what came due later and what was corrected later is not on it. "
    "Samples, answers and whatever else may change after a release say what they say now. Nothing released is taken back: "
    "kitwright build  without a time makes the site of now again."
)


# --- publish ----------------------------------------------------------------------------------------

SHALL_IT = "Shall it go?"
STOPPED_ON_THE_WAY = "\nWhat is public stays whole: each file is the old or the new one. Type this again, and it goes on."
NO_ADDRESS = "The club file gives no address, so what is public was not read back: look at it in your browser."
_NAMED = 20
"""Places of a kind that are named, where not every file is asked for."""


def to_do(
    to: str, new: Sequence[str], changed: Sequence[str], gone: Sequence[str], files: int, size: int, *, every: bool = False
) -> list[str]:
    """What goes to a host and what is removed there: a head, and a line for each kit, folder or file; for each file where `every` one is asked for."""
    if not (new or changed or gone):
        return [f"{to} has all {number(files, 'file', 'files')} as they were built."]
    lines = [
        f"To {to}: {len(new)} new, {len(changed)} changed, {len(gone)} to remove, of {number(files, 'file', 'files')}; {megabytes(size)} to send."
    ]
    for word, names in (("new", new), ("changed", changed), ("remove", gone)):
        told = names if every else _by_folder(names)
        shown = told if every else told[:_NAMED]
        lines += [f"  {word:8}{name}" for name in shown]
        if len(told) > len(shown):
            lines.append(f"  {word:8}and more in {number(len(told) - len(shown), 'place', 'places')}")
    return lines


def _by_folder(names: Sequence[str]) -> list[str]:
    """Files at the top of the site by name, those of a kit or of another folder as one line: in the order in which the first of each goes."""
    found: dict[str, int] = {}
    for name in names:
        above = name.split("/")[:-1]
        where = "/".join(above[: 2 if above[:1] == ["kits"] else 1]) + "/" if above else name
        found[where] = found.get(where, 0) + 1
    return [where if not where.endswith("/") else f"{where} ({number(many, 'file', 'files')})" for where, many in found.items()]


def to_run(command: str) -> str:
    """The club's own command, before it runs."""
    return f"The club file asks to run this on your machine:  {command}"


def sent(files: int, gone: int, to: str) -> str:
    """A site arrived."""
    if not (files or gone):
        return f"Read back what lies at {to}: all is there."
    return f"Sent {number(files, 'file', 'files')} to {to}, removed {gone}, and read back what lies there."


def read_back(read: int, of: int, address: str) -> str:
    """What is public was looked at."""
    return f"Read {read} of {number(of, 'file', 'files')} back from {address}."
