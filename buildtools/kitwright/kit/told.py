"""Plain text as a model: everything that can't be read is told at once, in a maker's words, each at its line."""

from __future__ import annotations

import difflib
import types
from collections.abc import Iterator
from functools import lru_cache
from typing import Annotated, Any, TypeVar, Union, get_args, get_origin

from pydantic import ValidationError

from kitwright.errors import MOST_TOLD, Slips, UserError
from kitwright.kit.model import Club, KitSpec, PastSpec, PersonSpec, Spec
from kitwright.kit.yamltext import Document
from kitwright.telling.words import listed

T = TypeVar("T", bound=Spec)


def validated(model: type[T], document: Document, unit: str = "in") -> T:
    """A document as one of the models.

    Args:
        model: which.
        document: the text, with its lines.
        unit: what a bare number in it means, `in` or `mm`.

    Raises:
        UserError: all that is wrong, in a maker's words, each with file and line.
    """
    try:
        return model.model_validate(document.data, context={"unit": unit})
    except ValidationError as error:
        slips = Slips()
        own = sorted(_of_its_own(error.errors(), document, model), key=lambda one: document.place(_path(one["loc"], document)).line or 0)
        for one in own[: MOST_TOLD + 1]:
            problem, remedy = _in_words(one, model, document)
            slips.add(UserError(problem, remedy, document.place(_path(one["loc"], document))))
        slips.stop()
        raise AssertionError("a validation error without an error") from None


def _of_its_own(found: list[dict], document: Document, model: type[Spec]) -> Iterator[dict]:
    """One error for each entry, without those that only follow from another.

    A misspelt key leaves the right one missing too: the word itself is the cause.
    """
    misspelt: dict[tuple, set[str]] = {}
    for error in found:
        if error["type"] == "extra_forbidden":
            words = _fit(model, error["loc"])
            misspelt.setdefault(error["loc"][:-1], set()).update(difflib.get_close_matches(str(error["loc"][-1]), words, 1, 0.5))
    told: set[tuple] = set()
    for error in found:
        path = _path(error["loc"], document)
        if error["type"] == "missing":
            if error["loc"][-1] in misspelt.get(error["loc"][:-1], ()):
                continue
            path = (*path, error["loc"][-1])
        if path not in told:
            told.add(path)
            yield error


def _path(loc: tuple, document: Document) -> tuple:
    """The part of pydantic's location that stands in the file."""
    path: tuple = ()
    for step in loc:
        if (*path, step) in document.lines:
            path = (*path, step)
    return path


# --- which words fit where --------------------------------------------------------------------


def _inner(annotation: Any) -> Iterator[Any]:
    """A type, and what it is put together from: the sides of a union, without the dressing of annotations."""
    origin = get_origin(annotation)
    if origin is Annotated:
        yield from _inner(get_args(annotation)[0])
    elif origin in (Union, types.UnionType):
        for side in get_args(annotation):
            yield from _inner(side)
    else:
        yield annotation


def _below(annotation: Any, step: str | int) -> list[Any]:
    """The types that may stand one step further down."""
    found: list[Any] = []
    for kind in _inner(annotation):
        origin = get_origin(kind)
        if isinstance(kind, type) and issubclass(kind, Spec):
            found += [info.annotation for name, info in kind.model_fields.items() if step in (name, info.alias)]
        elif origin is dict and isinstance(step, str):
            found.append(get_args(kind)[1])
        elif origin in (list, tuple) and isinstance(step, int):
            found.append(get_args(kind)[0])
    return found


def _models(annotation: Any) -> list[type[Spec]]:
    return [kind for kind in _inner(annotation) if isinstance(kind, type) and issubclass(kind, Spec)]


def _keys(model: type[Spec]) -> list[str]:
    return [info.alias or name for name, info in model.model_fields.items()]


def _fit(model: type[Spec], loc: tuple) -> list[str]:
    """The words that may stand where one was met."""
    current: list[Any] = [model]
    for step in loc[:-1]:
        # A step of pydantic's own, such as the side of a union, is none of the file's.
        current = [inner for kind in current for inner in _below(kind, step)] or current
    return list(dict.fromkeys(word for kind in current for m in _models(kind) for word in _keys(m)))


@lru_cache
def _homes(model: type[Spec]) -> dict[str, list[str]]:
    """Every word of a file, with the entries under which it may stand; an empty name for the top."""
    homes: dict[str, list[str]] = {}
    waiting: list[tuple[type[Spec], str]] = [(model, "")]
    seen: set[tuple[type[Spec], str]] = set()
    while waiting:
        current, under = waiting.pop(0)
        if (current, under) in seen:
            continue
        seen.add((current, under))
        for name, info in current.model_fields.items():
            word = info.alias or name
            homes.setdefault(word, []).append(under)
            waiting += [(inner, word) for inner in _deep(info.annotation)]
    return homes


def _deep(annotation: Any) -> Iterator[type[Spec]]:
    """The models that a type holds at any depth of lists and mappings."""
    for kind in _inner(annotation):
        if isinstance(kind, type) and issubclass(kind, Spec):
            yield kind
        for inner in get_args(kind) if get_origin(kind) in (list, tuple, dict) else ():
            yield from _deep(inner)


_FILES: dict[str, type[Spec]] = {"kit.yaml": KitSpec, "club.yaml": Club, "person.yaml": PersonSpec, "the kit.yaml of a past kit": PastSpec}


def _unknown(word: str, model: type[Spec], loc: tuple) -> tuple[str, str]:
    """A word that can't stand where it does: one that belongs elsewhere, or one that nobody knows."""
    here, homes = _fit(model, loc), _homes(model)
    fitting = f"words that fit here: {', '.join(here)}" if here else "no word of this file fits here"
    near = difflib.get_close_matches(word, here, 1, 0.5)
    meant = f"did you mean “{near[0]}”? otherwise " if near else ""
    if word in homes:
        under = list(dict.fromkeys(homes[word]))
        where = listed([f"under “{u}”" if u else "at the top of the file, without indent" for u in under[:4]], "or")
        return f"“{word}” stands in the wrong place", f"{meant}it belongs {where}; {fitting}"
    other = next((file for file, its in _FILES.items() if its is not model and word in _homes(its)), None)
    if other:
        return f"“{word}” stands in the wrong file", f"{meant}it belongs in {other}; {fitting}"
    if near:
        return f"“{word}” is not a word this file knows", f"did you mean “{near[0]}”?"
    far = difflib.get_close_matches(word, homes, 1, 0.75)
    if far:
        where = homes[far[0]][0]
        return (
            f"“{word}” is not a word this file knows",
            f"did you mean “{far[0]}”, which belongs {f'under “{where}”' if where else 'at the top of the file'}? {fitting}",
        )
    return f"“{word}” is not a word this file knows", f"{fitting}; check the spelling and the indent"


# --- in words ---------------------------------------------------------------------------------


def _in_words(error: dict, model: type[Spec], document: Document) -> tuple[str, str]:
    names = [step for step in error["loc"] if isinstance(step, str)]
    key, kind, given = names[-1] if names else "", error["type"], error.get("input")
    if key == "[key]":
        key = "name"
    shown_value = f"“{str(given)[:40]}”" if isinstance(given, str) else "this"
    if kind == "kitwright":
        problem, _, remedy = error["msg"].partition("\n")
        return problem, remedy
    if kind == "extra_forbidden":
        return _unknown(key, model, error["loc"])
    if kind == "missing":
        return f"“{key}” is missing here", f"add a line such as  {key}: …"
    if kind == "literal_error":
        return f"{shown_value} can't stand for “{key}”", f"write {error['ctx']['expected'].replace(chr(39), '')}"
    if kind == "greater_than_equal":
        return f"{shown_value} is too small for “{key}”", f"write a whole number, {error['ctx']['ge']} or more"
    if kind == "less_than_equal":
        return f"{shown_value} is too large for “{key}”", f"write {error['ctx']['le']} or less"
    if kind.startswith("int_"):
        return f"{shown_value} is not a whole number for “{key}”", "write a whole number such as 9"
    if kind.startswith("bool_"):
        return f"{shown_value} is neither yes nor no", f"write  {key}: yes  or  {key}: no"
    if kind == "string_pattern_mismatch":
        return _misnamed(given, error["ctx"]["pattern"], shown_value, document)
    if kind in ("string_too_short", "too_short"):
        return f"“{key}” is empty", "fill it in or leave the line out"
    if kind in ("string_too_long", "too_long"):
        return f"“{key}” is too long", f"at most {error['ctx']['max_length']}"
    if kind in ("string_type", "list_type", "dict_type", "model_type", "tuple_type", "model_attributes_type"):
        wanted = {
            "string_type": "a line of text",
            "list_type": "a list, one entry a line after a dash",
            "tuple_type": "a list, one entry a line after a dash",
        }.get(kind, "lines of  name: value,  indented below it")
        return f"“{key}” is not what it should be", f"write {wanted}"
    return f"“{key}”: {error['msg']}", ""


def _names(document: Document, key: str) -> list[str]:
    """The names that a file gives to its pieces or its papers."""
    said = document.data.get(key)
    return list(said) if isinstance(said, dict) else []


def _misnamed(given: Any, pattern: str, shown_value: str, document: Document) -> tuple[str, str]:
    """A name in the wrong form; one of the other kind is told as such."""
    pieces, papers = _names(document, "pieces"), _names(document, "papers")
    if "A-Z" in pattern:
        if given in papers:
            return f"{shown_value} is a paper, and a piece belongs here", f"pieces here: {', '.join(pieces)}"
        return f"{shown_value} is not a label", "a label is a capital letter, if need be with more after it: A, B, M2"
    if given in pieces:
        return f"{shown_value} is a piece, and a paper belongs here", f"papers here: {', '.join(papers)}, or one of the club's"
    return f"{shown_value} is not a short name", "use small letters, digits and dashes: river-stripe"
