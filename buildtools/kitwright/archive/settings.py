"""The settings of the site: the program's, with hers merged over them.

They are merged, not replaced whole as a template is: most of them belong to this very version (its
styles, its search, addresses that open from a folder), and a whole file of hers would lose them at
the next. Which keys are hers is a short list, since a setting can run programs and read any file.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Mapping
from typing import Any

import yaml

from kitwright.archive.theme import asset_names
from kitwright.errors import Place, Slips, UserError
from kitwright.kit.taken import before
from kitwright.kit.theme import ASSETS, SETTINGS, OwnFile, Theme, generator
from kitwright.kit.yamltext import Document, read_yaml

LOOK = "look"
"""Where the site has the files of `assets/`."""
HERS = ("theme", "extra", "extra_css", "extra_javascript", "markdown_extensions")
HERS_OF_THEME = ("language", "direction", "features", "icon", "palette", "logo", "favicon")
FILLED_IN = ("audience", "feed", "data", "ahead", "links", "logo", "public", "lean", "head", "fonts", "whole_script")
"""Extras that a build fills in."""
SEARCH, OF_SEARCH = "search", ("lang", "separator", "pipeline", "fields")
"""The one plugin that a copy of earlier settings may name, with those of its options that read no file. The site has a search
of its own instead, and no plugin, since one could run or fetch anything."""
NO_MORE = {"polyfills": [f"{LOOK}/finder.js"]}
"""Extras of earlier settings that a copy may still name, and nothing else there."""
MARKDOWN = tuple(
    "abbr admonition attr_list def_list extra fenced_code footnotes legacy_attrs legacy_em md_in_html nl2br sane_lists smarty tables toc wikilinks".split()
)
"""Extensions that come with Markdown itself and read no file."""


def settings(theme: Theme) -> dict[str, Any]:
    """The settings of the site, but for what a build fills in.

    Raises:
        UserError: hers can't be read, or are not hers to set; all of them at once.
    """
    said: dict[str, Any] = yaml.safe_load((theme.program / SETTINGS).read_text(encoding="utf-8"))
    file = theme.hers(SETTINGS)
    if file is not None:
        _Merging(said, file, theme).all()
    styles = [f"{LOOK}/{name}" for name in theme.own_styles]
    said["extra_css"] += [style for style in styles if style not in said["extra_css"]]
    return said


class _Merging:
    """Her settings on their way into the program's; what can't go there is noted at its line."""

    def __init__(self, said: dict[str, Any], file: OwnFile, theme: Theme) -> None:
        self.said, self.file, self.theme, self.slips = said, file, theme, Slips()
        self._known = [f"{LOOK}/{asset}" for asset in asset_names(theme)]
        self.document: Document = read_yaml(file.path, file.place().file)
        try:
            self.hers: dict[str, Any] = yaml.safe_load(file.text)
        except yaml.MarkedYAMLError as error:
            mark = error.problem_mark
            raise UserError("yaml.unreadable", place=file.place(mark.line + 1 if mark else None), why=error.problem) from None

    def all(self) -> None:
        """Merge everything, or tell all that can't be."""
        for key, value in self.hers.items():
            if key in self.said and self.said[key] == value:
                continue
            merge: Callable[[Any], None] | None = getattr(self, f"_{key}", None) if key in (*HERS, "plugins") else None
            if merge is not None:
                merge(value)
            elif key in self.said or key in _of_the_generator():
                self._fault("theme.setting-kept", key, key=key, hers=HERS)
            else:
                self._fault("theme.setting-unknown", key, key=key, near=_near(key, HERS))
        self.slips.stop()

    def _place(self, *path: str | int) -> Place:
        return self.document.place(path)

    def _fault(self, code: str, *path: str | int, **values: Any) -> None:
        self.slips.add(UserError(code, place=self._place(*path), **values))

    def _shaped(self, value: Any, kind: type, *path: str | int) -> bool:
        if (
            not isinstance(value, kind)
            or isinstance(value, list)
            and kind is list
            and path[-1] != "palette"
            and not all(isinstance(v, (str, dict)) for v in value)
        ):
            self._fault("theme.setting-shape", *path, key=str(path[-1]), several=kind is list, named=kind is dict)
            return False
        return True

    # --- one key each -----------------------------------------------------------------------------

    def _theme(self, value: Any) -> None:
        if not self._shaped(value, dict, "theme"):
            return
        ours = self.said["theme"]
        for key, said in value.items():
            if key in ours and ours[key] == said:
                continue
            if key not in HERS_OF_THEME:
                code = "theme.setting-kept" if key in ours or key in ("font", "name", "custom_dir", "static_templates", "locale") else ""
                if code:
                    self._fault("theme.setting-kept", "theme", key, key=f"theme: {key}", hers=HERS_OF_THEME)
                else:
                    self._fault("theme.setting-unknown", "theme", key, key=f"theme: {key}", near=_near(key, HERS_OF_THEME))
                continue
            before = len(self.slips.errors)
            self._sound(key, said)
            if len(self.slips.errors) == before:
                ours[key] = {**ours[key], **said} if isinstance(said, dict) and isinstance(ours.get(key), dict) else said

    def _sound(self, key: str, said: Any) -> None:
        """Look at one setting below `theme`."""
        path = ("theme", key)
        if key == "language":
            there = sorted(file.stem for file in (generator() / "partials" / "languages").glob("*.html"))
            if said not in there:
                self._fault("theme.setting-choice", *path, key=key, typed=str(said), near=_near(str(said), there), some=tuple(there[:6]))
        elif key == "direction":
            if said not in ("ltr", "rtl"):
                self._fault("theme.setting-choice", *path, key=key, typed=str(said), near=None, some=("ltr", "rtl"))
        elif key == "features":
            if self._shaped(said, list, *path) and not all(isinstance(one, str) for one in said):
                self._fault("theme.setting-shape", *path, key=key, several=True, named=False)
        elif key in ("logo", "favicon"):
            if self._shaped(said, str, *path):
                self._asset(said, *path)
        elif key == "icon":
            if self._shaped(said, dict, *path):
                self._icons(said, *path)
        elif self._shaped(said, list if isinstance(said, list) else dict, *path):
            for n, one in enumerate(said if isinstance(said, list) else [said]):
                at = (*path, n) if isinstance(said, list) else path
                toggle = one.get("toggle") if isinstance(one, dict) else None
                if isinstance(toggle, dict) and "icon" in toggle:
                    self._icons({"icon": toggle["icon"]}, *at, "toggle")

    def _icons(self, said: Mapping[str, Any], *path: str | int) -> None:
        for key, icon in said.items():
            if isinstance(icon, dict):
                self._icons(icon, *path, key)
            elif (
                not isinstance(icon, str)
                or not re.fullmatch(r"[\w-]+(?:/[\w-]+)*", icon)
                or not (generator() / ".icons" / f"{icon}.svg").is_file()
            ):
                self._fault("theme.setting-icon", *path, key, icon=str(icon))

    def _extra(self, value: Any) -> None:
        if not self._shaped(value, dict, "extra"):
            return
        for key, said in value.items():
            if {**NO_MORE, **self.said["extra"]}.get(key) == said:
                continue
            if key in self.said["extra"] or key in FILLED_IN or key in NO_MORE:
                self._fault("theme.setting-kept", "extra", key, key=f"extra: {key}", hers=HERS)
            else:
                self.said["extra"][key] = said

    def _extra_css(self, value: Any) -> None:
        self._files("extra_css", value)

    def _extra_javascript(self, value: Any) -> None:
        self._files("extra_javascript", value)

    def _files(self, key: str, value: Any) -> None:
        """Hers come after ours; ours stay."""
        if not self._shaped(value, list, key):
            return
        there = self.said.setdefault(key, [])
        for n, one in enumerate(value):
            name = one.get("path") if isinstance(one, dict) else one
            # A copy of an earlier kitwright's list names what that had.
            if str(name).replace(f"{LOOK}/", f"{ASSETS}/", 1) in before() and name not in self._known:
                continue
            if one not in there and self._asset(name, key, n):
                there.append(one)

    def _asset(self, name: object, *path: str | int) -> bool:
        if name in self._known:
            return True
        self._fault("theme.setting-asset", *path, name=str(name), near=_near(str(name), self._known))
        return False

    def _markdown_extensions(self, value: Any) -> None:
        ours = _by_name(self.said["markdown_extensions"])
        for n, (name, given) in self._each("markdown_extensions", value):
            if name not in MARKDOWN:
                self._fault("theme.setting-extension", "markdown_extensions", n, name=name, near=_near(name, MARKDOWN))
            elif name != "tables":
                # Tables are set up for the content policy.
                ours[name] = {**(ours.get(name) or {}), **(given or {})}
        self.said["markdown_extensions"] = [{name: given} if given else name for name, given in ours.items()]

    def _plugins(self, value: Any) -> None:
        for n, (name, given) in self._each("plugins", value):
            if name != SEARCH:
                self._fault("theme.setting-plugin", "plugins", n, name=name, installed=_installed(name))
                continue
            for option in [key for key in given or {} if key not in OF_SEARCH]:
                self._fault("theme.setting-kept", "plugins", n, name, option, key=f"{SEARCH}: {option}", hers=HERS)

    def _each(self, key: str, value: Any) -> list[tuple[str | int, tuple[str, Any]]]:
        """Each named thing of a list, or of a mapping, with where it stands and what is set of it."""
        if isinstance(value, dict):
            found: list[tuple[str | int, tuple[str, Any]]] = [(name, (str(name), given)) for name, given in value.items()]
        elif self._shaped(value, list, key):
            found = [(n, next(iter(one.items())) if isinstance(one, dict) and one else (str(one), None)) for n, one in enumerate(value)]
        else:
            return []
        for n, (name, given) in found:
            if given is not None and not isinstance(given, dict):
                self._fault("theme.setting-shape", key, n, key=str(name), several=False, named=True)
        return [(n, (str(name), given)) for n, (name, given) in found if given is None or isinstance(given, dict)]


def _by_name(said: list[Any]) -> dict[str, Any]:
    return dict(next(iter(one.items())) if isinstance(one, dict) else (one, None) for one in said)


def _near(word: object, words: Any) -> str | None:
    return next(iter(difflib.get_close_matches(str(word), list(words), 1, 0.5)), None)


def _of_the_generator() -> frozenset[str]:
    """Every setting that the page generator knows."""
    # Imported late: it takes a while, and is only asked for where something is wrong.
    from mkdocs.config.defaults import get_schema

    return frozenset(name for name, _ in get_schema())


def _installed(plugin: str) -> bool:
    from importlib.metadata import entry_points

    return any(point.name == plugin for point in entry_points(group="mkdocs.plugins"))
