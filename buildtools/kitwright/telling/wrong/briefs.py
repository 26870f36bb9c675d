"""Briefs that can't be written yet."""

from __future__ import annotations

import datetime as dt

from kitwright.errors import Said
from kitwright.telling.moments import when_text


def no_revision(kit: str) -> Said:
    return (
        f"{kit} has no revision yet, and what the public and members read must not change silently",
        f"release it first:  kitwright release {kit}",
    )


def no_address() -> Said:
    return (
        "the club has no public address, so there is no link in this text",
        "write  address: https://…  into club.yaml, where the site will stand",
    )


def one_or_all(whom: tuple[str, ...]) -> Said:
    return "one text, or all of them", f"say  --all,  or one of  {'  '.join(f'--for {one}' for one in whom)}"


def folder_of_all() -> Said:
    return "--out names a folder for all texts", "add  --all,  or leave it out"


def no_form(whom: str, form: str) -> Said:
    return f"there is no {form} of the text for {whom}", f"leave  --{form}  out, or ask for  --for mail"


def no_sender() -> Said:
    return (
        "the club names no address to write to, and a mail has to say from whom it is",
        'write  links: [{name: Write to us, address: "mailto:hello@cards.example"}]  into club.yaml',
    )


def held(shown: dt.datetime) -> Said:
    return (
        f"what is for the public says on top that it is held back until {when_text(shown)}",
        f"to schedule it, ask for it as of that moment, and the line is gone:  --as-of {shown:%Y-%m-%dT%H:%M}",
    )


def too_long(length: str, characters: int, most: int) -> Said:
    return (
        f"the {length} post has {characters} characters, more than {most}, although all was left out that may be",
        f"shorten the kit’s title, or change briefs/post-{length}.md in your theme",
    )


def no_guest(kit: str) -> Said:
    return f"{kit} has no guest", "name one under  guests"
