"""An archive's own theme: files that can't be used, and what a renewal left behind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from kitwright.errors import Said, said
from kitwright.telling.words import listed, number

# --- the folder -----------------------------------------------------------------------------------


def none(folder: str) -> Said:
    return f"there is no {folder} folder here", "get kitwright again, with its theme"


def no_folder() -> Said:
    return "this is no folder", "put your templates and styles into a folder of this name, or take it away"


def too_many(most: int) -> Said:
    return f"more than {most} files lie here", "keep only what you changed; the rest comes from kitwright itself"


def name() -> Said:
    return "this can't be the name of a file on every system", "name it with letters, digits and dashes"


def grows() -> Said:
    return "this file grows while it is read", "save it once more, and try again"


def record_broken() -> Said:
    return (
        "this record is not as kitwright wrote it",
        "put it back from your backup; or delete it, and your files stay, but nobody knows from what they were taken",
    )


def no_place(name: str, near: str | None) -> Said:
    return (
        "nothing asks for this file, so it changes nothing",
        f"did you mean {near}?"
        if near
        else "name it in a template or in mkdocs.yml, or take it away; kitwright theme  lists the names there are",
    )


def no_asset(name: str, endings: Sequence[str]) -> Said:
    return "a file of this kind can't lie in assets/", f"what may: {listed(list(endings))}; templates go into templates/"


def renewed(old: int, outgrown: int, unrecorded: int, gone: int) -> Said:
    parts = [
        *([f"{number(outgrown, 'file', 'files')} that kitwright’s own outgrew"] if outgrown else []),
        *([f"{number(unrecorded, 'file', 'files')} of which nobody knows from what version"] if unrecorded else []),
        *([f"{number(gone, 'file', 'files')} that kitwright has no more"] if gone else []),
        *([f"{number(old, 'copy', 'copies')} that you never changed, so that kitwright’s own are used"] if old else []),
    ]
    return f"in your theme: {listed(parts)}", "kitwright theme  lists them, and shows what is new"


# --- templates ------------------------------------------------------------------------------------


def _as_ours(file: str) -> str:
    return f"mend this line: kitwright theme {file}  shows what is new in kitwright’s own since you took it, with --mine what you changed"


def syntax(why: str, file: str) -> Said:
    return f"this template can't be read: {why}", _as_ours(file)


def not_filled(why: str, file: str) -> Said:
    return f"this template can't be filled in: {why}", _as_ours(file)


def forbidden(why: str) -> Said:
    return f"a template may not do this: {why}", "use only what the templates of kitwright use: values, filters, macros"


def endless() -> Said:
    return "this template asks for itself without end", "take out the line by which it includes itself, directly or through another"


def no_template(name: str, near: str | None = None) -> Said:
    return f"there is no template {name}", f"did you mean {near}?" if near else "write that file into your theme, or take this line out"


def no_filter(name: str, test: bool, near: str | None) -> Said:
    return (
        f"there is no {'test' if test else 'filter'} {name}",
        f"did you mean {near}?" if near else "take it out, or use one that kitwright’s templates use",
    )


def lacks(macro: str, asks: str, file: str, mine: bool) -> Said:
    """Mine: she took it out herself, rather than that it came with a renewal."""
    return (
        f"the macro {macro} is missing here, and {asks} asks for it",
        f"copy it from kitwright’s own file: kitwright theme {file}{' --mine' if mine else ''}  shows it",
    )


def head_unreadable(why: str) -> Said:
    return f"the head of this template, between its two lines of ---, can't be read: {why}", "write it as  name: value"


def head_open() -> Said:
    return "the head of this template has no end", "put a line of --- below it"


def head_none() -> Said:
    return "the head of this template says nothing by name", "write it as  name: value, or take it out with its two lines of ---"


def against_the_policy(fault: str, values: Mapping[str, Any]) -> Said:
    return said(fault, values)[0], "no page holds scripts or styles of its own: put them into a file in theme/assets/, and take this out"


def policy_lost(page: str, policy: str) -> Said:
    return (
        f"the content policy is missing on {page}, or stands too low",
        f'put it back, above all that is loaded: <meta http-equiv="Content-Security-Policy" content="{policy}">',
    )


def secret_lost(page: str, policy: str) -> Said:
    return (
        f"{page} no longer says that it is not public",
        "put back from kitwright’s own file the block announce, and the line of site_meta that names robots",
    )


def ahead_lost(page: str, policy: str) -> Said:
    return f"{page} does not say for which moment to come it was made", "put back from kitwright’s own file the block announce"


def head_frame() -> Said:
    return "a page can’t choose another frame than main.html", "take this line out, and change what stands in overrides/"


def page_not_made(why: str) -> Said:
    """Why: in the page generator's own words."""
    return f"this page can't be made: {why}", "mend the link or picture in your template"


def not_built(why: str, mine: Sequence[str]) -> Said:
    return (
        f"the site can't be made with your theme, and can without it: {why}",
        f"take away what you changed last; yours are {listed(list(mine))}",
    )


# --- settings -------------------------------------------------------------------------------------


def settings_refused(why: str) -> Said:
    return f"these settings can't be used: {why}", "take out what you added last"


def setting_kept(key: str, hers: Sequence[str]) -> Said:
    return f"“{key}” is not yours to set: the site would not stay whole, or safe", f"take it out; yours are {listed(list(hers))}"


def setting_unknown(key: str, near: str | None) -> Said:
    return f"“{key}” is no setting", f"did you mean “{near}”?" if near else "take it out"


def setting_shape(key: str, several: bool, named: bool) -> Said:
    return f"what stands under “{key}” has another form than it needs", (
        "write a list, a line with a dash for each"
        if several
        else "write it as  name: value, indented below"
        if named
        else "write one word or name"
    )


def setting_choice(key: str, typed: str, near: str | None, some: Sequence[str]) -> Said:
    return f"“{typed}” is no {key} that there is", f"did you mean {near}?" if near else f"there are {listed(list(some))}"


def setting_icon(icon: str) -> Said:
    return f"there is no icon {icon}", "name one that comes with the site’s look, such as material/menu"


def setting_asset(name: str, near: str | None) -> Said:
    return (
        f"{name} is no file of your theme",
        f"did you mean {near}?" if near else "put the file into theme/assets/, and name it  look/…; nothing is loaded from another host",
    )


def setting_extension(name: str, near: str | None) -> Said:
    return (
        f"“{name}” is none of Markdown’s own extensions",
        f"did you mean “{near}”?" if near else "take it out: another could run or read anything",
    )


def setting_plugin(name: str, installed: bool) -> Said:
    return (
        f"the plugin “{name}” can’t be used here" if installed else f"no plugin “{name}” is installed",
        "take it out: kitwright builds without plugins, since one could run or fetch anything",
    )


# --- taking ---------------------------------------------------------------------------------------


def unknown_file(name: str, near: str | None) -> Said:
    return f"there is no {name} in the theme", f"did you mean {near}?" if near else "kitwright theme  lists the names there are"


def not_hers(name: str) -> Said:
    return f"{name} is kitwright’s own: there is none in your theme", f"take it to change it: kitwright theme {name} --take"


def there_already(name: str) -> Said:
    return f"{name} is in your theme already, and stays as it is", f"what differs, kitwright theme {name} --mine  shows"


def none_of_ours(name: str) -> Said:
    return f"kitwright has no file {name} to compare with yours", "it is yours alone; or delete it, if nothing asks for it any more"


def no_text() -> Said:
    return "this file is no text, so no difference can be shown", "look at it with the program that made it"


def name_a_file() -> Said:
    return "this asks for the name of a file", "such as  kitwright theme templates/home.md --take"


def kitwrights_own() -> Said:
    return "this is the theme of kitwright itself", "change it where it lies; a theme of your own stands beside your own kits/"
