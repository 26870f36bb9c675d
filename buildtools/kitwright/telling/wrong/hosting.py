"""A site that can't go to its host, or did not arrive as it was built."""

from __future__ import annotations

import datetime as dt
from typing import Literal

from kitwright.errors import Said
from kitwright.telling.words import listed, number
from kitwright.telling.wrong.site import WHO

_WHOLE = "what is public stays whole"


# --- where it goes --------------------------------------------------------------------------------


def no_target() -> Said:
    return (
        "the club file does not say where the site goes",
        "add for example  publish: {to: anna@host.example:www/cards}  or upload the folder by hand",
    )


def one_of_two() -> Said:
    return "publish takes one of two: a place, or a command", "keep  to  or  command"


def secret() -> Said:
    return (
        "this looks like a password, and the club file is no place for one: it is in your backup and with whoever helps you",
        "take it out, and change it if others could read it; sign in with a key and its agent, by your SSH settings, or by what the command keeps itself",
    )


def no_place(typed: str) -> Said:
    return (
        f"“{typed}” is no place that a site can be sent to",
        "write  anna@host.example:www/cards  for rsync,  sftp://anna@host.example/~/www/cards  for SFTP, a folder, or give a command",
    )


def in_the_archive(typed: str) -> Said:
    return (
        f"“{typed}” is a folder of this machine that is part of the archive, or holds it",
        "for a host write  anna@host.example:www/cards  or  sftp://anna@host.example/~/www/cards,  else a folder outside the archive, in full",
    )


def no_folder_in_it() -> Said:
    return "this command does not say where the folder stands that it takes", "write {folder} there"


# --- what goes ------------------------------------------------------------------------------------


def no_site() -> Said:
    return "no site was built here", "type  kitwright build  first"


def not_public(audience: Literal["team", "members"] | None) -> Said:
    return f"this was built for {WHO[audience] if audience else 'others'}, not for everybody", "put it where a password guards it, by hand"


def no_record() -> Said:
    return "an earlier kitwright built this, and did not note what is in it", "type  kitwright build  and publish that"


def own_preview() -> Said:
    return "this shows everything, what is still to come too", "type  kitwright build  and publish that"


def to_come(moment: dt.datetime) -> Said:
    return (f"this was made ahead, for {moment:%Y-%m-%d %H:%M}, which is still to come", "publish it at that moment")


def previews(kits: tuple[str, ...]) -> Said:
    return (
        f"{listed(kits)} {'was' if len(kits) == 1 else 'were'} never released: the printables say PREVIEW",
        f"type  kitwright release {kits[0]}  and build again",
    )


def changed_since(files: int, there: bool) -> Said:
    what = "this was changed, or added, after the site was built" if there else "this is gone since the site was built"
    more = f", and so on with {number(files - 1, 'more file', 'more files')}" if files > 1 else ""
    return what + more, "type  kitwright build  and publish that"


# --- on the way -----------------------------------------------------------------------------------


def no_program(program: str) -> Said:
    return f"there is no program {program} on this machine", "install it, or give another way under  publish  in the club file"


def old_program(program: str, least: tuple[int, int]) -> Said:
    return (
        f"this machine's {program} is too old to remove only what is told",
        f"install version {least[0]}.{least[1]} or a newer one, or use sftp://",
    )


def not_reached(to: str, why: str) -> Said:
    return f"{to} can't be reached ({why})", "look at the host's name, your connection and your key; nothing was sent"


def not_read(to: str, why: str) -> Said:
    return f"the folder at {to} can't be read ({why})", "make it there, or mend its name under  publish  in the club file; nothing was sent"


def odd_record(file: str) -> Said:
    return f"the record at the host, {file}, can't be read", "delete it there, and publish with  --adopt; nothing was sent"


def others_files(to: str, files: tuple[str, ...], many: int) -> Said:
    return (
        f"{number(many, 'file', 'files')} at {to} would be written over and did not come from here, {files[0]} for one",
        "give a folder of its own, or say that they are yours to replace with  --adopt; nothing was sent",
    )


def not_asked() -> Said:
    return "nobody is here to agree", "look with  --dry-run  once, then add  --yes; nothing was sent"


def cut_off(to: str, why: str) -> Said:
    return f"sending to {to} was cut off ({why})", f"{_WHOLE}; type this again, and it goes on"


def command_failed(status: int) -> Said:
    return f"the command failed, with status {status}", "what it did at the host it says itself, above; mend that, and type this again"


# --- read back ------------------------------------------------------------------------------------


def differs_there(to: str, files: tuple[str, ...], many: int) -> Said:
    return (
        f"{number(many, 'file', 'files')} at {to} {_are(many)} not as built: {', '.join(files)}",
        "type this again; if it stays, ask your host",
    )


def differs_in_public(address: str, files: tuple[str, ...], many: int) -> Said:
    return (
        f"{number(many, 'file', 'files')} at {address} {_are(many)} not as built: {', '.join(files)}",
        "the address may lead to another folder, or your host changes pages on their way",
    )


def still_public(address: str, files: tuple[str, ...], many: int) -> Said:
    return f"{number(many, 'file', 'files')} at {address} should be gone: {', '.join(files)}", "delete it there by hand, or ask your host"


def older_copies(address: str, files: tuple[str, ...], many: int) -> Said:
    return (
        f"{number(many, 'file', 'files')} at {address} {_are(many)} still given out as before: {', '.join(files)}",
        "your host keeps copies for a while; look again later",
    )


def not_public_yet(address: str, why: str) -> Said:
    return f"{address} could not be read back ({why})", "what was sent lies at your host; look at the address in your browser"


def _are(many: int) -> str:
    return "is" if many == 1 else "are"
