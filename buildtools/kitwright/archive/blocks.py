"""How the page generator's blocks are filled in: confined, as templates of a stranger's are, and with nothing read or compiled twice."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from pathlib import Path
from typing import Literal

from jinja2 import Environment, TemplateSyntaxError, nodes

from kitwright import cache
from kitwright.archive.compiled import Compiled
from kitwright.errors import UserError
from kitwright.kit.theme import OVERRIDES, Theme
from kitwright.telling.templates import Sandbox, confined, sandbox

LISTED = "generator"
"""What is kept: the names of the generator's files."""


def environment(made: Callable[[], Environment], folder: Path, mine: Collection[str]) -> Sandbox:
    """The page generator's environment, as a sandbox.

    Args:
        made: makes the generator's own.
        folder: where the blocks lie that go over its own.
        mine: paths of hers among them; of these the fault's own line is told, so they are compiled where they lie.
    """
    env = confined(made())
    env.bytecode_cache = Compiled(OVERRIDES, frozenset(mine))
    listed = env.list_templates
    there = sorted(file.relative_to(folder).as_posix() for file in folder.rglob("*") if file.is_file())

    def list_templates(extensions: Collection[str] | None = None, filter_func: Callable[[str], bool] | None = None) -> list[str]:
        # Its thousands of icons are walked through, only to be left out.
        if filter_func is None or extensions is not None:
            return listed(extensions, filter_func)
        return cache.value(LISTED, cache.digest(there), lambda: listed(None, filter_func))

    env.list_templates = list_templates  # type: ignore[method-assign]  # an instance's own
    return env


# --- what a page shows of others ----------------------------------------------------------------------

Reach = Literal["itself", "menu", "all"]
"""What a page is made from besides its own text and the settings: nothing, the pages of the menu, or every page."""
_ALL = frozenset("pages previous_page next_page parent ancestors children update_date build_date_utc file".split())
_MENU = frozenset("nav nav_item homepage".split())
_PATH = re.compile(r"\w+(?:\.\w+)*")


def reach(theme: Theme) -> Reach:
    """What blocks of hers can show of other pages, as far as their words tell; the program's show none."""
    found: set[Reach] = {"itself"}
    env = sandbox(theme, OVERRIDES, extensions=["jinja2.ext.i18n"])
    for name, file in theme.hers_in(OVERRIDES).items():
        if not name.endswith(".html"):
            # The map of the site lists them all.
            return "all"
        try:
            asked = _asked(env.parse(file.text))
        except (TemplateSyntaxError, RecursionError, UserError):
            return "all"
        found |= {"all"} if asked is None or asked & _ALL else {"menu"} if asked & _MENU else set()
    return "all" if "all" in found else "menu" if "menu" in found else "itself"


def _asked(tree: nodes.Template) -> set[str] | None:
    """Every name that a block asks for, of whatever; None where it works one out."""
    found = {node.name for node in tree.find_all(nodes.Name)} | {node.attr for node in tree.find_all(nodes.Getattr)}
    for item in tree.find_all(nodes.Getitem):
        if not isinstance(item.arg, (nodes.Const, nodes.Slice)):
            return None
    for one in tree.find_all(nodes.Filter):
        if one.name in ("attr", "map", "selectattr", "rejectattr", "groupby", "sort", "unique", "sum", "min", "max"):
            given = [*one.args, *(pair.value for pair in one.kwargs)]
            if not all(isinstance(each, nodes.Const) for each in given):
                return None
    for const in tree.find_all(nodes.Const):
        if isinstance(const.value, str) and _PATH.fullmatch(const.value):
            found |= set(const.value.split("."))
    return found
