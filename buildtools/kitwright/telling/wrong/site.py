"""A site that can't be built, put in place, or shown, and pages that can't be published."""

from __future__ import annotations

import datetime as dt
from typing import Literal

from kitwright.errors import Said
from kitwright.telling.words import number

WHO = {"public": "everybody", "team": "the team", "members": "members"}
"""For whom a site is."""


# --- its kits -------------------------------------------------------------------------------------


def not_built(errors: int, kits: int) -> Said:
    return (
        f"{number(errors, 'error', 'errors')} in {number(kits, 'kit', 'kits')}: the site was not built",
        "mend what is listed above; the site from before is untouched",
    )


def nothing_due() -> Said:
    return "no kit is due yet at this moment", 'build for a later one in a folder of its own:  --as-of "YYYY-MM-DD hh:mm" --out tomorrow'


def never_released(kit: str) -> Said:
    return (
        f"the reveal of {kit} has come, but it was never released: its printables say PREVIEW",
        f"once it is right, type  kitwright release {kit}  and build again",
    )


# --- its place ------------------------------------------------------------------------------------


def place_is_a_lost_link() -> Said:
    return "the site can't go here: this is a link that leads nowhere", "give a folder with --out"


def place_is_a_file() -> Said:
    return "the site can't go here: this is a file", "give a folder with --out"


def place_in_the_kits() -> Said:
    return "the site can't go into the folder of kits", "give another folder with --out"


def place_over_the_kits() -> Said:
    return "the site can't go here: your kits lie in it", "give another folder with --out"


def place_in_a_site(folder: str) -> Said:
    return f"the site can't go here: {folder}/ is a site itself, and would publish it", "give a folder outside of it with --out"


def place_of_the_public(folder: str, audience: Literal["team", "members"]) -> Said:
    return f"{folder}/ is for everybody, and this is for {WHO[audience]} alone", "leave --out away, or give another folder"


def place_of_now(folder: str, at: dt.datetime) -> Said:
    return (
        f"{folder}/ is for what is due by now, and {at:%Y-%m-%d %H:%M} is still to come",
        "add  --out tomorrow  to look at it in a folder of its own, and upload that at its moment",
    )


def no_place_for_the_one_before() -> Said:
    return "the site before would be kept here, and this is no folder", "move it away, then type this again; nothing was changed"


def none_before(folder: str) -> Said:
    return (
        f"no site from before the one in {folder}/ is kept here",
        'build it as it was at an earlier moment:  kitwright build --as-of "2027-03-05 10:00" --out earlier',
    )


def place_of_others(theirs: str, audience: str) -> Said:
    return f"this folder holds what was built for {WHO[theirs]}, and this is for {WHO[audience]}", "give another folder with --out"


def place_of_other_files(file: str) -> Said:
    return f"this folder holds other files, {file} for one, and building would replace them", "give an empty or a new folder with --out"


def left_over() -> Said:
    return (
        "what was left over from this build can't be removed",
        "the site is whole; delete this folder, which may hold what is still to come",
    )


# --- making it ------------------------------------------------------------------------------------


def helper_ended() -> Said:
    return (
        "a helping process of this build was ended from outside, and the build with it",
        "the machine may be short of memory: close other programs and build again; nothing was lost",
    )


def port_taken(port: int, why: str) -> Said:
    return f"port {port} can't be used: {why}", "another preview may be running; try  --port 8123"


# --- pages that can't be published -----------------------------------------------------------------


def page_not_made(why: str) -> Said:
    """Why: in the page generator's own words."""
    return f"the page of this kit can't be made: {why}", "mend the link or picture in the notes"


def pages_not_made(why: str) -> Said:
    return f"the pages can't be made: {why}", ""


def link_to_nowhere(link: str) -> Said:
    return _link("leads nowhere", link)


def link_to_no_place(link: str, spot: str) -> Said:
    return _link(f"leads to no place called {spot} there", link)


def leads_nowhere(page: str, to: str, many: int) -> Said:
    others = f" ({number(many - 1, 'file does so besides', 'files do so besides')})" if many > 1 else ""
    return (
        f"{page} leads to {to}, which is not in the site{others}",
        "mend the template or the style that says so; where none of them is yours, please report it",
    )


def _link(fault: str, link: str) -> Said:
    return f"a link or picture in the notes {fault}: {link}", "mend it; pictures go into photos/"


def script(tag: str = "") -> Said:
    return _against_the_policy(f"it holds a script of its own{f', on <{tag}>' if tag else ''}")


def style(tag: str) -> Said:
    return _against_the_policy(f"it holds a style of its own, on <{tag}>")


def foreign(address: str) -> Said:
    return _against_the_policy(f"it loads something from another site: {address}")


def _against_the_policy(fault: str) -> Said:
    return f"the page can't be published: {fault}", "take it out of the notes"
