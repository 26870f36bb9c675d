"""What the system refused: why, what to do, and what is still as it was."""

from __future__ import annotations

import errno

from kitwright.errors import Said
from kitwright.telling.words import number as count

_REMEDIES = {
    errno.ENOSPC: "the disk is full: make room",
    errno.EDQUOT: "your share of the disk is full: make room",
    errno.EROFS: "it can only be read here: make it writable, or give another place",
    errno.EACCES: "it may not be written here: ask for the right to, or give another place",
    errno.EPERM: "it may not be written here: ask for the right to, or give another place",
    errno.EIO: "the disk does not answer as it should: look after it, and after your backup",
    errno.EMFILE: "too many files are open on this machine: close some programs",
    errno.ENFILE: "too many files are open on this machine: close some programs",
}


def _refused(problem: str, why: str, number: int, kept: str) -> Said:
    """Told with the reason in the system's own words."""
    return f"{problem} ({why})", f"{_REMEDIES.get(number, 'look what stands there')}; {kept}"


def anything(why: str, number: int) -> Said:
    return _refused("this can't be done", why, number, "nothing was lost")


def schema(why: str, number: int) -> Said:
    return _refused("the schema for editors can't be written", why, number, "nothing else needs it")


def starter(why: str, number: int) -> Said:
    return _refused("the starter kit can't be written", why, number, "nothing was changed")


def begun(why: str, number: int) -> Said:
    return _refused("the archive can't be written", why, number, "nothing was written")


def calendar(why: str, number: int) -> Said:
    return _refused("the calendar can't be written here", why, number, "give a place in a folder that is there, with --ics")


def revision(why: str, number: int, revision: int) -> Said:
    return _refused(f"revision {revision} can't be written", why, number, "nothing was published")


def carried(why: str, number: int) -> Said:
    return _refused("what was worked out and drawn can't be written", why, number, "nothing was changed")


def change(why: str, number: int) -> Said:
    return _refused("what was to change can't be written", why, number, "nothing was changed")


def half_a_change(why: str, number: int) -> Said:
    return _refused("a change that was cut short can't be finished yet", why, number, "it is taken up again by the next command")


def cut_files(why: str, number: int) -> Said:
    return _refused("the cut files can't be written", why, number, "what stood there stands there still")


def drawn(why: str, number: int) -> Said:
    return _refused("what was drawn can't be written", why, number, "what stood there stands there still")


def preview(why: str, number: int) -> Said:
    return _refused("the preview has no place for its site", why, number, "set TMPDIR to a folder that can be written")


def site(why: str, number: int, folder: str) -> Said:
    return _refused("the site could not be built", why, number, f"what stood in {folder}/ before stands there still")


def exchange(why: str, number: int) -> Said:
    kept = "the old one stands; close what has the folder open and build again"
    return _refused("the new site could not take the place of the old one", why, number, kept)


def back(why: str, number: int) -> Said:
    return _refused("the site before can't be put back", why, number, "the one that stood there stands there still")


def busy() -> Said:
    return "another kitwright command is at work here", "wait until it has ended, then type this again; nothing was changed"


def waiting() -> Said:
    return "Waiting for another kitwright command to end.", ""


def imported(why: str, number: int, kits: int) -> Said:
    kept = f"{count(kits, 'kit was', 'kits were')} written before that, whole; the same command goes on from there"
    return _refused("the kits can't all be written", why, number, kept if kits else "nothing was changed")
