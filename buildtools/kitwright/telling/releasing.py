"""What `release` and `erratum` ask, and print when all went well."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from kitwright.release.zonemove import Move
from kitwright.telling.moments import city, when_text
from kitwright.telling.words import number

ONLY_CARRIED = "--as-drawn goes with --carry-over, which says what to keep of a release from an earlier kitwright"
ONE_AT_A_TIME = "--adopt, --carry-over, --take-back, --new-address, --new-form and --as-of each ask for something else: type one of them, or --new-form with --as-of"
NAME_THE_KIT = "name the kit that is to be released"


def released(kit: str, code: str, folder: Path) -> str:
    """A kit was published."""
    return f"Released {kit} as revision 1, code {code}. Keep {folder} with the kit, and never edit it."


BUILD_AGAIN = "Build again whatever you have built already. Whoever printed a test copy learns from its code that it was replaced."
"""What to do once something was taken back."""


def taken_back(kit: str, revision: int, code: str) -> str:
    """A revision that nobody could have had was taken back."""
    return f"Took back revision {revision} of {kit}, code {code}: no reader could have had it yet."


def replaced(revision: int, code: str) -> str:
    """The same, for one that took its place."""
    return f"It replaces revision {revision}, code {code}, which no reader could have had yet: no correction is published."


def taken_in(kit: str, revision: int, code: str, released: str) -> str:
    """One release was taken into the ledger."""
    return f"  {kit}, revision {revision}, code {code}, released {released}"


def all_taken_in(ledger: Path, releases: int) -> str:
    """All that were."""
    return f"Taken into {ledger}: {number(releases, 'release', 'releases')}. Keep it with the kits, and never edit it."


def carried(kit: str, revision: int, files: int) -> str:
    """One revision was carried over."""
    return f"  {kit}, revision {revision}: {number(files, 'file', 'files')} kept"


def all_carried(revisions: int) -> str:
    """All that were."""
    if not revisions:
        return "Every revision keeps its results and files already: nothing need be done."
    return f"Carried over: {number(revisions, 'revision', 'revisions')}. Keep them with the kits, and never edit them."


def readdressed(kit: str, revision: int, code: str) -> str:
    """One kit was published anew, for its code alone."""
    return f"  {kit}, revision {revision}, code {code}"


def all_readdressed(kits: int, address: str | None) -> str:
    """All that were."""
    if not kits:
        return "Every printable leads there already: nothing need be done."
    return f"Published anew, with a code that leads to {address}: {number(kits, 'kit', 'kits')}. What they say is what they said: no correction is told. Type  kitwright build  and upload the site."


def all_reformed(kits: int) -> str:
    """All that were published in the form of today."""
    if not kits:
        return "Every released kit has the new form already: nothing need be done."
    return f"Published in the new form: {number(kits, 'kit', 'kits')}. What they say is what they said: no correction is told, and older copies are as good. Type  kitwright build  and upload the site."


# --- erratum --------------------------------------------------------------------------------------

WHO_SPOTTED_IT = "Who spotted it? (empty: nobody to name)"
WHAT_TO_DO = "What to do with pieces already cut? (empty: only what stands above)"
NOTHING_WRITTEN = "Nothing was written."
RELEASE_ANEW = "Release it anew, in the place of what nobody has seen?"


def not_public_yet(kit: str, public: dt.datetime) -> str:
    """Why no correction is published.

    Args:
        kit: its id.
        public: when it becomes public, on the club's own clock.
    """
    return (
        f"{kit} becomes public from {when_text(public)}: no reader could have had it yet, so it needs no correction. "
        "If you know that somebody has it all the same, say no, and add  --was-public."
    )


def mends(kit: str, revision: int, mended: int) -> str:
    """Which revision would be mended by which."""
    return f"{kit}, revision {revision} mends revision {mended}:"


def in_all(grade: str) -> str:
    """How much the whole correction asks of readers, in the words of its grade."""
    return f"In all: {grade}."


def thank(name: str) -> str:
    """Whether somebody agreed to be named."""
    return f"Did {name} agree to be thanked by name?"


def publish(revision: int) -> str:
    """Whether the correction is to be published."""
    return f"Publish this as revision {revision}?"


def published(kit: str, revision: int, code: str) -> str:
    """A correction was published."""
    return (
        f"Published revision {revision} of {kit}, code {code}. Readers have it once you have typed  kitwright build  and uploaded the site."
    )


# --- another time zone ----------------------------------------------------------------------------

LET_MOVE = "Shall they move?"


def zone_move(move: Move) -> list[str]:
    """What moves with the club to another time zone, a moment to a line; what is public already does not."""
    lines = [f"The club moved from {city(move.was)} to {city(move.now)}. What is public already keeps its dates."]
    if not move.moved:
        return [*lines, "Nothing that is to come moves."]
    lines.append("To come, and moved:")
    for each in move.moved:
        hours, minutes = divmod(abs(each.now - each.was) // dt.timedelta(minutes=1), 60)
        far = f"{hours} h{f' {minutes} min' if minutes else ''} {'later' if each.now > each.was else 'earlier'}"
        lines.append(f"  {each.kit}, {each.name}: {when_text(each.was)}, would be {when_text(each.now)}: {far}")
    return lines
