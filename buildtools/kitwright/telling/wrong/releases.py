"""What is wrong with what was published, with the ledger, and with what is to be published."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from kitwright.errors import Said, UserError
from kitwright.telling.words import listed, number, shortened

_PUT_BACK = "put it back from your backup: what readers may have printed stays as it is"
_PUT_FILE_BACK = "put this file back from your backup"
_PUT_FOLDER_BACK = "put its folder back from your backup"
_ADOPT = "kitwright release --adopt"


def _were(revisions: Sequence[int]) -> str:
    return f"revision{'s' if len(revisions) > 1 else ''} {listed([str(n) for n in revisions])} {'were' if len(revisions) > 1 else 'was'}"


# --- files that were published --------------------------------------------------------------------


def touched(kit: str, revision: int) -> Said:
    return f"this file of revision {revision} of {kit} was changed after its release", _PUT_BACK


def link_for_a_file(kit: str, revision: int) -> Said:
    return f"a link stands in place of this file of revision {revision} of {kit}", _PUT_BACK


def published_without(kit: str, revision: int) -> Said:
    return f"revision {revision} of {kit} was published without this file", _PUT_BACK


def other_files(kit: str, revision: int) -> Said:
    return f"the files of revision {revision} of {kit} are not those that its record names", _PUT_BACK


def unread_results(kit: str, revision: int) -> Said:
    return f"what was worked out for revision {revision} of {kit} can't be read", _PUT_BACK


def unread_numbers(kit: str, revision: int) -> Said:
    return f"the numbers of revision {revision} of {kit} can't be read", _PUT_BACK


def no_kit(kit: str, revision: int) -> Said:
    return f"what was frozen as revision {revision} of {kit} is a past kit", _PUT_BACK


def kit_gone(kit: str, revisions: Sequence[int]) -> Said:
    return f"{kit} is gone, of which {_were(revisions)} published", "put its folder back from your backup, under this very name"


def link_for_all(kit: str) -> Said:
    return f"a link stands in place of the revisions of {kit}", "put the folder itself here"


def all_gone(kit: str, revisions: Sequence[int]) -> Said:
    return f"the revisions of {kit} are gone: {_were(revisions)} published", "put this folder back from your backup"


def missing(kit: str, revision: int) -> Said:
    return f"revision {revision} of {kit} is missing", _PUT_FOLDER_BACK


def no_folder(kit: str) -> Said:
    return f"this is no folder, so the revisions of {kit} can't be read", "put the folder back from your backup, or take this file away"


def past_kit(kit: str) -> Said:
    return f"{kit} is a past kit and has revisions all the same", "take its folder published away, or the line  past: yes"


# --- records --------------------------------------------------------------------------------------


def newer(format: int, known: int, kitwright: str) -> Said:
    made = f", {shortened(kitwright, 40)}," if kitwright else ""
    return (
        f"a newer kitwright{made} made this record, in a form that this one does not know: format {format}, and {known} is the last known here",
        "renew kitwright, and type this again; nothing was changed",
    )


def unread_record(kit: str, revision: int, error: UserError) -> Said:
    return f"the record of revision {revision} of {kit}: {error.problem}", "put it back from your backup"


def no_time(text: str) -> Said:
    return f"“{text[:40]}” is not a time", _PUT_FILE_BACK


def no_checksum(name: str) -> Said:
    return f"no checksum of {name} stands here", _PUT_FILE_BACK


def renamed(kit: str, before: str) -> Said:
    return (
        f"this folder is called {kit}, and was published as {before}",
        f"call it {before} again: a released kit keeps its name, since printables and links have it; its title may change",
    )


def no_name() -> Said:
    return "a name here is no name of a file in this folder", _PUT_FILE_BACK


def no_seal(kit: str, revision: int) -> Said:
    return f"the record of revision {revision} of {kit} has lost the digest that it was published with", _PUT_BACK


def no_chain(kit: str, revision: int) -> Said:
    return f"the record of revision {revision} of {kit} does not follow from that of the revision before", _PUT_BACK


def other_record(kit: str, revision: int) -> Said:
    return f"this record is not that of revision {revision} of {kit}", _PUT_BACK


def other_code(kit: str, revision: int) -> Said:
    return f"this record says another code than revision {revision} of {kit} was published with", _PUT_BACK


def not_the_time(kit: str, revision: int, text: str) -> Said:
    return f"“{text[:40]}” is not the time of revision {revision} of {kit}", _PUT_BACK


def too_early(kit: str, revision: int) -> Said:
    return f"revision {revision} of {kit} is dated before the revision that it corrects", _PUT_BACK


# --- the ledger -----------------------------------------------------------------------------------


def ledger_gone(kit: str) -> Said:
    return (
        f"the ledger of releases is gone, which names every revision that was published, those of {kit} among them",
        "put it back from your backup",
    )


def no_ledger_yet() -> Said:
    return (
        "this archive has no ledger of its releases yet, so a revision that vanishes would not be noticed",
        f"write it, once, with  {_ADOPT}",
    )


def ledger_is_a_link() -> Said:
    return "the ledger of releases is a link to a file somewhere else", "put the file itself here"


def unread_ledger() -> Said:
    return "the ledger of releases can't be read", "put it back from your backup"


def no_line() -> Said:
    return (
        "this line of the ledger names no release, or was changed",
        "put the ledger back from your backup; where two copies were merged, keep the whole lines of both and nothing else",
    )


def not_following(kit: str, revision: int) -> Said:
    return (
        f"the line of revision {revision} of {kit} does not follow from what stands above it: something there was changed, moved or taken out",
        _PUT_BACK,
    )


def twice(kit: str, revision: int) -> Said:
    return (
        f"revision {revision} of {kit} stands here a second time",
        "put the ledger back from your backup; where two copies published the same revision, only one of them may stay",
    )


def stands_again(kit: str, revision: int) -> Said:
    return f"revision {revision} of {kit} was taken back, and its folder stands here again", "take this folder away: no reader ever had it"


def nothing_to_take_back(kit: str, revision: int) -> Said:
    return (
        f"this line takes back revision {revision} of {kit}, which is not its newest above here",
        "put the ledger back from your backup; where two copies were merged, only one of them may have taken it back",
    )


def taken_back_too_late(kit: str, revision: int) -> Said:
    return f"this line takes back revision {revision} of {kit} when readers could have had it", _PUT_BACK


def zone_not_following() -> Said:
    return "this line does not follow from what stands above it: something there was changed, moved or taken out", _PUT_BACK


def in_no_line(kit: str, revision: int, ledger: str) -> Said:
    return (
        f"revision {revision} of {kit} stands in no line of {ledger}: it was not published here",
        "put back its line from your backup, or take this folder away; "
        f"revisions that came from another archive are taken in with  kitwright release {kit} --adopt",
    )


def other_order(kit: str) -> Said:
    return f"the revisions of {kit} stand in another order than they were published in", _PUT_BACK


def other_line(kit: str, revision: int, what: str) -> Said:
    return f"the line of revision {revision} of {kit} was changed: its record says another {what}", _PUT_BACK


def in_ledger_already(kit: str | None) -> Said:
    return (
        f"{kit or 'this archive'} is in the ledger of releases already",
        "nothing need be done; a kit that came from another archive is named after  kitwright release",
    )


def no_ledger_to_add_to() -> Said:
    return "there is no ledger of releases yet, to which one kit could be added", f"take in all of them with  {_ADOPT}"


def nothing_to_take_in() -> Said:
    return "nothing was released yet, so there is nothing to take in", "the first  kitwright release  begins the ledger"


# --- publishing -----------------------------------------------------------------------------------


def not_ready(kit: str, errors: int) -> Said:
    return f"{kit} has {number(errors, 'error', 'errors')}: it was not released", "mend what is listed above; nothing was written"


def released_already(kit: str, revision: int) -> Said:
    return f"{kit} was released already; its newest revision is {revision}", f"to correct it, change it and run  kitwright erratum {kit}"


def as_released(kit: str, revision: int) -> Said:
    return f"{kit} was released already, and nothing of it has changed since revision {revision}", "nothing need be done"


def not_later(kit: str, revision: int, at: dt.datetime) -> Said:
    return (
        f"revision {revision} of {kit} is dated {at:%Y-%m-%d %H:%M} UTC, and the next comes after it",
        "publish it then, or with a later --as-of",
    )


def published_meanwhile(kit: str, revision: int) -> Said:
    return f"revision {revision} of {kit} was published meanwhile", "look at it, and publish again if need be; nothing was changed"


def changed_since_tested() -> Said:
    return "the kit has changed since it was last test-cut", "have this very state cut, and add its code under  tested"


def never_tested() -> Said:
    return "nobody has test-cut this kit", "cut one batch, or ask somebody to, and add a line under  tested  with the code on the printable"


_TAKE_OUT = "take the name out; who drew the kit up is said by  by,  who showed cards by  samples"


def person_named(name: str) -> Said:
    return f"{name} is named in what would be frozen, and may ask one day to be forgotten", _TAKE_OUT


def person_perhaps(name: str) -> Said:
    return f"this may name {name}", _TAKE_OUT


# --- what was published, and the kit as it is now ---------------------------------------------------


def kit_differs(kit: str, revision: int, keys: Sequence[str], unread: bool) -> Said:
    if unread:
        return (
            f"{kit} differs from revision {revision}, which is not public yet: {listed(keys)}",
            f"release it again with  kitwright release {kit};  no correction is published. Or undo the change",
        )
    return (
        f"{kit} differs from revision {revision}, which readers may have printed: {listed(keys)}",
        f"publish the change as a correction with  kitwright erratum {kit},  or undo it",
    )


def club_changed(kit: str, revision: int, facts: Sequence[str]) -> Said:
    return (
        f"the club's {listed(facts)} changed since revision {revision} of {kit}, which keeps the old ones",
        "nothing need be done; they take hold with the kit's next revision",
    )


# --- carrying over --------------------------------------------------------------------------------


def older_records(kits: Sequence[str]) -> Said:
    return (
        f"the records of {listed(kits)} keep neither what was worked out nor the files that readers got: all of it is made anew at every build",
        "carry them over, once, with  kitwright release --carry-over",
    )


def drawn_otherwise(kit: str, revision: int, files: Sequence[str], kitwright: str) -> Said:
    return (
        f"this kitwright draws {listed(files)} otherwise than revision {revision} of {kit} was published; nothing was carried over",
        f"carry it over with kitwright {kitwright}, which published it; or keep them as they are drawn now with  --as-drawn,  "
        "and the record says what they were",
    )


def kept_as_drawn(kit: str, revision: int, files: Sequence[str]) -> Said:
    return (
        f"{listed(files)} of revision {revision} of {kit} are kept as they are drawn now, not as they were published",
        "look at them; the record names the checksums of both",
    )


def other_numbers(kit: str, revision: int, numbers: Sequence[str]) -> Said:
    return (
        f"this kitwright works out other numbers for revision {revision} of {kit} than it was published with: {listed(numbers)}",
        "nothing need be done: those that were published stay here, and count wherever revisions are compared",
    )
