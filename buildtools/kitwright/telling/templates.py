"""Templates, the program's and hers over them: filled in a sandbox, and a fault in hers told as hers.

A theme may come from a stranger, and a template is a small program. The sandbox keeps it to what it
is given: it reaches no part of Python, no file, and calls nothing but filters, helpers, macros and
what plain values and our own records answer; it changes none of them. It guards neither time nor
memory: a template may loop for ever, and Ctrl+C ends that.
"""

from __future__ import annotations

import datetime as dt
import difflib
import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from fractions import Fraction
from pathlib import PurePath
from types import FrameType, FunctionType, MethodType, ModuleType, TracebackType
from typing import Any

from jinja2 import Environment, FunctionLoader, StrictUndefined, TemplateNotFound, TemplateSyntaxError, Undefined, nodes
from jinja2.exceptions import SecurityError
from jinja2.runtime import BlockReference, LoopContext, Macro
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import Cycler, Joiner, Namespace

from kitwright.errors import UserError
from kitwright.kit.theme import OwnFile, Theme

_VALUES = (str, int, float, Fraction, list, tuple, dict, set, frozenset, dt.date, dt.timedelta, LoopContext, Cycler, Joiner, Namespace)
"""What answers any question that changes nothing."""
_FORMAT = "kitwright_format"
"""Marks a text's `format` that the sandbox looks after."""
_OF_A_PATH = ("name", "stem", "suffix")


_COMPILED: dict[tuple[Any, ...], Any] = {}
"""Templates that this process compiled, by all that their code depends on."""
_BUILT = ("autoescape", "finalize", "undefined", "trim_blocks", "lstrip_blocks", "keep_trailing_newline", "optimized", "newstyle_gettext")
"""What else an environment may be asked for."""
_MOST = 500
"""How many are kept."""


class Sandbox(ImmutableSandboxedEnvironment):
    """An environment whose templates may come from a stranger."""

    def compile(
        self, source: Any, name: str | None = None, filename: str | None = None, raw: bool = False, defer_init: bool = False
    ) -> Any:
        """A template's code; the same again from the same text, for every environment like this one, as each build and preview makes anew."""
        # Filters of constants are worked out while compiling: so they are part of what it is made from, by the very functions.
        like = (self.filters, self.tests, {key: getattr(self, key, None) for key in _BUILT})
        key = (source, name, filename, raw, defer_init, tuple(sorted(self.extensions)), *(frozenset(each.items()) for each in like))
        if key not in _COMPILED:
            if len(_COMPILED) >= _MOST:
                _COMPILED.clear()
            _COMPILED[key] = super().compile(source, name, filename, raw, defer_init)  # type: ignore[call-overload]  # jinja's types tell its two results apart
        return _COMPILED[key]

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        # A path can read, write and delete.
        if isinstance(obj, PurePath) and attr not in _OF_A_PATH or isinstance(obj, (ModuleType, type, FunctionType, FrameType)):
            return False
        return super().is_safe_attribute(obj, attr, value)

    def is_safe_callable(self, obj: Any) -> bool:
        if isinstance(obj, (Macro, BlockReference, Undefined, LoopContext, Cycler, Joiner)) or getattr(obj, _FORMAT, False):
            return True
        if any(obj is known for known in self.globals.values()):
            return True
        owner = getattr(obj, "__self__", None)
        if owner is None:
            # A function of ours that a template was given.
            return isinstance(obj, FunctionType) and obj.__module__.startswith("kitwright.")
        if isinstance(owner, _VALUES) or isinstance(owner, Undefined):
            return True
        if isinstance(owner, Mapping) and getattr(obj, "__name__", "") in ("get", "items", "keys", "values"):
            return True
        return isinstance(obj, MethodType) and type(owner).__module__.startswith("kitwright.")

    def wrap_str_format(self, value: Any) -> Callable[..., str] | None:
        wrapped = super().wrap_str_format(value)
        if wrapped is not None:
            setattr(wrapped, _FORMAT, True)
        return wrapped


def sandbox(theme: Theme, part: str, **asked: Any) -> Sandbox:
    """An environment for the templates of a folder of the theme, hers before the program's.

    Args:
        theme: the theme.
        part: its folder.
        asked: what else the environment is asked for.
    """

    def load(name: str) -> tuple[str, str, Callable[[], bool]] | None:
        full = f"{part}/{name}"
        file = theme.hers(full)
        if file is not None:
            return file.text, str(file.path), lambda: True
        own = theme.program_file(full)
        return None if own is None else (own.read_text(encoding="utf-8"), str(own), lambda: True)

    env = Sandbox(
        loader=FunctionLoader(load), undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True, keep_trailing_newline=True, **asked
    )
    # Filler text without end.
    del env.globals["lipsum"]
    return env


# --- faults ---------------------------------------------------------------------------------------


@contextmanager
def faults_told(mine: Mapping[str, OwnFile], sound: Callable[[], object] | None = None) -> Iterator[None]:
    """Tell what goes wrong in a template of hers as her own; in the program's it stays a bug.

    Args:
        mine: her templates, by the paths that they are loaded from.
        sound: does the same with the program's theme alone; what fails there too is no fault of hers.

    Raises:
        UserError: a template of hers can't be filled in.
    """
    try:
        yield
    except UserError:
        raise
    except Exception as error:
        told = fault(error, mine)
        if told is None or (sound is not None and not _works(sound)):
            raise
        raise told from None


def _works(sound: Callable[[], object]) -> bool:
    try:
        sound()
    except Exception:
        return False
    return True


def fault(error: Exception, mine: Mapping[str, OwnFile]) -> UserError | None:
    """What went wrong in a template of hers, at its line; None where none of hers had a part in it."""
    files = {os.path.normpath(path): file for path, file in mine.items()}
    if isinstance(error, TemplateSyntaxError):
        file = files.get(os.path.normpath(error.filename or ""))
        return told(error, file, error.lineno) if file else None
    at = [(files[path], line) for name, line in _frames(error.__traceback__) if (path := os.path.normpath(name)) in files]
    return told(error, *at[-1]) if at else None


def told(error: Exception, file: OwnFile, line: int | None) -> UserError:
    """What went wrong at a line of hers."""
    place = file.place(line)
    if isinstance(error, TemplateNotFound):
        return UserError("theme.no-template", place=place, name=str(error.name))
    if isinstance(error, TemplateSyntaxError):
        return UserError("theme.syntax", place=place, why=error.message or "", file=file.name)
    if isinstance(error, SecurityError):
        return UserError("theme.forbidden", place=place, why=error.message or "")
    if isinstance(error, RecursionError):
        return UserError("theme.endless", place=place)
    return UserError("theme.not-filled", place=place, why=str(error) or type(error).__name__, file=file.name)


def _frames(trace: TracebackType | None) -> Iterator[tuple[str, int]]:
    while trace is not None:
        yield trace.tb_frame.f_code.co_filename, trace.tb_lineno
        trace = trace.tb_next


def faults_of(file: OwnFile, env: Environment, there: Callable[[str], bool], known: Callable[[], list[str]]) -> Iterator[UserError]:
    """What is wrong in a template of hers before it is filled in.

    Args:
        file: the template.
        env: what it will be filled in by.
        there: whether there is a template of a name that it may include.
        known: the names of all of them, to offer the nearest.
    """
    try:
        tree = env.parse(file.text, file.name, str(file.path))
    except UserError as error:
        yield error
        return
    except TemplateSyntaxError as error:
        yield told(error, file, error.lineno)
        return
    except RecursionError as error:
        yield told(error, file, None)
        return
    # Below an `if` the engine itself finds these only when it gets there.
    for one in tree.find_all((nodes.Filter, nodes.Test)):
        known_here = env.filters if isinstance(one, nodes.Filter) else env.tests
        if one.name not in known_here:
            near = next(iter(difflib.get_close_matches(one.name, known_here, 1, 0.5)), None)
            yield UserError("theme.no-filter", place=file.place(one.lineno), name=one.name, test=isinstance(one, nodes.Test), near=near)
    for node in tree.find_all((nodes.Include, nodes.Import, nodes.FromImport, nodes.Extends)):
        if getattr(node, "ignore_missing", False):
            continue
        named = _named(node)
        if named and not any(map(there, named)):
            near = next(iter(difflib.get_close_matches(named[0], known(), 1, 0.5)), None)
            yield UserError("theme.no-template", place=file.place(node.lineno), name=named[0], near=near)


def _named(line: nodes.Node) -> list[str]:
    """The templates that a line includes, imports or extends; none where it works them out."""
    node = getattr(line, "template", None)
    if isinstance(node, nodes.Const):
        return [node.value] if isinstance(node.value, str) else [name for name in node.value if isinstance(name, str)]
    if isinstance(node, (nodes.Tuple, nodes.List)):
        return [item.value for item in node.items if isinstance(item, nodes.Const) and isinstance(item.value, str)]
    return []


def named_in(tree: nodes.Template) -> set[str]:
    """Every template that one names."""
    found = tree.find_all((nodes.Include, nodes.Import, nodes.FromImport, nodes.Extends))
    return {name for node in found for name in _named(node)}


def dynamic_in(tree: nodes.Template) -> bool:
    """Whether a template works out the name of another."""
    found = tree.find_all((nodes.Include, nodes.Import, nodes.FromImport, nodes.Extends))
    return any(not _constant(getattr(node, "template", None)) for node in found)


def _constant(node: object) -> bool:
    return isinstance(node, nodes.Const) or isinstance(node, (nodes.Tuple, nodes.List)) and all(map(_constant, node.items))


def offers(tree: nodes.Template) -> set[str]:
    """What a template that is imported offers: its macros, and what it sets."""
    found = {node.name for node in tree.body if isinstance(node, nodes.Macro)}
    return found | {node.target.name for node in tree.body if isinstance(node, nodes.Assign) and isinstance(node.target, nodes.Name)}


def asks(tree: nodes.Template) -> dict[str, set[str]]:
    """What a template asks of those that it imports, by their names."""
    found: dict[str, set[str]] = {}
    for one in tree.find_all(nodes.Import):
        for name in _named(one):
            asked = (n.attr for n in tree.find_all(nodes.Getattr) if isinstance(n.node, nodes.Name) and n.node.name == one.target)
            found.setdefault(name, set()).update(asked)
    for some in tree.find_all(nodes.FromImport):
        for name in _named(some):
            found.setdefault(name, set()).update(each if isinstance(each, str) else each[0] for each in some.names)
    return found


def confined(env: Environment) -> Sandbox:
    """The page generator's own environment, with all that it knows, as a sandbox.

    Args:
        env: as the generator made it.
    """
    safe = Sandbox(loader=env.loader, auto_reload=False, extensions=list(env.extensions))
    safe.filters.update(env.filters)
    safe.tests.update(env.tests)
    safe.globals.update({name: value for name, value in env.globals.items() if name not in ("range", "lipsum")})
    return safe
